package scene

import (
	"strconv"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// dimensions finds the places of the numbers that an assessment has: those of
// the placement, of brackets, of gaps and of shafts.
func (s *Scene) dimensions(a *assess.Assessment) {
	if a.Pose.Known {
		s.placement(a)
	}
	for i := range a.Brackets {
		s.bracketSizes(&a.Brackets[i])
	}
	for i := range a.Clearances {
		s.gap(a, &a.Clearances[i])
	}
	if m := a.Moving; m != nil {
		s.movingGap(a, "clearance.powertrain.moving", m)
	}
	for i := range a.Lines {
		l := &a.Lines[i]
		for k, x := range l.Shafts {
			if k+1 < len(l.Joints) && x.Length.Known {
				s.Dimensions = append(s.Dimensions, Dimension{ID: "line." + l.Name + ".shaft." + strconv.Itoa(x.Number),
					From: l.Joints[k].At.V, To: l.Joints[k+1].At.V, Value: x.Length, Kind: quantity.Length})
			}
		}
	}
}

// placement are the dimensions of the placement rows: heights from zero, or over
// the rail where there is one, and what is measured from the vehicle's axes.
func (s *Scene) placement(a *assess.Assessment) {
	pads, pose := a.Build.Powertrain.Pads, a.Pose.V
	lf, rf := pose.Point(pads.LeftFront.At), pose.Point(pads.RightFront.At)
	middle := r3.Scale(0.5, r3.Add(lf, rf))
	add := func(row assess.Row, d Dimension) {
		d.ID, d.Value, d.Kind = row.Name, row.Now, row.Kind
		s.Dimensions = append(s.Dimensions, d)
	}
	reach := r3.Norm(r3.Sub(pose.Point(pads.Rear.At), middle))
	for _, row := range a.Rows {
		if !row.Now.Known {
			continue
		}
		switch end := strings.TrimPrefix(row.Name, "placement."); end {
		case "left_front", "right_front":
			at := lf
			if end == "right_front" {
				at = rf
			}
			if edge, over := a.PadOverRail(end); over.Known {
				s.Dimensions = append(s.Dimensions, overRail(row.Name, at, edge, over))
				continue
			}
			add(row, fromZero(at))
		case "rear":
			add(row, fromZero(pose.Point(pads.Rear.At)))
		case "lift":
			d := fromZero(pose.At)
			d.Minor = true
			add(row, d)
		case "setback":
			add(row, Dimension{From: r3.Vec{Y: middle.Y, Z: middle.Z}, To: r3.Vec{X: middle.X, Y: middle.Y, Z: middle.Z}, Of: "setback"})
		case "offset":
			add(row, Dimension{From: r3.Vec{X: middle.X, Z: middle.Z}, To: middle, Of: "side"})
		case "tilt":
			add(row, Dimension{Angle: true, From: pose.At, Way: level(pose.X), Other: pose.X, About: r3.Cross(level(pose.X), r3.Vec{Z: 1}), Out: reach})
		case "heading":
			add(row, Dimension{Angle: true, From: pose.At, Way: r3.Vec{X: 1}, Other: level(pose.X), About: r3.Vec{Z: 1}, Out: reach, Minor: row.Now.V == 0})
		}
	}
}

// fromZero is how high a place stands above the vehicle's zero of height.
func fromZero(at r3.Vec) Dimension {
	return Dimension{From: r3.Vec{X: at.X, Y: at.Y}, To: at, Of: "from zero"}
}

// AsTyped draws the heights of the front pads from zero, as the file has them, also where
// there is a rail to see them over.
func (s *Scene) AsTyped(a *assess.Assessment) {
	if !a.Pose.Known {
		return
	}
	pads := a.Build.Powertrain.Pads
	at := map[string]r3.Vec{"placement.left_front": pads.LeftFront.At, "placement.right_front": pads.RightFront.At}
	for _, row := range a.Rows {
		for i := range s.Dimensions {
			d := &s.Dimensions[i]
			if pad, ok := at[row.Name]; ok && d.ID == row.Name && row.Now.Known {
				*d = fromZero(a.Pose.V.Point(pad))
				d.ID, d.Value, d.Kind = row.Name, row.Now, row.Kind
			}
		}
	}
}

// overRail is how high a pad stands over its rail, drawn upright at the pad.
func overRail(id string, pad, edge r3.Vec, over assess.Number) Dimension {
	d := Dimension{ID: id, From: r3.Vec{X: pad.X, Y: pad.Y, Z: edge.Z}, To: pad, Value: over, Kind: quantity.Length, Of: "over rail"}
	if over.V < 0 {
		d.Value.V, d.Of = -over.V, "below rail"
	}
	return d
}

// bracketSizes are how long a leg is overall, and how far its foot lies below the
// rail's edge.
func (s *Scene) bracketSizes(b *assess.Bracket) {
	id := "bracket." + b.Name
	if b.Members != nil {
		for i := range b.Members.Solved.Parts {
			c := &b.Members.Solved.Parts[i].Cut
			from, to := cutEnds(c)
			s.Dimensions = append(s.Dimensions, Dimension{ID: id, From: from, To: to, Across: true,
				Value: assess.Exact(c.Overall), Kind: quantity.Length, Of: b.Members.Solved.Parts[i].Name})
		}
	}
	if b.Plates != nil && b.Plates.Fold == nil {
		s.sheetSizes(b)
	}
	if b.Plates != nil && b.Plates.Fold != nil {
		f := b.Plates.Fold
		for i := range f.Flats { // over the outside corners of its bends
			lo, hi := 0.0, f.Flats[i].Length()
			if i > 0 {
				lo -= f.Bends[i-1].Setback
			}
			if i < len(f.Bends) {
				hi += f.Bends[i].Setback
			}
			s.Dimensions = append(s.Dimensions, Dimension{ID: id, From: f.At(i, lo, 0, 0), To: f.At(i, hi, 0, 0), Across: true,
				Value: assess.Exact(f.Flats[i].Outside), Kind: quantity.Length, Of: "outside"})
		}
	}
	if !b.HasCut {
		return
	}
	from, to := cutEnds(&b.Cut)
	s.Dimensions = append(s.Dimensions, Dimension{ID: id, From: from, To: to, Across: true,
		Value: assess.Exact(b.Overall()), Kind: quantity.Length, Of: "overall"})
	if b.FootDrop.Known {
		foot := b.Cut.Foot
		s.Dimensions = append(s.Dimensions, Dimension{ID: id, From: r3.Add(foot, r3.Vec{Z: b.FootDrop.V}), To: foot, Across: true,
			Value: b.FootDrop, Kind: quantity.Length, Of: "below rail"})
	}
}

// sheetSizes are how long the upper plate of a box is and how deep the box at its foot, or
// how far the pad of a tab is off its clamp.
func (s *Scene) sheetSizes(b *assess.Bracket) {
	id := "bracket." + b.Name
	add := func(from, to r3.Vec, of string) {
		s.Dimensions = append(s.Dimensions, Dimension{ID: id, From: from, To: to, Across: true, Value: assess.Exact(r3.Norm(r3.Sub(to, from))), Kind: quantity.Length, Of: of})
	}
	if m := b.Plates.Box; m != nil {
		lines := m.FootLines()
		mid := func(run []r3.Vec) r3.Vec { return r3.Scale(0.5, r3.Add(run[0], run[1])) }
		add(m.Pose.Point(r3.Vec{X: m.Past - m.Length}), m.Pose.Point(r3.Vec{X: m.Past}), "upper plate")
		add(mid(lines[0]), mid(lines[1]), "foot")
	}
	if m := b.Plates.Clip; m != nil {
		add(m.Pose.Point(r3.Vec{X: m.Root, Y: m.Aside}), m.Pose.Point(r3.Vec{X: m.Reach, Y: m.Aside}), "off the clamp")
	}
}

// gap is the room at a piece of the vehicle, where it is least.
func (s *Scene) gap(a *assess.Assessment, c *assess.Clearance) {
	if c.Gap.Known {
		s.judged(a, room(Dimension{ID: c.ID, From: c.From, To: c.To, Value: c.Gap, Of: "gap"}))
	}
	if c.Moving != nil {
		s.movingGap(a, c.ID+".moving", c.Moving)
	}
}

func (s *Scene) movingGap(a *assess.Assessment, id string, m *assess.Moving) {
	if m.Gap.Known {
		s.judged(a, room(Dimension{ID: id, From: m.From, To: m.To, Value: m.Gap, Of: "gap, moving"}))
	}
}

// room is a gap, or how far two things run into each other.
func room(d Dimension) Dimension {
	d.Gap, d.Kind = true, quantity.Length
	if d.Value.V < 0 {
		d.Value.V, d.Of = -d.Value.V, strings.Replace(d.Of, "gap", "overlap", 1)
	}
	return d
}

// judged adds a dimension with the verdict of the finding of its name.
func (s *Scene) judged(a *assess.Assessment, d Dimension) {
	if f, ok := a.Finding(d.ID); ok {
		d.Status, d.Verdict = f.Status, true
	}
	s.Dimensions = append(s.Dimensions, d)
}

// wanted are the dimensions to draw: those of what the cursor is on, or else of
// the finding in trouble, and every gap that is too small; with sizes all that is
// no gap.
func (s *Scene) wanted(lit, watch string, sizes bool) []Dimension {
	var out []Dimension
	taken := map[int]bool{}
	for i, d := range s.Dimensions {
		if d.Gap && d.Verdict && d.Status == assess.Over || sizes && !d.Gap && !d.Minor {
			taken[i] = true
			out = append(out, d)
		}
	}
	for _, subject := range []string{lit, watch} {
		best := 0
		for _, d := range s.Dimensions {
			if about(d.ID, subject) {
				best = max(best, len(d.ID))
			}
		}
		for i, d := range s.Dimensions {
			if len(d.ID) == best && about(d.ID, subject) && !taken[i] {
				taken[i] = true
				out = append(out, d)
			}
		}
		if best > 0 {
			break
		}
	}
	return out
}

// about reports whether a dimension is one of what an id means.
func about(dimension, id string) bool {
	if rest, ok := strings.CutPrefix(id, "mount."); ok && dimension == "placement."+rest {
		return true
	}
	if rest, ok := strings.CutPrefix(id, "match."); ok {
		id = "bracket." + rest
	}
	return id != "" && (dimension == id || strings.HasPrefix(id, dimension+"."))
}
