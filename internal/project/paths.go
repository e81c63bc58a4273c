package project

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fitup/internal/project/tomltext"
)

// Paths lists the paths of the values that this file has, in its order, then of
// those that its tables could have besides. Entries of lists are named as
// Resolve takes them.
func (f *File) Paths() []string {
	var out []string
	seen := map[string]bool{}
	add := func(p string) {
		if !seen[p] {
			seen[p] = true
			out = append(out, p)
		}
	}
	var named []string // tables with names, and entries of lists
	var walk func(n *tomltext.Node, path string)
	walk = func(n *tomltext.Node, path string) {
		for i, c := range n.Children {
			p := c.Key
			if n.Kind == tomltext.TableArray || n.Kind == tomltext.Array {
				p = f.names.in(n).of[i]
			}
			if path != "" {
				p = path + "." + p
			}
			t, known := typeAt(f.Resolve(p))
			switch {
			case known && isValue(t):
				if p != "format" {
					add(p)
				}
				continue
			case known && t.Kind() == reflect.Struct:
				named = append(named, p)
			}
			if c.Kind == tomltext.Table || c.Kind == tomltext.TableArray || c.Kind == tomltext.Array {
				walk(c, p)
			}
		}
	}
	walk(f.doc.Root(), "")
	for _, p := range named {
		if t, ok := typeAt(f.Resolve(p)); ok {
			for _, q := range schemaPaths(t, p+".", nil) {
				add(q)
			}
		}
	}
	for _, p := range SchemaPaths() {
		add(p)
	}
	return out
}

// listNames is what the entries of one list are called in a path: each by its id
// or name where that is plain and its own, else by its number, counted from 1.
type listNames struct {
	of []string       // by place
	at map[string]int // places of those that have a name
}

func namesOf(list *tomltext.Node) *listNames {
	l := &listNames{of: make([]string, len(list.Children)), at: map[string]int{}}
	times := map[string]int{}
	for i, c := range list.Children {
		l.of[i] = markOf(c)
		times[l.of[i]]++
	}
	for i, name := range l.of {
		if times[name] > 1 || !PlainName(name) || strings.Trim(name, "0123456789") == "" {
			l.of[i] = strconv.Itoa(i + 1)
			continue
		}
		l.at[name] = i
	}
	return l
}

// pathNames holds the names of the lists of one text that were asked for. It may
// be used from several goroutines, like the File it belongs to.
type pathNames struct {
	mu    sync.Mutex
	lists map[*tomltext.Node]*listNames
}

func (p *pathNames) in(list *tomltext.Node) *listNames {
	p.mu.Lock()
	defer p.mu.Unlock()
	l := p.lists[list]
	if l == nil {
		if p.lists == nil {
			p.lists = map[*tomltext.Node]*listNames{}
		}
		l = namesOf(list)
		p.lists[list] = l
	}
	return l
}

func markOf(n *tomltext.Node) string {
	for _, key := range [...]string{"id", "name"} {
		if c := n.Child(key); c != nil && c.Kind == tomltext.String {
			return c.Value.(string)
		}
	}
	return ""
}

// Resolve turns a path as a person writes it into one of the text: an entry of
// a list may be named by its id or name, or by its number counted from 1, as in
// job.make-safe.done and line.rear.joint.1.rating. A path that leads nowhere
// comes back as it is.
func (f *File) Resolve(path string) string {
	n := f.doc.Root()
	out := ""
	for _, part := range strings.Split(path, ".") {
		if part == "" {
			return path
		}
		if n != nil && (n.Kind == tomltext.TableArray || n.Kind == tomltext.Array) {
			key, rest, _ := strings.Cut(part, "[")
			if i, ok := f.entryAt(n, key); ok {
				out += fmt.Sprintf("[%d]", i)
				if rest != "" {
					out += "[" + rest
				}
				n = n.Children[i]
				continue
			}
		}
		if out != "" {
			out += "."
		}
		out += part
		if n != nil && PlainName(part) {
			n = n.Child(part)
		} else {
			n = f.doc.Find(out)
		}
	}
	if strings.HasPrefix(out, "limits.") && n != nil && n.Kind == tomltext.Table {
		out += ".value" // a limit with its source is a table
	}
	return out
}

// entryAt is the place of the entry of a list that a path calls name.
func (f *File) entryAt(list *tomltext.Node, name string) (int, bool) {
	if i, ok := f.names.in(list).at[name]; ok {
		return i, true
	}
	if i, err := strconv.Atoi(name); err == nil && i >= 1 && i <= len(list.Children) {
		return i - 1, true
	}
	return 0, false
}

// Has reports whether the text has a value at path.
func (f *File) Has(path string) bool { return f.doc.Find(path) != nil }

// Text returns the value at path for reading: text without its quotes, all
// else as it is spelled, a table on one line. False when the text has none.
func (f *File) Text(path string) (string, bool) {
	n := f.doc.Find(path)
	if n == nil {
		return "", false
	}
	return tomltext.Spelled(n), true
}

// EntryNames lists what the entries of the list at a path of the text are called
// in a path, in its order.
func (f *File) EntryNames(list string) []string {
	n := f.doc.Find(list)
	if n == nil || n.Kind != tomltext.TableArray && n.Kind != tomltext.Array {
		return nil
	}
	return slices.Clone(f.names.in(n).of)
}

// Entries lists the entries of lists of tables, and the tables with names of
// their own, as Resolve takes them, in the order of the file.
func (f *File) Entries() []string {
	var out []string
	var walk func(n *tomltext.Node, path string)
	walk = func(n *tomltext.Node, path string) {
		shape := ShapeAt(f.Resolve(path))
		for i, c := range n.Children {
			p := c.Key
			if n.Kind == tomltext.TableArray || n.Kind == tomltext.Array {
				p = f.names.in(n).of[i]
			}
			if path != "" {
				p = path + "." + p
			}
			if path != "" && (shape == TablesShape || shape == NamedTablesShape) {
				out = append(out, p)
			}
			walk(c, p)
		}
	}
	walk(f.doc.Root(), "")
	return out
}
