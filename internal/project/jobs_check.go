package project

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project/joblist"
	"fitup/internal/project/tomltext"
)

func (b *binder) checkJobs(build *Build, root *tomltext.Node) {
	list := root.Child("job")
	if list == nil {
		return
	}
	ids := make([]string, 0, len(build.Jobs))
	for _, j := range build.Jobs {
		ids = append(ids, j.ID)
	}
	seen := map[string]int{}
	for i, n := range list.Children {
		if i >= len(build.Jobs) {
			return
		}
		j := build.Jobs[i]
		switch line, dup := seen[j.ID]; {
		case j.ID == "":
			b.fault(n.Pos, n.Path, "the job has no id; want a short name such as id = \"prove-angles\"")
		case dup:
			b.fault(n.Child("id").Pos, n.Child("id").Path, "the id %q stands at line %d already; each job needs its own", Printable(j.ID), line)
		default:
			seen[j.ID] = n.Child("id").Pos.Line
		}
		b.checkJob(j, n, ids)
	}
	if c := build.circle(); c != nil && len(b.problems) == 0 {
		b.fault(list.Pos, "job", "these jobs wait for each other in a circle: %s; take one of their needs out", Printable(strings.Join(c, ", ")))
	}
}

func (b *binder) checkJob(j Job, n *tomltext.Node, ids []string) {
	if from := n.Child("from"); from != nil {
		if _, ok := joblist.Find(j.From); !ok {
			b.fault(from.Pos, from.Path, "%q is no job of the built-in list%s", Printable(j.From), meant(j.From, joblist.IDs()))
			return
		}
	}
	if o := n.Child("override"); o != nil && strings.TrimSpace(j.Override) == "" {
		b.fault(o.Pos, o.Path, "the override is blank; say why it was ticked although something held it, or take the line out")
	}
	if j.Title == "" {
		b.fault(n.Pos, n.Path, "the job has no title; want title = what is to be done")
	}
	if needs := n.Child("needs"); needs != nil {
		for _, id := range j.Needs {
			if !slices.Contains(ids, id) {
				b.fault(needs.Pos, needs.Path, "it needs %q, which is no job of this file%s", Printable(id), meant(id, ids))
			}
		}
	}
}

// meant asks whether a known word near to word was meant, where there is one.
func meant(word string, known []string) string {
	near, ok := Nearest(word, known)
	if !ok {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", Printable(near))
}

// checkMeasuredWith looks at the tool of a measurement.
func (b *binder) checkMeasuredWith(build *Build, entry *tomltext.Node, m Measurement) {
	with := entry.Child("with")
	if with == nil || !m.With.Tool() {
		return
	}
	if len(m.Angles) > 0 {
		b.fault(with.Pos, with.Path, "a tool of the file measures lengths, and this measurement is of angles; want \"level\" or \"gauge\"")
		return
	}
	b.checkTool(build, with)
}

// checkMaps looks at measurements, welds, fasteners and fluids: each says what
// it is, and no two welds have one name.
func (b *binder) checkMaps(build *Build, root *tomltext.Node) {
	each := func(key string, has func(i int) (ok bool, want string)) {
		list := root.Child(key)
		if list == nil {
			return
		}
		for i, n := range list.Children {
			if ok, want := has(i); !ok {
				b.fault(n.Pos, n.Path, "%s", want)
			}
		}
	}
	each("measure", func(i int) (bool, string) {
		m := build.Measurements[i]
		entry := root.Child("measure").Children[i]
		b.checkExact(entry, "plus_minus", m.PlusMinus.Get)
		b.checkExact(entry, "angle_plus_minus", m.AnglePM.Get)
		b.checkMeasuredWith(build, entry, m)
		switch {
		case m.Title() == "":
			return false, "the measurement does not say of what it is; want of = such as \"diagonal, left front to right rear\""
		case len(m.Lengths) == 0 && len(m.Angles) == 0 && m.Line() != SquareLine:
			return false, "the measurement has no value; want lengths = [ ] for tape and plumb line, angles = [ ] for level and gauge"
		case len(m.Lengths) > 0 && len(m.Angles) > 0:
			return false, "a measurement is of lengths or of angles; write two of them"
		}
		return true, ""
	})
	seen := map[string]bool{}
	each("weld", func(i int) (bool, string) {
		w := build.Welds[i]
		if w.Bracket == "" || w.At == "" {
			return false, "the weld does not say where it is; want bracket = and at ="
		}
		if seen[w.ID()] {
			return false, "this weld of this bracket stands in the file already"
		}
		seen[w.ID()] = true
		for _, s := range w.Sides {
			if root.Child("weld").Children[i].Child("side").Child(s.Name).Child("override") != nil && strings.TrimSpace(s.Override) == "" {
				return false, "the override of the " + Printable(s.Name) + " side is blank; say why it was finished although proof was missing, or take it out"
			}
		}
		return true, ""
	})
	each("fastener", func(i int) (bool, string) {
		f := build.Fasteners[i]
		if f.Name != "" && f.K.Known() && f.K.V() == 0 {
			return false, "k = 0 of the fastener " + Printable(f.Name) + " means no friction at all; want its nut factor, 0.2 for dry steel, or leave it out"
		}
		return f.Name != "", "the fastener has no name; want name = what it holds"
	})
	each("fluid", func(i int) (bool, string) {
		return build.Fluids[i].Name != "", "the fluid has no name; want name = what it goes into"
	})
}
