package bracket

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// stands refuses a mount that reaches no rail or no pad.
func stands(a *assembly.Assembly) error {
	rail, pad := false, a.Perch != ""
	for i := range a.Members {
		for _, e := range a.Members[i].Ends {
			rail, pad = rail || e.Kind == assembly.Rail, pad || e.Kind == assembly.Pad
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

// plateRoom refuses plates that are smaller than what stands on them, and feet whose
// plates lie on each other; it takes down where the feet are.
func (b *Bracket) plateRoom() error {
	a := b.Members
	var poses []geom.Pose
	for i := range a.Solved.Parts {
		p := &a.Solved.Parts[i]
		for e := range p.Ends {
			end := &p.Ends[e]
			if end.Kind != assembly.Rail && end.Kind != assembly.Pad {
				continue
			}
			what, w, face := "pad", b.PadPlate, geombracket.Face{Point: a.Pad.Point, Normal: a.Pad.Normal}
			if end.Kind == assembly.Rail {
				cut := p.Cut.Pad.At
				if e == 1 {
					cut = p.Cut.Rail.At
				}
				n := r3.Unit(end.Face.Normal)
				what, w = "rail", b.RailPlate
				face = geombracket.Face{Point: r3.Sub(cut, r3.Scale(r3.Dot(n, r3.Sub(cut, end.At)), n)), Normal: end.Face.Normal}
				a.Feet = append(a.Feet, Foot{Part: i, End: e, Face: face})
			}
			if w == nil {
				continue
			}
			pose, err := geombracket.FacePose(b.Label+" "+what+" plate", face, r3.Vec{})
			if err != nil {
				return err
			}
			wide, high := w.Spec.Width.V()/2, w.Spec.Height.V()/2
			for _, q := range geombracket.OnFace(pose, p.Cut.Outline(e == 1, around/4)) {
				if over := max(math.Abs(q.X)-wide, math.Abs(q.Y)-high); over > 0.01 {
					return fmt.Errorf("bracket %s: its %s plate is smaller than what stands on it: the %s reaches %.1f mm beyond the edge; make the plate larger", b.Label, what, p.Name, over)
				}
			}
			if end.Kind == assembly.Rail {
				for k, o := range poses {
					d := o.Own(pose.At)
					if math.Abs(d.X) < 2*wide && math.Abs(d.Y) < 2*high && math.Abs(d.Z) < 1 {
						return fmt.Errorf("bracket %s: the rail plates of its %s and its %s lie on each other; bring the feet farther apart, or make the plates smaller",
							b.Label, a.Solved.Parts[a.Feet[k].Part].Name, p.Name)
					}
				}
				poses = append(poses, pose)
			}
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
	if steep != "" {
		f.Status = finding.Over
		f.Says = func() string {
			return "The saw cannot make a cut of its " + steep + " with any side down, nor with the tube rolled: turn the pad, or move its ends nearer to straight across."
		}
	}
}

// offRail is a foot that reaches past the upper or lower edge of its rail, and how
// far, mm; "" where there is none, or the rail's height is not known.
func (r *Result) offRail(b *Bracket) (foot string, over float64) {
	for _, f := range b.Members.Feet {
		p := &b.Members.Solved.Parts[f.Part]
		side, err := r.railSide(b, b.Members.Pad.Point)
		h := r.ready.rail(side).height
		if err != nil || !h.Known {
			return "", 0
		}
		_, edge, err := r.railFace(b, side, f.Face.Point.X)
		if err != nil {
			return "", 0
		}
		for _, q := range p.Cut.Outline(f.End == 1, 4) {
			if v := max(q.Z-edge.Z, edge.Z-h.V-q.Z); v > max(over, 0.5) {
				foot, over = p.Name, v
			}
		}
	}
	return foot, over
}
