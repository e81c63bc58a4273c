package book

import (
	"fmt"
	"strconv"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// steering is the steering shaft: its joints, how evenly it turns, the marks of its
// yokes, what holds it and how far it can shorten.
func (m *maker) steering(s *Sheet) {
	x := m.a.Steering
	if x == nil {
		s.add("", text(0, "No steering shaft is in the file: [steering] with a [[steering.joint]] for each joint begins it.")...)
		return
	}
	s.add("", text(0, assess.SteeringCaution)...)
	if x.Why != "" {
		s.add("", text(0, "Not known yet: "+sentence(x.Why))...)
	}
	var rows [][]string
	for i := range x.Joints {
		j := &x.Joints[i]
		rows = append(rows, []string{"joint " + strconv.Itoa(i+1), m.number(quantity.Angle, j.Angle), "at most " + Magnitude(quantity.Angle, j.Limit.Value, m.u)})
	}
	if len(rows) > 0 {
		s.add("Joints, from the column", written(1, []string{"joint", "angle", "limit", "measured"}, rows))
	}
	even := []figureRow{{"faster than the wheel at the most, percent", quantity.Number, x.Ripple}, {"left of that with the best marks, percent", quantity.Number, x.Least}}
	if x.Ripple.Known && !x.Where.Even {
		even = append(even, figureRow{"quickest, clockwise of straight ahead, and again half a turn on", quantity.Angle, assess.Exact(x.Where.Fastest.Rad())},
			figureRow{"slowest, clockwise of straight ahead, and again half a turn on", quantity.Angle, assess.Exact(x.Where.Slowest.Rad())})
	}
	s.add("How evenly it turns", m.figures(even...))
	rows = nil
	for i := range x.Shafts {
		h := &x.Shafts[i]
		teeth, way := "", "clockwise"
		if h.Teeth > 0 {
			teeth = fmt.Sprintf("%+d of %d", h.Over, h.Teeth)
		}
		turn := h.Turn.Rad()
		if turn < 0 {
			turn, way = -turn, "anticlockwise"
		}
		by := Magnitude(quantity.Angle, turn, m.u) + " " + way
		if !h.YokeKnown {
			by += ", from in phase: how its yokes stand is not in the file"
		}
		rows = append(rows, []string{"shaft " + strconv.Itoa(i+1), m.number(quantity.Length, h.Length), by, teeth})
	}
	if len(rows) > 0 {
		s.add("Shafts, and where to set the lower yoke", append([]Item{grid([]string{"shaft", "length", "turn its lower yoke by", "teeth of its spline"}, rows)},
			text(0, "Clockwise is as one looks down the shaft from the column.")...)...)
	}
	held := []figureRow{{"ways to be loose", quantity.Number, x.Loose}}
	for i := range x.Bearings {
		held = append(held, figureRow{fmt.Sprintf("bearing %d, off the axis of shaft %d", i+1, x.Bearings[i].Shaft), quantity.Length, x.Bearings[i].Off})
	}
	s.add("What holds it", m.figures(append(held, figureRow{"can shorten by", quantity.Length, x.Shorten})...))
	m.against(s, "Steering, against its limits", by(finding.SteerTrade))
}

// pickups is what holds the wheels to the frame: towers and their cut, springs, dampers,
// rods and the anti-roll bar, left beside right.
func (m *maker) pickups(s *Sheet) {
	if len(m.a.Pickups.Axles) == 0 {
		s.add("", text(0, "No pick-ups are in the file: [pickup.front] with what carries its wheels begins those of an axle.")...)
		return
	}
	s.add("", text(0, assess.PickupCaution)...)
	for _, a := range m.a.Pickups.Axles {
		t := &pickupRows{maker: m, a: a}
		t.springs()
		t.towers()
		t.rods()
		t.bar()
		head := capital(a.Name) + " axle"
		for _, x := range a.Sides {
			if x.Why != "" {
				t.why = append(t.why, text(0, capital(x.Name)+" side, nothing is moved: "+sentence(x.Why))...)
			}
		}
		items := t.why
		if len(t.rows) > 0 {
			items = append(items, written(1, []string{"what", "left", "right", "measured"}, t.rows))
		}
		s.add(head, items...)
		m.against(s, head+", against its limits", func(f *assess.Finding) bool {
			return f.By == finding.PickupTrade && about("pickup."+a.Name+".")(f)
		})
	}
}

// pickupRows are the rows of an axle.
type pickupRows struct {
	*maker
	a    *assess.PickupAxle
	rows [][]string
	why  []Item
}

// row adds a figure of both sides, unless neither has it.
func (t *pickupRows) row(label string, k quantity.Kind, left, right assess.Number) {
	if left.Known || right.Known || left.Why != "" || right.Why != "" {
		t.rows = append(t.rows, []string{label, t.number(k, left), t.number(k, right)})
	}
}

// both adds a figure of each side's thing; "none" for a side without one.
func both[T any](t *pickupRows, label string, k quantity.Kind, x [2]*T, figure func(*T) assess.Number) {
	if x[0] == nil && x[1] == nil {
		return
	}
	row := []string{label, "none", "none"}
	for i := range x {
		if x[i] != nil {
			row[1+i] = t.number(k, figure(x[i]))
		}
	}
	t.rows = append(t.rows, row)
}

func (t *pickupRows) springs() {
	type spring = assess.PickupSpring
	type damper = assess.PickupDamper
	x := [2]*spring{t.a.Sides[0].Spring, t.a.Sides[1].Spring}
	for i, name := range []string{"spring top, station", "spring top, offset, right above 0", "spring top, height"} {
		both(t, name, quantity.Length, x, func(s *spring) assess.Number {
			if !s.Placed {
				return assess.Number{}
			}
			return assess.Exact([3]float64{s.Upper.X, s.Upper.Y, s.Upper.Z}[i])
		})
	}
	both(t, "spring, end to end", quantity.Length, x, func(s *spring) assess.Number { return s.Length })
	both(t, "its coil", quantity.Length, x, func(s *spring) assess.Number { return s.Coil })
	both(t, "wheel settles up by", quantity.Length, x, func(s *spring) assess.Number { return s.Ride })
	both(t, "coil left at full bump", quantity.Length, x, func(s *spring) assess.Number { return s.Bind })
	both(t, "pressed at full droop", quantity.Length, x, func(s *spring) assess.Number { return s.Seated })
	both(t, "shortens for each mm of the wheel", quantity.Number, x, func(s *spring) assess.Number { return s.Ratio })
	both(t, "rate at the wheel", quantity.Rate, x, func(s *spring) assess.Number { return s.WheelRate })
	both(t, "leans back", quantity.Angle, x, func(s *spring) assess.Number { return s.Back })
	both(t, "leans in", quantity.Angle, x, func(s *spring) assess.Number { return s.In })
	both(t, "to the way its end goes", quantity.Angle, x, func(s *spring) assess.Number { return s.Lean })
	d := [2]*damper{t.a.Sides[0].Damper, t.a.Sides[1].Damper}
	both(t, "damper, left at full bump", quantity.Length, d, func(s *damper) assess.Number { return s.Bump })
	both(t, "damper, left at full droop", quantity.Length, d, func(s *damper) assess.Number { return s.Droop })
	both(t, "bump stop, touch to metal", quantity.Length, d, func(s *damper) assess.Number { return s.Stop })
	caster := func(i int) assess.Number {
		if x := t.a.Sides[i]; x.Axis.Known {
			return assess.Exact(x.Axis.V.Caster.Rad())
		}
		return assess.Number{}
	}
	t.row("caster", quantity.Angle, caster(0), caster(1))
}

func (t *pickupRows) towers() {
	type tower = assess.PickupTower
	x := [2]*tower{t.a.Sides[0].Tower, t.a.Sides[1].Tower}
	both(t, "tower post, saw to", quantity.Length, x, func(s *tower) assess.Number { return s.Length })
	both(t, "its top above its foot", quantity.Length, x, func(s *tower) assess.Number { return s.Height })
	both(t, "its top cut off square by", quantity.Angle, x, func(s *tower) assess.Number { return s.Mitre })
	both(t, "off plumb", quantity.Angle, x, func(s *tower) assess.Number { return s.FromUp })
	both(t, "top off its place", quantity.Length, x, func(s *tower) assess.Number { return s.Off })
}

func (t *pickupRows) rods() {
	type rod = assess.PickupRod
	for i := range t.a.Rods {
		p := &t.a.Rods[i]
		name := p.Name
		if name == "" {
			name = fmt.Sprintf("rod %d", i+1)
		}
		both(t, name+", length", quantity.Length, p.Rods, func(s *rod) assess.Number { return s.Length })
		both(t, name+", longer at full bump", quantity.Length, p.Rods, func(s *rod) assess.Number { return s.Longer[0] })
		both(t, name+", longer at full droop", quantity.Length, p.Rods, func(s *rod) assess.Number { return s.Longer[1] })
		both(t, name+", falls to its moving end", quantity.Angle, p.Rods, func(s *rod) assess.Number { return s.Slope })
		both(t, name+", off fore and aft", quantity.Angle, p.Rods, func(s *rod) assess.Number { return s.Plan })
		both(t, name+", turns by at the most", quantity.Angle, p.Rods, func(s *rod) assess.Number { return s.Angle })
	}
}

func (t *pickupRows) bar() {
	b := t.a.Bar
	if b == nil {
		return
	}
	t.row("anti-roll bar, bush to bush", quantity.Length, b.Between, b.Between)
	t.row("its arm, square to the axis", quantity.Length, b.Halves[0].Lever, b.Halves[1].Lever)
	t.row("its drop link", quantity.Length, b.Halves[0].LinkLength, b.Halves[1].LinkLength)
	t.row("its arm turns to full bump", quantity.Angle, b.Halves[0].Turn[0], b.Halves[1].Turn[0])
	t.row("its arm turns to full droop", quantity.Angle, b.Halves[0].Turn[1], b.Halves[1].Turn[1])
	t.row("its twist in full roll", quantity.Angle, b.Roll, b.Roll)
	t.row("its twist with one wheel up", quantity.Angle, b.One, b.One)
	t.row("sheared in full roll", quantity.Stress, b.Shear, b.Shear)
	t.row("its link to its arm, least", quantity.Angle, b.Halves[0].Off, b.Halves[1].Off)
}
