package assess

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Bracket is the leg of one mount: how it stands, how it is cut and what it
// carries.
type Bracket struct {
	Name    string // left_front
	Label   string // left front
	Spec    project.Leg
	Section string // name of its section, as the cut list has it
	// Why says why there is no leg; Wrong tells a leg that cannot be from one
	// for which something is missing.
	Why   string
	Wrong bool

	Leg       bracket.Leg // nominal, before the cut
	Cut       bracket.Cut
	HasCut    bool
	Saddle    *SaddleEnd // round on round; nil where the leg stands on a flat face
	PadPlate  *PlateWork // nil where there is none
	RailPlate *PlateWork
	Mass      Number // tube and plates, kg
	FootDrop  Number // of its foot below the top edge of its own rail, at the foot's station, mm
	Match     *Match // with the leg it mirrors; nil where it mirrors none
	Strength  Strength
	Built     *BuiltCheck // the finished mount; nil where none was measured

	edge   *r3.Vec // the rail's top edge at the foot; nil on a crossmember
	spec   project.Mount
	source *Bracket // the one it mirrors
}

// errMissing marks an error that more of the file would cure.
var errMissing = errors.New("not in the file yet")

func lacking(path string) error { return fmt.Errorf("%s is %w", path, errMissing) }

// brackets works out the leg of every mount that has one. It says nothing
// about mounts whose leg the builder has not begun.
func (a *Assessment) brackets() {
	for _, m := range a.Build.Mounts {
		if m.Leg.Begun() {
			a.Brackets = append(a.Brackets, Bracket{Name: m.Name, Label: finding.Spoken(m.Name), Spec: m.Leg, spec: m})
		}
	}
	for i := range a.Brackets { // those that mirror others after those others
		if a.Brackets[i].Spec.Match == "" {
			a.solveBracket(&a.Brackets[i])
		}
	}
	for i := range a.Brackets {
		if b := &a.Brackets[i]; b.Spec.Match != "" {
			b.source = a.bracketNamed(b.Spec.Match)
			a.solveBracket(b)
		}
	}
	for i := range a.Brackets {
		b := &a.Brackets[i]
		a.fitsFinding(b)
		a.edgeFindings(b)
		a.filletFinding(b)
		a.strength(b)
		a.weldedFinding(b)
		a.builtFindings(b)
	}
	a.cutLists(searchInRun)
	a.stockFindings()
}

func (a *Assessment) bracketNamed(name string) *Bracket {
	for i := range a.Brackets {
		if a.Brackets[i].Name == name {
			return &a.Brackets[i]
		}
	}
	return nil
}

// Bracket returns the leg of a mount.
func (a *Assessment) Bracket(name string) (Bracket, bool) {
	if b := a.bracketNamed(name); b != nil {
		return *b, true
	}
	return Bracket{}, false
}

func (a *Assessment) solveBracket(b *Bracket) {
	b.Mass = finding.Missing("the leg is not known")
	b.FootDrop = b.Mass
	err := a.cutBracket(b)
	if err == nil {
		err = b.plates()
	}
	if err != nil {
		b.Why, b.Wrong = err.Error(), !errors.Is(err, errMissing)
		return
	}
	b.HasCut = true
	mass := b.Cut.Mass
	if b.Saddle != nil {
		mass = b.Saddle.Mass
	}
	for _, p := range []*PlateWork{b.PadPlate, b.RailPlate} {
		if p != nil {
			mass += p.Figures.Mass
		}
	}
	b.Mass = finding.Known(mass, 0)
}

func (a *Assessment) cutBracket(b *Bracket) error {
	if b.Spec.Match != "" {
		return a.matchBracket(b)
	}
	var err error
	if b.Leg, err = a.planLeg(b); err != nil {
		return err
	}
	if b.Spec.Header.Known() {
		return b.cutSaddle()
	}
	if b.Cut, err = b.Leg.Cut(); err != nil {
		return err
	}
	if side, err := a.railSide(b, b.Leg.Pad.Point); err == nil {
		b.FootDrop = a.footDrop(b, side, b.Cut.Foot)
	}
	return nil
}

