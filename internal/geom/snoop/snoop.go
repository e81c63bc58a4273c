// Package snoop finds which of a list of measurements does not fit the others, whatever
// they measure: it leaves out one after another what alone does not fit, says so where it
// cannot be told which of several it is, and frees what was taken as known where that
// alone explains a misfit.
//
// It is what geodesy calls data snooping (W. Baarda, A Testing Procedure for Use in
// Geodetic Networks, 1968), on the tests of geom/tape. How the measurements are fitted is
// the caller's.
package snoop

import (
	"context"
	"errors"
	"slices"

	"fitup/internal/geom/tape"
)

// Alarm is how often sound measurements would fail the test of their sum of squares
// (chi-squared): 1 in 1,000.
const Alarm = 0.001

// Fit is a fit of some of the measurements.
type Fit interface {
	// Problem has their observations, in the order of the measurements.
	Problem() tape.Problem
	Result() *tape.Fit
}

// Agrees reports whether the measurements of a fit scatter no more than was stated.
func Agrees(f *tape.Fit) bool {
	ok, _ := f.Agrees(Alarm)
	return ok
}

// Search is a search for slips in a list of measurements.
type Search[F Fit] struct {
	Count int // of the measurements
	// Known is how many things that were taken as known can be freed.
	Known int
	// Fit fits those measurements, with those known things as unknowns.
	Fit func(of, freed []int) (F, error)
	// Most is how many slips are looked for, one after another.
	Most int
}

// Kept is a fit with what it is of.
type Kept[F Fit] struct {
	Fit F
	Of  []int // the measurements
	// Freed are known things that it has as unknowns.
	Freed []int
}

// Suspect is a measurement, or a known thing, that does not fit the others.
type Suspect[F Fit] struct {
	Measurement int     // -1 for a known thing
	Known       int     // -1 for a measurement
	Without     F       // the fit without it
	Gain        float64 // by how much that lowers the sum of squares, of a known thing
	Alike       []int
	Alone       bool // it alone explains the misfit, and is left out
}

// Outcome is what a search comes to.
type Outcome[F Fit] struct {
	Kept[F]
	Suspects []Suspect[F]
	Unclear  bool // a measurement does not fit, and it cannot be told which of Suspects
	Scatters bool // all that is kept scatters more than was stated, and nothing explains it
}

func (s *Search[F]) fit(of, freed []int) (Kept[F], error) {
	f, err := s.Fit(of, freed)
	return Kept[F]{f, of, freed}, err
}

// less are the measurements without one, by its place among them.
func less(of []int, at int) []int { return slices.Delete(slices.Clone(of), at, at+1) }

// checked reports whether what a fit is of is checked, and fits.
func (k Kept[F]) checked() bool {
	f := k.Fit.Result()
	return f.DoF > 0 && Agrees(f)
}

// All is the fit of all measurements; where there is none, that without the one
// measurement without which there is one, and that measurement as a suspect: a slip so
// large that nothing is found with it. The error is that of the fit of all.
func (s *Search[F]) All() (Kept[F], *Suspect[F], error) {
	of := make([]int, s.Count)
	for i := range of {
		of[i] = i
	}
	all, err := s.fit(of, nil)
	if err == nil {
		return all, nil, nil
	}
	var loose *tape.LooseError
	if errors.As(err, &loose) { // less leaves it no firmer
		return all, nil, err
	}
	found, left := Kept[F]{}, -1
	for k := range of {
		f, without := s.fit(less(of, k), nil)
		if without != nil || !f.checked() {
			continue
		}
		if left >= 0 {
			return all, nil, err
		}
		found, left = f, k
	}
	if left < 0 {
		return all, nil, err
	}
	return found, &Suspect[F]{Measurement: left, Known: -1, Without: found.Fit, Alone: true}, nil
}

// Clean looks for slips in what a fit is of, and leaves out those that it finds.
func (s *Search[F]) Clean(k Kept[F]) Outcome[F] {
	out := Outcome[F]{Kept: k}
	for range s.Most {
		if !s.next(&out) {
			break
		}
	}
	out.Scatters = !out.Unclear && !Agrees(out.Fit.Result())
	return out
}

// next leaves out one slip more; false where there is none, or it cannot be told which.
func (s *Search[F]) next(out *Outcome[F]) bool {
	k := out.Kept
	found, err := tape.Suspects(context.Background(), k.Fit.Problem(), k.Fit.Result())
	if err != nil {
		return false
	}
	if len(found) == 0 {
		return !Agrees(k.Fit.Result()) && s.free(out)
	}
	first := found[0]
	if len(found) == 1 && len(first.Alike) == 0 {
		without, err := s.fit(less(k.Of, first.Observation), k.Freed)
		if err == nil && without.Fit.Result().DoF > 0 {
			if !Agrees(without.Fit.Result()) && s.free(out) {
				return true
			}
			out.Kept = without
			out.Suspects = append(out.Suspects, Suspect[F]{Measurement: k.Of[first.Observation], Known: -1, Without: without.Fit, Alone: true})
			return true
		}
	}
	if !slices.ContainsFunc(found, func(x tape.Suspect) bool { return Agrees(x.Without) }) && s.free(out) {
		return true
	}
	for _, x := range found {
		without, err := s.fit(less(k.Of, x.Observation), k.Freed)
		if err != nil {
			continue
		}
		var alike []int
		for _, i := range x.Alike {
			alike = append(alike, k.Of[i])
		}
		out.Suspects = append(out.Suspects, Suspect[F]{Measurement: k.Of[x.Observation], Known: -1, Without: without.Fit, Alike: alike})
	}
	out.Unclear = true
	return false
}

// free makes an unknown of the one known thing that explains a misfit which no one
// measurement does; false where none does, or more than one.
func (s *Search[F]) free(out *Outcome[F]) bool {
	found, which := Kept[F]{}, -1
	for g := range s.Known {
		if slices.Contains(out.Freed, g) {
			continue
		}
		f, err := s.fit(out.Of, append(slices.Clone(out.Freed), g))
		if err != nil || !f.checked() {
			continue
		}
		if which >= 0 {
			return false
		}
		found, which = f, g
	}
	if which < 0 {
		return false
	}
	gain := out.Fit.Result().SumSquare - found.Fit.Result().SumSquare
	out.Kept = found
	out.Suspects = append(out.Suspects, Suspect[F]{Measurement: -1, Known: which, Without: found.Fit, Gain: gain, Alone: true})
	return true
}
