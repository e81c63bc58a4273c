package shaft

// Balance quality grades of ISO 21940-11:2016 table 1, mm/s.
const (
	GradeShaft    = 16.0 // drive shafts (cardan shafts, propeller shafts)
	GradeCarShaft = 40.0 // cars: wheels, wheel rims, wheel sets, drive shafts
)

// Eccentricity returns the permissible residual specific unbalance (mm, the
// same number as 1000 g·mm/kg) of a balance quality grade (mm/s) at a speed
// (rad/s): G/ω, ISO 21940-11:2016.
func Eccentricity(grade, speed float64) (float64, error) {
	if err := above("balance grade", grade, "mm/s"); err != nil {
		return 0, err
	}
	if err := above("speed", speed, "rad/s"); err != nil {
		return 0, err
	}
	e := grade / speed
	return e, above("permissible unbalance", e, "mm")
}

// Unbalance returns the permissible residual unbalance (g·mm) of a rotor of
// the given mass (kg): 1000·G·m/ω, ISO 21940-11:2016. It is for the whole
// rotor; each of two planes gets half.
func Unbalance(grade, mass, speed float64) (float64, error) {
	if err := above("mass", mass, "kg"); err != nil {
		return 0, err
	}
	e, err := Eccentricity(grade, speed)
	if err != nil {
		return 0, err
	}
	u := 1000 * e * mass
	return u, above("permissible unbalance", u, "g·mm")
}
