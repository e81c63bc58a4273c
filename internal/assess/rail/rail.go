// Package rail judges the frame rails as they are: what they are made of, length by
// length; how they bend on their springs under cab, bed, payload and powertrain over a
// bump; how they twist with one wheel up; what their joints and plates do to them. It
// is handed what the mounts of the powertrain weigh, and knows no other trade.
//
// Screening: one straight beam for each rail, steel by its yield strength, no fatigue,
// no weld and no warping.
package rail

import (
	"fmt"
	"reflect"

	"fitup/internal/assess/finding"
	geomrail "fitup/internal/geom/rail"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Weighing is what one mount of the powertrain presses on the frame with at rest.
type Weighing struct {
	Mount string
	At    r3.Vec
	Down  float64 // N
}

// Input is what rests on the rails from other trades.
type Input struct {
	Mounts []Weighing
	Why    string // why what they carry is not known; "" where it is, or nothing carries
}

// Prepared is the rails of a build with all that does not depend on where the
// powertrain stands.
type Prepared struct {
	build *project.Build
	rails []*Rail // those of which the file says something
	twist Twist
}

// Piece is a piece of a rail with one section.
type Piece struct {
	From, To float64
	Length   int    // of the file's lengths, from 0
	Section  string // what it is, in words
	Before   string // what it was, in words
	Now, Was section.Figures
	Yield    float64

	bare  section.Figures    // without its plates
	ends  [2]section.Figures // Now, at either end of it
	bares [2]section.Figures // bare, at either end of it
	built section.Built
	spec  project.RailLength
	way   float64 // of a tapering length: where in it its middle lies
}

// Rail is one frame rail.
type Rail struct {
	Side   project.Side
	Spec   project.Rail
	Pieces []Piece
	From   float64
	To     float64
	Why    string // why it has no pieces

	Splices []Splice
	Steps   []Step
	Details []string // what is prone to crack, in sentences
	Unsaid  []string // what is not said of its joints and plates

	unit quantity.Units
	path string // of the rail at which the file has its lengths and what belongs to them
}

// Result is the rails under what rests on them.
type Result struct {
	Rails []*Bent
	Twist Twist
	build *project.Build
}

// Bent is a rail under its loads.
type Bent struct {
	*Rail
	Why       string // why it is not bent
	Bump      float64
	Beam      *geomrail.Bent
	Supports  []Carried
	Bending   Place   // the worst of it
	Sheared   Place   // where its web is sheared most, the mean over the web; its Moment is not set
	Joints    []Place // at each splice
	PlateEnds []Place // the worse end of the plates of each plated length
	Assumes   []string

	// Uncounted is why the rail can be weaker than worked out: a hole that is not known
	// well enough, a support that it lifts off; "" where nothing is left out.
	Uncounted string

	plateOf []int // the length of each of PlateEnds
}

// Carried is what one support carries at rest.
type Carried struct {
	Name  string
	At    float64
	Force float64 // N, at rest, up
}

// Place is the stress at one place.
type Place struct {
	What   string
	At     float64
	Moment float64 // N·mm over the bump, sagging positive
	Stress float64 // MPa
	Use    finding.Number
	Share  float64 // of a splice's plates in the moment; 0 without
	// Sheared is the use of strength in shear of a splice.
	Sheared float64
}

// Prepare makes the rails of a build ready. What rails of before, nil for none, are cut
// into serves those whose lengths are the same.
func Prepare(b *project.Build, before *Prepared) *Prepared {
	p := &Prepared{build: b}
	for _, side := range []project.Side{project.LeftSide, project.RightSide} {
		spec := b.Rails.Rail(side)
		if !spec.Described() {
			continue
		}
		r := &Rail{Side: side, Spec: spec, unit: b.Units, path: "rails." + string(b.Rails.Source(side))}
		if old := before.alike(r); old != nil {
			r.From, r.To, r.Pieces, r.Why = old.From, old.To, old.Pieces, old.Why
		} else if err := r.cut(); err != nil {
			r.Why, r.Pieces = err.Error(), nil
		}
		r.joints()
		r.steps()
		r.details()
		p.rails = append(p.rails, r)
	}
	p.twist = p.twistFrame()
	return p
}

// alike is the rail among p that is cut into the same pieces as r; nil for none.
func (p *Prepared) alike(r *Rail) *Rail {
	if p == nil {
		return nil
	}
	from, to, ok := r.Spec.Span()
	for _, o := range p.rails {
		f, t, k := o.Spec.Span()
		if o.Side == r.Side && o.path == r.path && o.unit == r.unit && f == from && t == to && k == ok &&
			reflect.DeepEqual(o.Spec.Lengths, r.Spec.Lengths) {
			return o
		}
	}
	return nil
}

// At bends the rails under what rests on them.
func (p *Prepared) At(in Input) *Result {
	out := &Result{build: p.build, Twist: p.twist}
	for _, r := range p.rails {
		out.Rails = append(out.Rails, p.bend(r, in))
	}
	return out
}

// Given reports whether the file says what a rail is made of.
func (r *Result) Given() bool { return r != nil && len(r.Rails) > 0 }

// Of is the rail of a side; nil for one of which nothing is said.
func (r *Result) Of(side project.Side) *Bent {
	for _, b := range r.Rails {
		if b.Side == side {
			return b
		}
	}
	return nil
}

// Spec is what the file says of the length.
func (p *Piece) Spec() project.RailLength { return p.spec }

func lacking(path string) error { return fmt.Errorf("not in the file yet: %s", path) }

func (r *Rail) text(k quantity.Kind, v float64) string {
	return quantity.Format(k, v, r.unit, 1)
}

func (r *Rail) station(x float64) string { return "station " + r.text(quantity.Length, x) }

// label is what a rail is called.
func (r *Rail) label() string { return string(r.Side) + " rail" }

// taperSteps is into how many pieces a tapering length is cut.
const taperSteps = 8

// cut makes the pieces of a rail of its lengths.
func (r *Rail) cut() error {
	from, end, ok := r.Spec.Span()
	switch {
	case !ok:
		return lacking("rails." + string(r.Side) + ".points")
	case len(r.Spec.Lengths) == 0:
		return lacking(r.path + ".length, what the rail is made of")
	}
	r.From, r.To = from, end
	ends, ok := r.Spec.Ends()
	if !ok {
		return lacking(r.path + ".length.1.to")
	}
	for i, l := range r.Spec.Lengths {
		if l.Section == "" && !l.Folded() {
			return lacking(fmt.Sprintf("%s.length.%d.section", r.path, i+1))
		}
		steps := 1
		if l.ToSection != "" {
			steps = taperSteps
		}
		for k := range steps {
			way := 0.0
			if steps > 1 {
				way = (float64(k) + 0.5) / taperSteps
			}
			d := (ends[i] - from) / float64(steps)
			p := Piece{From: from + d*float64(k), To: from + d*float64(k+1), Length: i, spec: l, way: way}
			if err := r.make(&p); err != nil {
				return err
			}
			r.Pieces = append(r.Pieces, p)
		}
		from = ends[i]
	}
	if from < end-0.5 {
		return fmt.Errorf("the %s is described to %s and runs to %s: add a [[%s.length]] for the rest", r.label(), r.station(from), r.text(quantity.Length, end), r.path)
	}
	return nil
}

// make works out what a piece is made of, with its plates, without them, and before.
func (r *Rail) make(p *Piece) error {
	l, part := p.spec, fmt.Sprintf("%s, length %d", r.label(), p.Length+1)
	bare, err := l.Built(part, p.way, false, r.unit)
	if err != nil {
		return err
	}
	if p.built, err = l.Built(part, p.way, true, r.unit); err != nil {
		return err
	}
	if p.bare, err = bare.Figures(); err != nil {
		return err
	}
	if p.Now, err = p.built.Figures(); err != nil {
		return err
	}
	p.ends, p.bares = [2]section.Figures{p.Now, p.Now}, [2]section.Figures{p.bare, p.bare}
	if l.ToSection != "" {
		for k, way := range [2]float64{p.way - 0.5/taperSteps, p.way + 0.5/taperSteps} {
			for plated, to := range map[bool]*section.Figures{true: &p.ends[k], false: &p.bares[k]} {
				b, err := l.Built(part, min(max(way, 0), 1), plated, r.unit)
				if err != nil {
					return err
				}
				if *to, err = b.Figures(); err != nil {
					return err
				}
			}
		}
	}
	p.Was = p.bare
	p.Section, p.Before = sectionWords(l), l.Section
	if l.Was != "" {
		s, err := project.RailShape(part+", before", l.Was, l.Bend.Or(-1), r.unit)
		if err != nil {
			return err
		}
		was, err := s.Built()
		if err != nil {
			return err
		}
		if p.Was, err = was.Figures(); err != nil {
			return err
		}
		p.Before = l.Was
	}
	p.Section, p.Before = project.Printable(p.Section), project.Printable(p.Before)
	p.Yield, _ = l.Strengths()
	return nil
}

func sectionWords(l project.RailLength) string {
	s := l.Section
	if l.Folded() && s == "" {
		s = "folded section"
	}
	if l.ToSection != "" {
		s += " to " + l.ToSection
	}
	switch l.Plated {
	case "":
	case project.PlatedBoxed:
		s += ", boxed"
	default:
		s += ", plated " + string(l.Plated)
	}
	return s
}

// figures are those of a piece at a station of it: at an end its own, between them those
// of the end that is weaker in bending.
func (p *Piece) figures(x float64) *section.Figures {
	const near = 1e-6
	switch {
	case x <= p.From+near:
		return &p.ends[0]
	case x >= p.To-near, p.ends[1].Wx < p.ends[0].Wx:
		return &p.ends[1]
	}
	return &p.ends[0]
}

// at are the pieces that meet at a station: two where one ends and the next begins.
func (r *Rail) at(x float64) []*Piece {
	var out []*Piece
	for i := range r.Pieces {
		if p := &r.Pieces[i]; x >= p.From-1e-6 && x <= p.To+1e-6 {
			out = append(out, p)
		}
	}
	return out
}
