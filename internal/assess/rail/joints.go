package rail

import (
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
)

// Splice is a joint of a rail with what carries in it.
type Splice struct {
	Spec    project.RailSplice
	Why     string // why its section is not known
	Joint   section.Figures
	Rail    section.Figures // beside it, the weaker where two lengths meet
	Yield   float64
	Upright float64 // area of what stands upright in it and carries shear, mm²
	Share   float64 // of the moment that its plates carry; 0 without plates, 1 where they carry all
	Words   string
	Ends    []float64 // where its plates end; empty without
}

// joints works out what carries in each splice.
func (r *Rail) joints() {
	for i, spec := range r.Spec.Splices {
		s := Splice{Spec: spec, Words: fmt.Sprintf("splice %d, %s", i+1, spec.Kind)}
		if r.Why != "" {
			s.Why = r.Why
		} else if err := r.join(&s, fmt.Sprintf("%s.splice.%d", r.path, i+1)); err != nil {
			s.Why = err.Error()
		}
		r.Splices = append(r.Splices, s)
	}
}

func (r *Rail) join(s *Splice, path string) error {
	x, known := s.Spec.At.Get()
	if !known {
		return lacking(path + ".at")
	}
	pieces := r.at(x)
	if len(pieces) == 0 {
		return fmt.Errorf("%s is not on the %s", r.station(x), r.label())
	}
	p := pieces[0]
	yield := p.Yield
	for _, q := range pieces {
		if q.figures(x).Wx < p.figures(x).Wx {
			p = q
		}
		yield = min(yield, q.Yield) // the weaker steel gives first
	}
	s.Rail, s.Joint, s.Yield = *p.figures(x), *p.figures(x), yield
	s.Upright = s.Rail.ShearY
	if s.Spec.Kind == project.ButtSplice {
		return nil
	}
	switch {
	case !s.Spec.Plate.Known():
		return lacking(path + ".plate")
	case !s.Spec.Length.Known():
		return lacking(path + ".length")
	}
	half := s.Spec.Length.V() / 2
	s.Ends = []float64{x - half, x + half}
	joined, plates, err := r.plates(p, s.Spec)
	if err != nil {
		return err
	}
	pf, err := plates.Figures()
	if err != nil {
		return err
	}
	if s.Spec.Kind != project.ButtAndPlate { // the rail's own ends carry nothing
		s.Joint, s.Share, s.Upright = pf, 1, pf.ShearY
		if len(plates.Walls) == 0 { // loose plates
			s.Upright = upright(plates.Regions)
		}
		return nil
	}
	if s.Joint, err = joined.Figures(); err != nil {
		return err
	}
	s.Share = pf.Ix / (pf.Ix + p.Now.Ix) // each bends with the same curvature
	return nil
}

// upright is the area of those plates that stand upright: higher than they are wide.
func upright(plates []section.Region) (area float64) {
	for _, p := range plates {
		low, high := bounds(p.Outer)
		if d := r2.Sub(high, low); d.Y > d.X {
			area += d.X * d.Y
		}
	}
	return area
}

// plates are a joint with its plates, and its plates alone.
func (r *Rail) plates(p *Piece, s project.RailSplice) (joined, plates section.Built, err error) {
	part := r.label() + ", splice"
	if p.spec.Folded() {
		return joined, plates, fmt.Errorf("%s: plates on a section that is folded along across and up are not worked out", part)
	}
	shape, err := project.RailShape(part, p.spec.Section, p.spec.Bend.Or(-1), r.unit)
	if err != nil {
		return joined, plates, err
	}
	if p.spec.ToSection != "" {
		end, err := project.RailShape(part, p.spec.ToSection, p.spec.Bend.Or(-1), r.unit)
		if err != nil {
			return joined, plates, err
		}
		if shape, err = shape.Toward(end, p.way); err != nil {
			return joined, plates, err
		}
	}
	shape.Name = part
	t, wide := s.Plate.V(), s.PlateWide.V()
	if s.Kind == project.Sleeve {
		return r.sleeve(shape, t)
	}
	at := s.Plated
	if at == "" {
		at = project.PlatedOutside
	}
	if joined, err = project.PlatesOf(shape, at, t, wide).Built(); err != nil {
		return joined, plates, err
	}
	plates = section.Built{Name: part, Regions: joined.Regions[1:]} // the first is the rail itself
	joined.Regions = append(append([]section.Region{}, p.built.Regions...), plates.Regions...)
	if over(at, p.spec.Plated) {
		return joined, plates, fmt.Errorf("%s: its plates lie where those of length %d lie already; give the splice another place", part, p.Length+1)
	}
	return joined, plates, nil
}

// over reports whether two platings have a plate in the same place.
func over(a, b project.Plating) bool {
	parts := func(p project.Plating) []project.Plating {
		switch p {
		case project.PlatedBoth:
			return []project.Plating{project.PlatedOutside, project.PlatedInside}
		case project.PlatedTopBottom:
			return []project.Plating{project.PlatedTop, project.PlatedBottom}
		}
		return []project.Plating{p}
	}
	return b != "" && slices.ContainsFunc(parts(a), func(p project.Plating) bool { return slices.Contains(parts(b), p) })
}

// sleeve is a tube of one wall around a box, or plates on three sides of a channel.
func (r *Rail) sleeve(s section.Shape, t float64) (joined, plates section.Built, err error) {
	if s.Kind == section.RectTube || s.Kind == section.RoundTube {
		around := section.Shape{Name: s.Name, Kind: s.Kind, H: s.H + 2*t, T: t}
		if s.Kind == section.RectTube {
			around.B = s.B + 2*t
		}
		plates, err = around.Built()
		return plates, plates, err
	}
	p := section.Plate{T: t}
	joined, err = section.Plated{Shape: s, Outside: p, Top: p, Bottom: p}.Built()
	if err != nil {
		return joined, plates, err
	}
	return joined, section.Built{Name: s.Name, Regions: joined.Regions[1:]}, nil
}

