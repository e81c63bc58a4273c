package sheet

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// maker walks the schema and the text together.
type maker struct {
	f       *project.File
	begun   []string
	chapter int
	out     Sheet
	was     map[string]rowsOf // of the sheet before, by path; nil without one
	aside   map[int][]Section // of other chapters, met on the way
}

// tables holds a *table for each kind of table that was asked for. The schema never
// changes, so neither does what is in here.
var tables sync.Map

// table is what the schema has in tables of one kind.
type table struct {
	about  string
	fields []field
	below  []below
	plain  bool // all its rows stand in its own section
}

// below is what the schema has below a table, without its values.
type below struct {
	key   string
	shape project.Shape
}

type field struct {
	project.Field
	label   string
	shape   Shape
	kind    quantity.Kind
	choices []string
	tabled  bool // it may be the name of a table of the file as well
	offers  string
}

// top makes the sections of a table at the top of the file.
func (m *maker) top(key string) {
	switch key {
	case "":
		m.plain("", "The build", 0, m.f.Doc().Root(), entryOf{}, false)
		m.out.Sections[len(m.out.Sections)-1].ID = "build"
	case "units":
		m.units()
	case "limits":
		m.rules("limits", "Limits", project.Defaults(), m.f.Build.Limit)
	case "loads":
		m.rules("loads", "Load factors", project.DefaultLoads(), m.f.Build.Load)
		m.list("loads.case", "Load case", 0, m.f.Doc().Find("loads.case"))
	default:
		m.any(key, project.ShapeAt(key), 0, m.f.Doc().Root().Child(key), false)
	}
}

// any makes the sections of whatever the schema has at path; n is nil where the text
// has nothing there.
func (m *maker) any(path string, shape project.Shape, depth int, n *tomltext.Node, ghost bool) {
	title := capital(wordsOf(lastKey(path)))
	if path == "chassis" { // an entry is no chassis
		title = "Chassis part"
	}
	switch shape {
	case project.TableShape:
		m.table(path, m.titled(path), depth, n, entryOf{}, ghost)
	case project.TablesShape:
		if !ghost {
			m.list(path, title, depth, n)
		}
	case project.NamedTablesShape:
		if !ghost {
			m.named(path, title, depth, n)
		}
	}
}

// titled is what a table is called: with the table it is in, where it is in one.
func (m *maker) titled(path string) string {
	at := strings.LastIndexByte(path, '.')
	if at < 0 {
		return capital(wordsOf(path))
	}
	return wordsOf(lastKey(path))
}

// entryOf says of which list a section is an entry.
type entryOf struct {
	list         string
	named        bool
	index, count int
}

// list makes the entries of a list of tables, and behind them the one that can be
// begun.
func (m *maker) list(path, what string, depth int, n *tomltext.Node) {
	var entries []*tomltext.Node
	if n != nil {
		entries = n.Children
	}
	for i := range len(entries) + 1 {
		e := entryOf{list: path, index: i, count: len(entries)}
		at := fmt.Sprintf("%s[%d]", path, i)
		if i == len(entries) {
			m.table(at, "another "+lower(what), depth, nil, e, true)
			continue
		}
		title := fmt.Sprintf("%s %d", what, i+1)
		if name := nameOf(entries[i]); name != "" {
			title += ": " + name
		}
		m.table(at, title, depth, entries[i], e, false)
	}
}

// nameOf is what an entry calls itself, as far as it does.
func nameOf(n *tomltext.Node) string {
	for _, key := range [...]string{"name", "title", "id", "of", "section", "bracket", "kind"} {
		c := n.Child(key)
		if c == nil || c.Kind != tomltext.String {
			continue
		}
		s := c.Value.(string)
		if at := n.Child("at"); key == "bracket" && at != nil && at.Kind == tomltext.String {
			s += ", " + at.Value.(string)
		}
		return project.Printable(s)
	}
	return ""
}

