package uncertain

import (
	"errors"
	"fmt"
	"math"
	"sync/atomic"
)

// Shape is the distribution of an error.
type Shape uint8

// The distributions of JCGM 100:2008, 4.3.7 and 4.3.9.
const (
	Normal Shape = iota
	Rectangular
	Triangular
)

// Source is one independent cause of error, of zero mean.
type Source struct {
	Label string  // in words, as a sentence has it: "the gauge's accuracy on the pinion"
	U     float64 // standard uncertainty, 0 or more; 0 is no source
	Shape Shape
	// DoF is the number of degrees of freedom U was estimated with, 1 or more;
	// 0 where U is stated and not estimated.
	DoF float64
	// Pool is another source whose U is the same estimate: one pooled standard
	// deviation behind several means. None for an estimate of its own.
	Pool ID
	// Turns says that the source can act with an unknown sign: see Unsigned.
	Turns bool
}

// Half is the source behind a typed ±: a bound, the half width of a rectangular
// distribution, U = half/√3 (JCGM 100:2008, 4.3.7).
func Half(label string, half float64) Source {
	return Source{Label: label, U: half / math.Sqrt(3), Shape: Rectangular}
}

// ID is a source of some Sources. None is no source: whatever depends on it
// depends on nothing.
type ID int32

// None is no source.
const None ID = 0

// Sources are the sources of error of one assessment. Add to it while it is
// built; after that any number of goroutines may use it.
type Sources struct {
	parent *Sources
	all    []kept
	forked atomic.Bool
}

// ErrForked is returned for a source that comes too late: forks have begun to
// number their own from here on.
var ErrForked = errors.New("a source was added to sources that were forked already")

type kept struct {
	Source
	flags uint32
	sign  ID // the source that this one is, with an unknown sign; itself for one that Turns
	pool  ID // the first source of its pool, itself for one alone
}

// What the hot loops ask of a source without looking it up.
const (
	turns     uint32 = 1 << iota // adds with others of its sign by size
	estimated                    // finite degrees of freedom
)

// Fork returns sources that begin as s and take more without changing s. A
// number of s may be mixed with numbers of the fork, but not with those of
// another fork. s itself takes no more sources. Many goroutines may fork at once.
func (s *Sources) Fork() *Sources {
	s.forked.Store(true)
	return &Sources{parent: s, all: s.all[:len(s.all):len(s.all)]}
}

// Len is how many sources there are.
func (s *Sources) Len() int { return len(s.all) }

// Add puts in a source and returns its ID, None for one without uncertainty. It
// refuses what is not a number, a negative uncertainty, fewer than one degree of
// freedom, and a pool that is not there; ErrForked when s was forked.
func (s *Sources) Add(src Source) (ID, error) {
	switch {
	case s.forked.Load():
		return None, fmt.Errorf("%s: %w", src.Label, ErrForked)
	case math.IsNaN(src.U) || math.IsInf(src.U, 0) || src.U < 0:
		return None, fmt.Errorf("%s: its standard uncertainty is %g; it must be 0 or more", src.Label, src.U)
	case math.IsNaN(src.DoF) || src.DoF != 0 && src.DoF < 1:
		return None, fmt.Errorf("%s: it has %g degrees of freedom; it must be 1 or more", src.Label, src.DoF)
	case src.Pool < 0 || int(src.Pool) > len(s.all):
		return None, fmt.Errorf("%s: its pool is not a source", src.Label)
	case src.U == 0:
		return None, nil
	}
	if math.IsInf(src.DoF, 1) {
		src.DoF = 0
	}
	id := ID(len(s.all) + 1)
	k := kept{Source: src, sign: id, pool: id}
	if src.Pool != None {
		k.pool = s.all[src.Pool-1].pool
	}
	if src.Turns {
		k.flags |= turns
	}
	if src.DoF > 0 {
		k.flags |= estimated
	}
	s.all = append(s.all, k)
	return id, nil
}

// Unsigned returns a source that is the error of of, with a sign that nobody
// knows. of must have been added with Turns; of None it is None.
func (s *Sources) Unsigned(of ID) (ID, error) {
	if of == None {
		return None, nil
	}
	if of < 0 || int(of) > len(s.all) || s.all[of-1].flags&turns == 0 {
		return None, fmt.Errorf("source %d cannot act with an unknown sign: it was not added as one that turns", of)
	}
	k := s.all[of-1]
	if s.forked.Load() {
		return None, fmt.Errorf("%s: %w", k.Label, ErrForked)
	}
	s.all = append(s.all, k)
	return ID(len(s.all)), nil
}

// Source returns what a source was added as. It panics on an ID that is not of
// these sources.
func (s *Sources) Source(id ID) Source { return s.all[id-1].Source }

// related returns the sources that know the ids of both. It panics where there
// are none: two assessments were mixed, and no answer would mean anything.
func related(a, b *Sources) *Sources {
	switch {
	case a == b || b == nil:
		return a
	case a == nil:
		return b
	}
	for p := a.parent; p != nil; p = p.parent {
		if p == b {
			return a
		}
	}
	for p := b.parent; p != nil; p = p.parent {
		if p == a {
			return b
		}
	}
	panic("uncertain: numbers of two assessments were mixed")
}
