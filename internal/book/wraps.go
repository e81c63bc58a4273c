package book

import (
	"fmt"
	"math"

	"fitup/internal/assess"
	"fitup/internal/book/paper"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// wrapCutouts are the wraps of a leg's ends; why says why there is none.
func wrapCutouts(b *assess.Bracket, u quantity.Units) (out []Cutout, why string) {
	if unrolled, ok := squareWraps(b); ok {
		for i := range unrolled {
			out = append(out, squareCutout(b, &unrolled[i], u))
		}
		return out, ""
	}
	wraps, err := b.Wraps(smooth)
	if err != nil {
		return nil, capital(err.Error())
	}
	for _, w := range wraps {
		out = append(out, roundCutout(b, w, u))
	}
	if len(wraps) == 0 {
		why = fmt.Sprintf("Both ends of the %s leg are cut square: there is nothing to wrap.", b.Label)
	}
	return out, why
}

// across is where a place lies on a wrap that is drawn with its square line on
// top, print outside. far is 1 at the rail's end. With the pad's end upward, clockwise as seen from the pad
// runs to the left on the side that faces you; with it downward, to the right.
func across(far int, along, around float64) float64 {
	if far == 1 {
		return around - along
	}
	return along
}

// cutTube is a tube that is cut at both ends, and what its wraps call it.
type cutTube struct {
	file, title string
	piece       string    // leg, or the name of a member
	ends        [2]string // pad and rail of a leg, first and second of a member
	section     string
	at, axis    r3.Vec // where the axis begins, and its directions: along, right and up as seen from there
	u, v        r3.Vec
	isRound     bool
	sharp       [2]bool // the end is not square
	outline     func(far bool, n int) []r3.Vec
}

// wrapFacts say how a wrap is put on.
func (t *cutTube) wrapFacts(b *assess.Bracket, far int, ring float64, fitted string, u quantity.Units) []string {
	end, from := t.ends[far], t.ends[0]
	follow := "Cut the tube along the edge opposite the square one; the cut goes straight through the wall toward the tube's axis."
	if fitted != "" {
		follow += " Fitted: " + fitted + "."
	}
	if from == "pad" {
		from = "pad's"
	}
	return facts(t.section+", "+end+" end of the "+t.piece, b, "the print, outside; the square edge away from the "+end+" end.",
		fmt.Sprintf("Square edge: on a line square round the tube, %s from the %s end of its axis. Both short edges meet in the seam.", Magnitude(quantity.Length, ring, u), from), follow)
}

// legTube is the tube of a single leg.
func legTube(b *assess.Bracket) *cutTube {
	return &cutTube{
		file: b.Name, title: b.Label + " leg", piece: "leg", ends: [2]string{"pad", "rail"}, section: b.Section,
		at: b.Cut.Pad.At, axis: b.Cut.Axis, u: b.Cut.U, v: b.Cut.V, isRound: b.Leg.Shape.B == 0,
		sharp:   [2]bool{b.Cut.Pad.Angle.Rad() >= leastCut, b.Cut.Rail.Angle.Rad() >= leastCut},
		outline: b.Cut.Outline,
	}
}

// leastCut is an angle of a cut that counts as square, rad.
const leastCut = 1e-4

// memberCutouts are the wraps of the members of a mount; why says of each member that has
// none why.
func memberCutouts(b *assess.Bracket, u quantity.Units) (out []Cutout, why []string) {
	for i := range b.Members.Solved.Parts {
		p := &b.Members.Solved.Parts[i]
		t := &cutTube{
			file: b.Name + "-" + p.Name, title: b.Label + " mount, " + p.Name, piece: p.Name, ends: [2]string{"first", "second"}, section: p.Shape.Name,
			at: p.Cut.Pad.At, axis: p.Cut.Axis, u: p.Cut.U, v: p.Cut.V, isRound: p.Shape.B == 0,
			sharp:   [2]bool{p.Cut.Pad.Angle.Rad() >= leastCut || p.Copes[0] != nil, p.Cut.Rail.Angle.Rad() >= leastCut || p.Copes[1] != nil},
			outline: p.EndOutline,
		}
		switch k := p.Shape.Kind.String(); {
		case k != rectTube && k != roundTube:
			why = append(why, fmt.Sprintf("The %s of the %s mount is a %s: the cut sheet has its settings for the saw.", p.Name, b.Label, k))
			continue
		case !t.sharp[0] && !t.sharp[1]:
			why = append(why, fmt.Sprintf("Both ends of the %s of the %s mount are cut square: there is nothing to wrap.", p.Name, b.Label))
		}
		for far, cut := range t.sharp {
			if cut {
				w := t.unroll(far)
				one := t.wrap(b, &w, u)
				if c := p.Copes[far]; c != nil {
					one.Facts = append(one.Facts, fmt.Sprintf("A cope round the %s, %s outside. Saw the end first as the cut sheet says, then cut along the edge straight through the wall, and file until it touches all round.",
						p.Ends[far].Host, Magnitude(quantity.Length, c.Header, u)))
				}
				out = append(out, one)
			}
		}
	}
	return out, why
}

// roundCutout is the wrap of one end of a round leg.
func roundCutout(b *assess.Bracket, w assess.Wrap, u quantity.Units) Cutout {
	c := Cutout{
		Name:  b.Name + "-" + w.End + "-wrap",
		Title: fmt.Sprintf("%s leg, %s end, wrap", b.Label, w.End),
		Facts: legTube(b).wrapFacts(b, far(w.End), w.Ring, w.Fitted, u),
	}
	edge := []r2.Vec{{X: across(far(w.End), 0, w.Around), Y: band}}
	for _, p := range w.Points {
		edge = append(edge, r2.Vec{X: across(far(w.End), p.Around, w.Around), Y: -p.Toward})
	}
	// Points end once around, where they began.
	last := w.Points[len(w.Points)-1]
	if w.Around-last.Around > 1e-6 {
		edge = append(edge, r2.Vec{X: across(far(w.End), w.Around, w.Around), Y: -w.Points[0].Toward})
	}
	c.Edges = [][]r2.Vec{append(edge, r2.Vec{X: across(far(w.End), w.Around, w.Around), Y: band})}
	c.Marks = append(c.Marks, []r2.Vec{{Y: 0}, {X: w.Around}})
	for h := range hours {
		clock := 2 * math.Pi * float64(h) / hours
		along := math.Mod(clock-w.Zero+4*math.Pi, 2*math.Pi) / (2 * math.Pi) * w.Around
		c.clock(across(far(w.End), along, w.Around), w.Around, h*360/hours)
	}
	c.Written = append(c.Written, scene.Note{At: r2.Vec{X: 2, Y: band - 4.5}, Text: "seam"}, scene.Note{At: r2.Vec{X: w.Around - 9, Y: band - 4.5}, Text: "seam"})
	return c
}

// hours are the clock marks round a tube.
const hours = 12

// far is 0 for the end at the pad, 1 for the one at the rail.
func far(end string) int {
	if end == "rail" {
		return 1
	}
	return 0
}

// band is the paper behind the square line of a wrap, so that it can be taped to
// the tube where nothing is cut, mm.
const band = 12.0

// clock marks a place around the tube, which is around mm, by its degrees clockwise from the top.
func (c *Cutout) clock(x, around float64, degrees int) {
	c.Marks = append(c.Marks, []r2.Vec{{X: x, Y: 3}, {X: x, Y: -3}})
	name := map[int]string{0: "top", 90: "right", 180: "bottom", 270: "left"}[degrees]
	if name == "" {
		name = fmt.Sprintf("%d°", degrees)
	}
	at := r2.Vec{X: x + 0.7, Y: 0.8}
	if wide := paper.Regular().Width(name, paper.Letters); at.X+wide > around {
		at = r2.Vec{X: x - 0.7 - wide, Y: 4.1} // over that of its neighbour
	}
	c.Written = append(c.Written, scene.Note{At: at, Text: name})
}

// unrolled is the end of a tube laid flat: places of its outer edge, along the section's
// outline clockwise seen from the pad and along the tube, mm, the first repeated at the
// end.
type unrolled struct {
	far    int
	edge   []r2.Vec
	folds  []float64 // where the flats end and the corners begin, and the reverse
	around float64
}

// In how many pieces it is unrolled, so that a straight piece leaves the arc by less than
// 0.01 mm: a corner of a radius of 10 mm, and a quarter of a round tube of 120 mm.
const (
	corner  = 24
	quarter = 90
)

// squareWraps lay the ends of a square or rectangular leg flat; ok is false for
// another section. Ends that are square need none and are left out.
func squareWraps(b *assess.Bracket) (out []unrolled, ok bool) {
	if !b.HasCut || b.Saddle != nil || b.Leg.Shape.Kind.String() != rectTube {
		return nil, false
	}
	t := legTube(b)
	for far, cut := range t.sharp {
		if cut {
			out = append(out, t.unroll(far))
		}
	}
	return out, true
}

// What sections call themselves.
const (
	rectTube  = "rectangular tube"
	roundTube = "round tube"
)

// unroll lays one end flat, from the middle of the bottom side.
func (t *cutTube) unroll(far int) unrolled {
	w := unrolled{far: far}
	flat := func(p r3.Vec) r3.Vec { // across U, along V, along the axis from the first end
		d := r3.Sub(p, t.at)
		return r3.Vec{X: r3.Dot(d, t.u), Y: r3.Dot(d, t.v), Z: r3.Dot(d, t.axis)}
	}
	pieces := corner
	if t.isRound {
		pieces = quarter
	}
	ring := t.outline(far == 1, pieces+1)
	n := len(ring)
	at := func(i int) r3.Vec { return flat(ring[i%n]) }
	seam := 0
	for i := range n { // the bottom runs from right to left
		if p, q := at(i), at(i+1); p.Y < 0 && q.Y < 0 && p.X > 0 && q.X <= 0 {
			seam = i
		}
	}
	p, q := at(seam), at(seam+1)
	start := r3.Add(p, r3.Scale(p.X/(p.X-q.X), r3.Sub(q, p)))
	here := start
	w.edge = append(w.edge, r2.Vec{Y: start.Z})
	step := func(to r3.Vec) {
		size := math.Hypot(to.X-here.X, to.Y-here.Y)
		if size > longFlat && !t.isRound {
			w.folds = append(w.folds, w.around, w.around+size)
		}
		w.around += size
		w.edge = append(w.edge, r2.Vec{X: w.around, Y: to.Z})
		here = to
	}
	for i := range n {
		step(at(seam + 1 + i))
	}
	step(start)
	return w
}

// longFlat is what tells a side from a piece of a corner, mm.
const longFlat = 5.0

// squareCutout is the wrap of one end of a square or rectangular leg.
func squareCutout(b *assess.Bracket, w *unrolled, u quantity.Units) Cutout {
	return legTube(b).wrap(b, w, u)
}

// wrap is the wrap of one end of a tube, its seam in the middle of the bottom.
func (t *cutTube) wrap(b *assess.Bracket, w *unrolled, u quantity.Units) Cutout {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range w.edge {
		lo, hi = min(lo, p.Y), max(hi, p.Y)
	}
	ring := hi // of the first end: behind all of the cut
	if w.far == 1 {
		ring = lo
	}
	seen := t.ends[0]
	if seen != "pad" {
		seen += " end"
	}
	c := Cutout{
		Name:  t.file + "-" + t.ends[w.far] + "-wrap",
		Title: fmt.Sprintf("%s, %s end, wrap", t.title, t.ends[w.far]),
		Facts: append(t.wrapFacts(b, w.far, ring, "", u), "The seam is in the middle of the bottom side. Top is the tube's upper side, left and right are as seen from the "+seen+"."),
	}
	var edge []r2.Vec
	for _, p := range w.edge {
		edge = append(edge, r2.Vec{X: across(w.far, p.X, w.around), Y: -math.Abs(p.Y - ring)})
	}
	first, last := edge[0].X, edge[len(edge)-1].X
	c.Edges = [][]r2.Vec{append(edge, r2.Vec{X: last, Y: band}, r2.Vec{X: first, Y: band})}
	c.Marks = append(c.Marks, []r2.Vec{{Y: 0}, {X: w.around}})
	if t.isRound {
		for h := range hours { // the seam is half a turn from the top
			along := math.Mod(float64(h)/hours+0.5, 1) * w.around
			c.clock(across(w.far, along, w.around), w.around, h*360/hours)
		}
		c.Written = append(c.Written, scene.Note{At: r2.Vec{X: 2, Y: band - 4.5}, Text: "seam"})
		return c
	}
	if len(w.folds) == 0 {
		return c
	}
	c.Facts = append(c.Facts, "The broken lines are where sides and corners meet.")
	c.sides(w, ring)
	return c
}

// sides marks the sides of a square or rectangular tube on its wrap.
func (c *Cutout) sides(w *unrolled, ring float64) {
	for i, f := range w.folds {
		if i == 0 || i == len(w.folds)-1 {
			continue // the seam
		}
		x := across(w.far, f, w.around)
		c.Bends = append(c.Bends, []r2.Vec{{X: x, Y: band}, {X: x, Y: -math.Abs(height(w.edge, f) - ring)}})
	}
	for i, name := range []string{"left side", "top", "right side"} {
		if len(w.folds) >= 2*i+4 {
			c.Written = append(c.Written, scene.Note{At: r2.Vec{X: across(w.far, (w.folds[2*i+2]+w.folds[2*i+3])/2, w.around) - 5, Y: band - 5}, Text: name})
		}
	}
	c.Written = append(c.Written, scene.Note{At: r2.Vec{X: 1, Y: band - 5}, Text: "seam"})
}

// height is that of an unrolled edge at a place around.
func height(edge []r2.Vec, x float64) float64 {
	for i := 1; i < len(edge); i++ {
		p, q := edge[i-1], edge[i]
		if x <= q.X+1e-9 && q.X > p.X {
			return p.Y + (x-p.X)/(q.X-p.X)*(q.Y-p.Y)
		}
	}
	return edge[len(edge)-1].Y
}
