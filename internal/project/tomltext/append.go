package tomltext

import "strings"

// Append adds an entry with the given keys to the list of tables at path:
// after its last entry and that entry's subtables, or at the end of the
// table it belongs to when the list is not there yet. A list written in
// brackets gets an inline table.
func (d *Doc) Append(array string, pairs []Pair) (*Doc, error) {
	segs, err := splitPath(array)
	if err != nil {
		return nil, d.refuse(array, "this is not a path", err)
	}
	if len(segs) == 0 || segs[len(segs)-1].isIndex {
		return nil, d.refuse(array, "name the list, not one of its entries", nil)
	}
	n, rest := d.descend(segs)
	entry, read, err := d.readPairs(array, pairs)
	if err != nil {
		return nil, err
	}
	var s splice
	var list []any
	switch {
	case len(rest) == 0 && n.Kind == TableArray:
		list = plain(n).([]any)
		s = d.addBlock(n, "[["+quoteKeys(d.headerKeys(n))+"]]", read)
	case len(rest) == 0 && n.Kind == Array:
		list = plain(n).([]any)
		s = d.addMember(n, inlineText(read))
	case len(rest) == 0:
		return nil, d.refuse(array, "this is a "+n.Kind.String()+", not a list of tables", nil)
	default:
		keys, err := d.newKeys(array, n, rest)
		if err != nil {
			return nil, err
		}
		base, _ := d.owner(n)
		if base.def == byLiteral {
			s, err = d.addKey(array, n, keys, "["+inlineText(read)+"]")
			if err != nil {
				return nil, err
			}
			break
		}
		s = d.addBlock(base, "[["+quoteKeys(append(d.headerKeys(n), keys...))+"]]", read)
	}
	return d.commit(array, n, replace(plain(n), rest, append(list, entry)), s)
}

// readPairs reads the literals and gives the entry they make.
func (d *Doc) readPairs(path string, pairs []Pair) (tree, []Pair, error) {
	entry := make(tree, len(pairs))
	read := make([]Pair, len(pairs))
	for i, p := range pairs {
		v, err := readLiteral(p.Literal, d.ending(len(d.text)))
		if err != nil {
			return nil, nil, d.refuse(path, "the value "+show(p.Literal, 24)+" for "+show(p.Key, 24)+" cannot be used", err)
		}
		if _, ok := entry[p.Key]; ok {
			return nil, nil, d.refuse(path, "the key "+show(p.Key, 24)+" is given twice", nil)
		}
		entry[p.Key] = v.value
		read[i] = Pair{p.Key, v.text}
	}
	return entry, read, nil
}

func inlineText(pairs []Pair) string {
	s := make([]string, len(pairs))
	for i, p := range pairs {
		s[i] = QuoteKey(p.Key) + " = " + p.Literal
	}
	if len(s) == 0 {
		return "{}"
	}
	return "{ " + strings.Join(s, ", ") + " }"
}
