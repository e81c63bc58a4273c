package book

import (
	"strings"

	"fitup/internal/project"
)

// Origin says which state of which file something was printed from.
type Origin struct {
	Build string // its name, may be empty
	File  string // on disk
	Hash  string // of the file's text: SHA-256 in hex
	Date  string // of the printing, YYYY-MM-DD
}

// hashShown is how many signs of the hash are printed: as many as tell the
// states of one file apart.
const hashShown = 12

// Foot is the origin in one line, for the foot of a page.
func (o Origin) Foot() string {
	name := o.Build
	if name == "" {
		name = "a build without a name"
	}
	return project.Printable(strings.Join([]string{name, o.File, "SHA-256 " + o.Hash[:min(hashShown, len(o.Hash))], o.Date}, " · "))
}

// Output is a file to be written into a folder.
type Output struct {
	Name string // may have one folder before it, behind a /
	Data []byte
}
