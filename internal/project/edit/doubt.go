package edit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// What makes a bare number worth asking about: it is this many times larger or
// smaller than what stood there or stands beside it, as a slip of the decimal
// point or of the unit makes it. Common practice, no source.
const (
	oddTimes  = 8
	oddLength = 100.0 // mm; below it a factor of ten is an everyday thing
)

// Doubt is a bare number that looks like a slip.
type Doubt struct {
	Path string
	Text string // what is odd, in words
}

// TypedDoubt says why a number typed for path without a unit looks like a slip;
// ok is false when it does not. With its unit behind it no number is doubted.
func TypedDoubt(f *project.File, path, typed string) (string, bool) {
	row, isRow := project.RowNamed(path)
	k, ok := project.KindAt(path)
	if !ok && isRow {
		k, ok = row.Kind, true
	}
	if !ok || HasUnit(typed) || strings.HasPrefix(path, "limits.") || strings.HasPrefix(path, "loads.") {
		return "", false
	}
	v, err := quantity.Parse(k, typed, f.Build.Units) // a ± is a unit here, and is gone above
	if err != nil {
		return "", false
	}
	shown := func(x float64) string { return quantity.Format(k, x, f.Build.Units, quantity.UsualDigits) }
	old, ok := f.QuantityAt(path, k)
	if !ok && isRow { // the file says it by the heights of the mounts
		if supports, at, err := f.Build.Seat(); err == nil {
			old, err = supports.Value(at, row.Row)
			ok = err == nil
		}
	}
	if ok && odd(k, v, old, old) {
		return fmt.Sprintf("%s is %s what stands there now, %s", shown(v), times(v, old), shown(old)), true
	}
	if low, high, ok := beside(f, path, k); ok && odd(k, v, low, high) {
		return besides(k, v, low, high, f.Build.Units), true
	}
	return "", false
}

// Doubts lists the bare numbers of the file that are many times off those beside
// them.
func Doubts(f *project.File) []Doubt {
	var out []Doubt
	for _, group := range groups(f) {
		for _, path := range group {
			n := f.Doc().Find(path)
			if n == nil || !bare(n) {
				continue
			}
			v, ok := f.QuantityAt(path, quantity.Length)
			if !ok {
				continue
			}
			if low, high, ok := beside(f, path, quantity.Length); ok && odd(quantity.Length, v, low, high) {
				out = append(out, Doubt{path, labelOf(f, path) + ": " + besides(quantity.Length, v, low, high, f.Build.Units)})
			}
		}
	}
	return out
}

// odd reports whether v is far above what is largest, or far below what is
// smallest, of the sizes it is held against. Turning the sign round is no matter
// here.
func odd(k quantity.Kind, v, low, high float64) bool {
	switch k {
	case quantity.Length, quantity.Offset:
		if max(math.Abs(v), math.Abs(high)) < oddLength {
			return false
		}
	case quantity.Mass, quantity.Force, quantity.Torque, quantity.Rate, quantity.Stress, quantity.Speed, quantity.RoadSpeed:
	default:
		return false
	}
	v, low, high = math.Abs(v), math.Abs(low), math.Abs(high)
	return v > 0 && low > 0 && (v >= oddTimes*high || v <= low/oddTimes)
}

func times(v, old float64) string {
	r := math.Abs(v / old)
	if r >= 1 {
		return fmt.Sprintf("%.3g times", r)
	}
	return fmt.Sprintf("one %.3gth of", 1/r)
}

func besides(k quantity.Kind, v, low, high float64, u quantity.Units) string {
	shown := func(x float64) string { return quantity.Format(k, x, u, quantity.UsualDigits) }
	near := shown(low)
	if low != high {
		near += " to " + shown(high)
	}
	return fmt.Sprintf("%s, and what stands beside it is %s", shown(v), near)
}

// beside is the smallest and the largest size, without sign, of the bare numbers
// that stand beside the value at path. A neighbour of nothing says nothing, and
// one with its unit was meant as it is.
func beside(f *project.File, path string, k quantity.Kind) (low, high float64, ok bool) {
	for _, group := range groups(f) {
		if !slices.Contains(group, path) {
			continue
		}
		for _, other := range group {
			if n := f.Doc().Find(other); n == nil || !bare(n) {
				continue
			}
			if v, known := f.QuantityAt(other, k); known && v != 0 && other != path {
				v = math.Abs(v)
				if !ok {
					low, high, ok = v, v, true
				}
				low, high = min(low, v), max(high, v)
			}
		}
	}
	return low, high, ok
}

// groups are the lengths that are alike in every vehicle: what the front mounts
// stand at, the two sides of a pair, the rails' height and offset along them.
func groups(f *project.File) [][]string {
	out := [][]string{{"placement.left_front", "placement.right_front"}}
	for i := range 3 {
		out = append(out, []string{fmt.Sprintf("powertrain.pads.left_front[%d]", i), fmt.Sprintf("powertrain.pads.right_front[%d]", i)})
	}
	var offsets []string
	for side, r := range map[string]project.Rail{"left": f.Build.Rails.Left, "right": f.Build.Rails.Right} {
		for i := range r.Points {
			offsets = append(offsets, fmt.Sprintf("rails.%s.points[%d][1]", side, i))
		}
	}
	slices.Sort(offsets)
	return append(out, offsets)
}
