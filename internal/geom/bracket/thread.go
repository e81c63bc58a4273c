package bracket

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/spell"
)

const inch = geom.Inch

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
		{3, 0.5}, {4, 0.7}, {5, 0.8}, {6, 1}, {7, 1}, {8, 1.25}, {10, 1.5}, {12, 1.75}, {14, 2}, {16, 2},
		{18, 2.5}, {20, 2.5}, {22, 2.5}, {24, 3}, {27, 3}, {30, 3.5}, {33, 3.5}, {36, 4}, {39, 4},
	} {
		if c[0] == d {
			return c[1]
		}
	}
	return 0
}

var threadSigns = strings.NewReplacer("×", "x", ",", ".", " ", "", "\"", "")

// ParseThread reads "M10", "M10x1.25" or "3/8-16" (inches and threads per
// inch) for a part. Case, blanks, × and a decimal comma are accepted, a word
// such as UNC after an inch thread too.
func ParseThread(part, text string) (Thread, error) {
	bad := func(why string) (Thread, error) {
		return Thread{}, bad("bolt", part, "%q is no thread: %s; write M10, M10x1.25 or 3/8-16", spell.Clip(text), why)
	}
	s := threadSigns.Replace(strings.ToLower(text))
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
	return v, err == nil && v > 0 && v < geom.LimitLength
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
	if !geom.LengthOK(t.Diameter) || !(t.Pitch > 0 && t.Pitch <= t.Diameter/2) {
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

// Class returns the strength class of a bolt with this thread. Metric threads
// have 8.8, 10.9 and 12.9 (ISO 898-1), inch threads the grades 2, 5 and 8 (SAE
// J429), which may be written "grade 5". The shear shares are those of EN
// 1993-1-8, table 3.4 (from memory); a 12.9 and the SAE grades, which are not
// in it, take the share of the class next to them.
func (t Thread) Class(part, name string) (Class, error) {
	key := strings.TrimSpace(strings.TrimPrefix(strings.ToLower(strings.TrimSpace(name)), "grade"))
	key = strings.ReplaceAll(key, ",", ".")
	find, other, want := metricClass, gradeClass, "a metric bolt has 8.8, 10.9 or 12.9 on its head"
	if t.Unified {
		find, other, want = gradeClass, metricClass, "the head of an inch bolt is marked for grade 2, 5 or 8"
	}
	if t.Unified && t.Diameter > 1.5*inch*(1+1e-9) {
		return Class{}, bad("bolt", part, "the grades end at 1 1/2 inch; this is %.1f mm", t.Diameter)
	}
	if c, ok := find(key, t.Diameter); ok {
		return c, nil
	}
	if _, ok := other(key, t.Diameter); ok {
		return Class{}, bad("bolt", part, "strength %q does not go with the thread; %s", spell.Clip(name), want)
	}
	return Class{}, bad("bolt", part, "strength %q is not known; %s", spell.Clip(name), want)
}

func metricClass(key string, diameter float64) (Class, bool) {
	const from = "ISO 898-1"
	switch key {
	case "8.8":
		if diameter > 16 {
			return Class{"8.8", 600, 830, 800, 0.6, from}, true
		}
		return Class{"8.8", 580, 800, 800, 0.6, from}, true
	case "10.9":
		return Class{"10.9", 830, 1040, 1000, 0.5, from}, true
	case "12.9":
		return Class{"12.9", 970, 1220, 1200, 0.5, from}, true
	}
	return Class{}, false
}

// gradeClass returns an SAE grade: 2 is weaker above 3/4 inch, 5 above 1 inch.
func gradeClass(key string, diameter float64) (Class, bool) {
	const from = "SAE J429"
	over := func(in float64) bool { return diameter > in*inch*(1+1e-9) }
	grade := func(name string, proof, tensile, shearBy float64) (Class, bool) {
		return Class{"grade " + name, proof * ksi, tensile * ksi, tensile * ksi, shearBy, from}, true
	}
	switch {
	case key == "2" && over(0.75):
		return grade("2", 33, 60, 0.6)
	case key == "2":
		return grade("2", 55, 74, 0.6)
	case key == "5" && over(1):
		return grade("5", 74, 105, 0.6)
	case key == "5":
		return grade("5", 85, 120, 0.6)
	case key == "8":
		return grade("8", 120, 150, 0.5)
	}
	return Class{}, false
}
