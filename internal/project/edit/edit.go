// Package edit changes a build: edits of its text, undo and redo, what differs
// between two states, and a merge of three.
//
// An edit makes a new File from the text it has changed; nothing is ever written
// back from values.
package edit

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/format"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// Op is what an edit does to the text.
type Op string

// The ops.
const (
	OpSet    Op = "set"    // give the value at Path the literal Text
	OpAdd    Op = "add"    // add an entry to the list of tables at Path
	OpRemove Op = "remove" // take out what stands at Path
	OpRename Op = "rename" // the key or table at Path gets the name Text
	OpSplice Op = "splice" // the passage Old, at byte At, becomes Text
)

// Edit is one change of the text, small enough to be written to the journal.
type Edit struct {
	Op    Op              `json:"op"`
	Path  string          `json:"path"`
	Text  string          `json:"text,omitempty"` // a TOML literal, or the new passage
	Old   string          `json:"old,omitempty"`
	At    int             `json:"at,omitempty"`
	Pairs []tomltext.Pair `json:"pairs,omitempty"` // for OpAdd
}

// Apply returns the File after the edits, or an error and no File; f itself
// never changes. The result has passed every check a loaded file passes.
func Apply(f *project.File, edits ...Edit) (*project.File, error) {
	doc := f.Doc()
	for _, e := range edits {
		next, err := e.apply(doc)
		var named *tomltext.EditError // says itself what it was about
		if errors.As(err, &named) {
			return nil, err
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", project.SpokenPath(e.Path), err)
		}
		doc = next
	}
	return f.With(doc)
}

func (e Edit) apply(doc *tomltext.Doc) (*tomltext.Doc, error) {
	e.Path, _ = format.RenamedPath(e.Path) // noted by an earlier format's program, perhaps
	switch e.Op {
	case OpSet:
		return doc.Set(e.Path, e.Text)
	case OpAdd:
		return doc.Append(e.Path, e.Pairs)
	case OpRemove:
		return doc.Remove(e.Path)
	case OpRename:
		return doc.Rename(e.Path, e.Text)
	case OpSplice:
		return e.splice(doc)
	}
	return nil, fmt.Errorf("%q is no kind of edit", e.Op)
}

// splice replaces a passage where it stood, or where it stands now when there
// is only one of it.
func (e Edit) splice(doc *tomltext.Doc) (*tomltext.Doc, error) {
	src := doc.Text()
	at := e.At
	if at < 0 || at > len(src) || !strings.HasPrefix(src[at:], e.Old) {
		if at = strings.Index(src, e.Old); at < 0 {
			e.Old, e.Text, at = format.Passage(e.Old, e.Text, src)
		}
		if e.Old == "" || at < 0 || strings.Count(src, e.Old) > 1 {
			return nil, fmt.Errorf("the lines it changes are not in the file as they were")
		}
	}
	return doc.Reread([]byte(src[:at] + e.Text + src[at+len(e.Old):]))
}

// Splice returns the edit that turns the text of f into that of g: the lines
// that differ, with the line before and the line behind them so that the
// passage can be found again. It is how a step back is written to the journal.
func Splice(f *project.File, g *project.File) Edit { return spliceOf(f.Doc().Text(), g.Doc().Text()) }

func spliceOf(a, b string) Edit {
	head, tail := tomltext.Common(a, b)
	for range 2 { // to the beginning of this line, then of the one before
		if head > 0 {
			head = strings.LastIndexByte(a[:head-1], '\n') + 1
		}
	}
	end := len(a) - tail
	for range 2 {
		if i := strings.IndexByte(a[end:], '\n'); i >= 0 {
			end += i + 1
		}
	}
	old, text := strings.Clone(a[head:end]), strings.Clone(b[head:len(b)-(len(a)-end)])
	return Edit{Op: OpSplice, Old: old, Text: text, At: head}
}

// Quoted is a text as a literal of the file.
func Quoted(text string) string { return tomltext.Quote(text) }

