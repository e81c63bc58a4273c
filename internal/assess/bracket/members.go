package bracket

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Assembly is a mount of several members, each ready to be cut.
type Assembly struct {
	Solved assembly.Solved
	Pad    geombracket.Face // looks to the isolator
	Feet   []Foot

	mirrors []assembly.Part // the plain mirror image of the one it is made after; nil where it mirrors none
	frame   *assembly.Frame
	loose   error // why there is no frame
}

// Foot is an end of a member on the rail.
type Foot struct {
	Part, End int
	Face      geombracket.Face // where its plate or its cut stands; looks to the member
}

// readyKind is what of a mount of several members does not follow from where the
// powertrain stands.
type readyKind struct {
	spec       project.MountBracket
	members    []project.MountMember
	mirrored   bool // spec and members are those of the other side, mirrored
	arm, brace section.Shape
	armWhy     error
	braceWhy   error
	shapes     []section.Shape // of the members
	whys       []error
}

// assemble reads the members of a mount; source is the one that it mirrors, if it
// mirrors one.
func (l *readyLeg) assemble(source *readyLeg) {
	k := &readyKind{spec: l.mount.Bracket, members: l.mount.Members}
	l.kind, l.spec = k, l.mount.Bracket.AsLeg()
	if source != nil && source.kind != nil {
		k.spec, k.members, k.mirrored = mirroredBracket(source.kind.spec, l.mount.Bracket), mirroredMembers(source.kind.members), true
		l.spec, l.made = k.spec.AsLeg(), source.name
	}
	shape := func(what, name string) (section.Shape, error) {
		if name == "" {
			return section.Shape{}, lacking("mount." + l.made + "." + what)
		}
		return shapeOf(l.label+" mount", project.Leg{Section: name}, l.units)
	}
	k.arm, k.armWhy = shape("bracket.section", k.spec.Section)
	if k.spec.Kind == project.BracedArm {
		k.brace, k.braceWhy = shape("bracket.brace", k.spec.Brace)
	}
	for i, m := range k.members {
		s, err := shape(fmt.Sprintf("member[%d].section", i), m.Section)
		k.shapes, k.whys = append(k.shapes, s), append(k.whys, err)
	}
}

func mirroredPoint(p project.Point) project.Point {
	p.At.Y = 2*centreline - p.At.Y
	return p
}

// mirroredBracket is what a bracket takes from the one it mirrors, and its own.
func mirroredBracket(of, own project.MountBracket) project.MountBracket {
	s := of
	s.Match, s.Rail, s.Pad = own.Match, own.Rail, own.Pad
	s.Foot = mirroredPoint(of.Foot)
	if own.Foot.Known {
		s.Foot = own.Foot
	}
	s.PadNormal = mirroredPoint(of.PadNormal)
	switch of.PadFacing {
	case "left":
		s.PadFacing = "right"
	case "right":
		s.PadFacing = "left"
	}
	if own.PadFacing != "" || own.PadNormal.Known {
		s.PadFacing, s.PadNormal = own.PadFacing, own.PadNormal
	}
	if own.Standing.Known() {
		s.Standing = own.Standing
	}
	if own.FootDrop.Known() {
		s.FootDrop = own.FootDrop
	}
	return s
}

func mirroredMembers(of []project.MountMember) []project.MountMember {
	out := make([]project.MountMember, len(of))
	for i, m := range of {
		m.From, m.To, m.Up = mirroredPoint(m.From), mirroredPoint(m.To), mirroredPoint(m.Up)
		out[i] = m
	}
	return out
}

// assemble finds how the members of a mount stand and are cut.
func (r *Result) assemble(b, of *Bracket) error {
	k := b.ready.kind
	if m := b.ready.mount.Bracket.Match; m != "" {
		switch {
		case of == nil || of.ready.kind == nil:
			return lacking("mount." + m + ".bracket")
		case of.Members == nil && of.Wrong:
			return fmt.Errorf("bracket %s: it mirrors the %s one, and that one cannot be made", b.Label, of.Label)
		case of.Members == nil:
			return fmt.Errorf("%w: the %s bracket, which it mirrors: %s", errMissing, of.Label, of.Why)
		}
	}
	if k.spec.Kind == "" && len(k.members) == 0 {
		return fmt.Errorf("%w: mount.%s.bracket has no kind, and there is no [[mount.%s.member]]", errMissing, b.ready.made, b.ready.made)
	}
	p, err := r.plan(b)
	if err != nil {
		return err
	}
	a := &Assembly{Pad: p.site.Pad}
	whole := assembly.Assembly{Name: b.Label, Members: p.members, Pad: p.site.Pad.Point, Perch: p.perch, Saw: &r.ready.saw}
	if err := stands(&whole); err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	if a.Solved, err = whole.Solve(); err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	b.Members = a
	b.Leg.Pad = geombracket.Face{Point: a.Pad.Point, Normal: r3.Scale(-1, a.Pad.Normal)}
	if err := b.plates(); err != nil {
		return err
	}
	if err := b.plateRoom(); err != nil {
		return err
	}
	if a.Solved.Perch != "" {
		if _, _, _, _, _, err := b.perched(); err != nil && !errors.Is(err, errMissing) {
			return err
		}
	}
	if of != nil && of.Members != nil {
		a.mirrors = of.Members.Solved.Parts
	}
	a.frame, a.loose = a.Solved.Frame()
	mass := 0.0
	for i := range a.Solved.Parts {
		mass += a.Solved.Parts[i].Cut.Mass
	}
	if b.PadPlate != nil {
		mass += b.PadPlate.Figures.Mass
	}
	if b.RailPlate != nil {
		mass += float64(len(a.Feet)) * b.RailPlate.Figures.Mass
	}
	b.Mass = finding.Exact(mass)
	return nil
}