// planLeg is the leg as the file has it, before it is cut.
func (a *Assessment) planLeg(b *Bracket) (bracket.Leg, error) {
	s := b.Spec
	leg := bracket.Leg{
		Name:      b.Label,
		PadPlate:  s.PadPlate.Thickness.Or(0) + s.PadPlate.Gap.Or(0),
		RailPlate: s.RailPlate.Thickness.Or(0) + s.RailPlate.Gap.Or(0),
		Saw:       a.saw(),
	}
	var err error
	if leg.Shape, err = shapeOf(b.Label+" leg", s, a.Build.Units); err != nil {
		return leg, err
	}
	b.Section = leg.Shape.Name
	if leg.Pad.Point, err = a.legPad(b, s.Standing.Or(0)); err != nil {
		return leg, err
	}
	if s.Up.Known {
		leg.Up = s.Up.At
	}
	side, err := a.railSide(b, leg.Pad.Point)
	if err != nil && !s.Header.Known() {
		return leg, err
	}
	switch {
	case s.PadNormal.Known:
		leg.Pad.Normal = s.PadNormal.At
	case s.PadFacing != "":
		leg.Pad.Normal, _ = s.PadFacing.Vector()
	case err != nil:
		return leg, err
	default:
		leg.Pad.Normal = r3.Vec{Y: sideSign(side)}
	}
	if s.Header.Known() {
		return leg, nil // cutSaddle finds where it stands
	}
	face, edge, err := a.railFace(b, side, stationOf(s, leg.Pad.Point))
	if err != nil {
		return leg, err
	}
	leg.Rail, b.edge = face, &edge
	foot := s.Foot.At
	if !s.Foot.Known {
		if foot, err = a.railFoot(b, side, face, edge, leg.Pad.Point); err != nil {
			return leg, err
		}
	} else if err := b.onRail(face, side); err != nil {
		return leg, err
	}
	leg.Axis = r3.Sub(foot, leg.Pad.Point)
	if r3.Norm(leg.Axis) == 0 {
		return leg, fmt.Errorf("leg %s: its pad stands at its foot, so the leg has no length", b.Label)
	}
	return leg, nil
}

// footOff is how far off the rail's face a given foot may be, mm: more than a
// tape is wrong by, less than a wrong sign makes.
const footOff = 5

// onRail refuses a foot that was given but does not lie on the rail as the file
// has it; the leg would only be aimed at it and land elsewhere.
func (b *Bracket) onRail(face bracket.Face, side project.Side) error {
	if b.Spec.RailNormal.Known || b.Spec.Mark.Known {
		return nil // the face is given by itself
	}
	off, err := face.Off(b.Spec.Foot.At)
	if err != nil {
		return err
	}
	if off > footOff || off < -footOff {
		return fmt.Errorf("leg %s: its foot stands %.1f mm off the face of the %s rail; check foot and rails.%s.points, or say which way that face looks with rail_normal",
			b.Label, math.Abs(off), side, side)
	}
	return nil
}

func stationOf(s project.Leg, pad r3.Vec) float64 {
	switch {
	case s.Foot.Known:
		return s.Foot.At.X
	case s.Mark.Known:
		return s.Mark.At.X
	}
	return pad.X
}

// saw is what the saw can do. A zero is a value: a cold saw does not tilt.
func (a *Assessment) saw() *bracket.SawLimit {
	return &bracket.SawLimit{
		Mitre: geom.Angle(a.Build.Shop.Mitre.Or(bracket.LargestSaw.Rad())),
		Tilt:  geom.Angle(a.Build.Shop.Tilt.Or(bracket.LargestSaw.Rad())),
	}
}

