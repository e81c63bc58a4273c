package quantity

import "fitup/internal/geom"

// Dim is a kind of quantity as a type, so that a length cannot be handed over
// where a mass is wanted.
type Dim interface{ Kind() Kind }

// Q is a quantity that may not be known. The zero value is not known. Values
// are in internal units, see the package comment.
type Q[D Dim] struct {
	v, half float64
	known   bool
}

// Of returns the known quantity v (internal units).
func Of[D Dim](v float64) Q[D] { return Q[D]{v: v, known: true} }

// V returns the value in internal units, 0 when it is not known.
func (q Q[D]) V() float64 { return q.v }

// Known reports whether there is a value.
func (q Q[D]) Known() bool { return q.known }

// Or returns the value, or d (internal units) when it is not known.
func (q Q[D]) Or(d float64) float64 {
	if !q.known {
		return d
	}
	return q.v
}

// Get returns the value and whether it is known.
func (q Q[D]) Get() (float64, bool) { return q.v, q.known }

// Kind returns what the quantity measures.
func (q Q[D]) Kind() Kind {
	var d D
	return d.Kind()
}

// Format writes the quantity as the function Format does; "not known" when
// there is no value.
func (q Q[D]) Format(u Units, digits int) string {
	if !q.known {
		return notKnown
	}
	return Format(q.Kind(), q.v, u, digits)
}

// HalfWidth returns the half-width of the ± that was typed with the value
// (internal units), and whether one was: without one nothing is said of how sure
// the value is.
func (q Q[D]) HalfWidth() (float64, bool) { return q.half, q.half > 0 }

// SetV makes v (internal units) the value, without a ±: one that was typed was
// of the value before.
func (q *Q[D]) SetV(v float64) { *q = Of[D](v) }

// SetStated makes s the value, with its ±.
func (q *Q[D]) SetStated(s Stated) { *q = Q[D]{v: s.V, half: s.Half, known: true} }

// Clear makes the quantity not known.
func (q *Q[D]) Clear() { *q = Q[D]{} }

// Gettable is any Q, read without knowing what it measures.
type Gettable interface {
	Kind() Kind
	Get() (float64, bool)
	HalfWidth() (float64, bool)
}

// Settable is a pointer to any Q, so that reflection can fill it without
// knowing what it measures.
type Settable interface {
	Gettable
	SetV(v float64)
	SetStated(s Stated)
	Clear()
}

type (
	lengthDim              struct{}
	offsetDim              struct{}
	angleDim               struct{}
	slopeDim               struct{}
	headingDim             struct{}
	massDim                struct{}
	forceDim               struct{}
	torqueDim              struct{}
	speedDim               struct{}
	roadSpeedDim           struct{}
	rateDim                struct{}
	stressDim              struct{}
	frequencyDim           struct{}
	angularAccelerationDim struct{}
	unbalanceDim           struct{}
	densityDim             struct{}
	numberDim              struct{}
	temperatureDim         struct{}
	inertiaDim             struct{}
)

func (lengthDim) Kind() Kind              { return Length }
func (offsetDim) Kind() Kind              { return Offset }
func (angleDim) Kind() Kind               { return Angle }
func (slopeDim) Kind() Kind               { return Slope }
func (headingDim) Kind() Kind             { return Heading }
func (massDim) Kind() Kind                { return Mass }
func (forceDim) Kind() Kind               { return Force }
func (torqueDim) Kind() Kind              { return Torque }
func (speedDim) Kind() Kind               { return Speed }
func (roadSpeedDim) Kind() Kind           { return RoadSpeed }
func (rateDim) Kind() Kind                { return Rate }
func (stressDim) Kind() Kind              { return Stress }
func (frequencyDim) Kind() Kind           { return Frequency }
func (angularAccelerationDim) Kind() Kind { return AngularAcceleration }
func (unbalanceDim) Kind() Kind           { return Unbalance }
func (densityDim) Kind() Kind             { return Density }
func (numberDim) Kind() Kind              { return Number }
func (temperatureDim) Kind() Kind         { return Temperature }
func (inertiaDim) Kind() Kind             { return Inertia }

// One name per kind of optional quantity.
type (
	// LengthQ is a length that may not be known.
	LengthQ = Q[lengthDim]
	// OffsetQ is an offset that may not be known.
	OffsetQ = Q[offsetDim]
	// AngleQ is an angle that may not be known.
	AngleQ = Q[angleDim]
	// SlopeQ is a slope that may not be known.
	SlopeQ = Q[slopeDim]
	// HeadingQ is a heading that may not be known.
	HeadingQ = Q[headingDim]
	// MassQ is a mass that may not be known.
	MassQ = Q[massDim]
	// ForceQ is a force that may not be known.
	ForceQ = Q[forceDim]
	// TorqueQ is a torque that may not be known.
	TorqueQ = Q[torqueDim]
	// SpeedQ is a shaft speed that may not be known.
	SpeedQ = Q[speedDim]
	// RoadSpeedQ is a road speed that may not be known.
	RoadSpeedQ = Q[roadSpeedDim]
	// RateQ is a spring rate that may not be known.
	RateQ = Q[rateDim]
	// StressQ is a stress that may not be known.
	StressQ = Q[stressDim]
	// FrequencyQ is a frequency that may not be known.
	FrequencyQ = Q[frequencyDim]
	// AngularAccelerationQ is an angular acceleration that may not be known.
	AngularAccelerationQ = Q[angularAccelerationDim]
	// UnbalanceQ is an unbalance that may not be known.
	UnbalanceQ = Q[unbalanceDim]
	// DensityQ is a density that may not be known.
	DensityQ = Q[densityDim]
	// NumberQ is a plain number that may not be known.
	NumberQ = Q[numberDim]
	// TemperatureQ is a temperature that may not be known.
	TemperatureQ = Q[temperatureDim]
	// InertiaQ is a moment of inertia that may not be known.
	InertiaQ = Q[inertiaDim]
)

// angular is the set of kinds measured as angles.
type angular interface {
	angleDim | slopeDim | headingDim
	Dim
}

// AsAngle returns an angle, slope or heading as a geom.Angle, 0 when it is
// not known.
func AsAngle[D angular](q Q[D]) geom.Angle { return geom.Angle(q.v) }

// MM returns a length of v mm.
func MM(v float64) LengthQ { return Of[lengthDim](v) }

// OffsetMM returns an offset of v mm, right positive.
func OffsetMM(v float64) OffsetQ { return Of[offsetDim](v) }

// Degrees returns an angle of v degrees.
func Degrees(v float64) AngleQ { return Of[angleDim](v * deg) }

// Ratio returns a plain number.
func Ratio(v float64) NumberQ { return Of[numberDim](v) }
