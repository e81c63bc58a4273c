package finding

import (
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Value is one number under a dotted name, internal unit of Kind.
type Value struct {
	Name  string
	Kind  quantity.Kind
	V     float64
	Known bool
}

// List collects the numbers a screen or a command can show.
type List []Value

// Add lists a number that is known.
func (l *List) Add(name string, k quantity.Kind, v float64) {
	l.Put(name, k, v, true)
}

// Put lists a number that may be missing.
func (l *List) Put(name string, k quantity.Kind, v float64, known bool) {
	*l = append(*l, Value{name, k, v, known})
}

// Number lists a number as a trade hands it on, without its uncertainty.
func (l *List) Number(name string, k quantity.Kind, m Number) {
	l.Put(name, k, m.V, m.Known)
}

// Point lists a point in vehicle axes (mm).
func (l *List) Point(name string, p r3.Vec) {
	l.Add(name+".station", quantity.Length, p.X)
	l.Add(name+".offset", quantity.Offset, p.Y)
	l.Add(name+".height", quantity.Length, p.Z)
}

// Uncertainty lists the standard uncertainty of a number and the expanded one.
func (l *List) Uncertainty(name string, k quantity.Kind, m Number) {
	l.Put(name+".standard_uncertainty", k, m.U(), m.Known)
	l.Put(name+".uncertainty", k, m.Expanded(), m.Known)
}

// Finding lists value, uncertainty, limit and margin of a finding.
func (l *List) Finding(f Finding) {
	l.Put(f.ID+".value", f.Kind, f.Value, f.HasValue)
	if f.Uncertainty > 0 {
		l.Add(f.ID+".uncertainty", Unsigned(f.Kind), f.Uncertainty)
	}
	if f.HasLimit {
		l.Add(f.ID+".limit", f.Kind, f.Limit)
		l.Put(f.ID+".margin", f.Kind, f.Margin, f.HasValue)
	}
}

// Unsigned is the kind of a width of values of kind k, such as an uncertainty:
// it reaches both ways and so has no direction.
func Unsigned(k quantity.Kind) quantity.Kind {
	switch k {
	case quantity.Slope, quantity.Heading:
		return quantity.Angle
	case quantity.Offset:
		return quantity.Length
	}
	return k
}

// PlaceOf is a place by its three numbers: station, offset and height.
func PlaceOf(p [3]Number) r3.Vec { return r3.Vec{X: p[0].V, Y: p[1].V, Z: p[2].V} }
