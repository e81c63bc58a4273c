package press

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path/filepath"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
)

// What can be printed.
type What int

// The whole book, the one-page sheet for under the vehicle, templates of true size.
const (
	Book What = iota
	Bench
	Templates
)

// Job is what is to be printed of which file.
type Job struct {
	What    What
	File    *project.File
	Path    string
	Unsaved bool   // the file on disk does not have all of it
	Date    string // of the printing, YYYY-MM-DD
	Size    book.PaperSize
	Dir     string   // it is made where it is not there
	Only    []string // chapters of the book; all where none is named
	Mount   string   // of templates; all where none is named
}

// Done is what came of it.
type Done struct {
	Dir   string
	First string // the file to look at
	More  int    // files beside it
	Left  []string
	Of    *assess.Assessment
}

// Progress is how far a job is.
type Progress struct {
	Doing string
	Part  float64 // of all, from 0 to 1
}

func (p Progress) String() string { return fmt.Sprintf("%s, %.0f %%", p.Doing, 100*p.Part) }

// MadeError is a job that cannot be made of this build; any other error is of the disk,
// or of the context.
type MadeError struct{ error }

// Unwrap is what was wrong.
func (e MadeError) Unwrap() error { return e.error }

// Parts of a job: making it, and writing it.
const (
	making  = 0.6
	writing = 1 - making
)

// Do makes what a job asks for and writes it, all of it or nothing. It tells at how far
// it is; when ctx ends it leaves nothing half-made and returns the context's error.
func (j Job) Do(ctx context.Context, at func(Progress)) (Done, error) {
	if err := ctx.Err(); err != nil {
		return Done{}, err
	}
	files, out, err := j.make(ctx, at)
	if err != nil {
		return out, err
	}
	err = writeAll(ctx, j.Dir, files, func(done int) {
		at(Progress{"writing", making + writing*float64(done)/float64(len(files))})
	})
	return out, err
}

func (j Job) make(ctx context.Context, at func(Progress)) ([]book.Output, Done, error) {
	at(Progress{Doing: "assessing"})
	a := assess.Run(j.File.Build)
	out := Done{Dir: j.Dir, Of: a}
	from := j.origin(ctx)
	var files []book.Output
	var err error
	switch j.What {
	case Bench:
		files, err = book.BenchSheet(a, closely(ctx, a), j.Size, from)
	case Templates:
		files, out.Left, err = book.CutoutFiles(a, j.Mount, j.Size, from)
	default:
		files, err = book.Files(func(what string, done, of int) error {
			at(Progress{what, making * float64(done) / float64(of)})
			return ctx.Err()
		}, a, j.Size, from, j.Only...)
	}
	switch {
	case ctx.Err() != nil:
		return nil, out, ctx.Err()
	case err != nil:
		return nil, out, MadeError{err}
	}
	out.First, out.More = files[0].Name, len(files)-1
	return files, out, nil
}

// origin says what is printed from which file, on which day.
func (j Job) origin(ctx context.Context) book.Origin {
	sum := sha256.Sum256(j.File.Bytes())
	from := book.Origin{Build: j.File.Build.Name, File: filepath.Base(j.Path), Hash: hex.EncodeToString(sum[:]), Date: j.Date, Unsaved: j.Unsaved}
	if j.What == Book && wants(j.Only, "history") {
		past, err := Past(ctx, j.Path, j.File)
		if from.Past = past; err != nil {
			from.PastWhy = err.Error()
		}
	}
	return from
}

func wants(only []string, key string) bool {
	for _, k := range only {
		if k == key {
			return true
		}
	}
	return len(only) == 0
}

// Folder is the folder that is printed into where none is named: beside the file, with
// its name.
func Folder(path string, what What) string {
	name := strings.TrimSuffix(path, filepath.Ext(path))
	return name + [...]string{Book: "-book", Bench: "-book", Templates: "-templates"}[what]
}
