package frame

import (
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

func pickupsPage() pane.Leaf {
	return pane.Leaf{Name: "pick-ups", Items: pickupItems, Key: shown}
}

// pickupItems are, for each axle, where towers have to stand and how they are cut, what
// springs and dampers have left, what the travel does to rods and to the bar, and how the
// two sides compare.
func pickupItems(w int, v pane.View) []pane.Item {
	if len(v.A.Pickups.Axles) == 0 {
		return pane.Says(w, theme.Text, "No pick-ups yet. Press d and type, in the chapter of wheels, springs and rods, a name such as front, what carries the wheels, how far they go up and down, and where wheel centres, arms and springs are. "+
			assess.PickupCaution)
	}
	t := &pickupTable{Table: pane.NewTable(w, 3, v)}
	for _, a := range v.A.Pickups.Axles {
		t.axle(a)
	}
	t.Out = append(t.Out, pane.Says(w, theme.Dim, assess.PickupCaution)...)
	return t.Out
}

// pickupTable has a column for each side and one for the limit.
type pickupTable struct {
	*pane.Table
	a *assess.PickupAxle
}

// unit is the unit of a kind, behind a heading.
func (t *pickupTable) unit(k quantity.Kind) string { return quantity.UnitName(k, t.V.Units()) }

// row adds a row of two figures; without findings it is about subject.
func (t *pickupTable) row(name string, k quantity.Kind, left, right assess.Number, subject string, ids ...string) {
	fs := pane.Findings(t.V, ids...)
	limit := ""
	if len(fs) > 0 && fs[0].HasLimit {
		limit = t.Cell(fs[0].Kind, assess.Exact(fs[0].Limit))
	}
	n := len(t.Out)
	t.Row(t.Cells(name, t.Cell(k, left), t.Cell(k, right), limit), nil, fs...)
	if len(fs) == 0 && len(t.Out) > n {
		t.Out[n].Subject = subject
	}
}

// both adds a row of one figure for both sides, as the finding has it.
func (t *pickupTable) both(name, id string) {
	if f, ok := t.V.A.Finding(id); ok {
		t.Row(t.Cells(name, value(t.Table, id), "", t.Cell(f.Kind, assess.Exact(f.Limit))), nil, f)
	}
}

// eachSide is a figure of each side's thing, not known where a side has none.
func eachSide[T any](x [2]*T, figure func(*T) assess.Number) (left, right assess.Number) {
	var out [2]assess.Number
	for i := range x {
		if x[i] != nil {
			out[i] = figure(x[i])
		}
	}
	return out[0], out[1]
}

func (t *pickupTable) axle(a *assess.PickupAxle) {
	t.a = a
	t.Heading(a.Name+", "+t.unit(quantity.Length), "left", "right", "limit")
	t.both("wheel centres apart", finding.PickupWheels(a.Name))
	t.springs()
	t.towers()
	t.angles()
	for i := range a.Rods {
		t.rod(i, &a.Rods[i])
	}
	t.bar()
}

// ids are the findings of both sides.
func (t *pickupTable) ids(id func(name, side string) string) []string {
	return []string{id(t.a.Name, "left"), id(t.a.Name, "right")}
}

func (t *pickupTable) at(key string) string { return "pickup." + t.a.Name + ".left." + key }

func (t *pickupTable) springs() {
	a := t.a
	x := [2]*assess.PickupSpring{a.Sides[0].Spring, a.Sides[1].Spring}
	if x[0] != nil || x[1] != nil {
		place := func(i int) (left, right assess.Number) {
			return eachSide(x, func(s *assess.PickupSpring) assess.Number {
				if !s.Placed {
					return assess.Number{}
				}
				return assess.Exact([3]float64{s.Upper.X, s.Upper.Y, s.Upper.Z}[i])
			})
		}
		for i, name := range []string{"spring top, station", "  offset, right above 0", "  height"} {
			l, r := place(i)
			t.row(name, quantity.Length, l, r, t.at("spring"))
		}
		t.both("  left against right", finding.PickupTowers(a.Name))
		l, r := eachSide(x, func(s *assess.PickupSpring) assess.Number { return s.Length })
		t.row("spring, end to end", quantity.Length, l, r, t.at("spring"))
		l, r = eachSide(x, func(s *assess.PickupSpring) assess.Number { return s.Coil })
		t.row("  its coil", quantity.Length, l, r, t.at("spring"))
		l, r = eachSide(x, func(s *assess.PickupSpring) assess.Number { return s.Ride })
		t.row("  wheel settles up by", quantity.Length, l, r, "", t.ids(finding.PickupSpringRide)...)
		l, r = eachSide(x, func(s *assess.PickupSpring) assess.Number { return s.Bind })
		t.row("  left at full bump", quantity.Length, l, r, "", t.ids(finding.PickupSpringBind)...)
		l, r = eachSide(x, func(s *assess.PickupSpring) assess.Number { return s.Seated })
		t.row("  pressed at full droop", quantity.Length, l, r, "", t.ids(finding.PickupSpringSeated)...)
		l, r = eachSide(x, func(s *assess.PickupSpring) assess.Number { return s.Ratio })
		t.row("  shortens per mm of wheel", quantity.Number, l, r, t.at("spring"))
		l, r = eachSide(x, func(s *assess.PickupSpring) assess.Number { return s.WheelRate })
		t.row("  rate at the wheel, "+t.unit(quantity.Rate), quantity.Rate, l, r, t.at("spring"))
	}
	d := [2]*assess.PickupDamper{a.Sides[0].Damper, a.Sides[1].Damper}
	if d[0] == nil && d[1] == nil {
		return
	}
	l, r := eachSide(d, func(s *assess.PickupDamper) assess.Number { return s.Bump })
	t.row("damper, left at full bump", quantity.Length, l, r, "", t.ids(finding.PickupDamperBump)...)
	l, r = eachSide(d, func(s *assess.PickupDamper) assess.Number { return s.Droop })
	t.row("  left at full droop", quantity.Length, l, r, "", t.ids(finding.PickupDamperDroop)...)
	l, r = eachSide(d, func(s *assess.PickupDamper) assess.Number { return s.Stop })
	t.row("bump stop, touch to metal", quantity.Length, l, r, "", t.ids(finding.PickupStop)...)
}

func (t *pickupTable) towers() {
	x := [2]*assess.PickupTower{t.a.Sides[0].Tower, t.a.Sides[1].Tower}
	if x[0] == nil && x[1] == nil {
		return
	}
	l, r := eachSide(x, func(s *assess.PickupTower) assess.Number { return s.Length })
	t.row("tower post, saw to", quantity.Length, l, r, t.at("tower"))
	l, r = eachSide(x, func(s *assess.PickupTower) assess.Number { return s.Height })
	t.row("  its top above its foot", quantity.Length, l, r, t.at("tower"))
	l, r = eachSide(x, func(s *assess.PickupTower) assess.Number { return s.Off })
	t.row("  top off its place", quantity.Length, l, r, "", t.ids(finding.PickupTower)...)
}

// angles adds what is an angle of wheels, springs and towers.
func (t *pickupTable) angles() {
	a := t.a
	n := len(t.Out)
	t.Heading("  "+t.unit(quantity.Angle), "left", "right", "limit")
	caster := func(i int) assess.Number {
		if s := a.Sides[i]; s.Axis.Known {
			return assess.Exact(s.Axis.V.Caster.Rad())
		}
		return assess.Number{}
	}
	if fs := pane.Findings(t.V, finding.PickupCasters(a.Name)); len(fs) > 0 {
		t.row("caster", quantity.Angle, caster(0), caster(1), "", append(t.ids(finding.PickupCaster), finding.PickupCasters(a.Name))...)
	}
	x := [2]*assess.PickupSpring{a.Sides[0].Spring, a.Sides[1].Spring}
	if x[0] != nil || x[1] != nil {
		l, r := eachSide(x, func(s *assess.PickupSpring) assess.Number { return s.Back })
		t.row("spring leans back", quantity.Angle, l, r, t.at("spring"))
		l, r = eachSide(x, func(s *assess.PickupSpring) assess.Number { return s.In })
		t.row("  leans in", quantity.Angle, l, r, t.at("spring"))
		l, r = eachSide(x, func(s *assess.PickupSpring) assess.Number { return s.Lean })
		t.row("  to the way its end goes", quantity.Angle, l, r, "", t.ids(finding.PickupSpringLean)...)
	}
	p := [2]*assess.PickupTower{a.Sides[0].Tower, a.Sides[1].Tower}
	if p[0] != nil || p[1] != nil {
		l, r := eachSide(p, func(s *assess.PickupTower) assess.Number { return s.Mitre })
		t.row("tower, top cut off square", quantity.Angle, l, r, t.at("tower"))
		l, r = eachSide(p, func(s *assess.PickupTower) assess.Number { return s.FromUp })
		t.row("  off plumb", quantity.Angle, l, r, t.at("tower"))
	}
	if len(t.Out) == n+1 {
		t.Out = t.Out[:n]
	}
}

// rod adds a rod and its fellow.
func (t *pickupTable) rod(i int, p *assess.PickupPair) {
	a, x := t.a, p.Rods
	name := p.Name
	if name == "" {
		name = fmt.Sprintf("rod %d", i+1)
	}
	var give, angle []string
	subject := ""
	for k, s := range a.Sides {
		if n := p.At[k]; n > 0 {
			give, angle = append(give, finding.PickupRodGive(a.Name, s.Name, n)), append(angle, finding.PickupRodAngle(a.Name, s.Name, n))
			if subject == "" {
				subject = fmt.Sprintf("pickup.%s.%s.rod.%d", a.Name, s.Name, n)
			}
		}
	}
	t.Heading(name+", "+t.unit(quantity.Length), "left", "right", "limit")
	l, r := eachSide(x, func(s *assess.PickupRod) assess.Number { return s.Length })
	t.row("length", quantity.Length, l, r, subject, finding.PickupRodLength(a.Name, i+1))
	t.both("  brackets left and right", finding.PickupRodPlace(a.Name, i+1))
	for end, says := range []string{"longer at full bump", "longer at full droop"} {
		l, r = eachSide(x, func(s *assess.PickupRod) assess.Number { return s.Longer[end] })
		t.row("  "+says, quantity.Length, l, r, subject, give...)
	}
	t.Heading("  "+t.unit(quantity.Angle), "left", "right", "limit")
	l, r = eachSide(x, func(s *assess.PickupRod) assess.Number { return s.Slope })
	t.row("falls to its moving end", quantity.Angle, l, r, subject)
	l, r = eachSide(x, func(s *assess.PickupRod) assess.Number { return s.Plan })
	t.row("  off fore and aft", quantity.Angle, l, r, subject)
	l, r = eachSide(x, func(s *assess.PickupRod) assess.Number { return s.Angle })
	t.row("  turns by at the most", quantity.Angle, l, r, "", angle...)
}

// bar adds the anti-roll bar.
func (t *pickupTable) bar() {
	b, name := t.a.Bar, t.a.Name
	if b == nil {
		return
	}
	subject := "pickup." + name + ".bar"
	t.Heading("anti-roll bar, "+t.unit(quantity.Length), "left", "right", "limit")
	t.row("bush to bush", quantity.Length, b.Between, assess.Number{}, subject)
	t.row("arm, square to the axis", quantity.Length, b.Halves[0].Lever, b.Halves[1].Lever, "", finding.PickupBarArms(name))
	t.row("drop link", quantity.Length, b.Halves[0].LinkLength, b.Halves[1].LinkLength, "", finding.PickupBarLinks(name))
	t.Heading("  "+t.unit(quantity.Angle), "left", "right", "limit")
	t.both("axis off straight across", finding.PickupBarSquare(name))
	t.both("twist at ride height", finding.PickupBarTwist(name))
	for i, end := range []string{"arm turns to full bump", "arm turns to full droop"} {
		t.row(end, quantity.Angle, b.Halves[0].Turn[i], b.Halves[1].Turn[i], subject)
	}
	t.row("twist in roll", quantity.Angle, b.Roll, assess.Number{}, subject)
	t.row("twist, one up", quantity.Angle, b.One, assess.Number{}, subject)
	t.row("link to arm, least", quantity.Angle, b.Halves[0].Off, b.Halves[1].Off, "", t.ids(finding.PickupBarLink)...)
	t.Heading("  "+t.unit(quantity.Stress), "left", "right", "limit")
	t.both("shear in roll", finding.PickupBarShear(name))
}
