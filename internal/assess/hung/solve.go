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

// fitted is what some of the measurements say, with some places of the vehicle as unknowns:
// the poses of the powertrain and of the axles first, then those points.
type fitted struct {
	*tape.Fit
	poses   []geom.Pose
	group   *rigid.Group
	problem tape.Problem
	of      []int       // of h.of
	freed   []int       // of h.known
	free    [][]float64 // movements that nothing measured notices: held where the search began
	// ends are, of each shaft, how far its ends are off where they were measured, by what each
	// shared error does to them.
	ends map[*observed][]endShift
}

// endShift is how much a coordinate of a shaft's end is off as it was measured for each of
// the shared errors.
type endShift struct {
	point, axis int
	by          []float64 // mm
}

// Problem implements snoop.Fit.
func (f *fitted) Problem() tape.Problem { return f.problem }

// Result implements snoop.Fit.
func (f *fitted) Result() *tape.Fit { return f.Fit }

// fitOf fits those measurements, with those known places as unknowns.
func (h *hanging) fitOf(of, freed []int) (*fitted, error) {
	starts := make([]geom.Pose, 0, len(h.bodies)+len(freed))
	for i := range h.bodies {
		starts = append(starts, h.start(i))
	}
	for _, g := range freed {
		p := geom.Identity()
		p.At = h.placeOf(h.known[g])
		starts = append(starts, p)
	}
	var f *fitted
	for range 2 { // once more with the uncertainties where it was found
		var err error
		if f, err = h.fitFrom(of, freed, starts); err != nil {
			return nil, err
		}
		starts = f.poses
	}
	return f, nil
}

// placeOf is where a point of the vehicle lies as it was measured.
func (h *hanging) placeOf(path string) r3.Vec {
	for i := range h.of {
		for _, p := range h.of[i].at {
			if p.path == path {
				return finding.PlaceOf(p.at)
			}
		}
	}
	return r3.Vec{}
}

func (h *hanging) fitFrom(of, freed []int, starts []geom.Pose) (*fitted, error) {
	f := &fitted{group: &rigid.Group{}, of: of, freed: freed}
	for k, p := range starts {
		part := rigid.Part{Start: p, Point: k >= len(h.bodies)}
		if !part.Point {
			part.Reference = h.bodies[k].reference
		}
		f.group.Parts = append(f.group.Parts, part)
	}
	for _, i := range of {
		f.group.Measures = append(f.group.Measures, h.bound(&h.of[i], freed))
	}
	common := h.weigh(f, starts)
	plain := f.group.Problem()
	unknowns := len(plain.Start)
	for {
		plain.Hold = f.free
		f.problem = plain.With(common)
		fit, err := tape.Solve(context.Background(), f.problem)
		var loose *tape.LooseError
		if errors.As(err, &loose) && len(loose.Moves) > 0 && len(f.free) < unknowns {
			for _, m := range loose.Moves {
				f.free = append(f.free, m[:unknowns])
			}
			continue
		}
		if err != nil && h.firm {
			return nil, errors.New(err.Error())
		}
		if err != nil {
			return nil, err
		}
		f.Fit, f.poses = fit, f.group.Poses(fit.X)
		for k := range h.bodies {
			if p := f.poses[k]; p.Z.Z < 0 || r3.Dot(p.X, starts[k].X) < 0 {
				return nil, rigid.ErrTurnedOver
			}
		}
		return f, nil
	}
}

// weigh gives each measurement of a fit what it is off by alone, and says what several
// share: readings what is of the gauge, all of them the places of the vehicle's points.
// What the places of a shaft's ends share with anything is told apart, so that the fit
// finds it.
func (h *hanging) weigh(f *fitted, poses []geom.Pose) []tape.Common {
	n := len(f.of)
	read, placed := make([]uncertain.Number, n), make([]uncertain.Number, n)
	for k, i := range f.of {
		o, m := &h.of[i], &f.group.Measures[k]
		if o.reading >= 0 {
			read[k] = o.value.Number
		}
		placed[k] = h.noise(o, m, poses)
		o.Sigma = max(math.Hypot(read[k].U(), placed[k].U()), o.least())
	}
	f.ends = map[*observed][]endShift{}
	shafts := h.shafts(f.of)
	all := slices.Clone(placed)
	for _, o := range shafts {
		m := h.bound(o, f.freed)
		free := o.freed(&m)
		for p, at := range o.at {
			for axis := range at.at {
				if at.path != "" && !free[p] && at.at[axis].U() > 0 {
					f.ends[o] = append(f.ends[o], endShift{point: p, axis: axis})
					all = append(all, at.at[axis].Number)
				}
			}
		}
	}
	var out []tape.Common
	own := make([]float64, n)
	for family, of := range [2][]uncertain.Number{read, all} {
		common, names, alone := uncertain.Shared(of)
		if family == 1 {
			at := n
			for _, o := range shafts {
				for e := range f.ends[o] {
					by := make([]float64, len(out), len(out)+len(common))
					for _, c := range common {
						by = append(by, c[at])
					}
					f.ends[o][e].by = by
					at++
				}
			}
		}
		for k := range common {
			out = append(out, tape.Common{Name: names[k], Of: common[k][:n]})
		}
		for k := range own {
			own[k] = math.Hypot(own[k], alone[k])
		}
	}
	for k, i := range f.of {
		f.group.Measures[k].Sigma = max(own[k], h.of[i].least())
	}
	return out
}

