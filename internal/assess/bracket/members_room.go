package bracket

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project/quantity"

	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// stands refuses a mount that reaches no rail or no pad.
func stands(a *assembly.Assembly) error {
	rail, pad := false, a.Perch != ""
	for i := range a.Members {
		for _, e := range a.Members[i].Ends {
			rail, pad = rail || onRail(&e), pad || e.Kind == assembly.Pad || e.Kind == assembly.Pin
		}
	}
	switch {
	case !rail:
		return errors.New("nothing of it stands on the rail; end a member at \"rail\"")
	case !pad:
		return errors.New("nothing of it reaches the pad; end a member at \"pad\", or say on which the pad's plate lies with perch")
	}
	return nil
}

// stand takes down where the feet are: b.Spec's rail plate lies at each.
func (r *Result) stand(b *Bracket, side project.Side) {
	a := b.Members
	for i := range a.Solved.Parts {
		p := &a.Solved.Parts[i]
		for e := range p.Ends {
			end := &p.Ends[e]
			if !onRail(end) {
				continue
			}
			f := Foot{Part: i, End: e, Side: side, Packing: p.Packing[e]}
			switch word, _, _ := strings.Cut(end.On, " "); project.Side(word) {
			case project.LeftSide:
				f.Side = project.LeftSide
			case project.RightSide:
				f.Side = project.RightSide
			}
			at := p.Cut.Pad.At
			if e == 1 {
				at = p.Cut.Rail.At
			}
			n := r3.Unit(end.Face.Normal)
			on := end.At
			if end.Kind == assembly.Lies {
				at, on = end.At, r3.Add(end.Face.Point, r3.Scale(f.Packing, n))
			}
			f.Face = geombracket.Face{Point: r3.Sub(at, r3.Scale(r3.Dot(n, r3.Sub(at, on)), n)), Normal: end.Face.Normal}
			a.Feet = append(a.Feet, f)
		}
	}
	if b.Spec.RailPlate != (project.LegPlate{}) {
		b.pairEars()
	}
}

// pairEars makes one foot of two ears that a bolt goes through, on one plate: its middle is
// half way between them.
func (b *Bracket) pairEars() {
	a := b.Members
	bolt := func(f *Foot) (name string, ear bool) {
		e := &a.Solved.Parts[f.Part].Ends[1]
		return e.Bolt, f.End == 0 && (e.Kind == assembly.Pin || e.Kind == assembly.Bolted && !e.Turns)
	}
	var out []Foot
	for _, f := range a.Feet {
		of, ear := bolt(&f)
		k := slices.IndexFunc(out, func(o Foot) bool { name, is := bolt(&o); return is && ear && name == of })
		if k < 0 {
			out = append(out, f)
			continue
		}
		o := &out[k]
		o.Also = append(o.Also, f.Part)
		o.Face.Point = r3.Scale(0.5, r3.Add(o.Face.Point, f.Face.Point))
	}
	a.Feet = out
}

// ends are the members that stand on a foot's plate, each with the end of it that does.
func (f *Foot) ends() [][2]int {
	out := [][2]int{{f.Part, f.End}}
	for _, part := range f.Also {
		out = append(out, [2]int{part, 0})
	}
	return out
}

// packing is the most that is packed under a foot, mm.
func (b *Bracket) packing() (most float64) {
	for _, f := range b.Members.Feet {
		most = max(most, f.Packing)
	}
	return most
}

