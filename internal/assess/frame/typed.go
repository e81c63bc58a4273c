package frame

import (
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// Typed is the error of a value of the file that the places of a survey rest on.
type Typed struct {
	Path  string           // of the value, such as point.rail_lf.station
	Error uncertain.Number // 0 with its ±, in the survey's sources
	id    uncertain.ID
}

// In is how far a number of the survey moves for each mm of the error.
func (t Typed) In(m finding.Number) float64 { return m.Of(t.id) }

// typedErrors has one error for each value, whatever rests on it.
type typedErrors []Typed

// of is the error of what a term is of, 0 with its ±: one of from, made when it is first
// asked for. False where nothing was said of it.
func (e *typedErrors) of(b *project.Build, from *uncertain.Sources, m project.Term) (uncertain.Number, bool) {
	if i := slices.IndexFunc(*e, func(t Typed) bool { return t.Path == m.Path }); i >= 0 {
		return (*e)[i].Error, true
	}
	half, _ := b.TermError(m)
	if half <= 0 {
		return uncertain.Number{}, false
	}
	id, err := from.Add(uncertain.Half("the ± of "+m.Path, half))
	if err != nil {
		return uncertain.Number{}, false // no half width that a file can have is refused
	}
	t := Typed{Path: m.Path, Error: from.Number(0, uncertain.Part{Of: id, C: 1}), id: id}
	*e = append(*e, t)
	return t.Error, true
}

// datumError is something typed of a point that holds the survey and how it moves
// such points.
type datumError struct {
	by    uncertain.Number // 0 with its ±
	moves map[string]r3.Vec
}

// sourced is what a survey rests on besides its measurements, and where that is kept.
type sourced struct {
	from  *uncertain.Sources
	datum []datumError
	typed typedErrors // that datum is of
	Watch
}

// holding finds what the ± typed of the points that hold the survey leave open. Each
// is a source of its own; what points were measured from moves all of them.
func (e *sourced) holding(b *project.Build) {
	if e.from == nil || b.Survey.Datum != project.PointsDatum {
		return
	}
	of := map[string]int{}
	for _, path := range b.Survey.Points {
		p, ok := b.PointNamed(path)
		if !ok || !p.Known {
			continue
		}
		for _, t := range p.Terms {
			by, ok := e.typed.of(b, e.from, t)
			if !ok {
				continue
			}
			k, known := of[t.Path]
			if !known {
				k = len(e.datum)
				of[t.Path], e.datum = k, append(e.datum, datumError{by, map[string]r3.Vec{}})
			}
			e.datum[k].moves[path] = r3.Add(e.datum[k].moves[path], t.Dir)
		}
	}
}

// byDatum is what the errors of the datum do to a function of the places: by the
// points that hold the survey themselves, and by what the measurements to them then
// say of the others. gains is what an error in each measurement does to it.
func (n *network) byDatum(f func(at func(path string) r3.Vec) float64, gains []float64) []uncertain.Weighted {
	const h = 1e-3 // mm
	var out []uncertain.Weighted
	for _, d := range n.datum {
		moved := func(by float64) func(string) r3.Vec {
			return func(path string) r3.Vec {
				return r3.Add(n.net.Where(n.index[path], n.fit.X), r3.Scale(by, d.moves[path]))
			}
		}
		up, down := moved(h), moved(-h)
		k := f(up) - f(down)
		for i, g := range gains {
			if l := n.lines[i]; g != 0 {
				k -= g * (measures(l, up) - measures(l, down))
			}
		}
		if k != 0 {
			out = append(out, uncertain.Weighted{K: k / (2 * h), N: d.by})
		}
	}
	return out
}
