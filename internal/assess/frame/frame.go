// Package frame judges the frame by its survey: points placed by least squares
// from tape, level, string and square, what does not fit, what a slip could hide
// in, and whether rails and axles stand square, centred, level and as wide as they
// are to be. It knows what was measured between points, and no other trade.
package frame

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom/tape"
	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// Line is one measurement between points, its repeats taken together.
type Line struct {
	Name         string
	Index        int // in the file's list
	As           project.SurveyLine
	From, To, At string         // paths of points
	Value        finding.Number // mm, or rad of a square
	After        project.After
	Stood        project.Stood
	Supposed     float64 // half-width that its ± was made of because the file states none, mm; 0 where it does
}

// Point is where the survey places a point: station, offset and height in the
// survey's own axes, or in the vehicle's where its datum is points.
type Point struct {
	Path    string
	Name    string
	Place   [3]finding.Number
	Levels  bool         // its height was measured, not taken
	Ellipse tape.Ellipse // seen from above, standard uncertainties as stated; from station to offset
}

// Taken is a line after the fit.
type Taken struct {
	Line
	tape.Residual
	Out bool // left out as a slip
}

// Suspect is a line that does not fit the others.
type Suspect struct {
	Line    Line
	Off     float64   // how far it is from what the others say, read less expected; mm or rad
	W       float64   // the same in its own standard uncertainties
	Alike   []string  // lines that a slip cannot be told apart from
	Out     bool      // it alone explains the misfit, and is left out
	Without Answers   // what the answers become without it
	Likely  string    // what was likely done wrong, a sentence; "" for nothing that is known
	Meant   []float64 // the numbers that stand in it, mm or rad
}

// Answers are what a survey comes to, to be held side by side.
type Answers struct {
	Square, Diagonals finding.Number // mm, as signed in Square and Diagonals
	Known             bool
}

// Survey is the network of one occasion: all that was measured after one step.
type Survey struct {
	After    project.After
	Lines    []Taken
	Suspects []Suspect
	Mirrors  []string // sentences: where points could be as well
	DoF      int
	Scatter  float64 // standard deviation of unit weight, of those that are not left out; 0 without a degree of freedom
	Fits     bool    // no suspect is left
	Why      string  // why nothing is placed; "" when points are
	Assumes  []string
	Watched  int // steps of the adjustment

	net    *network
	next   func() further // worked out once, when somebody asks
	points func() []Point
	plan   func() Plan
}

// Points are where the survey places its points, in the order in which the file
// names them; none when it places nothing.
func (s *Survey) Points() []Point {
	if s.points == nil {
		return nil
	}
	return s.points()
}

// Next is what to measure next, as a sentence says it; "" for nothing.
func (s *Survey) Next() string {
	if s.next == nil {
		return ""
	}
	return s.next().text
}

// Result is the frame's survey and what follows from it.
type Result struct {
	Now, Before *Survey // the last occasion, and the one before it; nil for none
	Frame       Frame   // by Now
	Then        Frame   // by Before
	Plain       *Taped  // what was taped from corner to corner in plain words last; nil where no diagonal was
	PlainBefore *Taped  // on the occasion before
	Wheels      *Taped  // the wheelbases taped in plain words last; nil for none
	build       *project.Build
}

// Frame is what the survey says of rails and axles. Signs: ahead is towards the
// front, right is the driver's.
type Frame struct {
	Why       string         // why it says nothing of the rails
	Square    finding.Number // how far the right rail stands behind the left one, mm
	Alone     finding.Number // the same by the rails' own direction, where Square goes by the axles, mm
	Skew      finding.Number // Square as an angle of the cross line, rad
	Swing     finding.Number // how far a rail's end is aside when squared to the cross line, mm
	Diagonals Diagonals
	Pairs     []Pair
	Twist     finding.Number // right front corner higher than the rear and the left say, mm
	Left      Rail
	Right     Rail
	Axles     []Axle
	Wheelbase [2]finding.Number // left and right, along the centre line
	Between   finding.Number    // left less right
}

