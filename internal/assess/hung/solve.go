package hung

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/rigid"
	"fitup/internal/geom/snoop"
	"fitup/internal/geom/tape"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// fitted is the pose by some of the measurements.
type fitted struct {
	*tape.Fit
	pose    geom.Pose
	body    *rigid.Body
	problem tape.Problem
	of      []int       // of h.of
	free    [][]float64 // movements that nothing measured notices: held where the search began
}

// Problem implements snoop.Fit.
func (f *fitted) Problem() tape.Problem { return f.problem }

// Result implements snoop.Fit.
func (f *fitted) Result() *tape.Fit { return f.Fit }

// fitOf fits those measurements.
func (h *hanging) fitOf(of []int) (*fitted, error) {
	start := h.start()
	var f *fitted
	for range 2 { // once more with the uncertainties where it was found
		var err error
		if f, err = h.fitFrom(of, start); err != nil {
			return nil, err
		}
		start = f.pose
	}
	return f, nil
}

func (h *hanging) fitFrom(of []int, start geom.Pose) (*fitted, error) {
	f := &fitted{body: &rigid.Body{Reference: h.reference, Start: start}, of: of}
	for _, i := range of {
		f.body.Measures = append(f.body.Measures, h.of[i].Measure)
	}
	common := h.weigh(f.body, of, start)
	plain := f.body.Problem()
	for {
		plain.Hold = f.free
		f.problem = plain.With(common)
		fit, err := tape.Solve(context.Background(), f.problem)
		var loose *tape.LooseError
		if errors.As(err, &loose) && len(loose.Moves) > 0 && len(f.free) < rigid.Unknowns {
			for _, m := range loose.Moves {
				f.free = append(f.free, m[:rigid.Unknowns])
			}
			continue
		}
		if err != nil {
			return nil, err
		}
		f.Fit, f.pose = fit, f.body.PoseAt(fit.X)
		if f.pose.Z.Z < 0 || r3.Dot(f.pose.X, start.X) < 0 {
			return nil, rigid.ErrTurnedOver
		}
		return f, nil
	}
}

// weigh gives each measurement what it is off by alone, and says what several share:
// readings what is of the gauge, all of them the places of the vehicle's points.
func (h *hanging) weigh(b *rigid.Body, of []int, p geom.Pose) []tape.Common {
	read, placed := make([]uncertain.Number, len(of)), make([]uncertain.Number, len(of))
	for k, i := range of {
		o := &h.of[i]
		if o.reading >= 0 {
			read[k] = o.value.Number
		}
		placed[k] = h.noise(o, p)
		o.Sigma = max(math.Hypot(read[k].U(), placed[k].U()), o.least())
	}
	var out []tape.Common
	own := make([]float64, len(of))
	for _, family := range [2][]uncertain.Number{read, placed} {
		common, names, alone := uncertain.Shared(family)
		for k := range common {
			out = append(out, tape.Common{Name: names[k], Of: common[k]})
		}
		for k := range own {
			own[k] = math.Hypot(own[k], alone[k])
		}
	}
	for k, i := range of {
		b.Measures[k].Sigma = max(own[k], h.of[i].least())
	}
	return out
}

// start is where the search begins: where it is planned to hang, or else over the middle
// of what it was measured from. Nothing that is found rests on it.
func (h *hanging) start() geom.Pose {
	if h.in.Start.Known {
		return h.in.Start.V
	}
	sum, count := r3.Vec{}, 0.0
	for i := range h.of {
		for k := range h.of[i].far {
			if h.of[i].needs[k] {
				sum, count = r3.Add(sum, finding.PlaceOf(h.of[i].far[k])), count+1
			}
		}
	}
	p := geom.Identity()
	if count > 0 {
		p.At = r3.Sub(r3.Scale(1/count, sum), h.reference)
	}
	return p
}

// solve finds the pose, and leaves out what alone does not fit.
func (h *hanging) solve() {
	if len(h.of) == len(h.readings) {
		h.Why = "nothing that was measured to its marks can be used"
		if len(h.Assumes) > 0 {
			h.Why = h.Assumes[len(h.Assumes)-1]
		}
		return
	}
	search := snoop.Search[*fitted]{Count: len(h.of), Most: 3, Fit: func(of, _ []int) (*fitted, error) { return h.fitOf(of) }}
	all, slip, err := search.All()
	if err != nil {
		h.Why = "no place is found that fits what was measured: " + err.Error()
		h.distrust(all.Of)
		return
	}
	if slip != nil {
		h.suspect(*slip)
	}
	out := search.Clean(all)
	for _, x := range out.Suspects {
		h.suspect(x)
	}
	h.keep(out.Fit)
	switch {
	case out.Unclear:
		h.Why = "a measurement does not fit the others, and which one cannot be told: see " + finding.PowertrainFit
		h.distrust(unclear(out.Suspects))
	case out.Scatters:
		h.Why = fmt.Sprintf("what was measured of it scatters %.1f times as much as was said, more than chance explains: take the worst again, or give the tools a larger ±", h.Scatter)
		h.distrust(out.Of)
	default:
		h.fit = out.Fit
	}
}

