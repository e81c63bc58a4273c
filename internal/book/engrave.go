package book

import (
	"math"
	"slices"

	"fitup/internal/book/paper"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// Of what is engraved, mm: how far it stays from edges, holes and other lines, from one
// line to the next, and how far from each other the heights are that are tried.
const (
	engraveEdge = 2.0
	engraveLead = 4.5
	engraveStep = 1.5
)

const (
	mostEngraved = 8 // lines
	// wider is how much wider a cutting table's own letters may be than those of the face.
	wider = 1.35
)

// engrave writes the template's title on the piece itself, so that it says what it is
// when it lies among others: as near its middle as there is room, in as few lines as can
// be; where there is none, the name of its file, or as much of that as goes in. It leaves
// a piece alone on which nothing could be read.
func (c *Cutout) engrave() {
	wrapped := func(text string) func(width float64) []string {
		return func(width float64) []string {
			return paper.Regular().Wrap(settled(text), paper.Letters*wider, width)
		}
	}
	for n := 1; n <= mostEngraved; n++ {
		if c.engraved(n, wrapped(c.Title)) {
			return
		}
	}
	if c.engraved(1, wrapped(c.Name)) {
		return
	}
	const least = 12.0 // a few letters
	c.engraved(1, func(width float64) []string {
		if width < least {
			return nil
		}
		return []string{paper.Regular().Fit(settled(c.Name), paper.Letters*wider, width)}
	})
}

// engraved writes what in gives on n lines, where there is room for it.
func (c *Cutout) engraved(n int, in func(width float64) []string) bool {
	lines, at, ok := c.roomFor(n, in)
	for i, l := range lines {
		c.Written = append(c.Written, scene.Note{At: r2.Vec{X: at.X, Y: at.Y - engraveLead*float64(i)}, Text: l})
	}
	return ok
}

// roomFor is where n lines can stand, the lower left corner of the first. In gives what is
// written in a width; it does not do where that is nothing or more than n lines.
func (c *Cutout) roomFor(n int, in func(width float64) []string) (lines []string, at r2.Vec, ok bool) {
	b := c.box()
	high := engraveLead*float64(n-1) + paper.Letters
	middle, best := r2.Scale(0.5, r2.Add(b.Min, b.Max)), math.Inf(1)
	for low := b.Min.Y + engraveEdge; low+high <= b.Max.Y-engraveEdge; low += engraveStep {
		for _, g := range c.gaps(low, low+high) {
			if off := math.Abs(low + high/2 - middle.Y); off < best {
				if l := in(g[1] - g[0]); len(l) > 0 && len(l) <= n && widest(l) <= g[1]-g[0] {
					x := max(g[0], min(middle.X, (g[0]+g[1])/2)-widest(l)/2)
					lines, at, ok, best = l, r2.Vec{X: min(x, g[1]-widest(l)), Y: low + high - paper.Letters}, true, off
				}
			}
		}
	}
	return lines, at, ok
}

// widest is the width of the widest line, as wide as it may come out, mm.
func widest(lines []string) (w float64) {
	for _, l := range lines {
		w = max(w, paper.Regular().Width(l, paper.Letters*wider))
	}
	return w
}

// gaps are where nothing is between two heights: pieces of the inside of the outline that
// no edge, hole, line or text comes near, from left to right.
func (c *Cutout) gaps(low, high float64) [][2]float64 {
	middle := (low + high) / 2
	var ends []float64 // where the middle height crosses the outline
	var taken [][2]float64
	block := func(a, b r2.Vec, near float64) {
		if max(a.Y, b.Y) >= low-near && min(a.Y, b.Y) <= high+near {
			taken = append(taken, [2]float64{min(a.X, b.X) - near, max(a.X, b.X) + near})
		}
	}
	for _, e := range c.Edges {
		for i, p := range e {
			q := e[(i+1)%len(e)]
			if (p.Y > middle) != (q.Y > middle) {
				ends = append(ends, p.X+(middle-p.Y)/(q.Y-p.Y)*(q.X-p.X))
			}
			a, b, ok := within(p, q, low-engraveEdge, high+engraveEdge)
			if ok {
				block(a, b, engraveEdge)
			}
		}
	}
	for _, h := range slices.Concat(c.Holes, c.Rings) {
		block(h.At, h.At, h.Diameter/2+engraveEdge+centreArm)
	}
	for _, l := range slices.Concat(c.Bends, c.Marks) {
		for i := 1; i < len(l); i++ {
			block(l[i-1], l[i], engraveEdge/2)
		}
	}
	for _, n := range c.Written {
		block(n.At, r2.Add(n.At, r2.Vec{X: widest([]string{n.Text}), Y: paper.Letters}), engraveEdge/2)
	}
	slices.Sort(ends)
	slices.SortFunc(taken, func(a, b [2]float64) int { return int(math.Copysign(1, a[0]-b[0])) })
	var out [][2]float64
	for i := 1; i < len(ends); i += 2 {
		from := ends[i-1]
		for _, t := range append(taken, [2]float64{ends[i], ends[i]}) {
			if to := min(t[0], ends[i]); to > from {
				out = append(out, [2]float64{from, to})
			}
			from = max(from, t[1])
		}
	}
	return out
}

// within is the part of a line between two heights; ok is false where it has none.
func within(p, q r2.Vec, low, high float64) (a, b r2.Vec, ok bool) {
	if p.Y > q.Y {
		p, q = q, p
	}
	if p.Y > high || q.Y < low {
		return p, q, false
	}
	at := func(y float64) r2.Vec {
		if q.Y == p.Y {
			return p
		}
		return r2.Vec{X: p.X + (y-p.Y)/(q.Y-p.Y)*(q.X-p.X), Y: y}
	}
	a, b = p, q
	if p.Y < low {
		a = at(low)
	}
	if q.Y > high {
		b = at(high)
	}
	return a, b, true
}
