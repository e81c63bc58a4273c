package bracket

import (
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

// readyPlate is a plate as far as it does not follow from where the leg stands.
type readyPlate struct {
	work  *PlateWork // nil where the file does not give the plate's sizes
	why   error
	hangs bool // it hangs from the rail's top edge, so that its bolts lie where the foot does
}

// plate prepares the plate at an end of a leg.
func (l *readyLeg) plate(end string, s project.LegPlate) readyPlate {
	if !s.Thickness.Known() || !s.Width.Known() || !s.Height.Known() {
		return readyPlate{}
	}
	w := &PlateWork{End: end, Spec: s, Pattern: boltsOf(s), Middle: s.Height.V() / 2}
	part := l.label + " " + end + " plate"
	w.Plate = geombracket.Plate{Name: part, Outline: geombracket.Rectangle(s.Width.V(), s.Height.V()), Thickness: s.Thickness.V()}
	if s.Flange.V() > 0 {
		if err := w.fold(part); err != nil {
			return readyPlate{why: err}
		}
		w.Plate.Outline = geombracket.Rectangle(s.Width.V(), w.Blank.Length)
	}
	return readyPlate{work: w, why: w.drill(), hangs: w.Folded && end == "rail"}
}

// drill makes the holes, and works out the plate's figures.
func (w *PlateWork) drill() error {
	up := 0.0 // how far the middle of the flat blank lies above the middle of its bolts
	if w.Folded {
		up = w.Blank.Length/2 - w.Middle
	}
	w.Plate.Holes = nil
	if d := w.Spec.Hole.V(); d > 0 {
		for _, p := range w.Pattern {
			if w.Folded {
				if _, err := w.Blank.OnFlat(w.Plate.Name, 0, w.Middle+p.Y); err != nil {
					return err
				}
			}
			w.Plate.Holes = append(w.Plate.Holes, geombracket.Hole{At: r2.Vec{X: p.X, Y: p.Y - up}, Diameter: d})
		}
	}
	var err error
	w.Figures, err = w.Plate.Figures()
	return err
}

// plates takes the leg's plates; one that hangs from the rail's top edge lies as
// its foot does.
func (b *Bracket) plates() error {
	for i, into := range []**PlateWork{&b.PadPlate, &b.RailPlate} {
		p := b.ready.plates[i]
		if p.hangs && b.edge != nil {
			hung := *p.work
			hung.Middle = hung.Spec.Height.V() - hung.Spec.Thickness.V() - (b.edge.Z - b.Cut.Foot.Z)
			p.work, p.why = &hung, hung.drill()
		}
		if p.why != nil {
			return p.why
		}
		*into = p.work
	}
	return nil
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
	for _, w := range b.holesToEdge() {
		f := finding.Finding{ID: finding.PlateEdge(b.Name, w.end),
			Title: b.Label + " bracket, " + w.end + " plate, hole centre to edge"}
		f.JudgeAt(finding.Exact(w.edge), geombracket.EdgeRule*w.hole, project.Rule{Kind: quantity.Length,
			Source: "EN 1993-1-8, table 3.3: 1.2 hole diameters"}, true)
		end := w.end
		f.Says = finding.Asked(f, func() map[finding.Status]string {
			return map[finding.Status]string{
				finding.OK:   "There is metal enough between the holes and the edge.",
				finding.Over: "The bolts would tear out of the " + end + " plate's edge: make the plate larger or bring the bolts closer together.",
			}
		})
		r.Findings = append(r.Findings, f)
	}
	r.holesUnknown(b)
}

// holesUnknown judges the edges of plates that are to have holes of which it is not known how
// large they are: of a pattern or bolts in the file, and of the pad of a kind that is plate,
// whose isolator stands on it by nothing else.
func (r *Result) holesUnknown(b *Bracket) {
	if !b.Stands() {
		return
	}
	for _, q := range []struct {
		end   string
		plate *project.MountPlate
		asked bool
	}{{"pad", &b.Spec.PadPlate.MountPlate, b.ofPlate()}, {"rail", &b.Spec.RailPlate.MountPlate, b.RailPlate != nil && b.Spec.Bolts.Begun()}} {
		p := q.plate
		if p.Hole.Known() || !q.asked && !p.Across.Known() && !p.High.Known() && !p.PitchAcross.Known() && !p.PitchHigh.Known() {
			continue
		}
		f := finding.Finding{ID: finding.PlateEdge(b.Name, q.end), Title: b.Label + " bracket, " + q.end + " plate, hole centre to edge", Kind: quantity.Length}
		f.Unknown("mount." + b.ready.made + "." + b.ready.table + "." + q.end + "_plate.hole is not in the file yet")
		missing := f.Missing
		f.Says = func() string { return finding.NotYet(missing) }
		r.Findings = append(r.Findings, f)
	}
}

// thickPlates refuses plates of which it is not known how thick they are: what stands on them
// would be cut too long by that. of is the table of the leg or the mount.
func (b *Bracket) thickPlates(of string) error {
	for _, q := range []struct {
		key   string
		plate *project.MountPlate
	}{{"pad_plate", &b.Spec.PadPlate.MountPlate}, {"rail_plate", &b.Spec.RailPlate.MountPlate}} {
		if q.plate.NoThickness() {
			return lacking(of + "." + q.key + ".thickness")
		}
	}
	return nil
}