// unclear are the measurements among which the one is that does not fit.
func unclear(suspects []snoop.Suspect[*fitted]) (out []int) {
	for _, x := range suspects {
		if !x.Alone {
			out = append(append(out, x.Measurement), x.Alike...)
		}
	}
	return out
}

// distrust makes the readings among measurements of no use: something does not fit, and
// it may be they.
func (h *hanging) distrust(of []int) {
	for _, i := range of {
		if r := h.of[i].reading; r >= 0 && h.bad[r] == "" {
			h.bad[r] = "it does not fit what was measured to the powertrain's marks, or one of those is wrong; see " + finding.PowertrainFit
		}
	}
}

// suspect notes a measurement that does not fit. A reading that alone does not fit is of
// no use.
func (h *hanging) suspect(x snoop.Suspect[*fitted]) {
	o, f, alone := &h.of[x.Measurement], x.Without, x.Alone
	s := Suspect{Taken: h.taken(x.Measurement), Off: o.Value - o.Shown(f.pose), Alone: alone}
	for _, i := range x.Alike {
		s.Alike = append(s.Alike, h.of[i].Name)
	}
	s.Out = alone
	s.Likely = h.likely(o, f)
	s.W, _ = f.Would(f.body.Observe(&o.Measure))(o.Value)
	h.Suspects = append(h.Suspects, s)
	if alone {
		h.assume(s.Name + " is left out, because it does not fit the others")
	}
	if alone && o.reading >= 0 {
		why := "it does not fit what was measured to the powertrain's marks"
		if s.Likely != "" {
			why += ", " + finding.Clause(s.Likely)
		}
		h.bad[o.reading] = why + "; read it again"
	}
}

// keep takes a fit over as what is reported.
func (h *hanging) keep(f *fitted) {
	h.DoF = f.DoF
	h.Scatter, _ = f.UnitSigma()
	h.All = nil
	for i := range h.of {
		t := h.taken(i)
		t.Out = true
		if k := slices.Index(f.of, i); k >= 0 {
			t.Residual, t.Out = f.Each[k], false
		}
		h.All = append(h.All, t)
	}
}

func (h *hanging) taken(i int) Taken {
	o := &h.of[i]
	t := Taken{Name: o.Name, Angle: o.angle(), Index: o.line.Index, Reading: -1}
	if o.reading >= 0 {
		t.Index, t.Reading = -1, h.readings[o.reading].Set[0]
	}
	return t
}

// report hands on what the fit says of each reading, with the ± that all leave.
func (h *hanging) report() {
	if h.fit == nil {
		return
	}
	h.Pose = finding.Maybe[geom.Pose]{V: h.fit.pose, Known: len(h.fit.free) == 0}
	h.values = make([]finding.Number, len(h.readings))
	var at []int
	var read, placed []uncertain.Number
	for i := range h.of {
		o := &h.of[i]
		if o.reading < 0 || h.bad[o.reading] != "" {
			continue
		}
		a, b, ok := h.figure(o)
		if !ok {
			continue
		}
		at, read, placed = append(at, o.reading), append(read, a), append(placed, b)
	}
	own, err := uncertain.Factored(h.in.Reads, func(int) string { return "what was measured to the powertrain's marks" }, placed...)
	if err != nil { // then they stay as they were read
		return
	}
	for k, r := range at {
		h.values[r] = finding.Of(read[k].Plus(own[k]))
	}
}

// figure is what a reading would show of the powertrain where it was found: with what
// readings leave open of it, and what is left open by all else, 0 with its ±. False
// where what was measured does not fix it.
func (h *hanging) figure(o *observed) (read, placed uncertain.Number, ok bool) {
	fit := h.fit
	partials := map[int]float64{}
	for u, b := range fit.body.Steps(fit.X) {
		partials[u] = (o.Shown(b.More) - o.Shown(b.Less)) / (2 * b.Step)
	}
	for _, move := range fit.free {
		sum, size := 0.0, 0.0
		for u, d := range move {
			sum += partials[u] * d
			if u >= rigid.Heading {
				d *= 1000 // at one metre
			}
			size = max(size, math.Abs(d))
		}
		if math.Abs(sum) > 1e-7*size {
			return read, placed, false
		}
	}
	var a, b []uncertain.Weighted
	for k, g := range fit.Gains(partials) {
		with := &h.of[fit.of[k]]
		if g == 0 {
			continue
		}
		if with.reading >= 0 {
			a = append(a, uncertain.Weighted{K: g, N: with.value.Number})
		}
		b = append(b, uncertain.Weighted{K: g, N: h.noise(with, fit.pose)})
	}
	if o.Kind == rigid.Fall { // its end lies where it lies, whatever was found of it
		m := o.Measure
		for axis := range 3 {
			b = append(b, uncertain.Weighted{K: m.Slope(&m.A, axis, fit.pose), N: o.far[0][axis].Number})
		}
	}
	return uncertain.Smooth(o.Shown(fit.pose), a...), uncertain.Smooth(0, b...), true
}
