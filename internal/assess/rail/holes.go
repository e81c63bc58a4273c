package rail

import (
	"slices"

	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
)

// holed are the figures of a piece with a hole through its web or a flange; false where
// the part that it is in is not known from the section, or the hole leaves nothing of it.
func (p *Piece) holed(h project.RailHole, x float64, u quantity.Units) (section.Figures, bool) {
	l := p.spec
	d, known := h.Diameter.Get()
	if l.Folded() || !known {
		return section.Figures{}, false
	}
	s, err := project.RailShape("rail", l.Section, l.Bend.Or(-1), u)
	if err != nil || s.Kind != section.Channel && s.Kind != section.RectTube {
		return section.Figures{}, false
	}
	built := p.built
	if l.ToSection != "" {
		// of the end that is weaker about there, so that what is left is no less than that
		way := p.way - 0.5/taperSteps
		if p.figures(x) == &p.ends[1] {
			way = p.way + 0.5/taperSteps
		}
		end, err := project.RailShape("rail", l.ToSection, l.Bend.Or(-1), u)
		if err != nil {
			return section.Figures{}, false
		}
		if s, err = s.Toward(end, way); err != nil {
			return section.Figures{}, false
		}
		if built, err = l.Built("rail", way, true, u); err != nil {
			return section.Figures{}, false
		}
	}
	return pierced(built, s, h, d)
}

// pierced are the figures of a section with a hole of diameter d right through it, or
// through the one wall that the file says.
func pierced(built section.Built, s section.Shape, h project.RailHole, d float64) (section.Figures, bool) {
	flange, right, mid := s.T, s.B, s.B/2
	if s.Kind == section.Channel {
		flange, mid = s.Flange, (s.T+s.B)/2 // of what stands out from the web
	}
	lo, hi := r2.Vec{X: mid - d/2}, r2.Vec{X: mid + d/2, Y: s.H}
	walls := [][2]r2.Vec{{lo, {X: hi.X, Y: flange}}, {{X: lo.X, Y: s.H - flange}, hi}}
	upright := false
	switch h.In {
	case project.InWeb:
		upright = true
		up := h.Up.Or(s.H / 2)
		lo, hi = r2.Vec{Y: up - d/2}, r2.Vec{X: right, Y: up + d/2}
		walls = [][2]r2.Vec{{lo, {X: s.T, Y: hi.Y}}, {{X: right - s.T, Y: lo.Y}, hi}}
		if s.Kind == section.Channel {
			walls = walls[:1]
		}
	case project.InTopFlange:
		walls[0], walls[1] = walls[1], walls[0]
	case project.InBottomFlange:
	default:
		return section.Figures{}, false
	}
	if wide := map[bool]float64{true: s.H, false: right}[upright]; d >= wide || lo.Y < 0 || !upright && hi.X > right || hi.Y > s.H {
		return section.Figures{}, false
	}
	if h.Through == project.OneWall || h.Through == "" && s.Kind == section.Channel {
		walls = walls[:1]
	}
	b := section.Built{Name: "rail", Regions: slices.Clone(built.Regions)}
	for _, w := range walls {
		pierce(&b.Regions[0], w[0], w[1])
	}
	for i := 1; i < len(b.Regions) && h.Through != project.OneWall; i++ {
		if !throughPlate(&b.Regions[i], lo, hi, upright, h, s.H) {
			return section.Figures{}, false
		}
	}
	f, err := b.Figures()
	return f, err == nil
}

func pierce(r *section.Region, lo, hi r2.Vec) {
	r.Holes = append(slices.Clone(r.Holes), []r2.Vec{lo, {X: hi.X, Y: lo.Y}, hi, {X: lo.X, Y: hi.Y}})
}

// throughPlate takes from a plate what a hole takes that goes through its wall too; false
// where that is all of the plate.
func throughPlate(r *section.Region, lo, hi r2.Vec, upright bool, h project.RailHole, high float64) bool {
	low, top := bounds(r.Outer)
	stands := top.Y-low.Y > top.X-low.X
	if stands != upright {
		return true
	}
	if !upright && h.Through == "" && (h.In == project.InTopFlange) != (low.Y+top.Y > high) {
		return true // on the other flange
	}
	cut, end := low, top
	if upright {
		cut.Y, end.Y = max(low.Y, lo.Y), min(top.Y, hi.Y)
	} else {
		cut.X, end.X = max(low.X, lo.X), min(top.X, hi.X)
	}
	if cut.X >= end.X || cut.Y >= end.Y {
		return true // beside it
	}
	if cut == low && end == top {
		return false
	}
	pierce(r, cut, end)
	return true
}

// bounds are the lowest and the highest corner round an outline.
func bounds(outline []r2.Vec) (low, high r2.Vec) {
	low, high = outline[0], outline[0]
	for _, c := range outline {
		low, high = r2.Vec{X: min(low.X, c.X), Y: min(low.Y, c.Y)}, r2.Vec{X: max(high.X, c.X), Y: max(high.Y, c.Y)}
	}
	return low, high
}

// goesThrough says what a hole is counted through where the file does not say it; "" where
// there is only one wall.
func (p *Piece) goesThrough(h project.RailHole, u quantity.Units) string {
	s, err := project.RailShape("rail", p.spec.Section, p.spec.Bend.Or(-1), u)
	switch {
	case h.Through != "" || err != nil:
		return ""
	case s.Kind == section.RectTube && p.spec.Plated != "":
		return "both walls and the plates over them"
	case s.Kind == section.RectTube:
		return "both walls of the box"
	case p.spec.Plated != "":
		return "the plates over it too"
	}
	return ""
}
