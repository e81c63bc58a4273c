package quantity

import "strconv"

// Power writes an area, a modulus or a second moment, given in mm to a power, with three
// figures in the unit that section tables go with: cm, or inches for a file in inches.
// The unit stands apart, such as cm4.
func Power(v float64, power int, u Units) (text, unit string) {
	mm, name := 10.0, "cm"
	switch UnitName(Length, u) {
	case "in", "ft", "thou":
		mm, name = 25.4, "in"
	}
	for range power {
		v /= mm
	}
	digits := 0
	for s := v; s != 0 && s < 100 && s > -100 && digits < 5; s *= 10 {
		digits++
	}
	return strconv.FormatFloat(v, 'f', digits, 64), name + strconv.Itoa(power)
}
