package shaft

import (
	"math"

	"fitup/internal/geom"
)

// Limits in circulation: rules of thumb, to be shown as such. Which of them to
// apply is not decided here.
const (
	// Residual torsional acceleration of a whole line, rad/s²: SAE AE-7,
	// Universal Joint and Driveshaft Design Manual, as usually quoted (from
	// memory).
	ResidualCar   = 300.0
	ResidualTruck = 400.0
	// InertiaLimit of the shaft behind one joint, drive or coast, rad/s². Same
	// source, from memory.
	InertiaLimit = 1000.0
)

// Sources of the limits, in words for a reader.
const (
	SourceSpeedTable   = "driveline service literature, from memory: rule of thumb"
	SourceAcceleration = "SAE AE-7 as usually quoted, from memory: rule of thumb"
)

// SpeedAngle is one row of the table of operating angles.
type SpeedAngle struct {
	Speed float64 // rad/s
	Angle geom.Angle
}

// speedTable is the largest operating angle of a joint by shaft speed, as
// driveline service literature prints it (from memory), slowest first. Each
// row is close to InertiaLimit at that speed (880 to 1020 rad/s²): it is a
// limit on one joint, not on what two joints leave.
func speedTable() [8]SpeedAngle {
	return [...]SpeedAngle{
		{1500 * RPM, 11.5 * geom.Deg},
		{2000 * RPM, (8 + 2.0/3) * geom.Deg},
		{2500 * RPM, 7 * geom.Deg},
		{3000 * RPM, (5 + 5.0/6) * geom.Deg},
		{3500 * RPM, 5 * geom.Deg},
		{4000 * RPM, 4.25 * geom.Deg},
		{4500 * RPM, (3 + 2.0/3) * geom.Deg},
		{5000 * RPM, 3.25 * geom.Deg},
	}
}

// OperatingAngle reads the table of operating angles at a speed (rad/s), in straight lines between
// rows. Slower than the table its first angle stays the limit; faster, the
// angle falls off with the speed so that the acceleration of the last row is
// kept.
func OperatingAngle(speed float64) (geom.Angle, error) {
	if err := above("shaft speed", speed, "rad/s"); err != nil {
		return 0, err
	}
	t := speedTable()
	last := t[len(t)-1]
	switch {
	case speed <= t[0].Speed:
		return t[0].Angle, nil
	case speed >= last.Speed:
		return last.Angle * geom.Angle(last.Speed/speed), nil
	}
	i := 1
	for speed > t[i].Speed {
		i++
	}
	part := (speed - t[i-1].Speed) / (t[i].Speed - t[i-1].Speed)
	return t[i-1].Angle + geom.Angle(part)*(t[i].Angle-t[i-1].Angle), nil
}

// SmallAngleFor returns the equivalent joint angle whose acceleration (rad/s²)
// at a speed (rad/s) is the given one by the small-angle rule, √a/ω: the form
// the rules of thumb are stated in. It is compared with Shaft.SmallAngle.
func SmallAngleFor(acceleration, speed float64) (geom.Angle, error) {
	if err := above("acceleration", acceleration, "rad/s²"); err != nil {
		return 0, err
	}
	if err := above("speed", speed, "rad/s"); err != nil {
		return 0, err
	}
	a := math.Sqrt(acceleration) / speed
	return geom.Angle(a), above("angle", a, "rad")
}

// AngleFor returns the exact angle below 90° of the Cardan joint whose peak
// acceleration at a speed (rad/s) is the given one (rad/s²). It is compared
// with Ripple.Angle.
func AngleFor(acceleration, speed float64) (geom.Angle, error) {
	small, err := SmallAngleFor(acceleration, speed)
	if err != nil {
		return 0, err
	}
	want := small.Rad() * small.Rad()
	// The peak is never less than β², so the small-angle answer is an upper end.
	low, high := 0.0, math.Min(small.Rad(), math.Pi/2)
	for range 80 {
		mid := (low + high) / 2
		t := math.Tan(mid / 2)
		if (Ripple{t * t}).Peak() < want {
			low = mid
		} else {
			high = mid
		}
	}
	return geom.Angle(low), nil
}
