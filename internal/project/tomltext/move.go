package tomltext

import "strings"

// Move takes entry from of the list at path to place to, both counted from
// 0. The entries of a list of tables move as blocks of text with their
// comments; what stands between the blocks stays where it is.
func (d *Doc) Move(array string, from, to int) (*Doc, error) {
	n, _, err := d.must(array)
	if err != nil {
		return nil, err
	}
	count := len(n.Children)
	if n.Kind != TableArray && n.Kind != Array {
		return nil, d.refuse(array, "this is a "+n.Kind.String()+", not a list", nil)
	}
	if from < 0 || from >= count || to < 0 || to >= count {
		return nil, d.refuse(array, "there is no such place in the list, counted from 0", ErrNotFound)
	}
	order := make([]int, 0, count)
	for i := range count {
		if i != from {
			order = append(order, i)
		}
	}
	order = append(order[:to], append([]int{from}, order[to:]...)...)
	old := plain(n).([]any)
	moved := make([]any, count)
	for i, j := range order {
		moved[i] = old[j]
	}
	blocks, err := d.blocks(array, n)
	if err != nil {
		return nil, err
	}
	return d.commit(array, n, moved, d.permute(blocks, order)...)
}

// blocks are the spans of the entries of a list.
func (d *Doc) blocks(path string, list *Node) ([]splice, error) {
	if list.Kind == Array {
		return d.elementSpans(path, list)
	}
	type run struct{ first, last, count int }
	runs := make(map[*Node]run, len(list.Children))
	for i := range d.stmts {
		entry := d.node(d.stmts[i].leaf)
		for entry != nil && d.parent(entry) != list {
			entry = d.parent(entry)
		}
		if entry == nil {
			continue
		}
		r, seen := runs[entry]
		if !seen {
			r.first = i
		}
		runs[entry] = run{r.first, i, r.count + 1}
	}
	out := make([]splice, len(list.Children))
	for k, c := range list.Children {
		r := runs[c]
		if r.last-r.first+1 != r.count {
			return nil, d.refuse(path, "other tables stand between the parts of "+c.Path+"; move it by hand", nil)
		}
		out[k] = splice{start: d.attachStart(r.first), end: d.blockEnd(r.last)}
	}
	return out, nil
}

func (d *Doc) elementSpans(path string, list *Node) ([]splice, error) {
	out := make([]splice, len(list.Children))
	for k, c := range list.Children {
		out[k] = splice{start: c.Start, end: c.End}
		if k > 0 && strings.Contains(d.text[out[k-1].end:c.Start], "#") {
			return nil, d.refuse(path, "comments stand between the entries; move them by hand", nil)
		}
	}
	return out, nil
}

// permute fills each block's place with the block order names. When the last
// block ends the text without a line end, the line end stays missing there.
func (d *Doc) permute(blocks []splice, order []int) []splice {
	out := make([]splice, 0, len(blocks))
	end := len(blocks) - 1
	open := blocks[end].end == len(d.text) && !strings.HasSuffix(d.text, "\n")
	for i, j := range order {
		if i == j {
			continue
		}
		with := d.text[blocks[j].start:blocks[j].end]
		if open && j == end {
			with += d.ending(blocks[i].end)
		}
		if open && i == end {
			with = strings.TrimSuffix(strings.TrimSuffix(with, "\n"), "\r")
		}
		out = append(out, splice{blocks[i].start, blocks[i].end, with})
	}
	return out
}
