package project

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project/quantity"
)

// RowID is a placement row, for rooms that draw and do no geometry.
type RowID = seat.Row

// RowInfo names a placement row to people and to the file.
type RowInfo struct {
	Row   RowID
	Name  string // dotted name of its value
	Label string // what it is, in full
	Short string // what it is, in at most 12 signs
	Kind  quantity.Kind
}

// PlacementRows returns every row of the placement in working order. Names
// under "placement." that are keys of the file are those keys.
func PlacementRows() [8]RowInfo {
	return [...]RowInfo{
		{seat.LeftFront, "placement.left_front", "left front mount", "left front", quantity.Length},
		{seat.RightFront, "placement.right_front", "right front mount", "right front", quantity.Length},
		{seat.Rear, "placement.rear", "rear mount", "rear mount", quantity.Length},
		{seat.Lift, "placement.lift", "lift of the whole", "lift, whole", quantity.Length},
		{seat.Tilt, "placement.tilt", "tilt about the front mounts", "tilt", quantity.Slope},
		{seat.Setback, "placement.setback", "setback", "setback", quantity.Length},
		{seat.Offset, "placement.offset", "side offset", "side", quantity.Offset},
		{seat.Heading, "placement.heading", "heading", "heading", quantity.Heading},
	}
}

// RowNamed returns the row with the given dotted name.
func RowNamed(name string) (RowInfo, bool) {
	for _, r := range PlacementRows() {
		if r.Name == name {
			return r, true
		}
	}
	return RowInfo{}, false
}

// Seat returns the supports and the placement, or what is missing for them.
func (b *Build) Seat() (seat.Supports, seat.Placement, error) {
	pads := b.Powertrain.Pads
	s := seat.Supports{LeftFront: pads.LeftFront.At, RightFront: pads.RightFront.At, Rear: pads.Rear.At}
	var missing []string
	for _, p := range []struct {
		known bool
		path  string
	}{
		{pads.LeftFront.Known, "powertrain.pads.left_front"},
		{pads.RightFront.Known, "powertrain.pads.right_front"},
		{pads.Rear.Known, "powertrain.pads.rear"},
	} {
		if !p.known {
			missing = append(missing, b.lackingPad(p.path))
		}
	}
	placed, more := b.Placement.seat()
	missing = append(missing, more...)
	if len(missing) > 0 {
		return s, placed, fmt.Errorf("not in the file yet: %s", strings.Join(missing, ", "))
	}
	return s, placed, nil
}

// lackingPad is what lacks where a pad has no place: itself, or something of the adapter
// plate that it stands on.
func (b *Build) lackingPad(path string) string {
	m := b.Mount(strings.TrimPrefix(path, "powertrain.pads."))
	if key := m.Adapter.Lacks(); m.NoPlace != "" && key != "" {
		return "mount." + m.Name + ".adapter." + key
	}
	return path
}

// seat turns the file's placement into geometry, and says which rows it lacks.
// Offset and heading are zero when left out; the rest must be given.
func (p Placement) seat() (seat.Placement, []string) {
	if p.complete() {
		return p.rows(), nil
	}
	var missing []string
	for _, r := range []struct {
		known bool
		name  string
	}{{p.LeftFront.Known(), "left_front"}, {p.RightFront.Known(), "right_front"}, {p.Rear.Known(), "rear"}, {p.Setback.Known(), "setback"}} {
		if !r.known {
			missing = append(missing, "placement."+r.name)
		}
	}
	return p.rows(), missing
}

// rows are the rows as geometry knows them, zero where one is not given.
func (p *Placement) rows() seat.Placement {
	return seat.Placement{
		LeftFront: p.LeftFront.Or(0), RightFront: p.RightFront.Or(0), Rear: p.Rear.Or(0), Setback: p.Setback.Or(0),
		Offset: p.Offset.Or(0), Heading: geom.Angle(p.Heading.Or(0)),
	}
}

// Seat returns the placement as geometry knows it; false when it lacks
// something.
func (p Placement) Seat() (seat.Placement, bool) { return p.rows(), p.complete() }

// complete reports whether all rows are given that a place cannot do without.
func (p *Placement) complete() bool {
	return p.LeftFront.Known() && p.RightFront.Known() && p.Rear.Known() && p.Setback.Known()
}

