package project

import (
	"slices"

	"fitup/internal/project/tomltext"
)

// PowertrainMark is a point of the powertrain that tape and level can reach where it
// hangs: what is measured to it says where the powertrain hangs, as the gauge does.
type PowertrainMark struct {
	At  string `toml:"at" doc:"the mark as tape and level name it where the powertrain hangs: point.flange" need:"yes" offers:"points" own:"yes"`
	Own Point  `toml:"own" doc:"where it is on the powertrain, own frame" need:"yes"`
}

// AxleMark is a point of an axle that tape and level can reach where it stands, on its tube,
// its pads or a wheel flange. Its own frame begins at the centre of the joint at the pinion
// without a spacer: X along the pinion axis to the rear, Y square to that to the right, along
// the tubes, Z up square to both.
type AxleMark struct {
	At  string `toml:"at" doc:"the mark as tape and level name it where the axle stands: point.tube_left" need:"yes" offers:"points" own:"yes"`
	Own Point  `toml:"own" doc:"where it is on the axle, in the axle's own axes" need:"yes"`
}

// Mark is a point of a body that is found by what is measured to it.
type Mark struct {
	At  string // its path as a point
	Own Point  // in the body's own axes
}

// MarksOnPowertrain are the marks on it.
func (b *Build) MarksOnPowertrain() []Mark {
	out := make([]Mark, 0, len(b.Powertrain.Marks))
	for _, m := range b.Powertrain.Marks {
		out = append(out, Mark(m))
	}
	return out
}

// MarksOnAxle are the marks on the axle at the end of the line.
func (l *Line) MarksOnAxle() []Mark {
	out := make([]Mark, 0, len(l.Pinion.Marks))
	for _, m := range l.Pinion.Marks {
		out = append(out, Mark(m))
	}
	return out
}

// Marks reports whether a point is a mark on the powertrain: its place is where that
// hangs, and no fixed point of the vehicle.
func (b *Build) Marks(path string) bool {
	return path != "" && slices.ContainsFunc(b.Powertrain.Marks, func(m PowertrainMark) bool { return m.At == path })
}

// AxleMarked is the number of the line on whose axle a point is a mark; false for none.
func (b *Build) AxleMarked(path string) (line int, ok bool) {
	line = slices.IndexFunc(b.Lines, func(l Line) bool {
		return path != "" && slices.ContainsFunc(l.Pinion.Marks, func(m AxleMark) bool { return m.At == path })
	})
	return line, line >= 0
}

// Loose reports whether a point goes with a body that is found by what is measured to it: a
// mark on the powertrain or an axle, or a point of a subframe. It is no fixed point of the
// vehicle.
func (b *Build) Loose(path string) bool {
	_, hangs := b.Hangs(path)
	_, axle := b.AxleMarked(path)
	return hangs || axle || b.Marks(path)
}

// HangsLoose reports whether a measurement has an end on what is found by that, the
// powertrain, an axle or a subframe: it says where that is, and nothing of the frame.
func (b *Build) HangsLoose(m *Measurement) bool {
	return b.Loose(m.From) || b.Loose(m.To) || b.Loose(m.At)
}

// ToPowertrain reports whether a measurement has an end on the powertrain.
func (b *Build) ToPowertrain(m *Measurement) bool {
	return b.Marks(m.From) || b.Marks(m.To) || b.Marks(m.At)
}

// ToAxle reports whether a measurement has an end on an axle.
func (b *Build) ToAxle(m *Measurement) bool {
	return slices.ContainsFunc([]string{m.From, m.To, m.At}, func(path string) bool {
		_, ok := b.AxleMarked(path)
		return ok
	})
}

// NeedsPlaceToo is NeedsPlace of a measurement to the powertrain.
func (b *Build) NeedsPlaceToo(m *Measurement) bool {
	return !m.Placed.complete() && b.ToPowertrain(m)
}

// checkMarks looks at the marks on the powertrain and the axles: that there are such points,
// each once, and that nothing else takes them for its own.
func (b *binder) checkMarks(build *Build, root *tomltext.Node) {
	seen := map[string]string{}
	b.checkMarksOf(build, root.Child("powertrain"), build.MarksOnPowertrain(), "the powertrain", seen)
	lines := root.Child("line")
	if lines == nil {
		return
	}
	for i := range build.Lines {
		l := &build.Lines[i]
		n := lines.Child(l.Name)
		if n != nil {
			b.checkMarksOf(build, n.Child("pinion"), l.MarksOnAxle(), "the "+Printable(l.Name)+" axle", seen)
		}
	}
}

// checkMarksOf looks at the marks on one of them, whose table n is; seen are those of the
// others, and on what.
func (b *binder) checkMarksOf(build *Build, n *tomltext.Node, marks []Mark, on string, seen map[string]string) {
	if n == nil || n.Child("mark") == nil {
		return
	}
	for i, c := range n.Child("mark").Children {
		at := c.Child("at")
		if at == nil || i >= len(marks) || marks[i].At == "" {
			continue
		}
		path := marks[i].At
		b.checkPointNamed(build, at, path)
		_, hangs := build.Hangs(path)
		switch was := seen[path]; {
		case was == on:
			b.fault(at.Pos, at.Path, "%s is a mark already; each point stands in this list once", Printable(path))
		case was != "":
			b.fault(at.Pos, at.Path, "%s is a mark on %s already, and goes with that; give this one a name of its own", Printable(path), was)
		case hangs:
			b.fault(at.Pos, at.Path, "%s is a point of a subframe; a mark on %s goes with that, so give it a name of its own", Printable(path), on)
		case build.Survey.names(path):
			b.fault(at.Pos, at.Path, "the survey has %s among the points of the frame; a mark on %s goes with that, so give it a name of its own", Printable(path), on)
		}
		seen[path] = on
	}
}
