// Package hung finds where the powertrain hangs and where axles stand by all that was
// measured of them at once: what the gauge showed, headings by tape, and heights and tapes
// to marks on them, in one weighted least-squares fit of their poses. Nothing of it rests on
// where they are planned. It says which measurement does not fit the others and what was
// likely done wrong, and hands the slopes and headings, and the lengths of shafts, on as all
// of them together know them.
package hung

import (
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/rigid"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/tape"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// Line is one measurement with an end on a mark, its repeats taken together. One to an axle
// alone does not go where the powertrain goes.
type Line struct {
	Name         string
	Index        int // in the file's list
	As           project.SurveyLine
	From, To, At string         // paths of points
	Value        finding.Number // mm
	After        project.After
	Stood        project.Stood
	Placed       project.Placement // where the powertrain hung then, as far as is known
}

// Reading is what a gauge, or a tape from above, says of the powertrain or of a shaft,
// repeats taken together.
type Reading struct {
	Target string // what the reading is of
	Tape   bool   // taken by tape from above: a heading
	Kind   rigid.Kind
	Body   int            // that it is of: Powertrain, or an axle by AxleBody
	Name   string         // as a sentence has it
	Value  finding.Number // rad, signed as Kind has it
	Set    []int          // the readings of the file, the last first
	Ends   [2]End         // of a shaft, its first joint and its last
	Rides  bool           // it goes nowhere with the powertrain
}

// End is where a shaft begins or ends: on the powertrain or an axle, or at a point of the
// vehicle that was measured.
type End struct {
	Body int
	Own  r3.Vec            // on that body, its own axes, mm
	Path string            // the point's; "" on a body
	At   [3]finding.Number // where that lies, vehicle axes
}

// Powertrain is the body that the powertrain is; axles come behind it.
const PowertrainBody = 0

// AxleBody is the body that the axle of that number, from 0, in Input.Axles is.
func AxleBody(n int) int { return 1 + n }

// Axle is an axle with marks, at the end of a line.
type Axle struct {
	Line  string // the name of that
	Marks []project.Mark
	// Start is about where it stands: only which way the search begins. Its own axes begin
	// at the joint at the pinion.
	Start finding.Maybe[geom.Pose]
	// Joint is where the joint at its pinion was measured; no Path where it was not.
	Joint End
}

// Input is what the powertrain is placed by.
type Input struct {
	Build    *project.Build
	Axles    []Axle // those that something was measured to
	Readings []Reading
	Unread   []Reading // axes and shafts that nothing was read of: their values are looked for
	Lines    []Line
	// Place is where a point of the vehicle lies, vehicle axes: station, offset and
	// height, each with what it may be off by in From.
	Place func(path string) [3]finding.Number
	From  *uncertain.Sources // of lines and places
	Reads *uncertain.Sources // of readings; what the fit leaves open is added to it
	// Start is about where it hangs: only which way the search begins. Bias is the error
	// of the gauge's zero where it was found by turning the gauge round, else 0; rad.
	Start finding.Maybe[geom.Pose]
	Bias  float64
	// Supports are its pads, where the file has all three.
	Supports finding.Maybe[seat.Supports]
}

// Taken is a measurement or a reading after the fit.
type Taken struct {
	Name    string
	Angle   bool    // rad, not mm
	far     float64 // of an angle: how far the farthest marks of its body are apart, mm
	Read    float64
	Index   int // of a measurement in the file's list, -1 for a reading
	Reading int // of a reading in the file's list, -1 for a measurement
	tape.Residual
	Out bool // left out as a slip
}

// Suspect is a measurement or a reading that does not fit the others.
type Suspect struct {
	Taken
	Off    float64 // read less expected, mm or rad
	Alike  []string
	Likely string // what was likely done wrong, a sentence; "" for nothing that is known
	Alone  bool   // it alone explains the misfit
	// Place is the point whose place does not fit what was measured from it, "" for a
	// measurement; Shift is by how much that lies elsewhere by all else, vehicle axes, mm.
	Place string
	Shift r3.Vec
	// Again is the path of the value of the file that is to be taken again for that, a length
	// of a measurement or a coordinate of the point; "" for none.
	Again string
}

// Powertrain is where it hangs by what was measured of it.
type Powertrain struct {
	Given    bool // something checks what was read: a measurement to a mark, or a shaft between measured points
	Marked   bool // something was measured to a mark on it
	Axled    bool // something was measured to a mark on an axle
	After    project.After
	All      []Taken
	Suspects []Suspect
	Why      string // why nothing is known; "" where it is
	DoF      int
	Scatter  float64
	Assumes  []string
	Pose     finding.Maybe[geom.Pose] // where it hangs, as far as it is measured
	Rows     []Row                    // of the placement, as measured; none where it has no mounts
	Axles    []*Standing              // of Input.Axles

	would    func(l Line) (float64, bool) // nil where nothing was found
	supports finding.Maybe[seat.Supports]
	build    *project.Build
	readings []Reading
	unread   []Reading
	unreads  []finding.Number // of each of unread, by the fit; not known where it says nothing
	as       project.Reading  // what these count as: taken when all of it was measured
	values   []finding.Number // of each of readings, by the fit; not known where it says nothing
	bad      map[int]string   // why a reading cannot be used, by its place in readings
	checked  map[string]bool  // what was read of it is checked by something else, by target
}

// Of places the powertrain.
func Of(in Input) *Powertrain {
	p := &Powertrain{build: in.Build, supports: in.Supports, bad: map[int]string{}}
	for _, l := range in.Lines {
		onAxle := false
		for _, path := range [3]string{l.From, l.To, l.At} {
			_, axle := in.Build.AxleMarked(path)
			p.Marked, onAxle = p.Marked || in.Build.Marks(path), onAxle || axle
		}
		p.Axled = p.Axled || onAxle
	}
	for _, x := range in.Axles {
		p.Axles = append(p.Axles, &Standing{Line: x.Line, powertrain: p})
	}
	if p.Given = len(in.Lines) > 0 || slices.ContainsFunc(in.Readings, Reading.between); !p.Given {
		return p
	}
	p.unread = in.Unread
	h := &hanging{Powertrain: p, in: in}
	h.readMarks()
	h.observe()
	h.solve()
	h.report()
	return p
}

// unseen says of readings that nothing else checks that a slip in them cannot be seen.
func (p *Powertrain) unseen(gauge map[string]finding.Taken) {
	for target, t := range gauge {
		if len(t.Set) != 1 || !t.Mean.Known || p.checked[target] || target == project.TargetFrame || target == project.TargetFloor {
			continue
		}
		t.Assumes = append(t.Assumes[:len(t.Assumes):len(t.Assumes)], "the right end, face and digits: nothing else that was measured checks this reading, and a slip in it would not be seen")
		gauge[target] = t
	}
}

// Between reports whether it is of a shaft from one end to the other.
func (x *Reading) Between() bool {
	return x.Kind == rigid.Fall || x.Kind == rigid.Course || x.Kind == rigid.Distance
}

// between reports whether it is of a shaft both ends of which were measured.
func (x Reading) between() bool {
	return x.Kind == rigid.Fall && x.Ends[0].Path != "" && x.Ends[1].Path != ""
}

// By are the readings as the one fit has them: slopes and headings with the ± that all
// measurements together leave, and none where what was read does not fit them.
func (p *Powertrain) By(r finding.Readings) finding.Readings {
	if p.values == nil && len(p.bad) == 0 && p.unreads == nil {
		return r
	}
	out := r
	out.Gauge, out.Tape = map[string]finding.Taken{}, map[string]finding.Taken{}
	for k, t := range r.Gauge {
		out.Gauge[k] = t
	}
	for k, t := range r.Tape {
		out.Tape[k] = t
	}
	for i := range p.readings {
		x := &p.readings[i]
		list := out.Gauge
		if x.Tape {
			list = out.Tape
		}
		t := list[x.Target]
		if why := p.bad[i]; why != "" {
			miss := finding.Number{Unusable: true, Why: why}
			t.Mean, t.Level = miss, miss
		} else if i < len(p.values) && p.values[i].Known {
			v := p.values[i]
			if x.Kind == rigid.Across { // down to the right, as it is read
				v = finding.Of(v.Times(-1))
			}
			t.Mean = v
			if !x.Tape {
				t.Level = v
			}
			t.Assumes = append(t.Assumes[:len(t.Assumes):len(t.Assumes)], p.Assumes...)
		}
		list[x.Target] = t
	}
	p.unseen(out.Gauge)
	for i := range p.unreads {
		x, v := &p.unread[i], p.unreads[i]
		list, rests := out.Gauge, "no gauge was put on it: its slope is that of what was measured to marks and points"
		switch {
		case !v.Known:
			continue
		case x.Kind == rigid.Distance:
			if out.Lengths == nil {
				out.Lengths = map[string]finding.Number{}
			}
			out.Lengths[x.Target] = v
			continue
		case x.Tape:
			list, rests = out.Tape, "no tape was held along it from above: its direction in plan is that of what was measured to marks and points"
		}
		if len(list[x.Target].Set) > 0 {
			continue
		}
		as := p.as
		as.Of = x.Target
		list[x.Target] = finding.Taken{Marked: true, As: as, Mean: v, Level: v, Assumes: append([]string{rests}, p.Assumes...)}
	}
	return out
}