// plateRoom refuses plates that are smaller than what stands on them, and feet whose
// plates lie on each other.
func (b *Bracket) plateRoom() error {
	a := b.Members
	for i := range a.Solved.Parts {
		p := &a.Solved.Parts[i]
		for e := range p.Ends {
			if p.Ends[e].Kind != assembly.Pad {
				continue
			}
			pose, err := geombracket.FacePose(b.Label+" pad plate", a.Pad, r3.Vec{})
			if err == nil {
				err = b.plateHolds("pad", b.PadPlate, p, geombracket.OnFace(pose, p.Cut.Outline(e == 1, around/4)))
			}
			if err != nil {
				return err
			}
		}
	}
	poses, err := b.feetPoses()
	if err != nil || b.RailPlate == nil {
		return err
	}
	wide, high := b.RailPlate.Spec.Width.V(), b.RailPlate.Spec.Height.V()
	for i := range a.Feet {
		f := &a.Feet[i]
		p := &a.Solved.Parts[f.Part]
		outline := slices.Concat(b.outlines(f, poses[i])...)
		if p.Ends[f.End].Kind == assembly.Lies {
			l := onPlate(p, p.Side[f.End], project.LegPlate{MountPlate: project.MountPlate{Width: quantity.MM(1e6), Height: quantity.MM(1e6)}}, poses[i], p.Along(f.End))
			outline = []r2.Vec{l.at(0, l.half), l.at(0, -l.half)} // along its axis it may run on past the plate
		}
		if err := b.plateHolds("rail", b.RailPlate, p, outline); err != nil {
			return err
		}
		for k, o := range poses[:i] {
			if d := o.Own(poses[i].At); math.Abs(d.X) < wide && math.Abs(d.Y) < high && math.Abs(d.Z) < 1 {
				return fmt.Errorf("bracket %s: the rail plates of its %s and its %s lie on each other; bring the feet farther apart, or make the plates smaller",
					b.Label, a.Solved.Parts[a.Feet[k].Part].Name, p.Name)
			}
		}
	}
	return nil
}

// plateHolds refuses a plate that is smaller than the outline of what stands on it.
func (b *Bracket) plateHolds(what string, w *PlateWork, p *assembly.Part, outline []r2.Vec) error {
	if w == nil {
		return nil
	}
	wide, high := w.Spec.Width.V()/2, w.Spec.Height.V()/2
	for _, q := range outline {
		if over := max(math.Abs(q.X)-wide, math.Abs(q.Y)-high); over > 0.01 {
			return fmt.Errorf("bracket %s: its %s plate is smaller than what stands on it: the %s reaches %.1f mm beyond the edge; make the plate larger", b.Label, what, p.Name, over)
		}
	}
	return nil
}

// closes says that a mount of several members closes, and how near the saw's limit
// its cuts are.
func (r *Result) closes(b *Bracket, f *finding.Finding) {
	a := b.Members
	f.Title = b.Label + " bracket, its members"
	if a.loose != nil {
		why := a.loose.Error()
		f.Status, f.Says = finding.Over, func() string { return finding.Sentence(why) }
		return
	}
	worst, set, limit, steep := -1.0, 0.0, 0.0, ""
	for i := range a.Solved.Parts {
		p := &a.Solved.Parts[i]
		one := Bracket{Cut: p.Cut}
		one.Leg.Saw = &r.ready.saw
		if one.steep() {
			steep = p.Name
		}
		s, l := one.steepest()
		if part := s / max(l, square); part > worst {
			worst, set, limit = part, s, l
		}
	}
	if foot, over := r.offRail(b); foot != "" && steep == "" {
		f.Status = finding.Over
		units := r.ready.units
		f.Says = func() string {
			return fmt.Sprintf("The foot of its %s reaches %s past the rail's edge, where a weld begins cracks: move it onto the rail's web.", foot, quantity.Format(quantity.Length, over, units, 1))
		}
		return
	}
	f.Figure(finding.Exact(set))
	f.Title += ", steepest saw setting"
	f.Limit, f.HasLimit, f.Margin = limit, true, limit-set
	f.Says = finding.Say("The members close and can be cut; fitup cuts FILE prints their saw settings.")
	switch s := &b.ready.kind.spec; {
	case s.Ears.Begun():
		f.Says = finding.Say("The members close and can be cut. It comes out by its two through bolts; its ears stay on the rails.")
	case s.Socket.Begun() && !b.bolted():
		f.Says = finding.Say("The members close and can be cut. Its ends are caught in their sockets, which are welded on: bolt the sockets by rail plates, or the gearbox does not come out past it.")
	case s.Socket.Begun():
		f.Says = finding.Say("The members close and can be cut. It comes out together with its sockets, by the bolts of their rail plates.")
	case s.Kind.Crosses() && !b.bolted():
		f.Says = finding.Say("The members close and can be cut. It is welded in: bolt its rail plates, or the gearbox does not come out past it.")
	}
	if b.acrossFlange() {
		f.Status = finding.Tight
		f.Says = finding.Say("The members close and can be cut, but a weld across a rail's flange is where rails crack: bolt its rail plates, or stand it on the rails' inside. " + engineers)
	}
	if steep != "" {
		f.Status = finding.Over
		f.Says = func() string {
			return "The saw cannot make a cut of its " + steep + " with any side down, nor with the tube rolled: turn the pad, or move its ends nearer to straight across."
		}
	}
}

