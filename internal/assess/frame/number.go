package frame

import (
	"cmp"
	"math"
	"slices"

	"fitup/internal/abreast"
	"fitup/internal/assess/finding"
	"fitup/internal/geom/tape"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// number is a function of the places as a number: how it depends on each
// measurement follows from the fit, and what those share it carries on. of are the
// points it rests on.
//
// What the datum's own points may be off by is in it too.
func (n *network) number(of []string, f func(at func(path string) r3.Vec) float64) finding.Number {
	if n.ended() {
		return finding.Missing(Stopped)
	}
	names, index, places := make([]string, 0, len(of)), make([]int, 0, len(of)), make([]r3.Vec, 0, len(of))
	slot := make([]int, len(n.paths)) // of a point in places, and one
	for _, p := range of {
		i, ok := n.index[p]
		if !ok {
			return finding.Missing("nothing is measured to " + finding.SpokenPoint(p))
		}
		if slot[i] == 0 {
			names, index, places = append(names, p), append(index, i), append(places, n.net.Where(i, n.fit.X))
			slot[i] = len(places)
		}
	}
	at := func(path string) r3.Vec {
		const few = 12 // among which looking is quicker than a map
		for k := 0; k < len(names) && len(names) <= few; k++ {
			if names[k] == path {
				return places[k]
			}
		}
		i := n.index[path]
		if slot[i] > 0 {
			return places[slot[i]-1]
		}
		return n.net.Where(i, n.fit.X)
	}
	value := func() float64 { return f(at) }
	v := value()
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return finding.Missing("two points lie in one place")
	}
	const h = 1e-3 // mm
	partials := make(map[int]float64, 3*len(names))
	for i := range names {
		for k, c := range [3]*float64{&places[i].X, &places[i].Y, &places[i].Z} {
			u := n.net.Unknown(index[i], k)
			if u < 0 {
				continue
			}
			was := *c
			*c = was + h
			up := value()
			*c = was - h
			partials[u] = (up - value()) / (2 * h)
			*c = was
		}
	}
	gains := n.fit.Gains(partials)
	least, many := n.negligible(gains), 0
	for i, g := range gains {
		if math.Abs(g)*n.sigma[i] > least {
			many++
		}
	}
	parts := make([]uncertain.Weighted, 0, many+len(n.datum))
	for i, g := range gains {
		if math.Abs(g)*n.sigma[i] > least {
			parts = append(parts, uncertain.Weighted{K: g, N: n.lines[i].Value.Number})
		}
	}
	return finding.Of(uncertain.Smooth(v, append(parts, n.byDatum(f, gains)...)...))
}

// negligible is what a measurement does to a number that nobody would miss: all of a
// large survey together less than a hundred-thousandth of its ±. So a number of one end
// of a long frame does not drag all tapes of the other end along.
func (n *network) negligible(gains []float64) float64 {
	most := 0.0
	for i, g := range gains {
		most = max(most, math.Abs(g)*n.sigma[i])
	}
	return most * 1e-5 / math.Sqrt(float64(max(len(gains), 1)))
}

// each does n pieces of work of the fitted net side by side, and tells how far it is now
// and then.
func (n *network) each(what string, pieces int, work func(i int)) {
	const run = 32
	for first := 0; first < pieces; first += run {
		n.tell(what, first, pieces)
		abreast.Each(min(run, pieces-first), func(i int) { work(first + i) })
	}
}

// points are the places in the survey's datum; not known where why says that what was
// measured does not fit.
func (n *network) points(why string) []Point {
	out := make([]Point, len(n.paths))
	a := n.axes()
	elsewhere := map[int]string{} // why it is not known on which side a point lies
	for _, m := range n.folds() {
		for _, p := range m.Points {
			elsewhere[p] = n.mirrorText(m)
		}
	}
	n.each("working out the places of the points", len(n.paths), func(i int) {
		path := n.paths[i]
		p := Point{Path: path, Name: finding.SpokenPoint(path), Levels: n.levels[i]}
		of := append(slices.Clone(a.of), path)
		for k := range 3 {
			if p.Place[k] = finding.Missing(cmp.Or(why, elsewhere[i])); why != "" || k < 2 && elsewhere[i] != "" {
				continue
			}
			p.Place[k] = n.number(of, func(at func(string) r3.Vec) float64 {
				return coordinate(a.place(at, at(path)), k)
			})
		}
		if !n.levels[i] && why == "" {
			p.Place[2] = finding.Missing("its height was not measured")
		}
		if u, v := n.net.Unknown(i, 0), n.net.Unknown(i, 1); u >= 0 && v >= 0 {
			p.Ellipse = ellipse(p.Place[0], p.Place[1])
		}
		out[i] = p
	})
	return out
}

// ellipse is the standard error ellipse of two numbers.
func ellipse(x, y finding.Number) tape.Ellipse {
	if !x.Known || !y.Known {
		return tape.Ellipse{}
	}
	a, b := x.U()*x.U(), y.U()*y.U()
	sum := x.Number.Plus(y.Number).U()
	return tape.EllipseFrom(a, b, (sum*sum-a-b)/2)
}
