package travel

import (
	"errors"
	"fmt"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// SlipShaft is the propeller shaft that ends at the pinion, with its slip
// joint. Fixed is the centre of the joint at its other end, held by the chassis
// (gearbox output or centre bearing), vehicle axes, mm.
type SlipShaft struct {
	Fixed r3.Vec
	// Collapsed is the length between joint centres with the slip joint home,
	// Extended that with the least engagement allowed, mm.
	Collapsed, Extended float64
}

// SlipPoint is the shaft at one rise.
type SlipPoint struct {
	Rise   float64
	Length float64 // between joint centres, mm
	Change float64 // Length less that at ride height, mm; positive pulls out
}

// SlipReport is the slip joint over the travel. A margin is what is left, mm;
// negative is beyond the end.
type SlipReport struct {
	Points            []SlipPoint
	Ride              float64   // length at ride height, mm
	Shortest, Longest SlipPoint // among the points
	BottomMargin      float64   // Shortest less Collapsed
	PullMargin        float64   // Extended less Longest
	Bottoms, PullsOut bool
}

// Over follows the shaft over a sweep of the axle. Between the points the
// length can go beyond the extremes by about step²/(8·length), which is some
// thousandths of a millimetre for steps of 5 mm.
func (s SlipShaft) Over(points []Point) (SlipReport, error) {
	var r SlipReport
	if err := checkPoint("fixed joint of the shaft", s.Fixed); err != nil {
		return r, err
	}
	if !geom.Finite(s.Collapsed, s.Extended) || s.Collapsed <= 0 || s.Extended <= s.Collapsed {
		return r, fmt.Errorf("slip joint: collapsed length %g mm and extended length %g mm were read; the extended one has to be the longer, both above zero", s.Collapsed, s.Extended)
	}
	if len(points) == 0 {
		return r, errors.New("slip joint: there are no points to follow")
	}
	ride := points[0].Motion.Own(points[0].PinionAt) // the motion taken back
	r.Ride = r3.Norm(r3.Sub(ride, s.Fixed))
	r.Points = make([]SlipPoint, len(points))
	for i, p := range points {
		n := r3.Norm(r3.Sub(p.PinionAt, s.Fixed))
		if !(n >= 1) {
			return SlipReport{}, fmt.Errorf("propeller shaft: at a rise of %.1f mm its joints come together; check the fixed joint", p.Rise)
		}
		q := SlipPoint{Rise: p.Rise, Length: n, Change: n - r.Ride}
		r.Points[i] = q
		if i == 0 || n < r.Shortest.Length {
			r.Shortest = q
		}
		if i == 0 || n > r.Longest.Length {
			r.Longest = q
		}
	}
	r.BottomMargin = r.Shortest.Length - s.Collapsed
	r.PullMargin = s.Extended - r.Longest.Length
	r.Bottoms, r.PullsOut = r.BottomMargin < 0, r.PullMargin < 0
	return r, nil
}
