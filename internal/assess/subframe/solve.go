package subframe

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"fitup/internal/abreast"
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/rigid"
	"fitup/internal/geom/snoop"
	"fitup/internal/geom/tape"
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// fitted is the pose by some of the measurements.
type fitted struct {
	rigid.Placed
	body rigid.Body
	of   []int // of h.measures

	noises []uncertain.Number // of each of these where it is, once asked for
}

// Problem implements snoop.Fit.
func (f *fitted) Problem() tape.Problem { return f.body.Problem() }

// Result implements snoop.Fit.
func (f *fitted) Result() *tape.Fit { return f.Fit }

// solve finds the pose, and leaves out what alone does not fit.
func (h *hanging) solve() {
	if err := rigid.Shape(h.own); err != nil {
		h.Why = map[error]string{
			rigid.ErrFew:  "it takes three points at least that were measured on the bench, not on one line",
			rigid.ErrLine: "its points on the bench lie on one line, about which it can turn: measure a point beside that line",
		}[err]
		return
	}
	search := snoop.Search[*fitted]{Count: len(h.measures), Most: 2, Fit: func(of, _ []int) (*fitted, error) { return h.fitOf(of) }}
	all, slip, err := search.All()
	if err == nil && slip != nil {
		h.suspect(*slip)
	}
	if err != nil {
		h.Why = h.explain(err)
		return
	}
	if !snoop.Agrees(all.Fit.Fit) && h.mirrored(all.Fit) {
		h.Why = "the measurements fit the mirror image of the subframe: left and right were taken for each other on the bench or in the frame"
		return
	}
	out := search.Clean(all)
	for _, x := range out.Suspects {
		h.suspect(x)
	}
	f := out.Fit
	switch {
	case out.Unclear:
		h.Why = "a measurement does not fit the others, and which one cannot be told: see " + finding.SubframeFit(h.Name)
	case out.Scatters:
		scatter, _ := f.UnitSigma()
		h.Why = fmt.Sprintf("its measurements scatter %.1f times as much as was said of them, more than chance explains: take the worst again, or give the tools a larger ±", scatter)
	}
	if h.Why != "" {
		h.keep(f)
		h.fit = nil
		return
	}
	if why := h.ambiguous(f); why != "" {
		h.Why = why
		return
	}
	h.keep(f)
}

// start is where the search begins: where it is to hang, or else over the middle of
// the points it was measured from.
func (h *hanging) start() geom.Pose {
	if h.Set.Known {
		return h.Set.V
	}
	sum, count := r3.Vec{}, 0.0
	for _, m := range h.measures {
		for k, path := range m.far {
			if path != "" {
				sum, count = r3.Add(sum, finding.PlaceOf(m.at[k])), count+1
			}
		}
		if m.Kind == rigid.Coordinate {
			return geom.Orient(0, 0, 0, r3.Vec{})
		}
	}
	p := geom.Identity()
	if count > 0 {
		p.At = r3.Sub(r3.Scale(1/count, sum), h.reference)
	}
	return p
}

// fitOf fits those measurements.
func (h *hanging) fitOf(of []int) (*fitted, error) { return h.fitFrom(of, h.start()) }

func (h *hanging) fitFrom(of []int, start geom.Pose) (*fitted, error) {
	var f *fitted
	for range 2 { // once more with the uncertainties where it was found
		h.weigh(start)
		b := rigid.Body{Reference: h.reference, Start: start}
		values := make([]uncertain.Number, len(of))
		for k, i := range of {
			values[k] = h.noise(h.measures[i], start)
		}
		common, names, own := uncertain.Shared(values)
		for k, i := range of {
			m := h.measures[i].Measure
			m.Sigma = max(own[k], h.measures[i].least())
			b.Measures = append(b.Measures, m)
		}
		for k := range common {
			b.Common = append(b.Common, tape.Common{Name: names[k], Of: common[k]})
		}
		p, err := b.Fit(context.Background())
		if err != nil {
			return nil, err
		}
		f = &fitted{Placed: p, body: b, of: of}
		start = p.Pose
	}
	return f, nil
}

// suspect notes a measurement that does not fit.
func (h *hanging) suspect(x snoop.Suspect[*fitted]) {
	m := h.measures[x.Measurement]
	s := Suspect{Line: m.line, Angle: m.angle(), Off: m.Value - m.Shown(x.Without.Pose), Out: x.Alone}
	for _, i := range x.Alike {
		s.Alike = append(s.Alike, h.measures[i].Name)
	}
	s.W = s.Off / m.Sigma
	s.Likely = h.likely(m, x.Without)
	h.Suspects = append(h.Suspects, s)
}

