package finding

import (
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// Shift is one error that is behind places of the survey: what a standard uncertainty
// of it moves, and how far.
type Shift struct {
	By uncertain.Number  // 0 with its ±: one source, standard uncertainty 1
	Of Estimate          // the same; its ends are two standard uncertainties off
	At map[string]r3.Vec // by path of the point that the survey places; mm, vehicle axes
	// Value is the path of the value of the file whose error it is, with a ± that the
	// survey hangs on; "" for what the survey itself leaves open.
	Value string
}

// Shifts are the errors behind places of the survey. They are independent; what two
// places share is in one of them, and what they share with a value of the file has the
// source of that value.
type Shifts []Shift

// ShiftBy is the error of that source, whose standard uncertainty is 1; it moves nothing
// yet.
func ShiftBy(from *uncertain.Sources, id uncertain.ID) Shift {
	return Shift{By: from.Number(0, uncertain.Part{Of: id, C: 1}), Of: Estimate{from, id, uncertain.Coverage}, At: map[string]r3.Vec{}}
}

// Moves is how far a point moves, mm: nothing where the survey has no part in it.
func (s Shift) Moves(p project.Point) r3.Vec {
	var out r3.Vec
	for _, t := range p.By {
		dot := strings.LastIndexByte(t.Path, '.')
		at, ok := s.At[t.Path[:dot]]
		if !ok {
			continue
		}
		by := [3]float64{at.X, at.Y, at.Z}[slices.Index(coordinateKeys, t.Path[dot+1:])]
		out = r3.Add(out, r3.Scale(by, t.Dir))
	}
	return out
}

var coordinateKeys = []string{"station", "offset", "height"}

// Open is the error of a point along the axes, 0 with its ± each.
func (all Shifts) Open(p project.Point) (x, y, z uncertain.Number) {
	var by [3][]uncertain.Weighted
	if len(p.By) > 0 {
		for _, s := range all {
			d := s.Moves(p)
			for k, v := range [3]float64{d.X, d.Y, d.Z} {
				if v != 0 {
					by[k] = append(by[k], uncertain.Weighted{K: v, N: s.By})
				}
			}
		}
	}
	return uncertain.Smooth(0, by[0]...), uncertain.Smooth(0, by[1]...), uncertain.Smooth(0, by[2]...)
}
