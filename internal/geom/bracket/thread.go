package bracket

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Thread is a screw thread, mm. Unified threads are the inch ones.
type Thread struct {
	Name     string
	Diameter float64
	Pitch    float64
	Unified  bool
}

// coarse returns the coarse pitch of a metric diameter (ISO 261, from memory),
// or 0 where none is held.
func coarse(d float64) float64 {
	for _, c := range [...][2]float64{
		{4, 0.7}, {5, 0.8}, {6, 1}, {8, 1.25}, {10, 1.5}, {12, 1.75}, {14, 2}, {16, 2},
		{18, 2.5}, {20, 2.5}, {22, 2.5}, {24, 3}, {27, 3}, {30, 3.5},
	} {
		if c[0] == d {
			return c[1]
		}
	}
	return 0
}

// ParseThread reads "M10", "M10x1.25" or "3/8-16" (inches and threads per
// inch) for a part. Case, blanks, × and a decimal comma are accepted, a word
// such as UNC after an inch thread too.
func ParseThread(part, text string) (Thread, error) {
	bad := func(why string) (Thread, error) {
		return Thread{}, bad("bolt", part, "%q is no thread: %s; write M10, M10x1.25 or 3/8-16", clip(text), why)
	}
	s := strings.NewReplacer("×", "x", ",", ".", " ", "", "\"", "").Replace(strings.ToLower(text))
	for _, word := range []string{"unc", "unf", "un"} {
		s = strings.TrimSuffix(s, word)
	}
	if rest, ok := strings.CutPrefix(s, "m"); ok {
		size, pitch, fine := strings.Cut(rest, "x")
		d, ok := decimal(size)
		if !ok || d < 1 || d > 100 {
			return bad("the diameter is not a size")
		}
		p := 0.0
		if fine {
			if p, ok = decimal(pitch); !ok {
				return bad("the pitch is not a number")
			}
		} else if p = coarse(d); p == 0 {
			return bad("no coarse pitch is held for this size, give it")
		}
		if p < 0.2 || p > d/4 {
			return bad("the pitch does not suit the diameter")
		}
		return Thread{Name: fmt.Sprintf("M%gx%g", d, p), Diameter: d, Pitch: p}, nil
	}
	i := strings.LastIndex(s, "-")
	if i < 0 {
		return bad("it has neither an M nor threads per inch")
	}
	d, ok := inches(s[:i])
	n, ok2 := decimal(s[i+1:])
	if !ok || !ok2 || d < 0.1 || d > 4 || n < 3 || n > 80 || n*d < 3 {
		return bad("diameter or threads per inch is not a size")
	}
	return Thread{Name: s, Diameter: d * inch, Pitch: inch / n, Unified: true}, nil
}

// decimal reads a plain positive decimal; signs, exponents and words are not
// numbers here.
func decimal(s string) (float64, bool) {
	if s == "" || strings.Trim(s, "0123456789.") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && v > 0 && v < limitLength
}

// inches reads 0.375, 3/8, 1 or 1-1/8.
func inches(s string) (float64, bool) {
	whole := 0.0
	if w, frac, ok := strings.Cut(s, "-"); ok {
		if whole, ok = decimal(w); !ok {
			return 0, false
		}
		s = frac
	}
	top, bottom, ok := strings.Cut(s, "/")
	a, okA := decimal(top)
	if !ok {
		return whole + a, okA
	}
	b, okB := decimal(bottom)
	if !okA || !okB {
		return 0, false
	}
	return whole + a/b, true
}

// StressArea returns the tensile stress area, mm². Metric: π/4 ((d2+d3)/2)²
// with d2 = d − 3/4 H and d3 = d − 17/12 H, H = √3/2 P (ISO 898-1). Unified:
// π/4 (d − 0.9743/n)² (ASME B1.1).
func (t Thread) StressArea(part string) (float64, error) {
	if !lengthOK(t.Diameter) || !(t.Pitch > 0 && t.Pitch <= t.Diameter/2) {
		return 0, bad("bolt", part, "a thread of %g mm with a pitch of %g mm is none", t.Diameter, t.Pitch)
	}
	d := t.Diameter - 0.9743*t.Pitch
	if !t.Unified {
		h := math.Sqrt(3) / 2 * t.Pitch
		d2, d3 := t.Diameter-0.75*h, t.Diameter-17./12*h
		d = (d2 + d3) / 2
	}
	return math.Pi / 4 * d * d, nil
}

// Class is a strength class of bolts, MPa.
type Class struct {
	Name    string
	Proof   float64 // proof stress
	Tensile float64 // least tensile strength
	Nominal float64 // tensile strength the design code calculates with
	ShearBy float64 // share of Nominal that a thread in shear may use
	Source  string
}

// ksi in MPa.
const ksi = 6.894757293168

// FindClass returns the strength class for a bolt of a diameter (mm): 8.8,
// 10.9 and 12.9 after ISO 898-1, 5 and 8 after SAE J429. The shear shares are
// those of EN 1993-1-8, table 3.4 (from memory); a 12.9 and the SAE grades,
// which are not in it, take the share of the class next to them.
func FindClass(part, name string, diameter float64) (Class, error) {
	const iso, sae = "ISO 898-1", "SAE J429"
	key := strings.TrimSpace(strings.TrimPrefix(strings.ToLower(strings.TrimSpace(name)), "grade"))
	switch key {
	case "8.8":
		if diameter > 16 {
			return Class{"8.8", 600, 830, 800, 0.6, iso}, nil
		}
		return Class{"8.8", 580, 800, 800, 0.6, iso}, nil
	case "10.9":
		return Class{"10.9", 830, 1040, 1000, 0.5, iso}, nil
	case "12.9":
		return Class{"12.9", 970, 1220, 1200, 0.5, iso}, nil
	case "5":
		if diameter > inch*(1+1e-9) {
			return Class{}, bad("bolt", part, "grade 5 is held here up to 1 inch only; this is %.1f mm", diameter)
		}
		return Class{"grade 5", 85 * ksi, 120 * ksi, 120 * ksi, 0.6, sae}, nil
	case "8":
		return Class{"grade 8", 120 * ksi, 150 * ksi, 150 * ksi, 0.5, sae}, nil
	}
	return Class{}, bad("bolt", part, "strength %q is not known; the head says 8.8, 10.9 or 12.9, or is marked for grade 5 or 8", clip(name))
}