// SetValue returns the edit that gives the quantity at path the value v
// (internal unit), spelled as the file spells it now.
func SetValue(f *project.File, path string, v float64) (Edit, error) {
	k, ok := project.KindAt(path)
	if !ok {
		return Edit{}, fmt.Errorf("%s is not a quantity", path)
	}
	if err := ofNamedPoint(f, path); err != nil {
		return Edit{}, err
	}
	old, bare := "", !k.NeedsDirection()
	if n := f.Doc().Find(path); n != nil {
		switch x := n.Value.(type) {
		case string:
			old, bare = x, false
		default:
			old, bare = n.Raw, true
		}
	}
	text, stillBare := quantity.Respell(k, v, old, bare, f.Build.Units)
	if !stillBare {
		text = tomltext.Quote(text)
	}
	return Edit{Op: OpSet, Path: path, Text: text}, nil
}

// SetText returns the edit that gives the value at path what a person typed.
// A number typed with a unit keeps that unit in the file; a bare number is
// spelled as the file spells it now.
func SetText(f *project.File, path, typed string) (Edit, error) {
	typed = strings.TrimSpace(typed)
	shape := project.ShapeAt(path)
	switch shape {
	case project.NoShape:
		return Edit{}, noSuchValue(path)
	case project.QuantityShape:
		return setQuantity(f, path, typed)
	case project.TextShape:
		return Edit{Op: OpSet, Path: path, Text: tomltext.Quote(typed)}, nil
	case project.SwitchShape:
		v, err := strconv.ParseBool(typed)
		if err != nil {
			return Edit{}, fmt.Errorf("read %q; want true or false", project.Printable(typed))
		}
		return Edit{Op: OpSet, Path: path, Text: strconv.FormatBool(v)}, nil
	case project.DateShape:
		return Edit{Op: OpSet, Path: path, Text: typed}, nil
	case project.ListShape: // a point or a list
		if !strings.HasPrefix(typed, "[") {
			typed = "[" + typed + "]"
		}
		return Edit{Op: OpSet, Path: path, Text: typed}, nil
	}
	return Edit{}, fmt.Errorf("%s is no single value; set what stands in it", project.SpokenPath(path))
}

func setQuantity(f *project.File, path, typed string) (Edit, error) {
	k, _ := project.KindAt(path)
	if project.IsCoordinate(path) {
		if parts := cutRepeats(k, typed, f.Build.Units); len(parts) > 1 || strings.Contains(typed, ";") {
			return setRepeats(f, path, parts)
		}
	} else if err := oneValue(k, typed, f.Build.Units); err != nil {
		return Edit{}, err
	}
	if err := ofNamedPoint(f, path); err != nil {
		return Edit{}, err
	}
	s, err := quantity.ParseStated(k, typed, f.Build.Units)
	if err != nil {
		return Edit{}, err
	}
	if HasUnit(typed) {
		return Edit{Op: OpSet, Path: path, Text: tomltext.Quote(typed)}, nil
	}
	if n := f.Doc().Find(path); n != nil && n.Kind == tomltext.String && quantity.Foreign(k, n.Value.(string), f.Build.Units) {
		// A bare number is in the file's unit. Turned into the unit of
		// the old text it would be a number that nobody typed.
		return Edit{Op: OpSet, Path: path, Text: tomltext.Quote(typed + " " + quantity.UnitName(k, f.Build.Units))}, nil
	}
	return SetValue(f, path, s.V)
}

// setRepeats gives a coordinate of a measured point each repeat.
func setRepeats(f *project.File, path string, parts []string) (Edit, error) {
	k, _ := project.KindAt(path)
	var out []string
	for _, part := range parts {
		lit, err := bareLiteral(f, k, part)
		if err != nil {
			return Edit{}, err
		}
		out = append(out, lit)
	}
	return Edit{Op: OpSet, Path: path, Text: "[" + strings.Join(out, ", ") + "]"}, nil
}

// ofNamedPoint refuses one number of a point that is given by its name.
func ofNamedPoint(f *project.File, path string) error {
	i := strings.LastIndexByte(path, '[')
	if i < 0 || !project.IsPoint(path[:i]) {
		return nil
	}
	n := f.Doc().Find(path[:i])
	if n == nil || n.Kind != tomltext.String {
		return nil
	}
	name := project.Printable(n.Value.(string))
	return fmt.Errorf("it is %s by its name; change what was measured of that point, or give three numbers here", name)
}

// HasUnit reports whether a typed number says more than digits: a unit, a
// direction or a ±.
func HasUnit(s string) bool {
	s = strings.TrimSpace(s)
	return quantity.HasBound(s) || strings.IndexFunc(s, func(r rune) bool {
		return !(r >= '0' && r <= '9' || strings.ContainsRune("+-.,−", r))
	}) >= 0
}
