package keep

import (
	"io/fs"
	"path/filepath"
	"strconv"
)

// Before returns the text the file at path had before its last save. The error
// answers to fs.ErrNotExist when there was none.
func Before(path string) ([]byte, error) {
	target, err := locate(path)
	if err != nil {
		return nil, noBefore(path, err)
	}
	all, err := states(osDisk{}, target)
	if err == nil && len(all) == 0 {
		err = fs.ErrNotExist
	}
	if err != nil {
		return nil, noBefore(path, err)
	}
	return all[0].read(path)
}

// Aside returns the journals that were put aside because they fit another state
// of the file at path, the oldest first. They are never removed here.
func Aside(path string) ([]Leftover, error) {
	target, err := locate(path)
	at := spot{path: path, target: target}
	if err != nil {
		return nil, at.journalFault("read", err)
	}
	d := osDisk{}
	numbers, err := numbered(d, sidecar(target), asidePrefix)
	if err != nil {
		return nil, at.journalFault("read", err)
	}
	var all []Leftover
	for _, n := range numbers {
		name := filepath.Join(sidecar(target), asidePrefix+strconv.Itoa(n))
		c, err := load(d, name)
		if err != nil {
			return nil, at.journalFault("read", err)
		}
		if c == nil {
			continue
		}
		entries, _ := c.since(c.header.Base)
		all = append(all, *c.leftover(name, entries))
	}
	return all, nil
}
