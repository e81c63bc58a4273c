// Package subframe judges a front subframe or crossmember set that hangs in the
// frame: where it hangs by tape, height and gauge, whether it stands square, centred
// and at its wheelbase, and which way and how far each of its corners has to move. Its
// own points were measured once on the bench; where the points of the vehicle lie is
// given to it.
package subframe

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/tape"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// Line is one measurement with an end on a subframe, its repeats taken together.
type Line struct {
	Name         string
	Index        int    // in the file's list; -1 for what stands elsewhere in it
	Key          string // of the subframe's table, where it stands there
	As           project.SurveyLine
	From, To, At string         // paths of points
	Value        finding.Number // mm, or rad of a gauge
	After        project.After
}

// Input is what subframes are placed by.
type Input struct {
	Lines []Line
	// Place is where a point of the vehicle lies, vehicle axes: station, offset and
	// height, each with what it may be off by in From.
	Place func(path string) [3]finding.Number
	From  *uncertain.Sources
}

// Taken is a measurement after the fit.
type Taken struct {
	Line
	Angle bool // it is of the gauge, rad
	tape.Residual
	Out bool // left out as a slip
}

// Suspect is a measurement that does not fit the others.
type Suspect struct {
	Line  Line
	Angle bool
	Off   float64 // read less expected; mm or rad
	W     float64 // the same in its own standard uncertainties
	Alike []string
	Out   bool // it alone explains the misfit, and is left out
	// Likely is what was likely done wrong, a sentence; "" for nothing that is known.
	Likely string
}

// Hang is how a subframe stands: its reference point in vehicle axes (mm), and its
// angles (rad): heading positive with the rear end to the right, slope down to the
// rear, roll with the right side high.
type Hang struct{ Station, Right, Height, Heading, Slope, Roll finding.Number }

// Point is a point of a subframe: where it is, and by how much it has to move to the
// rear, to the right and up, vehicle axes, mm.
type Point struct {
	Path, Name string
	Corner     bool
	Now, Move  [3]finding.Number
	Far        finding.Number // how far it has to move in all
	// Over is how far it stands over the top edge of the rail on its side, and Set
	// what that comes to where it is to be; mm.
	Over, Set finding.Number
}

// Subframe is one of them as it hangs.
type Subframe struct {
	Name     string
	After    project.After
	Lines    []Taken
	Suspects []Suspect
	Why      string // why it has no place; "" where it has
	DoF      int
	Scatter  float64 // standard deviation of unit weight; 0 without a degree of freedom
	Assumes  []string
	Now      Hang
	Out      Hang // now less wanted
	Points   []Point
	Pose     finding.Maybe[geom.Pose] // where it hangs
	Set      finding.Maybe[geom.Pose] // where it is to hang
	SetWhy   string                   // what that lacks

	spec  project.Subframe
	build *project.Build
}

// Result is all subframes of a build.
type Result struct{ Each []*Subframe }

// Of places the subframes of a build.
func Of(b *project.Build, in Input) *Result {
	r := &Result{}
	for _, spec := range b.Subframes {
		r.Each = append(r.Each, hang(b, spec, in))
	}
	return r
}

// hang places one.
func hang(b *project.Build, spec project.Subframe, in Input) *Subframe {
	s := &Subframe{Name: spec.Name, spec: spec, build: b}
	h := &hanging{Subframe: s, in: in, points: map[string]int{}}
	h.readBench()
	s.Set, s.SetWhy = h.wanted()
	h.observe()
	h.solve()
	h.report()
	return s
}

// hanging is the work of placing one.
type hanging struct {
	*Subframe
	in        Input
	points    map[string]int // of own, by path
	own       []r3.Vec       // bench axes
	paths     []string
	corner    []bool
	errors    []benchError
	reference r3.Vec
	aim       aim
	unbenched []Point // of the file, whose place on the bench is not in it yet
	lefts     []left
	measures  []measure
	fit       *fitted
	turns     *turns // about fit, once they are asked for
}

// benchError is a ± typed of a point on the bench.
type benchError struct {
	point, axis int
	by          uncertain.Number // 0 with its ±
}