// Step is a place where a rail becomes stiffer or less stiff all at once.
type Step struct {
	At    float64
	Ratio float64 // of the two bending stiffnesses, 1 and more
	What  string
}

// steps finds where the stiffness changes at once. Plates that end sloped or like a
// fish's mouth end little by little, and are left out.
func (r *Rail) steps() {
	add := func(x, a, b float64, what string) {
		if ratio := max(a, b) / min(a, b); ratio > 1+1e-9 {
			r.Steps = append(r.Steps, Step{x, ratio, what})
		}
	}
	soft := func(l project.RailLength) bool {
		return l.Plated != "" && (l.PlateEnds == project.SlopedEnds || l.PlateEnds == project.FishMouthEnds)
	}
	for i := 1; i < len(r.Pieces); i++ {
		a, b := &r.Pieces[i-1], &r.Pieces[i]
		if a.Length == b.Length {
			continue // a taper is no step
		}
		ia, ib := a.Now.Ix, b.Now.Ix
		if soft(a.spec) {
			ia = a.bare.Ix
		}
		if soft(b.spec) {
			ib = b.bare.Ix
		}
		add(a.To, ia, ib, fmt.Sprintf("from length %d to length %d", a.Length+1, b.Length+1))
	}
	for i, s := range r.Splices {
		if s.Why != "" || s.Spec.Kind == project.ButtSplice || len(s.Ends) == 0 ||
			s.Spec.PlateEnds == project.SlopedEnds || s.Spec.PlateEnds == project.FishMouthEnds {
			continue
		}
		for _, x := range s.Ends {
			for _, p := range r.at(x) {
				if ix, err := r.stiff(p, s.Spec); err == nil {
					add(x, p.Now.Ix, ix, fmt.Sprintf("end of the plates of splice %d", i+1))
				}
			}
		}
	}
}

// stiff is the second moment of a piece together with the plates or the sleeve of a
// splice; of a tube around a tube that of both, about the one axis they have.
func (r *Rail) stiff(p *Piece, s project.RailSplice) (float64, error) {
	joined, plates, err := r.plates(p, s)
	if err != nil {
		return 0, err
	}
	f, err := joined.Figures()
	if err == nil && s.Kind == project.Sleeve && len(plates.Regions) == len(joined.Regions) {
		f.Ix += p.Now.Ix
	}
	return f.Ix, err
}

// details lists what is prone to crack, and what is not said of joints and plates.
func (r *Rail) details() {
	say := func(x float64, what string) {
		r.Details = append(r.Details, finding.Sentence(what+" at "+r.station(x)))
	}
	unsaid := func(path string) { r.Unsaid = append(r.Unsaid, path) }
	ends, _ := r.Spec.Ends()
	for i, l := range r.Spec.Lengths {
		if l.Plated == "" || i >= len(ends) {
			continue
		}
		switch l.PlateEnds {
		case project.SquareEnds:
			say(ends[i], fmt.Sprintf("the plate of length %d ends square to the rail", i+1))
		case "":
			unsaid(fmt.Sprintf("%s.length.%d.plate_ends", r.path, i+1))
		}
	}
	for i, s := range r.Spec.Splices {
		x := s.At.V()
		if s.Kind == project.ButtSplice || s.Kind == project.ButtAndPlate {
			switch s.Cut {
			case project.SquareCut:
				say(x, fmt.Sprintf("the weld of splice %d runs square across both flanges", i+1))
			case "":
				unsaid(fmt.Sprintf("%s.splice.%d.cut", r.path, i+1))
			}
		}
		if s.Kind == project.ButtSplice || s.Kind == "" {
			continue
		}
		switch {
		case s.PlateEnds == project.SquareEnds && s.Kind == project.Sleeve:
			say(x, fmt.Sprintf("the sleeve of splice %d ends square, so that its weld runs across the flanges", i+1))
		case s.PlateEnds == project.SquareEnds:
			say(x, fmt.Sprintf("the plates of splice %d end square to the rail", i+1))
		case s.PlateEnds == "":
			unsaid(fmt.Sprintf("%s.splice.%d.plate_ends", r.path, i+1))
		}
	}
	for i, h := range r.Spec.Holes {
		switch h.In {
		case project.InTopFlange, project.InBottomFlange:
			say(h.At.V(), fmt.Sprintf("hole %d is in the %s", i+1, h.In))
		case "":
			unsaid(fmt.Sprintf("%s.hole.%d.in", r.path, i+1))
		}
	}
	r.stretches(ends)
}

// stretches asks for the joints of what was put in.
func (r *Rail) stretches(ends []float64) {
	for i, l := range r.Spec.Lengths {
		put, known := l.Stretched.Get()
		if !known || put == 0 || i >= len(ends) {
			continue
		}
		from := r.From
		if i > 0 {
			from = ends[i-1]
		}
		n := 0
		for _, s := range r.Spec.Splices {
			if x, at := s.At.Get(); at && x >= from-1 && x <= ends[i]+1 {
				n++
			}
		}
		if n < 2 {
			r.Unsaid = append(r.Unsaid, fmt.Sprintf("%s.splice, both joints of the %s put into length %d", r.path, r.text(quantity.Length, put), i+1))
		}
	}
}
