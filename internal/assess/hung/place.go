package hung

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/rigid"
	"fitup/internal/geom/snoop"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// suspectPlace notes that the place of a point of the vehicle does not fit what was measured
// from it, which all fits with another place; and which measurement that it rests on would
// have to be wrong for that.
func (h *hanging) suspectPlace(x snoop.Suspect[*fitted]) {
	path := h.known[x.Known]
	f := x.Without
	part := len(h.bodies) + slices.Index(f.freed, x.Known)
	first := f.group.First(part)
	is := f.poses[part].At
	was := h.placeOf(path)
	for u, c := range [rigid.Heading]*float64{&is.X, &is.Y, &is.Z} { // what nothing measures stays where the search began
		for _, move := range f.free {
			if move[first+u] != 0 {
				*c = [rigid.Heading]float64{was.X, was.Y, was.Z}[u]
			}
		}
	}
	s := Suspect{Taken: Taken{Name: "where " + finding.SpokenPoint(path) + " lies", Index: -1, Reading: -1}, Place: path, Shift: r3.Sub(is, was), Alone: true}
	s.Off, s.Out = r3.Norm(s.Shift), true
	s.W = math.Sqrt(x.Gain)
	named := h.blame(path, s.Shift, f, first)
	if named != "" {
		s.Likely = "Likely " + named + " is wrong: take it again."
	}
	s.Again = h.again(path, named, s.Shift)
	h.Suspects = append(h.Suspects, s)
	h.assume("where " + finding.SpokenPoint(path) + " lies is left out, because what was measured from it does not fit that")
}

// blame is the name of the one error, of those that the place of a point rests on, that would
// shift it so: "" for none, or where any of several would.
func (h *hanging) blame(path string, shift r3.Vec, f *fitted, first int) string {
	places := map[string][3]finding.Number{}
	for i := range h.of {
		for _, p := range h.of[i].at {
			if p.path != "" {
				places[p.path] = p.at
			}
		}
	}
	at := places[path]
	weight := mat.NewSymDense(3, nil)
	for i := range 3 {
		for j := i; j < 3; j++ {
			c := f.Cov(first+i, first+j)
			if i == j {
				c += square(max(at[i].U(), finest))
			}
			weight.SetSym(i, j, c)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(weight) {
		return ""
	}
	dot := func(a, b r3.Vec) float64 {
		v := mat.NewVecDense(3, nil)
		if chol.SolveVecTo(v, mat.NewVecDense(3, []float64{b.X, b.Y, b.Z})) != nil {
			return math.NaN()
		}
		return a.X*v.AtVec(0) + a.Y*v.AtVec(1) + a.Z*v.AtVec(2)
	}
	const (
		fits    = 9.21 // chi-squared of two, 99 %
		nothing = 1e-9
		large   = snoopedSlip
	)
	named := ""
	for id := range h.in.From.Len() {
		of := uncertain.ID(id + 1)
		c := apart(places, path, of, h.in.From.Source(of).U)
		long := dot(c, c)
		if !(long > nothing) {
			continue
		}
		k := dot(c, shift) / long
		if left := dot(shift, shift) - k*k*long; math.Abs(k) < large || left > fits {
			continue
		}
		label := h.in.From.Source(of).Label
		if named != "" && named != label {
			return ""
		}
		named = label
	}
	return named
}

// again is the value to take again for a place that does not fit, by the name of the error
// that would shift it so, where that is known: of the values that its name has, of what the
// survey measured to the point, and of what was typed of it, the one that moves it most that
// way.
func (h *hanging) again(path, named string, shift r3.Vec) string {
	for _, p := range finding.PathsIn(named) {
		if s := project.ShapeAt(p); s != project.NoShape && s != project.TableShape && s != project.TablesShape && s != project.NamedTablesShape {
			return p
		}
	}
	first := -1
	for i := range h.build.Measurements {
		m := &h.build.Measurements[i]
		if !m.Surveys() || h.build.HangsLoose(m) || m.From != path && m.To != path && m.At != path {
			continue
		}
		if named != "" && strings.Contains(named, m.Title()) {
			return fmt.Sprintf("measure[%d].lengths", i)
		}
		if first < 0 {
			first = i
		}
	}
	at, _ := h.build.PointNamed(path)
	typed, most := "", 0.0
	for _, t := range at.Terms {
		if by := math.Abs(r3.Dot(t.Dir, shift)); by > most && (strings.HasPrefix(t.Path, path+".") || typed == "") {
			typed, most = t.Path, by
		}
	}
	switch {
	case typed != "":
		return typed
	case first >= 0:
		return fmt.Sprintf("measure[%d].lengths", first)
	}
	return ""
}

// apart is what an error of a source of that size does to the place of a point, more than
// to those of all others: one that moves all alike shifts none of them against the rest.
func apart(places map[string][3]finding.Number, path string, of uncertain.ID, size float64) r3.Vec {
	by := func(at [3]finding.Number) r3.Vec {
		return r3.Scale(size, r3.Vec{X: at[0].Of(of), Y: at[1].Of(of), Z: at[2].Of(of)})
	}
	own := by(places[path])
	out := own
	for _, other := range slices.Sorted(maps.Keys(places)) { // in one order, so that the same comes out to the last digit
		if other != path {
			out = r3.Sub(out, r3.Scale(1/float64(len(places)-1), by(places[other])))
		}
	}
	if r3.Norm(own) < r3.Norm(out)/2 { // it shifts the others
		return r3.Vec{}
	}
	return out
}

func square(v float64) float64 { return v * v }

// snoopedSlip is how many standard uncertainties an error has to be for a slip.
const snoopedSlip = 3.29

// lies is where a point lies by all else, against where it was measured: a clause.
func (p *Powertrain) lies(s Suspect) string {
	var parts []string
	for k, v := range [3]float64{s.Shift.X, s.Shift.Y, s.Shift.Z} {
		if math.Abs(v) < s.Off/4 {
			continue
		}
		way := [3][2]string{{"to the rear", "to the front"}, {"to the right", "to the left"}, {"higher", "lower"}}[k]
		w := way[0]
		if v < 0 {
			w = way[1]
		}
		parts = append(parts, fmt.Sprintf("%s %s", quantity.Format(quantity.Length, math.Abs(v), p.build.Units, 1), w))
	}
	text := "by what was measured from it, it lies " + strings.Join(parts, " and ")
	if s.Likely != "" {
		text += "; " + finding.Clause(s.Likely)
	}
	return text
}