// legPad is the centre of the leg's pad: given, or below the powertrain's.
func (a *Assessment) legPad(b *Bracket, standing float64) (r3.Vec, error) {
	if b.Spec.Pad.Known {
		return b.Spec.Pad.At, nil
	}
	at, err := a.mountPad(b.spec)
	if err != nil {
		return r3.Vec{}, err
	}
	return r3.Sub(at, r3.Vec{Z: standing}), nil
}

// mountPad is the powertrain's pad of a mount, vehicle axes.
func (a *Assessment) mountPad(m project.Mount) (r3.Vec, error) {
	p := m.At
	if pad := a.Build.Powertrain.Pads.Pad(m.Name); pad.Known {
		p = pad
	}
	switch {
	case !p.Known:
		return r3.Vec{}, lacking(m.PadPath())
	case !a.Pose.Known:
		return r3.Vec{}, fmt.Errorf("%w: %s", errMissing, a.Pose.Why)
	}
	return a.Pose.V.Point(p.At), nil
}

func (a *Assessment) railSide(b *Bracket, pad r3.Vec) (project.Side, error) {
	switch {
	case b.Spec.Rail != "":
		return b.Spec.Rail, nil
	case strings.HasPrefix(b.Name, "left"):
		return project.LeftSide, nil
	case strings.HasPrefix(b.Name, "right"):
		return project.RightSide, nil
	case pad.Y < -near:
		return project.LeftSide, nil
	case pad.Y > near:
		return project.RightSide, nil
	}
	return "", lacking("mount." + b.Name + ".leg.rail (left or right)")
}

// near is how close to the centreline, mm, a pad belongs to neither rail.
const near = 50

func sideSign(s project.Side) float64 {
	if s == project.LeftSide {
		return -1
	}
	return 1
}

// railFace is the inner side of a rail at a station, looking to the
// centreline, and the point of its top edge there.
func (a *Assessment) railFace(b *Bracket, side project.Side, station float64) (bracket.Face, r3.Vec, error) {
	rail := a.rail(side)
	pts := railPoints(rail.Points)
	if len(pts) < 2 {
		return bracket.Face{}, r3.Vec{}, lacking(fmt.Sprintf("rails.%s.points", side))
	}
	i := 1
	for i < len(pts)-1 && station > pts[i].X {
		i++
	}
	p, q := pts[i-1], pts[i]
	if station < pts[0].X || station > q.X {
		return bracket.Face{}, r3.Vec{}, fmt.Errorf("leg %s: it would stand at station %.0f mm, off the end of the %s rail (%.0f to %.0f mm)",
			b.Label, station, side, pts[0].X, pts[len(pts)-1].X)
	}
	edge := r3.Add(p, r3.Scale((station-p.X)/(q.X-p.X), r3.Sub(q, p)))
	f := bracket.Face{Point: edge, Normal: r3.Scale(-sideSign(side), r3.Cross(r3.Vec{Z: 1}, r3.Sub(q, p)))}
	if b.Spec.RailNormal.Known {
		f.Normal = b.Spec.RailNormal.At
		if b.Spec.Foot.Known {
			f.Point = b.Spec.Foot.At
		}
	}
	if b.Spec.Mark.Known {
		f.Point = b.Spec.Mark.At
	}
	return f, edge, nil
}

// footDrop is how far a foot lies below the top edge of a rail at its own
// station: what is measured with a square from that very rail.
func (a *Assessment) footDrop(b *Bracket, side project.Side, foot r3.Vec) Number {
	if b.Spec.Header.Known() {
		return finding.Missing("it stands on a crossmember")
	}
	_, edge, err := a.railFace(b, side, foot.X)
	if err != nil {
		return finding.Missing(err.Error())
	}
	return finding.Known(edge.Z-foot.Z, 0)
}

func (a *Assessment) rail(side project.Side) project.Rail {
	if side == project.LeftSide {
		return a.Build.Rails.Left
	}
	return a.Build.Rails.Right
}

