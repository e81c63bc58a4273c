package bracket

import (
	"fmt"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
)

// PlateWork is a plate at an end of a leg, ready to be cut out.
type PlateWork struct {
	End     string // pad or rail
	Spec    project.LegPlate
	Plate   geombracket.Plate // flat, before it is bent
	Figures geombracket.PlateFigures
	Folded  bool
	Blank   geombracket.Blank // when it is folded: length and bend lines
	Deduct  float64           // what the bend takes from the two outside heights, mm
	Pattern []r2.Vec          // the bolts in the plate's plane, their middle at 0, 0
	Middle  float64           // of the bolts and of the leg's foot above the plate's lower edge, mm
}

func (b *Bracket) plates() error {
	for _, p := range []struct {
		end  string
		spec project.LegPlate
		into **PlateWork
	}{{"pad", b.Spec.PadPlate, &b.PadPlate}, {"rail", b.Spec.RailPlate, &b.RailPlate}} {
		w, err := plateWork(b, p.end, p.spec)
		if err != nil {
			return err
		}
		*p.into = w
	}
	return nil
}

// plateWork is nil where the file does not give the plate's sizes.
func plateWork(b *Bracket, end string, s project.LegPlate) (*PlateWork, error) {
	part := b.Label + " " + end + " plate"
	if !s.Thickness.Known() || !s.Width.Known() || !s.Height.Known() {
		return nil, nil
	}
	w := &PlateWork{End: end, Spec: s, Pattern: boltsOf(s)}
	height := s.Height.V()
	w.Plate = geombracket.Plate{Name: part, Outline: geombracket.Rectangle(s.Width.V(), height), Thickness: s.Thickness.V()}
	w.Middle = height / 2
	up := 0.0 // how far the middle of the flat blank lies above the middle of its bolts
	if s.Flange.V() > 0 {
		if err := w.fold(part); err != nil {
			return nil, err
		}
		if end == "rail" && b.edge != nil { // it hangs from the rail's top edge
			w.Middle = height - s.Thickness.V() - (b.edge.Z - b.Cut.Foot.Z)
		}
		up = w.Blank.Length/2 - w.Middle
		w.Plate.Outline = geombracket.Rectangle(s.Width.V(), w.Blank.Length)
	}
	if d := s.Hole.V(); d > 0 {
		for _, p := range w.Pattern {
			at := r2.Vec{X: p.X, Y: p.Y - up}
			if w.Folded {
				if _, err := w.Blank.OnFlat(part, 0, w.Middle+p.Y); err != nil {
					return nil, err
				}
			}
			w.Plate.Holes = append(w.Plate.Holes, geombracket.Hole{At: at, Diameter: d})
		}
	}
	var err error
	w.Figures, err = w.Plate.Figures()
	return w, err
}

// fold lays the plate flat: its height, then the edge that is folded over the
// rail.
func (w *PlateWork) fold(part string) error {
	s, t := w.Spec, w.Spec.Thickness.V()
	strip := geombracket.Strip{
		Name: part, Width: s.Width.V(), Thickness: t, Radius: s.Radius.Or(t), K: s.K.Or(geombracket.KMedium),
		Outside: []float64{s.Height.V(), s.Flange.V()}, Bends: []geom.Angle{90 * geom.Deg},
	}
	var err error
	if w.Blank, err = strip.Develop(); err != nil {
		return err
	}
	w.Folded = true
	w.Deduct, err = geombracket.Bend{Angle: 90 * geom.Deg, R: strip.Radius, T: t, K: strip.K}.Deduction(part)
	return err
}

// boltsOf lists the bolts or holes of a plate, its middle at 0, 0.
func boltsOf(s project.LegPlate) []r2.Vec {
	var out []r2.Vec
	for _, h := range geombracket.HoleGrid(int(s.Across.Or(2)), int(s.High.Or(2)), s.PitchAcross.V(), s.PitchHigh.V(), 1) {
		out = append(out, h.At)
	}
	return out
}

// edgeFindings hold the metal beside each plate's holes against the rule.
func (r *Result) edgeFindings(b *Bracket) {
	for _, w := range []*PlateWork{b.PadPlate, b.RailPlate} {
		if w == nil || len(w.Plate.Holes) == 0 {
			continue
		}
		d := w.Spec.Hole.V()
		f := finding.Finding{ID: fmt.Sprintf("bracket.%s.%s_plate.edge", b.Name, w.End),
			Title: fmt.Sprintf("%s bracket, %s plate, hole centre to edge", b.Label, w.End)}
		f.JudgeAt(finding.Known(w.Figures.Edge+d/2, 0), geombracket.EdgeRule*d, project.Rule{Kind: quantity.Length,
			Source: "EN 1993-1-8, table 3.3: 1.2 hole diameters"}, true)
		f.Says = finding.Say(finding.Advise(f, map[finding.Status]string{
			finding.OK:   "There is metal enough between the holes and the edge.",
			finding.Over: fmt.Sprintf("The bolts would tear out of the %s plate's edge: make the plate larger or bring the bolts closer together.", w.End),
		}))
		r.Findings = append(r.Findings, f)
	}
}