// usual are the names of named tables that are there in every build, begun or not.
func usual(path string) []string {
	switch path {
	case "mount":
		return project.PadNames()
	case "line":
		return []string{"rear"}
	}
	return nil
}

// named makes the tables with names of their own, those that were begun without a
// value, and a row for the name of another.
func (m *maker) named(path, what string, depth int, n *tomltext.Node) {
	var names []string
	in := map[string]*tomltext.Node{}
	if n != nil {
		for _, c := range n.Children {
			names, in[c.Key] = append(names, c.Key), c
		}
	}
	count := len(names)
	more := slices.Clone(usual(path))
	if path == "line" && count > 0 {
		more = nil
	}
	for _, b := range m.begun {
		if name, ok := strings.CutPrefix(b, path+"."); ok && project.PlainName(name) {
			more = append(more, name)
		}
	}
	for _, name := range more {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for i, name := range names {
		e := entryOf{list: path, named: true, index: i, count: count}
		m.table(path+"."+name, what+" "+wordsOf(name), depth, in[name], e, false)
	}
	at := path + ".*"
	m.add(Section{
		ID: at, Path: at, Title: "another " + lower(what), Depth: depth, List: path, Named: true, Index: len(names), Count: count,
		Rows: []Row{{
			Path: at, Label: "name", Shape: Name, About: "what it is called: letters, digits, - and _",
			How: "Type a name to begin one; its rows come then.",
		}},
	})
}

// table makes the section of a table, those that belong beside it, and what is below it.
func (m *maker) table(path, title string, depth int, n *tomltext.Node, e entryOf, ghost bool) {
	for _, b := range m.plain(path, title, depth, n, e, ghost).below {
		if ghost && b.shape != project.TableShape {
			continue
		}
		var c *tomltext.Node
		if n != nil {
			c = n.Child(b.key)
		}
		m.any(path+"."+b.key, b.shape, depth+1, c, ghost)
	}
}

// plain makes the section of a table's own values, and returns what the schema has there.
func (m *maker) plain(path, title string, depth int, n *tomltext.Node, e entryOf, ghost bool) *table {
	own := m.rows(path, n)
	t := own.of
	sec := Section{
		ID: path, Path: path, Title: title, Depth: depth, Begun: n != nil && !ghost,
		List: e.list, Named: e.named, Index: e.index, Count: e.count, About: t.about,
	}
	if sec.Begun && e.list != "" && !e.named {
		sec.Name = nameOf(n)
	}
	padOwn := e.list == "mount" && slices.Contains(project.PadNames(), lastKey(path)) // its place is its pad's
	if t.plain && !padOwn {
		sec.Rows = m.asked(path, slices.Clip(own.rows))
		if len(sec.Rows) > 0 || e.list != "" {
			m.add(sec)
		}
		return t
	}
	var beside []Section
	for i := range t.fields {
		if padOwn && t.fields[i].Key == "at" {
			continue
		}
		r, in := own.rows[i], t.fields[i].In
		switch c := chapterNamed(in); {
		case in == "":
			sec.Rows = append(sec.Rows, r)
		case c >= 0:
			m.elsewhere(c, path, title, sec.Begun, r)
		default:
			j := slices.IndexFunc(beside, func(s Section) bool { return s.Title == in })
			if j < 0 {
				j = len(beside)
				beside = append(beside, Section{ID: path + "/" + in, Path: path, Title: in, Depth: depth + 1, Begun: sec.Begun})
			}
			beside[j].Rows = append(beside[j].Rows, r)
		}
	}
	if len(sec.Rows) > 0 || e.list != "" {
		m.add(sec)
	}
	for _, s := range beside {
		m.add(s)
	}
	return t
}

// aboutTable is what the schema says of a table, as a sentence.
func aboutTable(path string) string {
	if k, ok := project.KeyAt(path); ok && k.About != "" {
		return capital(k.About) + "."
	}
	return ""
}

// elsewhere puts a row under another chapter.
func (m *maker) elsewhere(chapter int, path, title string, begun bool, r Row) {
	if m.aside == nil {
		m.aside = map[int][]Section{}
	}
	list := m.aside[chapter]
	i := slices.IndexFunc(list, func(s Section) bool { return s.Path == path })
	if i < 0 {
		i = len(list)
		list = append(list, Section{ID: path + "/" + chapters[chapter].title, Path: path, Title: title, Chapter: chapter, Begun: begun})
	}
	list[i].Rows = append(list[i].Rows, r)
	m.aside[chapter] = list
}

func (m *maker) add(s Section) {
	s.Chapter = m.chapter
	m.out.Sections = append(m.out.Sections, s)
}

func chapterNamed(title string) int {
	return slices.IndexFunc(chapters, func(c chapter) bool { return c.title == title })
}

// row is the row of one field.
func (m *maker) row(path string, n *tomltext.Node, f *field) Row {
	r := Row{
		Path: f.Key, Label: f.label, Shape: f.shape, Kind: f.kind, Choices: f.choices, Offers: f.offers, Lines: f.Lines,
		About: f.About, How: f.How, From: f.From, Need: f.Need, Unless: f.Unless, Own: f.Own, Ticked: f.Ticked,
	}
	if path != "" {
		r.Path = path + "." + f.Key
	}
	if f.tabled {
		r.Choices = m.f.Choices(r.Path)
	}
	if n == nil {
		return r
	}
	if c := n.Child(f.Key); c != nil {
		r.Given, r.Text = true, Spelled(c, f.shape)
	}
	return r
}

// schema is what the schema has at the tables of one kind.
func schemaOf(path string) *table {
	kind := kindOfTable(path)
	if t, ok := tables.Load(kind); ok {
		return t.(*table)
	}
	t := &table{about: aboutTable(path)}
	if path != "" {
		for _, key := range project.TablesOf(path) {
			t.below = append(t.below, below{key, project.ShapeAt(path + "." + key)})
		}
	}
	t.plain = true
	for _, f := range project.FieldsOf(path) {
		if f.Written {
			continue
		}
		at := f.Key
		if path != "" {
			at = path + "." + f.Key
		}
		shape, kind := shapeAt(at)
		choices := project.Choices(at)
		if choices != nil && shape == Text {
			shape = Words
		}
		t.fields = append(t.fields, field{
			Field: f, label: wordsOf(f.Key), shape: shape, kind: kind, choices: choices, tabled: project.NamesTable(at), offers: f.Offers,
		})
		t.plain = t.plain && f.In == ""
	}
	tables.Store(kind, t)
	return t
}

// kindOfTable is a path without what tells one entry from another.
func kindOfTable(path string) string {
	parts := strings.Split(path, ".")
	for i := range parts {
		parts[i], _, _ = strings.Cut(parts[i], "[")
		if i > 0 && project.ShapeAt(strings.Join(strings.Split(path, ".")[:i], ".")) == project.NamedTablesShape {
			parts[i] = "*"
		}
	}
	return strings.Join(parts, ".")
}

func shapeAt(path string) (Shape, quantity.Kind) {
	switch project.ShapeAt(path) {
	case project.QuantityShape:
		k, _ := project.KindAt(path)
		return Quantity, k
	case project.SwitchShape:
		return Switch, 0
	case project.DateShape:
		return Date, 0
	case project.ListShape:
		if project.IsPoint(path) {
			return Point, quantity.Length
		}
		if project.IsPoint(path + "[0]") {
			return Points, quantity.Length
		}
		if k, ok := project.KindAt(path + "[0]"); ok {
			return Quantities, k
		}
		return Texts, 0
	}
	return Text, 0
}

func lastKey(path string) string {
	path = path[strings.LastIndexByte(path, '.')+1:]
	key, _, _ := strings.Cut(path, "[")
	return key
}

func wordsOf(key string) string { return strings.ReplaceAll(key, "_", " ") }

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
