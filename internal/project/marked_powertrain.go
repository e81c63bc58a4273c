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

// Marks reports whether a point is a mark on the powertrain: its place is where that
// hangs, and no fixed point of the vehicle.
func (b *Build) Marks(path string) bool {
	return path != "" && slices.ContainsFunc(b.Powertrain.Marks, func(m PowertrainMark) bool { return m.At == path })
}

// HangsLoose reports whether a measurement has an end on what hangs in the frame, the
// powertrain or a subframe: it says where that hangs, and nothing of the frame.
func (b *Build) HangsLoose(m *Measurement) bool {
	for _, path := range [...]string{m.From, m.To, m.At} {
		if _, ok := b.Hangs(path); ok || b.Marks(path) {
			return true
		}
	}
	return false
}

// ToPowertrain reports whether a measurement has an end on the powertrain.
func (b *Build) ToPowertrain(m *Measurement) bool {
	return b.Marks(m.From) || b.Marks(m.To) || b.Marks(m.At)
}

// NeedsPlaceToo is NeedsPlace of a measurement to the powertrain.
func (b *Build) NeedsPlaceToo(m *Measurement) bool {
	return !m.Placed.complete() && b.ToPowertrain(m)
}

// checkMarks looks at the marks on the powertrain: that there are such points, each once,
// and that nothing else takes them for its own.
func (b *binder) checkMarks(build *Build, root *tomltext.Node) {
	n := root.Child("powertrain")
	if n == nil || n.Child("mark") == nil {
		return
	}
	seen := map[string]bool{}
	for i, c := range n.Child("mark").Children {
		at := c.Child("at")
		if at == nil || i >= len(build.Powertrain.Marks) || build.Powertrain.Marks[i].At == "" {
			continue
		}
		path := build.Powertrain.Marks[i].At
		b.checkPointNamed(build, at, path)
		_, hangs := build.Hangs(path)
		switch {
		case seen[path]:
			b.fault(at.Pos, at.Path, "%s is a mark already; each point stands in this list once", Printable(path))
		case hangs:
			b.fault(at.Pos, at.Path, "%s is a point of a subframe; a mark on the powertrain goes with the powertrain, so give it a name of its own", Printable(path))
		case build.Survey.names(path):
			b.fault(at.Pos, at.Path, "the survey has %s among the points of the frame; a mark on the powertrain goes with the powertrain, so give it a name of its own", Printable(path))
		}
		seen[path] = true
	}
}
