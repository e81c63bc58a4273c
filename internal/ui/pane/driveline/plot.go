package driveline

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/sketch"
	"fitup/internal/ui/theme"
)

// A plot takes at least so many rows, and no more than it can use.
const (
	leastPlot = 8
	mostPlot  = 22
)

// gap stands between the rows and a plot beside them.
const gap = 2

// sides shares a wide pane between the rows and the plot; no width for the plot
// means that it goes above or below.
func sides(w int) (text, plot int) {
	const least, most = 50, 78
	text = min(max(w/2, least), most)
	if plot = w - text - gap; plot < 40 {
		return w, 0
	}
	return text, plot
}

// The inks of a plot; those of the curves follow.
const (
	inkAxis sketch.Ink = iota + 1
	inkMarker
	inkLimit
	inkCurve
)

var curveRoles = []theme.Role{theme.Accent, theme.Value, theme.Key, theme.Changed}

// curveStyles tell curves apart without colour: each has its line and a word for it
// behind its name.
var curveStyles = []struct {
	pattern sketch.Pattern
	word    string
}{{sketch.Whole, ""}, {sketch.Dashes, " dashed"}, {sketch.Chain, " chain"}, {sketch.Dots, " dotted"}}

func curveInk(i int) sketch.Ink { return inkCurve + sketch.Ink(i%len(curveRoles)) }

// draw draws a plot as h lines of w cells.
func draw(p sketch.Plot, w, h int, v pane.View) []string {
	c := p.Draw(w, h, v.Theme.Glyphs.Name == theme.ASCII().Name)
	return c.Lines(func(i sketch.Ink) (string, string) {
		switch {
		case i >= inkCurve:
			return v.Theme.SGR(curveRoles[i-inkCurve])
		case i == inkLimit:
			return v.Theme.SGR(theme.Danger)
		}
		return v.Theme.SGR(theme.Dim)
	})
}

// turnPlot is the speed of the axle's end over one turn. Even a smooth line is
// drawn on a scale of a thousandth up and down, so that it looks smooth.
func turnPlot(l *assess.Line, _ pane.View) (sketch.Plot, bool) {
	p := sketch.Plot{XLabel: "turn, deg", YLabel: "speed at the axle / at the gearbox", MinY: 0.999, MaxY: 1.001, MaxX: 360, Axis: inkAxis}
	for i, m := range []struct {
		name    string
		motion  assess.Motion
		pattern sketch.Pattern
	}{{"planned, dashed", l.Planned, sketch.Dashes}, {"read", l.Read, sketch.Whole}} {
		if len(m.motion.Curve) == 0 {
			continue
		}
		s := sketch.Series{Name: m.name, Y: m.motion.Curve, Ink: curveInk(i), Pattern: m.pattern}
		if len(l.Read.Curve) == 0 { // one curve needs nothing to tell it by
			s.Name, s.Pattern = "planned", sketch.Whole
		}
		for k := range s.Y {
			s.X = append(s.X, 360*float64(k)/float64(len(s.Y)-1))
		}
		p.Series = append(p.Series, s)
	}
	return p, l.Planned.Known || l.Read.Known
}

// travelPlot is the angle of each joint over the rise of the axle, or of each
// half shaft's joints over that of its wheel.
func travelPlot(l *assess.Line, v pane.View) (sketch.Plot, bool) {
	u := v.Units()
	length := func(x float64) float64 { return quantity.InUnit(quantity.Length, x, u) }
	angle := func(x float64) float64 { return quantity.InUnit(quantity.Angle, x, u) }
	p := sketch.Plot{
		XLabel: "rise, " + quantity.UnitName(quantity.Length, u), YLabel: "joint angle, " + quantity.UnitName(quantity.Angle, u),
		Markers: []sketch.Marker{{Label: "ride height", Ink: inkMarker}}, Axis: inkAxis,
	}
	t := l.Travel
	if t == nil {
		return p, false
	}
	if len(t.Points) > 0 {
		p.YLabel = "joint angle without torque, " + quantity.UnitName(quantity.Angle, u)
	}
	seen := map[float64]bool{}
	curves := 0
	var whose []string
	add := func(s sketch.Series, limit string) {
		end := sketch.Series{Name: s.Name, X: s.X[len(s.X)-1:], Y: s.Y[len(s.Y)-1:], Ink: curveInk(curves)}
		s.Name, s.Ink = "", end.Ink
		p.Series = append(p.Series, s, end) // the name stands at full bump, off the numbers of the axis
		curves++
		if f, ok := v.A.Finding(limit); ok && f.HasLimit && !seen[f.Limit] {
			seen[f.Limit] = true
			p.Limits = append(p.Limits, sketch.Limit{Y: angle(f.Limit), Label: "limit", Ink: inkLimit})
			whose = append(whose, bare(end.Name))
		}
	}
	for i, j := range l.Joints {
		style := curveStyles[i%len(curveStyles)]
		s := sketch.Series{Name: fmt.Sprintf("J%d%s", j.Number, style.word), Pattern: style.pattern}
		for _, at := range t.Points {
			s.X, s.Y = append(s.X, length(at.Rise)), append(s.Y, angle(at.Angles[i]))
		}
		if len(s.X) > 0 {
			add(s, finding.TravelJoint(l.Name, j.Number))
		}
	}
	for _, h := range t.HalfShafts {
		inner, outer := sketch.Series{Name: v.Theme.Plain(h.Name) + " inner"}, sketch.Series{Name: v.Theme.Plain(h.Name) + " outer, dashed", Pattern: sketch.Dashes}
		for _, at := range h.Points {
			x := length(at.Rise)
			inner.X, inner.Y = append(inner.X, x), append(inner.Y, angle(at.InnerAngle.Rad()))
			outer.X, outer.Y = append(outer.X, x), append(outer.Y, angle(at.OuterAngle.Rad()))
		}
		if len(h.Points) > 0 {
			add(inner, finding.HalfShaftInner(l.Name, h.ID))
			add(outer, finding.HalfShaftOuter(l.Name, h.ID))
		}
	}
	for i := range p.Limits {
		if len(p.Limits) > 1 {
			p.Limits[i].Label = "limit, " + strings.TrimSpace(whose[i])
		}
	}
	return p, len(p.Series) > 0
}

// bare is the name of a curve without the word for its line.
func bare(name string) string {
	for _, st := range curveStyles[1:] {
		name = strings.TrimSuffix(name, st.word)
	}
	return strings.TrimSuffix(name, ",")
}
