// Package bolt works out what a bolt is tightened to when its maker gives no
// figure: stress area and proof stress of a thread, preload, torque. Screening
// figures; a maker's figure comes first.
package bolt

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Thread is a thread of the ISO metric or the unified inch series, mm.
type Thread struct {
	Diameter float64 // nominal
	Pitch    float64
	Inch     bool
}

// Bounds of what is taken for a bolt of a vehicle. Common practice, no source.
const minDiameter, maxDiameter = 3.0, 40.0

// coarse is the coarse pitch of each metric size, mm (ISO 261).
var coarse = map[float64]float64{
	3: 0.5, 4: 0.7, 5: 0.8, 6: 1, 7: 1, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2, 16: 2, 18: 2.5, 20: 2.5, 22: 2.5,
	24: 3, 27: 3, 30: 3.5, 33: 3.5, 36: 4, 39: 4,
}

// Parse reads a thread as it is spoken of: M10, M10x1.25, 3/8-16, 1/2-13 UNC.
func Parse(text string) (Thread, error) {
	s := strings.ToUpper(strings.Join(strings.Fields(text), ""))
	bad := fmt.Errorf("%q is no thread fitup knows; write it like M10, M10x1.25 or 3/8-16", text)
	var t Thread
	var ok bool
	if rest, metric := strings.CutPrefix(s, "M"); metric {
		t, ok = metricThread(rest)
	} else {
		t, ok = inchThread(s)
	}
	if !ok {
		return Thread{}, bad
	}
	if !(t.Diameter >= minDiameter && t.Diameter <= maxDiameter) {
		return Thread{}, fmt.Errorf("%q: a bolt between %g mm and %g mm is wanted", text, minDiameter, maxDiameter)
	}
	if !(t.Pitch > 0 && t.Pitch < t.Diameter/2) {
		return Thread{}, fmt.Errorf("%q: the pitch does not go with the diameter", text)
	}
	return t, nil
}

func metricThread(s string) (Thread, bool) {
	s = strings.NewReplacer("×", "X", ",", ".").Replace(s)
	d, p, fine := strings.Cut(s, "X")
	t := Thread{}
	var ok bool
	if t.Diameter, ok = number(d); !ok {
		return t, false
	}
	if fine {
		t.Pitch, ok = number(p)
		return t, ok
	}
	t.Pitch, ok = coarse[t.Diameter]
	return t, ok
}

// inchThread reads a diameter in inches, as a fraction, and threads per inch.
func inchThread(s string) (Thread, bool) {
	for _, series := range []string{"UNC", "UNF", "UN"} {
		s = strings.TrimSuffix(s, series)
	}
	s = strings.ReplaceAll(s, "\"", "")
	d, n, both := strings.Cut(s, "-")
	if !both {
		return Thread{}, false
	}
	top, bottom, fraction := strings.Cut(d, "/")
	in, ok := number(top)
	if fraction {
		b, ok2 := number(bottom)
		ok = ok && ok2 && b > 0
		in /= b
	}
	per, ok2 := number(n)
	if !ok || !ok2 || per <= 0 {
		return Thread{}, false
	}
	return Thread{Diameter: 25.4 * in, Pitch: 25.4 / per, Inch: true}, true
}

func number(s string) (float64, bool) {
	if s == "" || strings.Trim(s, "0123456789.") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// StressArea returns the tensile stress area, mm²: π/4·(d − 0.9382·P)²
// (ISO 898-1), for inch threads π/4·(d − 0.9743·P)² (SAE J429).
func (t Thread) StressArea() float64 {
	k := 0.9382
	if t.Inch {
		k = 0.9743
	}
	d := t.Diameter - k*t.Pitch
	return math.Pi / 4 * d * d
}

const ksi = 6.894757293168 // MPa

// ErrNoClass says that a bolt's strength is not known.
var ErrNoClass = errors.New("the class is not known; read it off the head: 8.8, 10.9 or 12.9, or the grade 2, 5 or 8 of an inch bolt")

// Proof returns the proof stress, MPa, of a property class (ISO 898-1: 8.8,
// 10.9, 12.9) or grade (SAE J429: 2, 5, 8), which may be written "grade 5".
func (t Thread) Proof(class string) (float64, error) {
	c := strings.TrimSpace(strings.TrimPrefix(strings.ToLower(strings.TrimSpace(class)), "grade"))
	c = strings.ReplaceAll(c, ",", ".")
	in := t.Diameter / 25.4
	if t.Inch {
		switch {
		case c == "2" && in <= 0.75:
			return 55 * ksi, nil
		case c == "2":
			return 33 * ksi, nil
		case c == "5" && in <= 1:
			return 85 * ksi, nil
		case c == "5":
			return 74 * ksi, nil
		case c == "8":
			return 120 * ksi, nil
		}
		return 0, ErrNoClass
	}
	switch {
	case c == "8.8" && t.Diameter <= 16:
		return 580, nil
	case c == "8.8":
		return 600, nil
	case c == "10.9":
		return 830, nil
	case c == "12.9":
		return 970, nil
	}
	return 0, ErrNoClass
}

// UsualK is the nut factor of a plain, dry bolt: common practice, no source.
// It is good for 25 % either way.
const UsualK = 0.2

// PreloadShare is the part of the proof load that a bolt which is taken out
// again is tightened to: common practice, as SAE J429 charts have it.
const PreloadShare = 0.75

// Tightening is what a bolt is tightened to.
type Tightening struct {
	Proof   float64 // proof load, N
	Preload float64 // N
	Torque  float64 // N·mm
}

// Tighten returns preload and torque of a bolt: F = 0.75·Sp·As, T = K·d·F.
func Tighten(t Thread, class string, k float64) (Tightening, error) {
	if !(k >= 0.05 && k <= 0.5) {
		return Tightening{}, fmt.Errorf("a nut factor of %g: between 0.05 and 0.5 is wanted, 0.2 for a dry bolt", k)
	}
	s, err := t.Proof(class)
	if err != nil {
		return Tightening{}, err
	}
	proof := s * t.StressArea()
	f := PreloadShare * proof
	return Tightening{Proof: proof, Preload: f, Torque: k * t.Diameter * f}, nil
}