// railFoot is the point of the rail's face straight across from the pad.
func (a *Assessment) railFoot(b *Bracket, side project.Side, f bracket.Face, edge, pad r3.Vec) (r3.Vec, error) {
	drop, ok := b.Spec.FootDrop.Get()
	if !ok {
		h, ok := a.rail(side).Height.Get()
		if !ok {
			return r3.Vec{}, lacking(fmt.Sprintf("rails.%s.height", side))
		}
		drop = h / 2
	}
	foot := r3.Vec{X: pad.X, Y: edge.Y, Z: edge.Z - drop}
	if math.Abs(f.Normal.Y) < 0.05*r3.Norm(f.Normal) { // the face does not stand across the way
		return r3.Vec{}, lacking("mount." + b.Name + ".leg.foot")
	}
	foot.Y -= r3.Dot(f.Normal, r3.Sub(foot, f.Point)) / f.Normal.Y
	return foot, nil
}

// fitsFinding says whether the leg can be cut, and how near the saw's limit.
func (a *Assessment) fitsFinding(b *Bracket) {
	f := Finding{ID: "bracket." + b.Name + ".fits", Title: b.Label + " bracket, its leg", Kind: quantity.Angle, Source: finding.Practice}
	if a.Build.Shop.Mitre.Known() || a.Build.Shop.Tilt.Known() {
		f.Source = "the saw, as entered in [shop]"
	}
	defer func() { a.Findings = append(a.Findings, f) }()
	b.Match.rests(&f)
	switch {
	case !b.HasCut && b.Wrong:
		f.Status, f.Says = Over, finding.Say(finding.Sentence(b.Why))
		return
	case !b.HasCut:
		f.Unknown(b.Why)
		f.Says = finding.Say(finding.NotYet(f.Missing))
		return
	}
	set, limit := b.steepest()
	f.Figure(finding.Known(set, 0))
	f.Title += ", steepest saw setting"
	f.Limit, f.HasLimit, f.Margin = limit, true, limit-set
	f.Says = finding.Say("The leg can be cut; fitup cuts FILE prints its saw settings.")
	switch {
	case b.steep():
		f.Status = Over
		f.Says = finding.Say(fmt.Sprintf("The saw cannot make this cut with any side of the %s leg down, nor with the tube rolled: turn its pad, or move its foot nearer to straight across.", b.Label))
	case b.rolled():
		f.Says = finding.Say("The leg can be cut with the tube rolled on the saw's table and one swing; fitup cuts FILE prints how far.")
	}
}

func (b *Bracket) ends() []bracket.End {
	if b.Saddle != nil {
		return []bracket.End{b.Cut.Pad}
	}
	return []bracket.End{b.Cut.Pad, b.Cut.Rail}
}

func (b *Bracket) steep() bool {
	return slices.ContainsFunc(b.ends(), func(e bracket.End) bool { return e.Steep })
}

func (b *Bracket) rolled() bool {
	return slices.ContainsFunc(b.ends(), func(e bracket.End) bool { return e.Rolled })
}

// steepest is the swing or tilt nearest to what the saw can do, and that. A
// setting of nothing needs nothing of the saw, so it counts only where there is
// no other.
func (b *Bracket) steepest() (set, limit float64) {
	worst := -1.0
	for _, e := range b.ends() {
		s := e.Saw[e.Best]
		swing, tilt := s.Mitre.Abs().Rad(), s.Tilt.Abs().Rad()
		if e.Rolled || e.Steep && e.Roll.Swing.Abs().Rad() > 0 && b.Leg.Saw.Tilt == 0 {
			swing, tilt = e.Roll.Swing.Abs().Rad(), 0
		}
		for _, x := range [][2]float64{{swing, b.Leg.Saw.Mitre.Rad()}, {tilt, b.Leg.Saw.Tilt.Rad()}} {
			part := 0.0
			switch {
			case x[1] > 0:
				part = x[0] / x[1]
			case x[0] > square:
				part = math.Inf(1)
			case worst >= 0:
				continue
			}
			if part > worst {
				worst, set, limit = part, x[0], x[1]
			}
		}
	}
	return set, limit
}

// square is the angle in rad below which a setting is none.
const square = 1e-9