// across is how wide a rail's flange is, or how high its side.
func (r *rail) across(flange bool) finding.Number {
	if flange {
		return r.width
	}
	return r.height
}

// pastSide is how far a place on a rail's flange, or on its inner side, lies past the nearer
// edge of that, which is wide, mm; less than 0 where it lies between them. edge is a place on
// the rail's own inner upper edge.
func pastSide(side project.Side, flange bool, wide float64, edge, at r3.Vec) float64 {
	in := edge.Z - at.Z
	if flange {
		in = sideSign(side) * (at.Y - edge.Y)
	}
	return max(-in, in-wide)
}

// offFlange is how far what stands on a rail's top or underside reaches past that rail's
// inner or outer edge, mm; 0 where it runs on across, or the rail's width is not known.
func (r *Result) offFlange(b *Bracket, f *Foot) (over float64) {
	p, w := &b.Members.Solved.Parts[f.Part], r.ready.rail(f.Side).width
	if p.Ends[f.End].Kind == assembly.Lies || !w.Known {
		return 0
	}
	for _, x := range f.ends() {
		for _, q := range b.Members.Solved.Parts[x[0]].Cut.Outline(x[1] == 1, 4) {
			_, edge, err := r.railFace(b, f.Side, q.X)
			if err != nil {
				return 0
			}
			over = max(over, pastSide(f.Side, true, w.V, edge, q))
		}
	}
	return over
}

// acrossFlange says that a foot is welded to the top or the underside of a rail.
func (b *Bracket) acrossFlange() bool {
	s := &b.ready.kind.spec
	if b.bolted() || s.LeftFoot.Known || s.OwnFoot() {
		return false
	}
	return slices.ContainsFunc(b.Members.Feet, func(f Foot) bool { return math.Abs(r3.Unit(f.Face.Normal).Z) > 0.7 })
}

// pastRail is how far a foot reaches past an edge of the side of the rail that it stands
// on, and how wide that side is, mm; false where that is not known.
func (r *Result) pastRail(b *Bracket, f *Foot) (over, wide float64, known bool) {
	rail := r.ready.rail(f.Side)
	if math.Abs(r3.Unit(f.Face.Normal).Z) > 0.7 { // on its top or underside
		return r.offFlange(b, f), rail.width.V, rail.width.Known
	}
	h := rail.height
	if !h.Known {
		return 0, 0, false
	}
	_, edge, err := r.railFace(b, f.Side, f.Face.Point.X)
	if err != nil {
		return 0, 0, false
	}
	for _, x := range f.ends() {
		for _, q := range b.Members.Solved.Parts[x[0]].Cut.Outline(x[1] == 1, 4) {
			over = max(over, pastSide(f.Side, false, h.V, edge, q))
		}
	}
	return over, h.V, true
}

// offRail is a foot that reaches past the upper or lower edge of its rail, and how
// far, mm; "" where there is none, or the rail's height is not known.
func (r *Result) offRail(b *Bracket) (foot string, over float64) {
	if r.ownFace(b) || b.ready.kind.spec.LeftFoot.Known {
		return "", 0
	}
	for i := range b.Members.Feet {
		f := &b.Members.Feet[i]
		if v, _, known := r.pastRail(b, f); known && v > max(over, 0.5) {
			foot, over = b.Members.Solved.Parts[f.Part].Name, v
		}
	}
	return foot, over
}
