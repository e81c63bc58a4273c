package assess

import (
	"fmt"
	"sync"

	"fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// stockTable is the table of sections by name, built once: it never changes.
var stockTable = sync.OnceValue(func() map[string]bracket.Shape {
	out := map[string]bracket.Shape{}
	for _, e := range bracket.Table() {
		out[e.Name] = e.Shape
	}
	return out
})

// shapeOf is the section of a leg: one of the table, one of its own, or sizes
// such as 2x2x3/16, in the file's unit.
func shapeOf(part string, l project.Leg, u quantity.Units) (bracket.Shape, error) {
	l, err := withSizes(part, l, u)
	if err != nil {
		return bracket.Shape{}, err
	}
	if l.Kind == "" {
		if l.Section == "" {
			return bracket.Shape{}, lacking("the section of the " + part)
		}
		if s, ok := stockTable()[l.Section]; ok {
			return s, nil
		}
		e, err := bracket.Find(part, l.Section)
		return e.Shape, err
	}
	s := bracket.Shape{Name: l.Section, Kind: sectionKinds[l.Kind], H: l.Height.V(), B: l.Width.Or(l.Height.V()), T: l.Wall.V()}
	hollow := s.Kind == bracket.RectTube || s.Kind == bracket.RoundTube
	switch {
	case !l.Height.Known():
		return s, lacking("height of the " + part + "'s section")
	case hollow && !l.Wall.Known():
		return s, lacking("wall of the " + part + "'s section")
	case !hollow:
		s.T = 0
	}
	if s.Kind == bracket.RoundTube || s.Kind == bracket.RoundBar {
		s.B = 0
	}
	if s.Kind == bracket.RectTube {
		s.Corner = bracket.CornerCold
	}
	if s.Name == "" {
		s.Name = ownName(s, l.Kind)
	}
	return s, nil
}

// withSizes takes the sizes out of a section's name, where that is all it is.
// Three are a box tube; two could be a round tube as well as a flat bar, so the
// file has to say which.
func withSizes(part string, l project.Leg, u quantity.Units) (project.Leg, error) {
	if l.Height.Known() || l.Section == "" {
		return l, nil
	}
	if _, err := bracket.Find(part, l.Section); err == nil && l.Kind == "" {
		return l, nil
	}
	sizes, err := quantity.Sizes(l.Section, u)
	if err != nil {
		return l, fmt.Errorf("section of the %s: %w", part, err)
	}
	switch {
	case len(sizes) == 3 && (l.Kind == "" || l.Kind == project.BoxTube):
		l.Kind = project.BoxTube
		l.Height, l.Width, l.Wall = quantity.MM(sizes[0]), quantity.MM(sizes[1]), quantity.MM(sizes[2])
	case len(sizes) == 2 && l.Kind == project.RoundTube:
		l.Height, l.Wall = quantity.MM(sizes[0]), quantity.MM(sizes[1])
	case len(sizes) == 2 && l.Kind == project.FlatBar:
		l.Height, l.Width = quantity.MM(sizes[0]), quantity.MM(sizes[1])
	case len(sizes) == 2 && l.Kind == "":
		return l, fmt.Errorf("section of the %s: two sizes are a round tube or a flat bar; write kind = \"round tube\" or kind = \"flat bar\" beside it", part)
	}
	return l, nil
}

// ownName names a section that the builder did not name.
func ownName(s bracket.Shape, k project.SectionKind) string {
	switch s.Kind {
	case bracket.RectTube:
		return fmt.Sprintf("%s %gx%gx%g", k, s.H, s.B, s.T)
	case bracket.RoundTube:
		return fmt.Sprintf("%s %gx%g", k, s.H, s.T)
	case bracket.RoundBar:
		return fmt.Sprintf("%s %g", k, s.H)
	}
	return fmt.Sprintf("%s %gx%g", k, s.H, s.B)
}

var sectionKinds = map[project.SectionKind]bracket.Kind{
	project.BoxTube: bracket.RectTube, project.RoundTube: bracket.RoundTube,
	project.RoundBar: bracket.RoundBar, project.FlatBar: bracket.FlatBar,
}