// Any reports whether any of the rows is given that a place cannot do without.
func (p Placement) Any() bool {
	return p.LeftFront.Known() || p.RightFront.Known() || p.Rear.Known() || p.Setback.Known()
}

// Elsewhere reports whether two placements differ in a row that both have: one
// that is not complete still tells a move.
func (p Placement) Elsewhere(q Placement) bool {
	if !p.Any() || !q.Any() {
		return false
	}
	have := func(a, b quantity.LengthQ) bool { return a.Known() && b.Known() }
	s, t := p.rows(), q.rows()
	for _, r := range []struct {
		both bool
		same *float64
		as   float64
	}{
		{have(p.LeftFront, q.LeftFront), &s.LeftFront, t.LeftFront},
		{have(p.RightFront, q.RightFront), &s.RightFront, t.RightFront},
		{have(p.Rear, q.Rear), &s.Rear, t.Rear},
		{have(p.Setback, q.Setback), &s.Setback, t.Setback},
	} {
		if !r.both {
			*r.same = r.as
		}
	}
	return !SamePlace(s, t)
}

// FilledFrom is the placement with the rows that it lacks from another.
func (p Placement) FilledFrom(from Placement) Placement {
	if !p.Any() {
		return from
	}
	for _, r := range []struct {
		to *quantity.LengthQ
		as quantity.LengthQ
	}{{&p.LeftFront, from.LeftFront}, {&p.RightFront, from.RightFront}, {&p.Rear, from.Rear}, {&p.Setback, from.Setback}} {
		if !r.to.Known() {
			*r.to = r.as
		}
	}
	return p
}

// placementOf is Seat the other way round.
func placementOf(s seat.Placement) Placement {
	p := Placement{
		LeftFront:  quantity.MM(s.LeftFront),
		RightFront: quantity.MM(s.RightFront),
		Rear:       quantity.MM(s.Rear),
		Setback:    quantity.MM(s.Setback),
		Offset:     quantity.OffsetMM(s.Offset),
	}
	p.Heading.SetV(s.Heading.Rad())
	return p
}

// Placed returns a build that is this one with the powertrain standing
// somewhere else. Readings that do not say the whole of where it stood were
// taken where it stood before in the rows that they lack.
func (b *Build) Placed(p seat.Placement) *Build {
	c := *b
	c.Placement = placementOf(p)
	if _, ok := b.Placement.Seat(); !ok {
		return &c
	}
	own := false
	for i := range b.Readings {
		if !b.NeedsPlace(&b.Readings[i]) {
			continue
		}
		if !own {
			c.Readings, own = slices.Clone(b.Readings), true
		}
		r := &c.Readings[i]
		r.Placed = r.Placed.FilledFrom(b.Placement)
	}
	own = false
	for i := range b.Measurements {
		if !b.NeedsPlaceToo(&b.Measurements[i]) {
			continue
		}
		if !own {
			c.Measurements, own = slices.Clone(b.Measurements), true
		}
		m := &c.Measurements[i]
		m.Placed = m.Placed.FilledFrom(b.Placement)
	}
	return &c
}

// stated reports whether a row of it has a ±.
func (p Placement) stated() bool {
	for _, q := range []quantity.Gettable{&p.LeftFront, &p.RightFront, &p.Rear, &p.Setback, &p.Offset, &p.Heading} {
		if _, has := q.HalfWidth(); has {
			return true
		}
	}
	return false
}

// AlikeButPlaced reports whether c is b but for where its powertrain stands, which both
// say in full and without a ±, and no reading leaves open where it stood then.
func (b *Build) AlikeButPlaced(c *Build) bool {
	for _, x := range [2]*Build{b, c} {
		if _, _, err := x.Seat(); err != nil || x.Placement.stated() {
			return false
		}
		for i := range x.Readings {
			if x.NeedsPlace(&x.Readings[i]) {
				return false
			}
		}
		for i := range x.Measurements {
			if x.NeedsPlaceToo(&x.Measurements[i]) {
				return false
			}
		}
	}
	x, y := *b, *c
	x.Placement, y.Placement = Placement{}, Placement{}
	return reflect.DeepEqual(&x, &y)
}