// Diagonals are those of the frame's four corners, with its sides.
type Diagonals struct {
	LeftFront, RightFront    finding.Number // from that corner to the opposite rear one
	Difference               finding.Number // left front less right front
	Left, Right, Front, Rear finding.Number // the sides
	OfSides                  finding.Number // what of Difference comes from unequal sides
}

// Pair is a point of the left rail and the one opposite on the right.
type Pair struct {
	Left, Right string
	Width       finding.Number
	Wanted      finding.Number
	Offset      finding.Number // the middle beside the centre line, right positive
	OnLine      bool           // the centre line goes by this pair, so there is no Offset
	Ahead       finding.Number // the right one behind the left one
	Lower       finding.Number // how much further the left one hangs below the line of its rail's ends than the right one; of pairs between the ends
	Between     bool           // it stands between the ends of the rails
	Levels      bool           // the height of one of them was measured
}

// Rail is the line of one rail. Interior points are held against the straight
// line from its first point to its last.
type Rail struct {
	Sag   finding.Number // most below (negative: above) that line, mm
	Sweep finding.Number // most to the right of it, mm
	Kick  finding.Number // last point over the first, mm
}

// Axle is one axle against the centre line.
type Axle struct {
	Name   string            // front or rear
	Turn   finding.Number    // rad; positive with its right end behind
	OnLine bool              // the centre line goes through its middle, so there is no Offset
	Offset finding.Number    // its middle beside the centre line, right positive
	Rims   bool              // the rims of its wheels are in the survey
	Toe    [2]finding.Number // rad, of the left and the right wheel: positive with the front of the rim inboard
	ToeIn  finding.Number    // of both together
	Thrust finding.Number    // where both wheels look in the mean, rad; positive to the left
}

// Watched makes the surveys of a build from what was measured between points. What the
// points that hold it may be off by is added to from, which those measurements rest on.
// It may take long: what follows it is told how far it is, and may end it, which is the
// only error. All that is asked of the result is worked out
// before it returns.
func Watched(w Watch, b *project.Build, lines []Line, from *uncertain.Sources) (*Result, error) {
	r := &Result{build: b}
	if len(lines) == 0 && !b.Survey.Given() {
		return r, nil
	}
	e := &sourced{from: from, Watch: w}
	e.holding(b)
	by := map[project.After][]Line{}
	for _, l := range lines {
		by[l.After] = append(by[l.After], l)
	}
	steps := []project.After{project.Welded, project.Tacked, project.Hung, ""}
	for _, step := range steps {
		switch {
		case len(by[step]) == 0:
		case r.Now == nil:
			r.Now = survey(b, step, by[step], e)
		case r.Before == nil:
			r.Before = survey(b, step, by[step], e)
		}
	}
	if r.Now == nil {
		r.Now = &Survey{Why: "nothing is measured between points yet: add [[measure]] with from, to and lengths"}
	}
	if r.Now.unfit() == "" {
		r.Now.net.tie, r.Now.net.tieWhy = r.Now.net.tied()
	}
	r.Frame = frameOf(b, r.Now)
	if r.Before != nil {
		r.Then = frameOf(b, r.Before)
	}
	if w.Context != nil {
		r.Now.ahead()
		if err := w.Context.Err(); err != nil {
			return nil, err
		}
		e.Watch = Watch{}
	}
	for _, s := range []*Survey{r.Now, r.Before} {
		if s != nil && s.net != nil {
			s.net.fit.Untabulate()
		}
	}
	return r, nil
}

// For is the result for a build that differs from the one it was made for in nothing
// that the survey rests on; its limits and units may be others.
func (r *Result) For(b *project.Build) *Result {
	out := *r
	out.build = b
	return &out
}

// Given reports whether the file has a survey.
func (r *Result) Given() bool { return r != nil && r.Now != nil }
