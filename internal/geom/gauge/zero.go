package gauge

// Way is a direction in the upright plane along an axis.
type Way uint8

// The ways that the marked end of a gauge points and the surface under it looks.
const (
	WayUnknown Way = iota
	ToFront
	ToRear
	Upward
	Downward
)

// vector is the way as rearward and upward parts.
func (w Way) vector() (rear, up int) {
	switch w {
	case ToFront:
		return -1, 0
	case ToRear:
		return 1, 0
	case Upward:
		return 0, 1
	case Downward:
		return 0, -1
	}
	return 0, 0
}

// ZeroSign says how an error of the gauge's zero comes into a slope, down to the
// rear positive: +1 when it adds, -1 when it takes away, 0 when that cannot be
// told. An error is positive when the gauge shows its marked end too low while it
// stands on a level surface. marked is the way the marked end points, outward the
// way the surface looks on which the gauge stands, out of the part.
//
// A gauge senses gravity in its own frame, so its error has a sense of rotation:
// it is that from the marked end to the outward side. The sign is that of the
// rotation in the vehicle, rearward to upward positive.
func ZeroSign(marked, outward Way) int {
	mr, mu := marked.vector()
	or, ou := outward.vector()
	return mr*ou - mu*or
}
