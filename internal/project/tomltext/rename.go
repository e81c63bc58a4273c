package tomltext

import "strings"

// Rename gives the key or table at path another name everywhere it is
// spelled. The new key is plain text and is quoted as needed. A column of
// "=" signs is kept where the padding allows.
func (d *Doc) Rename(path, newKey string) (*Doc, error) {
	n, segs, err := d.must(path)
	if err != nil {
		return nil, err
	}
	if segs[len(segs)-1].isIndex {
		return nil, d.refuse(path, "a list entry has no name to change", nil)
	}
	parent := d.parent(n)
	if c := parent.lookup(foldKey(newKey)); c != nil && c != n {
		return nil, d.refuse(path, "the name "+show(newKey, 24)+" is already taken beside it", nil)
	}
	spelled := QuoteKey(newKey)
	var splices []splice
	for _, p := range d.parts {
		if p.node == n.id {
			splices = append(splices, splice{p.start, p.end, spelled})
		}
	}
	splices = append(splices, d.realign(n, spelled)...)
	want := plain(parent).(tree)
	v := want[n.Key]
	delete(want, n.Key)
	want[newKey] = v
	return d.commit(path, parent, want, splices...)
}

// realign makes the splices that keep aligned "=" signs in their column when
// the key n is spelled anew.
func (d *Doc) realign(n *Node, spelled string) []splice {
	var splices []splice
	for i := range d.stmts {
		s := &d.stmts[i]
		if s.form != formKey || !d.aligned(i) {
			continue
		}
		for _, p := range d.parts[s.lo:s.hi] {
			pad := d.beforeEquals(s)
			if p.node != n.id || strings.Trim(pad, " ") != "" {
				continue
			}
			wider := columns(spelled) - columns(d.text[p.start:p.end])
			splices = append(splices, splice{s.eq - len(pad), s.eq, strings.Repeat(" ", max(1, len(pad)-wider))})
		}
	}
	return splices
}