// likely is what was likely done wrong with a measurement that f is the fit without.
func (h *hanging) likely(m measure, f *fitted) string {
	// A length that is many times too long has the ± of that length: not the one tried.
	most := 0.0
	for _, i := range f.of {
		if other := h.measures[i]; other.Kind == m.Kind {
			most = max(most, other.Sigma)
		}
	}
	if most > 0 {
		m.Sigma = min(m.Sigma, most)
	}
	would := f.Would(f.body.Observe(&m.Measure))
	is := finding.Misread{Kind: quantity.Length, Value: m.Value, Fits: func(v float64) (float64, bool) {
		w, sum := would(v)
		return w, f.AgreesWith(sum, snoop.Alarm)
	}}
	switch {
	case m.angle():
		is.Kind, is.Other = quantity.Angle, "the other end was lower"
		if m.Kind == rigid.Across {
			is.Other = "the other side was lower"
		}
	case m.Kind == rigid.Beside, m.Kind == rigid.Coordinate && m.Axis == 1:
		is.Other = "left and right were taken for each other"
	case m.Kind == rigid.Rise, m.Kind == rigid.Over, m.Kind == rigid.Coordinate && m.Axis == 2:
		is.Other = "over and under were taken for each other"
	}
	return is.Likely(h.build.Units)
}

// mirrored reports whether the mirror image of the subframe fits where it does not.
func (h *hanging) mirrored(f *fitted) bool {
	over := f.body.Mirror()
	over.Start = h.start()
	g, err := over.Fit(context.Background())
	if err != nil || g.DoF <= 0 {
		return false
	}
	return snoop.Agrees(g.Fit) && g.SumSquare < f.SumSquare/4
}

// ambiguous says that the measurements fit another place as well, as tapes alone do
// above and below what they were taken from.
func (h *hanging) ambiguous(f *fitted) string {
	middle, count := r3.Vec{}, 0.0
	for _, i := range f.of {
		for k, path := range h.measures[i].far {
			if path != "" && h.measures[i].Kind == rigid.Distance {
				middle, count = r3.Add(middle, finding.PlaceOf(h.measures[i].at[k])), count+1
			}
		}
	}
	if count == 0 {
		return ""
	}
	middle = r3.Scale(1/count, middle)
	here := f.Pose.Point(h.reference)
	ways := [3]string{"in front of and behind", "left and right of", "above and below"}
	help := [3]string{"a tape to a point farther to the front or to the rear", "a tape to the other side", "the height of one of its points over a point of the rails"}
	var two [3]bool
	abreast.Each(3, func(axis int) {
		start := f.Pose
		d := [3]float64{middle.X - here.X, middle.Y - here.Y, middle.Z - here.Z}[axis]
		start.At = r3.Add(start.At, r3.Scale(2*d, [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[axis]))
		b := f.body
		b.Start = start
		g, err := b.Fit(context.Background())
		two[axis] = err == nil && g.SumSquare-f.SumSquare < tape.Critical*tape.Critical && r3.Norm(r3.Sub(g.Pose.Point(h.reference), here)) > 5
	})
	if axis := slices.Index(two[:], true); axis >= 0 {
		return "the measurements fit two places, " + ways[axis] + " the points they were taken from: measure " + help[axis]
	}
	return ""
}

// keep takes a fit over as what is reported.
func (h *hanging) keep(f *fitted) {
	h.fit, h.DoF = f, f.DoF
	h.Scatter, _ = f.UnitSigma()
	h.Lines = nil
	for i, m := range h.measures {
		t := Taken{Line: m.line, Angle: m.angle(), Out: true}
		if k := slices.Index(f.of, i); k >= 0 {
			t.Residual, t.Out = f.Each[k], false
		}
		h.Lines = append(h.Lines, t)
	}
}

// explain says why there is no answer, and what would help.
func (h *hanging) explain(err error) string {
	var loose *tape.LooseError
	switch {
	case len(h.lefts) > 0 && len(h.measures) < rigid.Unknowns:
		return h.lefts[0].lines[0] + " cannot be used: " + h.lefts[0].why
	case len(h.measures) == 0:
		return "nothing is measured to it yet: add [[measure]] from points of the rails to points of subframe." + h.Name
	case errors.As(err, &loose) && len(h.lefts) > 0:
		return h.lefts[0].lines[0] + " cannot be used, and the rest leaves it loose: " + h.lefts[0].why
	case errors.As(err, &loose):
		if k := slices.IndexFunc(lacks, func(l lack) bool { return slices.Contains(loose.Unknowns, l.unknown) }); k >= 0 {
			return "the measurements leave it free " + lacks[k].way + ": measure " + lacks[k].help
		}
	case errors.Is(err, rigid.ErrTurnedOver):
		return err.Error() + ": look at the signs of heights and offsets, and at left and right"
	}
	return err.Error()
}

// lack is a movement that nothing measures, and what would.
type lack struct {
	unknown   int
	way, help string
}

var lacks = []lack{
	{rigid.Up, "up and down", "the height of one of its points over a point of the rails"},
	{rigid.Roll, "to lean to one side", "the heights of two of its points, left and right, or put the gauge across it"},
	{rigid.Slope, "to lean to the front or rear", "the heights of two of its points, front and rear, or put the gauge along it"},
	{rigid.Back, "along the vehicle", "a tape from one of its points to a point of the rails farther back"},
	{rigid.Right, "across the vehicle", "a tape from one of its points across to the other rail, or how far it lies beside a string"},
	{rigid.Heading, "to turn, seen from above", "the tapes of both sides from its points to points of the rails farther back"},
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
