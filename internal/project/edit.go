package project

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"

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
func (f *File) Apply(edits ...Edit) (*File, error) {
	doc := f.doc
	for _, e := range edits {
		next, err := e.apply(doc)
		var named *tomltext.EditError // says itself what it was about
		if errors.As(err, &named) {
			return nil, err
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.Path, err)
		}
		doc = next
	}
	return fromDoc(f.Name, doc)
}

func (e Edit) apply(doc *tomltext.Doc) (*tomltext.Doc, error) {
	e = e.today()
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
	src := string(doc.Bytes())
	at := e.At
	if at < 0 || at > len(src) || !strings.HasPrefix(src[at:], e.Old) {
		if at = strings.Index(src, e.Old); at < 0 {
			e, at = e.migrated(src)
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
func (f *File) Splice(g *File) Edit { return spliceOf(f.text(), g.text()) }

func spliceOf(a, b string) Edit {
	head, tail := common(a, b)
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
func (f *File) SetValue(path string, v float64) (Edit, error) {
	k, ok := KindAt(path)
	if !ok {
		return Edit{}, fmt.Errorf("%s is not a quantity", path)
	}
	old, bare := "", !k.NeedsDirection()
	if n := f.doc.Find(path); n != nil {
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
func (f *File) SetText(path, typed string) (Edit, error) {
	typed = strings.TrimSpace(typed)
	t, ok := typeAt(path)
	if !ok {
		return Edit{}, noSuchValue(path)
	}
	if k, ok := kindOf(t); ok {
		v, err := quantity.Parse(k, typed, f.Build.Units)
		if err != nil {
			return Edit{}, err
		}
		if !HasUnit(typed) {
			if n := f.doc.Find(path); n != nil && n.Kind == tomltext.String && quantity.Foreign(k, n.Value.(string), f.Build.Units) {
				// A bare number is in the file's unit. Turned into the unit of
				// the old text it would be a number that nobody typed.
				return Edit{Op: OpSet, Path: path, Text: tomltext.Quote(typed + " " + quantity.UnitName(k, f.Build.Units))}, nil
			}
			return f.SetValue(path, v)
		}
		return Edit{Op: OpSet, Path: path, Text: tomltext.Quote(typed)}, nil
	}
	switch {
	case t.Kind() == reflect.String:
		return Edit{Op: OpSet, Path: path, Text: tomltext.Quote(typed)}, nil
	case t.Kind() == reflect.Bool:
		v, err := strconv.ParseBool(typed)
		if err != nil {
			return Edit{}, fmt.Errorf("read %q; want true or false", Printable(typed))
		}
		return Edit{Op: OpSet, Path: path, Text: strconv.FormatBool(v)}, nil
	case t == timeType:
		return Edit{Op: OpSet, Path: path, Text: typed}, nil
	case isValue(t): // a point or a list
		if !strings.HasPrefix(typed, "[") {
			typed = "[" + typed + "]"
		}
		return Edit{Op: OpSet, Path: path, Text: typed}, nil
	}
	return Edit{}, fmt.Errorf("%s cannot be set as one value", path)
}

// HasUnit reports whether a typed number says more than digits.
func HasUnit(s string) bool {
	s = strings.TrimSpace(s)
	return strings.IndexFunc(s, func(r rune) bool {
		return !(r >= '0' && r <= '9' || strings.ContainsRune("+-.,−", r))
	}) >= 0
}

// KindAt returns the kind of quantity that the schema has at path.
func KindAt(path string) (quantity.Kind, bool) {
	t, ok := typeAt(path)
	if !ok {
		return 0, false
	}
	return kindOf(t)
}

// limitPath is the type of what stands at a limit's name: its value, as such or
// in a table, or its source.
func limitPath(key string, rules []Rule) (reflect.Type, bool) {
	if base, ok := strings.CutSuffix(key, ".source"); ok {
		_, known := limitType(base, rules)
		return reflect.TypeFor[string](), known
	}
	return limitType(strings.TrimSuffix(key, ".value"), rules)
}

// typeAt walks the schema along a path such as line.rear.pinion.at[2].
func typeAt(path string) (reflect.Type, bool) {
	if key, ok := strings.CutPrefix(path, "limits."); ok {
		return limitPath(key, Defaults())
	}
	t := reflect.TypeFor[Build]()
	if key, ok := strings.CutPrefix(path, "loads."); ok {
		if !strings.HasPrefix(key, "case") {
			return limitPath(key, DefaultLoads())
		}
		t, path = reflect.TypeFor[loadTable](), key
	}
	for _, part := range strings.Split(path, ".") {
		key, indexes, _ := strings.Cut(part, "[")
		next, ok := stepInto(t, key)
		if !ok {
			return nil, false
		}
		t = next
		for range strings.Count(indexes, "]") {
			switch {
			case t.Kind() == reflect.Slice:
				t = t.Elem()
			case t == pointType:
				t = reflect.TypeFor[quantity.LengthQ]()
			default:
				return nil, false
			}
		}
	}
	return t, true
}

func stepInto(t reflect.Type, key string) (reflect.Type, bool) {
	if t.Kind() == reflect.Slice { // a named table: the key is a name
		if _, named := nameField(t.Elem()); named && plainName(key) {
			return t.Elem(), true
		}
		return nil, false
	}
	if t.Kind() != reflect.Struct || t == pointType || t == timeType {
		return nil, false
	}
	f, ok := fieldFor(t, key)
	if !ok {
		return nil, false
	}
	return f.Type, true
}