// planned is a mount of several members before it is cut.
type planned struct {
	site    assembly.Site
	members []assembly.Member
	perch   string
	side    project.Side
}

// plan gives the members their places.
func (r *Result) plan(b *Bracket) (planned, error) {
	s, k := b.Spec, b.ready.kind
	p := planned{perch: k.spec.Perch}
	var err error
	if p.site.Pad.Point, err = r.legPad(b, s.Standing.Or(0)); err != nil {
		return p, err
	}
	p.site.Pad.Normal = r3.Vec{Z: 1}
	switch {
	case s.PadNormal.Known:
		p.site.Pad.Normal = s.PadNormal.At
	case s.PadFacing != "":
		p.site.Pad.Normal, _ = s.PadFacing.Vector()
	}
	p.site.PadPlate = s.PadPlate.Thickness.Or(0) + s.PadPlate.Gap.Or(0)
	p.site.RailPlate = s.RailPlate.Thickness.Or(0) + s.RailPlate.Gap.Or(0)
	if p.side, err = r.railSide(b, p.site.Pad.Point); err != nil {
		return p, err
	}
	if err := r.kindMembers(b, &p); err != nil {
		return p, err
	}
	for i := range k.members {
		m, err := r.member(b, &p, i)
		if err != nil {
			return p, err
		}
		p.members = append(p.members, m)
	}
	return p, nil
}

// footOf is a place on the rail: the given one, or that straight across from another.
func (r *Result) footOf(b *Bracket, side project.Side, given project.Point, across r3.Vec) (geombracket.Face, r3.Vec, error) {
	station := across.X
	if given.Known {
		station = given.At.X
	}
	face, edge, err := r.railFace(b, side, station)
	if err != nil {
		return face, edge, err
	}
	if !given.Known {
		foot, err := r.railFoot(b, side, face, edge, across)
		return face, foot, err
	}
	off, err := face.Off(given.At)
	if err != nil {
		return face, edge, err
	}
	if math.Abs(off) > footOff && !b.ready.kind.mirrored {
		return face, edge, fmt.Errorf("bracket %s: a foot stands %.1f mm off the face of the %s rail; check it and rails.%s.points", b.Label, math.Abs(off), side, side)
	}
	n := r3.Unit(face.Normal)
	if math.Abs(n.Y) < 0.05 { // the face does not stand across the way
		return face, r3.Sub(given.At, r3.Scale(off, n)), nil
	}
	return face, r3.Sub(given.At, r3.Scale(off/n.Y, r3.Vec{Y: 1})), nil // across the vehicle, onto the face
}

// kindMembers begins the members of the mount's kind.
func (r *Result) kindMembers(b *Bracket, p *planned) error {
	k := b.ready.kind
	s := k.spec
	if s.Kind == "" {
		return nil
	}
	missing := func(key string) error { return lacking("mount." + b.ready.made + ".bracket." + key) }
	if k.armWhy != nil {
		return k.armWhy
	}
	var across project.Point
	if s.Kind == project.InclinedLeg || s.Kind == project.TwoLegsInA {
		across = s.Foot
		face, foot, err := r.footOf(b, p.side, across, p.site.Pad.Point)
		if err != nil {
			return err
		}
		p.site.Rail, p.site.Foot = face, foot
	} else {
		face, _, err := r.railFace(b, p.side, p.site.Pad.Point.X)
		if err != nil {
			return err
		}
		p.site.Rail = face
		if p.perch == "" {
			p.perch = assembly.Arm
		}
		switch {
		case !s.Past.Known():
			return missing("past")
		case s.PadPlate.Thickness.V() == 0:
			return missing("pad_plate.thickness")
		}
	}
	way := r3.Vec{Y: -sideSign(p.side)}
	var err error
	var one assembly.Member
	switch s.Kind {
	case project.LevelArm:
		if one, err = assembly.LevelArm(p.site, k.arm, s.Past.V(), way); err == nil {
			p.members = []assembly.Member{one}
		}
	case project.InclinedLeg:
		p.members = []assembly.Member{assembly.InclinedLeg(p.site, k.arm)}
	case project.TwoLegsInA:
		switch {
		case !s.Apart.Known():
			return missing("apart")
		case !s.Spread.Known():
			return missing("spread")
		}
		p.members, err = assembly.TwoLegs(p.site, k.arm, s.Apart.V(), s.Spread.V())
	case project.BracedArm:
		switch {
		case k.braceWhy != nil:
			return k.braceWhy
		case !s.BraceDrop.Known():
			return missing("brace_drop")
		case !s.BraceAlong.Known():
			return missing("brace_along")
		}
		p.members, err = assembly.BracedArm(p.site, k.arm, k.brace, s.Past.V(), s.BraceDrop.V(), s.BraceAlong.V(), way)
	}
	if err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	return r.oneRail(b, p)
}