// shafts are those among measurements, and those that no gauge was put on.
func (h *hanging) shafts(of []int) (out []*observed) {
	for _, i := range of {
		if h.of[i].reading >= 0 && h.readings[h.of[i].reading].Between() {
			out = append(out, &h.of[i])
		}
	}
	for i := range h.unread {
		if h.in.Unread[h.unread[i].reading].Between() {
			out = append(out, &h.unread[i])
		}
	}
	return out
}

// start is where the search for a body begins: where it is planned, or else over the middle
// of what it was measured from. Nothing that is found rests on it.
func (h *hanging) start(of int) geom.Pose {
	if b := &h.bodies[of]; b.start.Known {
		return b.start.V
	}
	sum, count := r3.Vec{}, 0.0
	for i := range h.of {
		if h.of[i].Part != of && h.of[i].Part != rigid.Vehicle {
			continue
		}
		for _, p := range h.of[i].at {
			if p.path != "" {
				sum, count = r3.Add(sum, finding.PlaceOf(p.at)), count+1
			}
		}
	}
	p := geom.Identity()
	if count > 0 {
		p.At = r3.Sub(r3.Scale(1/count, sum), h.bodies[of].reference)
	}
	return p
}

// checks reports whether anything of it checks what was read: a measurement to a mark, or a
// shaft between measured points.
func (h *hanging) checks() bool {
	return slices.ContainsFunc(h.of, func(o observed) bool { return o.reading < 0 || o.Kind == rigid.Fall && o.Part == rigid.Vehicle })
}

// solve finds the pose, and leaves out what alone does not fit.
func (h *hanging) solve() {
	if !h.checks() {
		h.Why = "nothing that was measured to its marks can be used"
		if len(h.Assumes) > 0 {
			h.Why = h.Assumes[len(h.Assumes)-1]
		}
		return
	}
	search := func() snoop.Search[*fitted] {
		return snoop.Search[*fitted]{Count: len(h.of), Known: len(h.known), Most: 3, Fit: h.fitOf}
	}
	looking := search()
	all, slip, err := looking.All()
	if loose := (*tape.LooseError)(nil); errors.As(err, &loose) {
		loose := h.looseWithoutShafts() // of which a shaft says next to nothing
		h.of = slices.DeleteFunc(h.of, func(o observed) bool {
			return shaftOfBody(o) && slices.ContainsFunc(loose, func(k int) bool { return o.Part == k || o.On == 1+k })
		})
		looking = search()
		all, slip, err = looking.All()
	}
	if err != nil {
		h.Why = "no place is found that fits what was measured: " + err.Error()
		h.distrust(all.Of)
		return
	}
	if slip != nil {
		h.suspect(*slip)
	}
	out := looking.Clean(all)
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

// shaftOfBody reports whether it is of a shaft that begins or ends at a body.
func shaftOfBody(o observed) bool {
	return o.Kind == rigid.Fall && (o.Part != rigid.Vehicle || o.On > 0)
}

// looseWithoutShafts are the bodies of which all else does not say where they are. Where
// there are none, what is found loose with shafts is a slip so large that nothing is found,
// and firm says so.
func (h *hanging) looseWithoutShafts() (loose []int) {
	var of []int
	for i := range h.of {
		if !shaftOfBody(h.of[i]) {
			of = append(of, i)
		}
	}
	f, err := h.fitOf(of, nil)
	for k := range h.bodies {
		if err != nil || !f.fixed(k) {
			loose = append(loose, k)
		}
	}
	h.firm = len(loose) == 0
	return loose
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
			h.bad[r] = "it does not fit what was measured to " + h.owned() + " marks, or one of those is wrong; see " + finding.PowertrainFit
		}
	}
}

// suspect notes a measurement, or a place, that does not fit. A reading that alone does
// not fit is of no use.
func (h *hanging) suspect(x snoop.Suspect[*fitted]) {
	if x.Measurement < 0 {
		h.suspectPlace(x)
		return
	}
	o, f, alone := &h.of[x.Measurement], x.Without, x.Alone
	m := h.bound(o, f.freed)
	s := Suspect{Taken: h.taken(x.Measurement), Off: o.Value - m.Shown(f.poses...), Alone: alone}
	for _, i := range x.Alike {
		s.Alike = append(s.Alike, h.of[i].Name)
	}
	s.Out = alone
	s.Likely = h.likely(o, &m, f)
	m.Sigma = o.Sigma
	s.W, _ = f.Would(f.group.Observe(&m))(o.Value)
	h.Suspects = append(h.Suspects, s)
	if alone {
		h.assume(s.Name + " is left out, because it does not fit the others")
	}
	if alone && o.reading >= 0 {
		why := "it does not fit what was measured to " + h.owned() + " marks"
		if !h.Marked && !h.Axled {
			why = "it does not fit where the ends of the shaft were measured"
		}
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
	t := Taken{Name: o.Name, Angle: o.angle(), Read: o.Value, Index: o.line.Index, Reading: -1}
	if o.reading >= 0 {
		r := &h.readings[o.reading]
		t.Index, t.Reading, t.far = -1, r.Set[0], h.reach()
		if own := farMark(h.bodies[r.Body].marks); !r.Between() && own > 0 {
			t.far = own
		}
	}
	return t
}
