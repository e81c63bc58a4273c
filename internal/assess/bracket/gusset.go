package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// SheetWork is a flat plate of a mount beside those at its pad and its feet, ready to be
// cut out: Count alike.
type SheetWork struct {
	Name    string
	Count   int
	Plate   geombracket.Plate
	Figures geombracket.PlateFigures
	Up      string // which of its faces is drawn; "" for either
}

// gussets places the gussets of a mount, or says what of them is missing.
func (b *Bracket) gussets() error {
	s := b.ready.kind.spec
	g := &s.Gusset
	if !g.Begun() {
		return nil
	}
	missing := func(key string) error {
		return lacking("mount." + b.ready.made + ".bracket.gusset." + key)
	}
	switch {
	case !g.Thickness.Known():
		return missing("thickness")
	case !g.Along.Known():
		return missing("along")
	case !g.Down.Known():
		return missing("down")
	}
	a := b.Members
	on := []string{g.On}
	if g.On == "" {
		on = standsOn(s.Kind)
		if len(on) == 0 {
			return missing("on")
		}
	}
	for _, name := range on {
		want := assembly.Gusset{On: name, Over: g.Side == project.GussetOver, Along: g.Along.V(), Down: g.Down.V(), Thickness: g.Thickness.V(),
			Snipe: g.Snipe.Or(2 * s.Weld.Size.Or(5)), Up: a.Pad.Normal}
		if g.Count.Or(1) > 1 {
			for i := range a.Solved.Parts {
				if p := &a.Solved.Parts[i]; p.Name == name {
					want.Inward = max(0, p.Shape.B/2-want.Thickness/2)
				}
			}
		}
		sheets, err := a.Solved.Gussets(want)
		if err != nil {
			return fmt.Errorf("bracket %s: %w", b.Label, err)
		}
		a.Sheets = append(a.Sheets, sheets...)
	}
	if err := b.gussetRoom(); err != nil {
		return err
	}
	for i := range a.Sheets {
		if err := b.addSheet(&a.Sheets[i]); err != nil {
			return err
		}
	}
	return nil
}

// standsOn are the members of a kind that a gusset is asked for, those on the rails.
func standsOn(k project.BracketKind) []string {
	switch k {
	case project.LevelArm, project.BracedArm:
		return []string{assembly.Arm}
	case project.InclinedLeg:
		return []string{assembly.Leg}
	case project.TwoLegsInA:
		return []string{assembly.FrontLeg, assembly.RearLeg}
	case project.TwinEars:
		return []string{assembly.FrontEar, assembly.RearEar}
	case project.StraightCrossmember:
		return []string{assembly.Beam}
	case project.DroppedCrossmember:
		return []string{assembly.LeftLeg, assembly.RightLeg}
	}
	return nil
}

// addSheet counts a plate among those that are alike.
func (b *Bracket) addSheet(s *assembly.Sheet) error {
	for i := range b.Sheets {
		w := &b.Sheets[i]
		if w.Name != s.Name || len(w.Plate.Outline) != len(s.Plate.Outline) {
			continue
		}
		off := 0.0
		for k, p := range w.Plate.Outline {
			off = max(off, r2.Norm(r2.Sub(p, s.Plate.Outline[k])))
		}
		if off < 0.05 {
			w.Count++
			return nil
		}
	}
	f, err := s.Plate.Figures()
	b.Sheets = append(b.Sheets, SheetWork{Name: s.Name, Count: 1, Plate: s.Plate, Figures: f})
	return err
}

// gussetRoom refuses gussets that reach past the plate that their member stands on.
func (b *Bracket) gussetRoom() error {
	a, w := b.Members, b.RailPlate
	if w == nil {
		return nil
	}
	poses, err := b.feetPoses()
	if err != nil {
		return err
	}
	for i := range a.Sheets {
		s := &a.Sheets[i]
		best, over := math.Inf(1), 0.0
		for k, f := range a.Feet {
			if d := r3.Norm(r3.Sub(poses[k].At, s.Pose.At)); f.Part == s.Host && d < best {
				best, over = d, 0
				for _, front := range []bool{false, true} {
					for _, q := range s.Corners(front) {
						if o := poses[k].Own(q); o.Z < w.Spec.Thickness.V()+1 {
							over = max(over, math.Abs(o.X)-w.Spec.Width.V()/2, math.Abs(o.Y)-w.Spec.Height.V()/2)
						}
					}
				}
			}
		}
		if over > 0.01 {
			return fmt.Errorf("bracket %s: the %s reaches %.1f mm beyond the edge of its rail plate; make the plate larger, or down smaller", b.Label, s.Name, over)
		}
	}
	return nil
}
