package project

import (
	"slices"
	"strings"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// Survey says what the measured points of the frame are to each other, and what
// their places go by. What was measured between them stands in [[measure]].
type Survey struct {
	Datum     Datum              `toml:"datum" doc:"what places go by: free, centre line, rails, or points; centre line when left out"`
	Points    []string           `toml:"points" doc:"for datum points: those whose own station, offset and height are to hold" offers:"points"`
	Left      []string           `toml:"left" doc:"the points of the left rail, front to rear, such as point.rail_lf" offers:"points"`
	Right     []string           `toml:"right" doc:"those of the right rail opposite, front to rear" offers:"points"`
	FrontAxle []string           `toml:"front_axle" doc:"the wheel centres or hubs of the front axle: left, right" offers:"points"`
	RearAxle  []string           `toml:"rear_axle" doc:"those of the rear axle: left, right" offers:"points"`
	RearRims  []string           `toml:"rear_rims" doc:"the rims of the rear wheels at hub height, for toe and thrust: left wheel front and rear, right wheel front and rear" offers:"points"`
	Widths    []quantity.LengthQ `toml:"widths" doc:"how far the rail points are to be apart, front to rear, one for each pair" min:"0" how:"The drawing of the frame, or what it is to be widened to." from:"left point to right point"`
}

// Given reports whether anything stands in the survey's table.
func (s Survey) Given() bool {
	return s.Datum != "" || len(s.Points)+len(s.Left)+len(s.Right)+len(s.FrontAxle)+len(s.RearAxle)+len(s.RearRims)+len(s.Widths) > 0
}

// Datum is what the places of a survey go by, as the file spells it.
type Datum string

// The words the file uses.
const (
	FreeDatum   Datum = "free"
	CentreDatum Datum = "centre line"
	RailsDatum  Datum = "rails"
	PointsDatum Datum = "points"
)

// Words lists what a survey's places can go by.
func (Datum) Words() []string {
	return []string{string(FreeDatum), string(CentreDatum), string(RailsDatum), string(PointsDatum)}
}

// SurveyLine is what was measured between points, as the file spells it.
type SurveyLine string

// The words the file uses.
const (
	DistanceLine SurveyLine = "distance"
	HeightLine   SurveyLine = "height"
	OffsetLine   SurveyLine = "offset"
	SquareLine   SurveyLine = "square"
)

// Words lists what can be measured between points.
func (SurveyLine) Words() []string {
	return []string{string(DistanceLine), string(HeightLine), string(OffsetLine), string(SquareLine)}
}

// Surveys reports whether the measurement is a line of the survey.
func (m Measurement) Surveys() bool { return m.From != "" && m.To != "" }

// Line is what was measured between its points: a distance when nothing is said.
func (m Measurement) Line() SurveyLine {
	if m.As == "" {
		return DistanceLine
	}
	return m.As
}

// Title is what was measured: in the file's own words, or by the points of a line
// of the survey.
func (m Measurement) Title() string {
	if m.Of != "" || !m.Surveys() {
		return m.Of
	}
	from, to, at := spokenPoint(m.From), spokenPoint(m.To), spokenPoint(m.At)
	switch m.Line() {
	case HeightLine:
		return to + " over " + from
	case OffsetLine:
		return at + " beside " + from + " to " + to
	case SquareLine:
		return "square at " + at + ", " + from + " and " + to
	}
	return from + " to " + to
}

func spokenPoint(path string) string {
	return strings.ReplaceAll(strings.TrimPrefix(path, pointPrefix), "_", " ")
}

// checkSurvey looks at the survey and its lines: points that there are, each once,
// rails with as many points on either side.
func (b *binder) checkSurvey(build *Build, root *tomltext.Node) {
	if list := root.Child("measure"); list != nil {
		for i, n := range list.Children {
			if i < len(build.Measurements) {
				b.checkSurveyLine(build, n, build.Measurements[i])
			}
		}
	}
	n := root.Child("survey")
	if n == nil {
		return
	}
	s := build.Survey
	for _, of := range []struct {
		key   string
		names []string
	}{{"points", s.Points}, {"left", s.Left}, {"right", s.Right}, {"front_axle", s.FrontAxle}, {"rear_axle", s.RearAxle}, {"rear_rims", s.RearRims}} {
		b.checkSurveyPoints(build, n.Child(of.key), of.names)
	}
	if l, r := n.Child("left"), n.Child("right"); len(s.Left) != len(s.Right) {
		at := r
		if at == nil {
			at = l
		}
		b.fault(at.Pos, at.Path, "the left rail has %d points and the right one %d; want one opposite the other, front to rear", len(s.Left), len(s.Right))
	}
	for _, of := range []struct {
		key   string
		names []string
	}{{"front_axle", s.FrontAxle}, {"rear_axle", s.RearAxle}} {
		if c := n.Child(of.key); c != nil && len(of.names) != 2 {
			b.fault(c.Pos, c.Path, "an axle has two points, left and right; read %d", len(of.names))
		}
	}
	if c := n.Child("rear_rims"); c != nil && len(s.RearRims) != 4 {
		b.fault(c.Pos, c.Path, "the rims of an axle have four points: left wheel front and rear, right wheel front and rear; read %d", len(s.RearRims))
	} else if c != nil && len(s.RearAxle) != 2 {
		b.fault(c.Pos, c.Path, "the rims are those of the rear axle; add rear_axle = with its two points")
	}
	if c := n.Child("widths"); c != nil && len(s.Widths) != len(s.Left) {
		b.fault(c.Pos, c.Path, "there are %d pairs of rail points and %d widths; want one for each pair, front to rear", len(s.Left), len(s.Widths))
	}
	if c := n.Child("datum"); c != nil && s.Datum == PointsDatum && len(s.Points) < 2 {
		b.fault(c.Pos, c.Path, "datum = \"points\" wants two points at least to hold; add points = [\"point.a\", \"point.b\"], each with station, offset and height of its own")
	}
}

func (b *binder) checkSurveyPoints(build *Build, n *tomltext.Node, names []string) {
	if n == nil {
		return
	}
	seen := map[string]bool{}
	for i, name := range names {
		at := n.Children[i]
		b.checkPointNamed(build, at, name)
		if seen[name] {
			b.fault(at.Pos, at.Path, "%s stands in this list twice", Printable(name))
		}
		seen[name] = true
	}
}

func (b *binder) checkPointNamed(build *Build, at *tomltext.Node, name string) {
	if short, ok := strings.CutPrefix(name, pointPrefix); ok && slices.ContainsFunc(build.Points, func(m MeasuredPoint) bool { return m.Name == short }) {
		return
	}
	hint := meant(name, build.PointPaths())
	if hint == "" {
		hint = "; add it, a line [point.NAME] is enough where the survey places it"
	}
	b.fault(at.Pos, at.Path, "there is no [%s] in this file%s", Printable(name), hint)
}

func (b *binder) checkSurveyLine(build *Build, n *tomltext.Node, m Measurement) {
	if m.From == "" && m.To == "" && m.At == "" && m.As == "" {
		return
	}
	if m.From == "" || m.To == "" {
		b.fault(n.Pos, n.Path, "a line of the survey goes from a point to another; want from = and to =, such as \"point.rail_lf\"")
		return
	}
	b.checkPointNamed(build, n.Child("from"), m.From)
	b.checkPointNamed(build, n.Child("to"), m.To)
	if m.From == m.To {
		b.fault(n.Pos, n.Path, "nothing is measured from %s to itself", Printable(m.From))
	}
	third := m.Line() == OffsetLine || m.Line() == SquareLine
	switch at := n.Child("at"); {
	case third && m.At == "":
		b.fault(n.Pos, n.Path, "want at = the point beside the string, or in the corner of the square")
	case !third && at != nil:
		b.fault(at.Pos, at.Path, "at belongs to an offset from a string or to a square; want as = \"offset\" or \"square\", or no at")
	case third:
		b.checkPointNamed(build, at, m.At)
		if m.At == m.From || m.At == m.To {
			b.fault(at.Pos, at.Path, "%s is an end of the line already", Printable(m.At))
		}
	}
	b.checkSurveyValues(n, m)
}

// checkSurveyValues checks that a line has values of its own kind.
func (b *binder) checkSurveyValues(n *tomltext.Node, m Measurement) {
	if c := n.Child("angles"); c != nil && m.Line() != SquareLine {
		b.fault(c.Pos, c.Path, "a %s is a length; want lengths = [ ]", m.Line())
	}
	if c := n.Child("lengths"); c != nil && m.Line() == SquareLine {
		b.fault(c.Pos, c.Path, "a square reads an angle; want angles = [ ], or neither where the square stood flush")
	}
	if c := n.Child("lengths"); c != nil && m.Line() == DistanceLine {
		for i, q := range m.Lengths {
			if i < len(c.Children) && q.Known() && q.V() <= 0 {
				e := c.Children[i]
				b.fault(e.Pos, e.Path, "read %s; a distance between two points is above zero", describe(e))
			}
		}
	}
}
