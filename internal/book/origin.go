package book

import (
	"fitup/internal/book/paper"
	"fitup/internal/project"
)

// Origin says which state of which file something was printed from.
type Origin struct {
	Build string // its name, may be empty
	File  string // on disk
	Hash  string // of the file's text: SHA-256 in hex
	Date  string // of the printing, YYYY-MM-DD

	Unsaved bool   // the file on disk does not have all of it
	Past    []Past // earlier states of the file, the newest first
	PastWhy string // why they cannot be told; "" where they can
}

// Past is an earlier state of the file.
type Past struct {
	When    string // it was written, as people say it
	Led     string // what led from it to the state after it
	Dropped bool   // it was never the file: work that was given up unsaved
}

// hashShown is how many signs of the hash are printed: as many as tell the
// states of one file apart.
const hashShown = 12

// Foot is the origin in one line, for the foot of a page.
func (o Origin) Foot() string { return o.names() + o.state() }

func (o Origin) names() string {
	name := o.Build
	if name == "" {
		name = "a build without a name"
	}
	file := o.File
	if o.Unsaved {
		file += ", with changes that are not saved"
	}
	return project.Printable(name + " · " + file)
}

func (o Origin) state() string {
	return project.Printable(" · SHA-256 " + o.Hash[:min(hashShown, len(o.Hash))] + " · " + o.Date)
}

// within is Foot in letters of a size where there is so much room, mm: names are
// cut, the hash and the date never.
func (o Origin) within(size, room float64) string {
	face := paper.Regular()
	state := settled(o.state())
	return face.Fit(settled(o.names()), size, max(room-face.Width(state, size), 0)) + state
}

// Output is a file to be written into a folder.
type Output struct {
	Name string // may have one folder before it, behind a /
	Data []byte
}
