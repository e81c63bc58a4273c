package project

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"reflect"
	"slices"

	"fitup/internal/abreast"
	"fitup/internal/project/format"
	"fitup/internal/project/joblist"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// MaxSize is the largest file that is read, in bytes. A build of a year's work
// stays far below it.
const MaxSize = 4 << 20

// File is one state of a build's text together with what it means. It is
// immutable: an edit makes another File.
type File struct {
	Name  string
	Build *Build
	// From is the older format the text was read in, 0 when it is of today's.
	// Bytes then is the text as the next save writes it.
	From   int64
	doc    *tomltext.Doc
	names  *pathNames
	said   *Build        // what the text says, before anything was added to it
	facts  joblist.Facts // of Build
	byName bool          // some point is given by its name, or was
}

// Load reads the file at path. The error is Problems where the text is at
// fault.
func Load(path string) (*File, error) {
	src, err := Read(path)
	if err != nil {
		return nil, err
	}
	return Parse(path, src)
}

// Read returns the bytes of the build file at path, or a Problem that says in
// plain words why it cannot be one.
func Read(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, readProblem(path, err)
	}
	if msg := notABuild(info); msg != "" {
		return nil, Problem{File: path, Msg: msg}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, readProblem(path, err)
	}
	defer f.Close()
	src, err := io.ReadAll(io.LimitReader(f, MaxSize+1))
	if err != nil {
		return nil, readProblem(path, err)
	}
	if len(src) > MaxSize {
		return nil, Problem{File: path, Msg: tooLarge(int64(len(src)))}
	}
	return src, nil
}

func notABuild(info fs.FileInfo) string {
	switch {
	case info.IsDir():
		return "this is a folder; name the build file in it, such as build.toml"
	case !info.Mode().IsRegular():
		return "this is not an ordinary file; name a build file, such as build.toml"
	case info.Size() > MaxSize:
		return tooLarge(info.Size())
	}
	return ""
}

func tooLarge(n int64) string {
	return fmt.Sprintf("the file is %.1f MB; a build file is at most %d MB, so this is some other file", float64(n)/(1<<20), MaxSize>>20)
}

func readProblem(path string, err error) Problem {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return Problem{File: path, Msg: "there is no such file; `fitup new FILE` writes a starter"}
	case errors.Is(err, fs.ErrPermission):
		return Problem{File: path, Msg: "not allowed to read this file; check its permissions"}
	}
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return Problem{File: path, Msg: "cannot read the file: " + Printable(err.Error())}
}

// Parse turns a text into a File. The error is Problems, every one that was
// found.
func Parse(name string, src []byte) (*File, error) {
	var doc *tomltext.Doc
	var err error
	abreast.Do(func() { doc, err = tomltext.Parse(name, src) }, readSchema)
	if err != nil {
		return nil, syntaxProblem(name, err)
	}
	return fromDoc(name, doc)
}

func syntaxProblem(name string, err error) error {
	var se *tomltext.SyntaxError
	if !errors.As(err, &se) {
		return Problems{{File: name, Msg: Printable(err.Error())}}
	}
	msg := se.Msg
	if se.Near != "" {
		msg += "; near " + se.Near
	}
	return Problems{{File: name, Line: se.Pos.Line, Col: se.Pos.Col, Msg: Printable(msg)}}
}

func fromDoc(name string, doc *tomltext.Doc) (*File, error) {
	if p, ok := formatProblem(name, doc.Root()); ok {
		return nil, Problems{p}
	}
	was := doc
	doc, from, err := format.Migrate(doc)
	if err != nil {
		return nil, migrationProblem(name, err)
	}
	b := &binder{file: name}
	f, err := b.whole(doc, b.build(doc.Root()), nil)
	if err != nil && from != 0 {
		written := format.NewWritten(was, doc)
		for i := range b.problems {
			p := &b.problems[i]
			p.Path, p.Col = written.Place(p.Path, p.Line, p.Col)
		}
	}
	if err != nil {
		return nil, b.inOrder()
	}
	f.From = from
	return f, nil
}

// apart are the tables that are not read by the types of the schema alone.
func apart() []string { return []string{"units", "limits", "loads"} }

// build is what the text says, before the built-in list and the checks add to it.
func (b *binder) build(root *tomltext.Node) *Build {
	build := &Build{}
	b.unitTable(root.Child("units"))
	build.Units = b.units
	b.limits(root, build)
	b.loads(root, build)
	b.table(nil, root, reflect.ValueOf(build).Elem(), apart()...)
	return build
}

