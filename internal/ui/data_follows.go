package ui

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// follows says where in the vehicle the point lies that a row belongs to or names, which
// follows from what was measured and is never written; "" for rows without one.
func (d *dataPage) follows(m *Model) string {
	sec, row, ok := d.Here()
	if !ok {
		return ""
	}
	name := sec.Path
	if p := strings.TrimSpace(row.Text); strings.HasPrefix(p, "point.") {
		name = p
	}
	b := m.now.Build
	p, ok := b.PointNamed(name)
	switch {
	case !ok:
		return ""
	case !p.Known && p.Why != "":
		return fmt.Sprintf("Where %s lies is not known: %s.", name, p.Why)
	case !p.Known:
		return fmt.Sprintf("Where %s lies is not known yet.", name)
	}
	return fmt.Sprintf("So %s lies at %s.", name, placeWords(b.Units, p.At, halves(b, p)))
}

// halves are the half-widths of the ± of a placed point, 0 where none is stated.
func halves(b *project.Build, p project.PlacedPoint) r3.Vec {
	if p.Waits != "" {
		return r3.Vec{}
	}
	return b.HalfWidths(p)
}

// placeWords says a place from the vehicle's zero, each coordinate with its ± where one
// is stated.
func placeWords(u quantity.Units, at, half r3.Vec) string {
	one := func(k quantity.Kind, v, half float64) string {
		text := quantity.Format(k, v, u, quantity.UsualDigits)
		if half > 0 {
			text += " ±" + quantity.Format(quantity.Length, half, u, quantity.UsualDigits)
		}
		return text
	}
	return fmt.Sprintf("station %s, offset %s, height %s from the vehicle's zero",
		one(quantity.Length, at.X, half.X), one(quantity.Offset, at.Y, half.Y), one(quantity.Length, at.Z, half.Z))
}
