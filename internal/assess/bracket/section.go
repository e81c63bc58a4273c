package bracket

import (
	"errors"
	"fmt"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// shapeOf is the section of a leg: one of the table, one of its own, or sizes
// such as 2x2x3/16, in the file's unit.
func shapeOf(part string, l project.Leg, u quantity.Units) (section.Shape, error) {
	l, err := withSizes(part, l, u)
	if err != nil {
		return section.Shape{}, err
	}
	if l.Kind == "" {
		if l.Section == "" {
			return section.Shape{}, lacking("the section of the " + part)
		}
		if bent(l.Section) {
			return project.RailShape(part, l.Section, -1, u) // bent over as much as it is thick
		}
		e, err := section.Find(part, l.Section)
		return e.Shape, err
	}
	s := section.Shape{Name: l.Section, Kind: sectionKinds[l.Kind], H: l.Height.V(), B: l.Width.Or(l.Height.V()), T: l.Wall.V()}
	hollow := s.Kind != section.RoundBar && s.Kind != section.FlatBar
	switch {
	case !l.Height.Known():
		return s, lacking("height of the " + part + "'s section")
	case hollow && !l.Wall.Known():
		return s, lacking("wall of the " + part + "'s section")
	case !hollow:
		s.T = 0
	}
	if s.Kind == section.RoundTube || s.Kind == section.RoundBar {
		s.B = 0
	}
	switch s.Kind {
	case section.RectTube:
		s.Corner = section.CornerCold
	case section.Channel:
		s.Flange, s.InnerRadius, s.OuterRadius = s.T, s.T, 2*s.T
	case section.Angle:
		s.InnerRadius, s.OuterRadius = s.T, 2*s.T
	}
	if s.Name == "" {
		s.Name = ownName(s, l.Kind)
	}
	return s, nil
}

// bent reports whether a text is a channel or an angle by its own sizes, and no row of
// the table.
func bent(text string) bool {
	word, rest, sized := strings.Cut(strings.ToLower(strings.TrimSpace(text)), " ")
	return sized && rest != "" && (word == "channel" || word == "angle")
}

// SectionFault says why the section of a leg cannot be used, or that it is taken
// for one of its own where the table has those sizes by a name; "" otherwise, and
// when the file does not say enough of it yet.
func SectionFault(mount string, l project.Leg, u quantity.Units) string {
	if _, err := shapeOf(finding.Spoken(mount)+" leg", l, u); err != nil && !errors.Is(err, errMissing) {
		return err.Error()
	}
	if _, ok := section.Named(l.Section); ok || l.Kind != "" {
		return ""
	}
	if meant := section.OfSizes(l.Section); len(meant) > 0 {
		return fmt.Sprintf("section %q of the %s leg is taken as a section of your own; did you mean %s?",
			project.Printable(l.Section), finding.Spoken(mount), strings.Join(meant, " or "))
	}
	return ""
}

// withSizes takes the sizes out of a section's name, where that is all it is.
// Three are a box tube; two could be a round tube as well as a flat bar, so the
// file has to say which.
func withSizes(part string, l project.Leg, u quantity.Units) (project.Leg, error) {
	if l.Height.Known() || l.Section == "" || l.Kind == "" && bent(l.Section) {
		return l, nil
	}
	if _, ok := section.Named(l.Section); ok && l.Kind == "" {
		return l, nil
	}
	sizes, err := quantity.Sizes(l.Section, u)
	if err != nil {
		return l, fmt.Errorf("section of the %s: %w", part, err)
	}
	switch {
	case len(sizes) == 3 && (l.Kind == "" || l.Kind == project.BoxTube || l.Kind == project.BentChannel || l.Kind == project.BentAngle):
		if l.Kind == "" {
			l.Kind = project.BoxTube
		}
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

// SectionFigures says what a leg's section is good for, as tables have it: its second
// moments, its torsion constant and the areas that carry shear.
func (b *Bracket) SectionFigures(u quantity.Units) string {
	if !b.HasCut {
		return ""
	}
	p := &b.Cut.Section
	of := func(v float64, power int) string {
		text, unit := quantity.Power(v, power, u)
		return text + " " + unit
	}
	return fmt.Sprintf("I %s by %s, It %s, shear area %s up and %s across", of(p.Iy, 4), of(p.Iz, 4), of(p.It, 4), of(p.Avz, 2), of(p.Avy, 2))
}

// ownName names a section that the builder did not name.
func ownName(s section.Shape, k project.SectionKind) string {
	switch s.Kind {
	case section.RectTube, section.Channel, section.Angle:
		return fmt.Sprintf("%s %gx%gx%g", k, s.H, s.B, s.T)
	case section.RoundTube:
		return fmt.Sprintf("%s %gx%g", k, s.H, s.T)
	case section.RoundBar:
		return fmt.Sprintf("%s %g", k, s.H)
	}
	return fmt.Sprintf("%s %gx%g", k, s.H, s.B)
}

var sectionKinds = map[project.SectionKind]section.Kind{
	project.BoxTube: section.RectTube, project.RoundTube: section.RoundTube,
	project.RoundBar: section.RoundBar, project.FlatBar: section.FlatBar,
	project.BentChannel: section.Channel, project.BentAngle: section.Angle,
}