// readBench takes the points as they were measured on the bench.
func (h *hanging) readBench() {
	unsure, lacking, any := false, []string(nil), false
	for _, p := range h.spec.Points {
		any = any || p.Corner && p.At != ""
	}
	for _, p := range h.spec.Points {
		if p.At == "" {
			continue
		}
		if !p.Bench.Known {
			lacking = append(lacking, finding.SpokenPoint(p.At))
			h.unbenched = append(h.unbenched, Point{Path: p.At, Name: finding.SpokenPoint(p.At), Corner: p.Corner || !any})
			continue
		}
		i := len(h.own)
		h.points[p.At] = i
		h.own, h.paths, h.corner = append(h.own, p.Bench.At), append(h.paths, p.At), append(h.corner, p.Corner)
		for axis, half := range [3]float64{p.Bench.Half.X, p.Bench.Half.Y, p.Bench.Half.Z} {
			if half <= 0 {
				unsure = true
				continue
			}
			if by, err := h.in.From.With(0, uncertain.Half("the bench measure of "+finding.SpokenPoint(p.At), half)); err == nil {
				h.errors = append(h.errors, benchError{i, axis, by})
			}
		}
	}
	if unsure {
		h.Assumes = append(h.Assumes, "bench measures without a ± are exact")
	}
	if len(lacking) > 0 {
		h.Assumes = append(h.Assumes, listed(lacking)+" left out: where it is on the bench is not in the file yet")
	}
	for i := range h.corner {
		h.corner[i] = h.corner[i] || !any
	}
	h.reference = h.middle(h.own)
}

// middle is the point whose place is spoken of: between the wheel centres, or the
// middle of all points.
func (h *hanging) middle(own []r3.Vec) r3.Vec {
	if w := h.spec.Wheels; len(w) == 2 {
		l, okL := h.points[w[0]]
		r, okR := h.points[w[1]]
		if okL && okR {
			return r3.Scale(0.5, r3.Add(own[l], own[r]))
		}
	}
	sum := r3.Vec{}
	for _, p := range own {
		sum = r3.Add(sum, r3.Scale(1/float64(len(own)), p))
	}
	return sum
}

// aim is where the reference point is to be and how the subframe is to lean, with
// what the file says each may be off by: 0 with its ±.
type aim struct {
	station, height, rake float64
	errors                [3]uncertain.Number
}

// pose is the subframe where it is to hang, with each of those off by so much.
func (h *hanging) aimed(own []r3.Vec, off [3]float64) geom.Pose {
	p := geom.Orient(geom.Angle(h.aim.rake+off[2]), 0, 0, r3.Vec{})
	p.At = r3.Sub(r3.Vec{X: h.aim.station + off[0], Z: h.aim.height + off[1]}, p.Dir(h.middle(own)))
	return p
}

// wanted is where it is to hang: square, centred, level across; or what that lacks.
func (h *hanging) wanted() (finding.Maybe[geom.Pose], string) {
	b, w := h.build, h.spec.Wanted
	table := "subframe." + h.Name
	var none finding.Maybe[geom.Pose]
	wheels := len(h.spec.Wheels) == 2
	for _, path := range h.spec.Wheels {
		if _, ok := h.points[path]; !ok {
			return none, h.offBenchWhy(path) + ", and the middle between the wheel centres is what is put in its place"
		}
	}
	take := func(k int, what string, half float64) {
		if half > 0 {
			if n, err := h.in.From.With(0, uncertain.Half("the ± of "+what, half)); err == nil {
				h.aim.errors[k] = h.aim.errors[k].Plus(n)
			}
		}
	}
	var ok bool
	if h.aim.station, ok = w.Station.Get(); ok {
		half, _ := w.Station.HalfWidth()
		take(0, table+".wanted.station", half)
	} else {
		if !wheels {
			return none, table + ".wanted.station is not in the file yet, nor " + table + ".wheels, which would be put on the axle line"
		}
		if h.aim.station, ok = b.Vehicle.FrontAxle.Get(); !ok {
			return none, "vehicle.front_axle is not in the file yet, nor " + table + ".wanted.station"
		}
		half, _ := b.Vehicle.FrontAxle.HalfWidth()
		take(0, "vehicle.front_axle", half)
		if h.Name == "rear" {
			base, known := b.Vehicle.Wheelbase.Get()
			if !known {
				return none, "vehicle.wheelbase is not in the file yet, nor " + table + ".wanted.station"
			}
			half, _ := b.Vehicle.Wheelbase.HalfWidth()
			take(0, "vehicle.wheelbase", half)
			h.aim.station += base
		}
	}
	if h.aim.height, ok = w.Height.Get(); ok {
		half, _ := w.Height.HalfWidth()
		take(1, table+".wanted.height", half)
	} else if h.aim.height, ok = b.Vehicle.AxleHeight.Get(); ok && wheels {
		half, _ := b.Vehicle.AxleHeight.HalfWidth()
		take(1, "vehicle.axle_height", half)
	} else {
		return none, table + ".wanted.height is not in the file yet"
	}
	if !w.Rake.Known() {
		h.assume("it is to hang level, as it lay on the bench")
	}
	half, _ := w.Rake.HalfWidth()
	take(2, table+".wanted.rake", half)
	h.aim.rake = w.Rake.Or(0)
	return finding.Maybe[geom.Pose]{V: h.aimed(h.own, [3]float64{}), Known: true}, ""
}

// Wheel reports whether a point is one of its wheel centres.
func (s *Subframe) Wheel(path string) bool {
	return len(s.spec.Wheels) == 2 && (path == s.spec.Wheels[0] || path == s.spec.Wheels[1])
}