// oneRail refuses a kind whose feet stand on stretches of the rail that look
// different ways.
func (r *Result) oneRail(b *Bracket, p *planned) error {
	for i := range p.members {
		for _, e := range p.members[i].Ends {
			if e.Kind != assembly.Rail {
				continue
			}
			face, _, err := r.railFace(b, p.side, e.At.X)
			if err != nil {
				return err
			}
			off, err := face.Off(e.At)
			if err != nil {
				return err
			}
			if math.Abs(off) > 0.5 || geom.Between(face.Normal, p.site.Rail.Normal) > 0.02*geom.Deg {
				return fmt.Errorf("bracket %s: the %s rail bends between where the pad is and the foot of its %s; give its members one by one as [[mount.%s.member]]",
					b.Label, p.side, p.members[i].Name, b.ready.made)
			}
		}
	}
	return nil
}

// member is one of the file's own members.
func (r *Result) member(b *Bracket, p *planned, i int) (assembly.Member, error) { //nolint:gocyclo // a case for each thing an end may stand on
	k := b.ready.kind
	s := k.members[i]
	path := fmt.Sprintf("mount.%s.member[%d].", b.ready.made, i)
	m := assembly.Member{Name: s.Name, Shape: k.shapes[i], Roll: geom.Angle(s.Roll.Or(0))}
	if k.mirrored {
		m.Roll = -m.Roll
	}
	if k.whys[i] != nil {
		return m, k.whys[i]
	}
	if s.Up.Known {
		m.Up = s.Up.At
	}
	if len(s.Ends) != 2 {
		return m, lacking(path + "ends")
	}
	keys, along, alongKeys := [2]string{"from", "to"}, [2]*float64{}, [2]string{"from_along", "to_along"}
	given := [2]project.Point{s.From, s.To}
	for e, q := range [2]interface{ Get() (float64, bool) }{&s.FromAlong, &s.ToAlong} {
		if v, ok := q.Get(); ok {
			along[e] = &v
		}
	}
	for e, word := range s.Ends { // those that have a place of their own first
		end := &m.Ends[e]
		end.Ball = len(s.Held) == 2 && s.Held[e] == project.EndBall
		on, isMember := strings.CutPrefix(word, project.OnMember)
		switch {
		case isMember && along[e] == nil:
			return m, lacking(path + alongKeys[e])
		case isMember:
			end.Kind, end.Host, end.Along = assembly.OnMember, on, *along[e]
		case word == project.EndPad:
			end.Kind, end.Plate, end.At = assembly.Pad, p.site.PadPlate, p.site.Pad.Point
			end.Face = geombracket.Face{Point: p.site.Pad.Point, Normal: r3.Scale(-1, p.site.Pad.Normal)}
			if given[e].Known {
				off, err := end.Face.Off(given[e].At)
				if err != nil {
					return m, err
				}
				if math.Abs(off) > footOff && !k.mirrored {
					return m, fmt.Errorf("bracket %s: the member %s is to meet the pad %.1f mm off its face; check its %s", b.Label, s.Name, math.Abs(off), keys[e])
				}
				end.At = r3.Sub(given[e].At, r3.Scale(off, r3.Unit(end.Face.Normal)))
			}
		case word == project.EndSquare:
			if !given[e].Known {
				return m, lacking(path + keys[e])
			}
			end.At = given[e].At
		}
	}
	for e, word := range s.Ends {
		if word != project.EndRail {
			continue
		}
		end, other := &m.Ends[e], &m.Ends[1-e]
		if !given[e].Known && (other.Kind == assembly.OnMember || s.Ends[1-e] == project.EndRail) {
			return m, lacking(path + keys[e])
		}
		end.Kind, end.Plate = assembly.Rail, p.site.RailPlate
		var err error
		if end.Face, end.At, err = r.footOf(b, p.side, given[e], other.At); err != nil {
			return m, err
		}
	}
	return m, nil
}

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