func (b *binder) limits(root *tomltext.Node, build *Build) {
	build.Limits = b.ruleTable(root.Child("limits"), "limits", Defaults())
}

func (b *binder) loads(root *tomltext.Node, build *Build) {
	build.Loads = b.ruleTable(root.Child("loads"), "loads", DefaultLoads(), "case")
	build.LoadCases = b.loadCases(root.Child("loads"), build.Loads)
}

// whole makes a File of a text and of what it says. before is a File whose text
// has the same keys, or nil. The error is Problems, in no order.
func (b *binder) whole(doc *tomltext.Doc, said *Build, before *File) (*File, error) {
	root := doc.Root()
	build := *said
	build.Jobs, build.Readings, build.Lines = slices.Clone(said.Jobs), slices.Clone(said.Readings), slices.Clone(said.Lines)
	facts := build.Facts()
	if before != nil && sameList(said.Jobs, before.said.Jobs) && maps.Equal(facts, before.facts) {
		build.Jobs = before.Build.Jobs
	} else {
		build.fillJobs(root.Child("job"), facts)
	}
	b.byName = b.byName || before != nil && before.byName
	b.placePoints(&build, doc)
	b.check(&build, root)
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	build.stack()
	build.clock(1)
	return &File{Name: b.file, Build: &build, doc: doc, names: &pathNames{}, said: said, facts: facts, byName: b.byName}, nil
}

// inOrder is the problems in the order of their lines.
func (b *binder) inOrder() Problems {
	slices.SortStableFunc(b.problems, func(x, y Problem) int {
		return cmp.Or(cmp.Compare(x.Line, y.Line), cmp.Compare(x.Col, y.Col))
	})
	return b.problems
}

func migrationProblem(name string, err error) error {
	p := Problem{File: name, Path: "format", Msg: Printable(err.Error())}
	var fault *format.Fault
	if errors.As(err, &fault) {
		p.Line, p.Col, p.Path = fault.Pos.Line, fault.Pos.Col, fault.Path
	}
	return Problems{p}
}

// formatProblem refuses a file that a newer program wrote before anything else
// in it is looked at, so that its owner is not shown a list of strange keys.
func formatProblem(name string, root *tomltext.Node) (Problem, bool) {
	n := root.Child("format")
	if n == nil {
		return Problem{File: name, Line: 1, Col: 1, Path: "format",
			Msg: fmt.Sprintf("this file does not say its format; if it is a build file, put the line format = %d at its top", format.Now)}, true
	}
	v, ok := n.Value.(int64)
	switch {
	case !ok || v < 1:
		return Problem{File: name, Line: n.Pos.Line, Col: n.Pos.Col, Path: "format",
			Msg: fmt.Sprintf("read %s; want format = %d", describe(n), format.Now)}, true
	case v > format.Now:
		return Problem{File: name, Line: n.Pos.Line, Col: n.Pos.Col, Path: "format",
			Msg: fmt.Sprintf("this file is in format %d and this fitup knows formats up to %d; it is left as it is, use a newer fitup", v, format.Now)}, true
	}
	return Problem{}, false
}

// Bytes returns the text of the file. The caller must not change it.
func (f *File) Bytes() []byte { return f.doc.Bytes() }

// SameText reports whether two files are spelled alike.
func (f *File) SameText(g *File) bool { return f.doc.Text() == g.doc.Text() }

// Doc returns the text of the file with what stands where in it. The caller must
// not change it.
func (f *File) Doc() *tomltext.Doc { return f.doc }

// QuantityAt returns the number at path, a quantity of kind k (internal unit);
// false when the text has none there or one that cannot be read.
func (f *File) QuantityAt(path string, k quantity.Kind) (float64, bool) {
	n := f.doc.Find(path)
	if n == nil || n.Kind != tomltext.String && n.Kind != tomltext.Integer && n.Kind != tomltext.Float {
		return 0, false
	}
	s, err := (&binder{units: f.Build.Units}).stated(n, k)
	return s.V, err == nil
}

// Place returns the line and column at which the value at path stands, 0, 0
// when the text has none.
func (f *File) Place(path string) (line, col int) {
	n := f.doc.Find(path)
	if n == nil {
		return 0, 0
	}
	return n.Pos.Line, n.Pos.Col
}

// Raw returns the value at path as the text spells it.
func (f *File) Raw(path string) (string, bool) {
	n := f.doc.Find(path)
	if n == nil {
		return "", false
	}
	return n.Raw, true
}
