package book

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"fitup/internal/assess"
	"fitup/internal/book/paper"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Cutout is a template of true size: what is cut along, drilled, bent and
// scribed, mm, y up, on its own plane.
type Cutout struct {
	Name  string   // part of a file's name: left_front-rail-wrap
	Title string   // left front leg, rail end
	Facts []string // part, side, quantity, which face is up, what to do, a line each

	Edges   [][]r2.Vec // closed outlines, the first point not repeated
	Holes   []Circle
	Bends   [][]r2.Vec // lines to bend along
	Marks   [][]r2.Vec // lines to scribe
	Written []scene.Note
}

// Circle is a hole, mm.
type Circle struct {
	At       r2.Vec
	Diameter float64
}

// box is what a template lies in.
func (c *Cutout) box() r2.Box {
	b := r2.Box{Min: c.Edges[0][0], Max: c.Edges[0][0]}
	for _, run := range c.Edges {
		for _, p := range run {
			b.Min = r2.Vec{X: min(b.Min.X, p.X), Y: min(b.Min.Y, p.Y)}
			b.Max = r2.Vec{X: max(b.Max.X, p.X), Y: max(b.Max.Y, p.Y)}
		}
	}
	return b
}

// Cutouts are the templates of one mount, or of all where none is named, in the
// order of the mounts: wraps for the ends of legs, plates, and the taper that
// makes up for a pad that leans. Left says of each leg without one why. It fails
// where the mount has no leg.
func Cutouts(a *assess.Assessment, mount string) (out []Cutout, left []string, err error) {
	found := false
	for i := range a.Brackets {
		b := &a.Brackets[i]
		if mount != "" && b.Name != mount {
			continue
		}
		found = true
		if b.Members != nil {
			for _, w := range []*assess.PlateWork{b.PadPlate, b.RailPlate} {
				if w != nil {
					out = append(out, plateCutout(b, w, a.Build.Units))
				}
			}
			for i := range b.Sheets {
				out = append(out, sheetCutout(b, &b.Sheets[i], i))
			}
			left = append(left, fmt.Sprintf("the members of the %s mount are cut on the saw; the cut sheet has their settings", b.Label))
			continue
		}
		if !b.HasCut {
			left = append(left, fmt.Sprintf("%s leg: no cut. %s", capital(b.Label), b.Why))
			continue
		}
		wraps, why := wrapCutouts(b, a.Build.Units)
		if why != "" {
			left = append(left, why)
		}
		out = append(out, wraps...)
		for _, w := range []*assess.PlateWork{b.PadPlate, b.RailPlate} {
			if w != nil {
				out = append(out, plateCutout(b, w, a.Build.Units))
			}
		}
		if c, ok := taperCutout(b, a.Build.Units); ok {
			out = append(out, c)
		}
	}
	if !found {
		if mount == "" {
			return nil, nil, fmt.Errorf("no leg is in the file yet: [mount.left_front.leg] with a section begins one")
		}
		return nil, nil, fmt.Errorf("there is no leg [mount.%s.leg] in the file", mount)
	}
	return out, left, nil
}

// facts are what every template says of itself.
func facts(part string, b *assess.Bracket, up string, more ...string) []string {
	side := "in the middle or as the mount's name says"
	for _, s := range []string{"left", "right"} {
		if strings.HasPrefix(b.Name, s) {
			side = s
		}
	}
	return append([]string{
		"Part: " + part + ". Side: " + side + ". Quantity: 1, for the " + b.Label + " mount.",
		"Face up: " + up,
	}, more...)
}

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
// top, print outside. With the pad's end upward, clockwise as seen from the pad
// runs to the left on the side that faces you; with it downward, to the right.
func across(end string, along, around float64) float64 {
	if end == "rail" {
		return around - along
	}
	return along
}

// wrapFacts say how a wrap is put on.
func wrapFacts(b *assess.Bracket, end, section string, ring float64, fitted string, u quantity.Units) []string {
	follow := "Cut the tube along the edge opposite the square one; the cut goes straight through the wall toward the tube's axis."
	if fitted != "" {
		follow += " Fitted: " + fitted + "."
	}
	return facts(section+", "+end+" end of the leg", b, "the print, outside; the square edge away from the "+end+" end.",
		fmt.Sprintf("Square edge: on a line square round the tube, %s from the pad's end of its axis. Both short edges meet in the seam.", Magnitude(quantity.Length, ring, u)), follow)
}

// roundCutout is the wrap of one end of a round leg.
func roundCutout(b *assess.Bracket, w assess.Wrap, u quantity.Units) Cutout {
	c := Cutout{
		Name:  b.Name + "-" + w.End + "-wrap",
		Title: fmt.Sprintf("%s leg, %s end, wrap", b.Label, w.End),
		Facts: wrapFacts(b, w.End, b.Section, w.Ring, w.Fitted, u),
	}
	edge := []r2.Vec{{X: across(w.End, 0, w.Around), Y: band}}
	for _, p := range w.Points {
		edge = append(edge, r2.Vec{X: across(w.End, p.Around, w.Around), Y: -p.Toward})
	}
	// Points end once around, where they began.
	last := w.Points[len(w.Points)-1]
	if w.Around-last.Around > 1e-6 {
		edge = append(edge, r2.Vec{X: across(w.End, w.Around, w.Around), Y: -w.Points[0].Toward})
	}
	c.Edges = [][]r2.Vec{append(edge, r2.Vec{X: across(w.End, w.Around, w.Around), Y: band})}
	c.Marks = append(c.Marks, []r2.Vec{{Y: 0}, {X: w.Around}})
	const hours = 12
	for h := range hours {
		clock := 2 * math.Pi * float64(h) / hours
		along := math.Mod(clock-w.Zero+4*math.Pi, 2*math.Pi) / (2 * math.Pi) * w.Around
		c.clock(across(w.End, along, w.Around), w.Around, h*360/hours)
	}
	c.Written = append(c.Written, scene.Note{At: r2.Vec{X: 2, Y: band - 4.5}, Text: "seam"}, scene.Note{At: r2.Vec{X: w.Around - 9, Y: band - 4.5}, Text: "seam"})
	return c
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

// unrolled is the end of a square or rectangular tube laid flat: places of its
// outer edge, along the section's outline clockwise seen from the pad and along
// the tube, mm, the first repeated at the end.
type unrolled struct {
	end    string
	edge   []r2.Vec
	folds  []float64 // where the flats end and the corners begin, and the reverse
	around float64
}

// corner is in how many pieces a rounded corner is unrolled: of a radius of
// 10 mm each leaves the arc by less than 0.01 mm.
const corner = 24

// squareWraps lay the ends of a square or rectangular leg flat; ok is false for
// another section. Ends that are square need none and are left out.
func squareWraps(b *assess.Bracket) (out []unrolled, ok bool) {
	if !b.HasCut || b.Saddle != nil || b.Leg.Shape.Kind.String() != rectTube {
		return nil, false
	}
	for _, end := range []string{"pad", "rail"} {
		e := b.Cut.Pad
		if end == "rail" {
			e = b.Cut.Rail
		}
		if e.Angle.Rad() < 1e-4 {
			continue
		}
		out = append(out, unroll(b, end))
	}
	return out, true
}

// rectTube is what the sections call themselves.
const rectTube = "rectangular tube"

// unroll lays one end flat, from the middle of the bottom side.
func unroll(b *assess.Bracket, end string) unrolled {
	w := unrolled{end: end}
	flat := func(p r3.Vec) r3.Vec { // across U, along V, along the axis from the pad's end
		d := r3.Sub(p, b.Cut.Pad.At)
		return r3.Vec{X: r3.Dot(d, b.Cut.U), Y: r3.Dot(d, b.Cut.V), Z: r3.Dot(d, b.Cut.Axis)}
	}
	ring := b.Cut.Outline(end == "rail", corner+1)
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
		if size > longFlat {
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
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range w.edge {
		lo, hi = min(lo, p.Y), max(hi, p.Y)
	}
	ring := hi // of the pad's end: behind all of the cut
	if w.end == "rail" {
		ring = lo
	}
	c := Cutout{
		Name:  b.Name + "-" + w.end + "-wrap",
		Title: fmt.Sprintf("%s leg, %s end, wrap", b.Label, w.end),
		Facts: append(wrapFacts(b, w.end, b.Section, ring, "", u), "The seam is in the middle of the bottom side. The broken lines are where sides and corners meet. Top is the tube's upper side, left and right are as seen from the pad."),
	}
	var edge []r2.Vec
	for _, p := range w.edge {
		edge = append(edge, r2.Vec{X: across(w.end, p.X, w.around), Y: -math.Abs(p.Y - ring)})
	}
	first, last := edge[0].X, edge[len(edge)-1].X
	c.Edges = [][]r2.Vec{append(edge, r2.Vec{X: last, Y: band}, r2.Vec{X: first, Y: band})}
	c.Marks = append(c.Marks, []r2.Vec{{Y: 0}, {X: w.around}})
	for i, f := range w.folds {
		if i == 0 || i == len(w.folds)-1 {
			continue // the seam
		}
		x := across(w.end, f, w.around)
		c.Bends = append(c.Bends, []r2.Vec{{X: x, Y: band}, {X: x, Y: -math.Abs(height(w.edge, f) - ring)}})
	}
	for i, name := range []string{"left side", "top", "right side"} {
		if len(w.folds) >= 2*i+4 {
			c.Written = append(c.Written, scene.Note{At: r2.Vec{X: across(w.end, (w.folds[2*i+2]+w.folds[2*i+3])/2, w.around) - 5, Y: band - 5}, Text: name})
		}
	}
	c.Written = append(c.Written, scene.Note{At: r2.Vec{X: 1, Y: band - 5}, Text: "seam"})
	return c
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

// plateCutout is a plate laid flat, as it is cut out.
func plateCutout(b *assess.Bracket, w *assess.PlateWork, u quantity.Units) Cutout {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	c := Cutout{
		Name:  b.Name + "-" + w.End + "-plate",
		Title: fmt.Sprintf("%s leg, %s plate, %s thick", b.Label, w.End, mm(w.Plate.Thickness)),
		Facts: facts(w.End+" plate", b, "either one: the plate is the same from both sides. The lower edge is marked.",
			capital(plateLine(w, u))+"."),
		Edges: [][]r2.Vec{w.Plate.Outline},
	}
	for _, h := range w.Plate.Holes {
		c.Holes = append(c.Holes, Circle{h.At, h.Diameter})
	}
	half := w.Figures.Width / 2
	low := -w.Figures.Height / 2
	if w.Folded {
		for _, f := range w.Blank.Bends {
			for _, y := range []float64{f.From, f.To} {
				c.Marks = append(c.Marks, []r2.Vec{{X: -half, Y: low + y}, {X: half, Y: low + y}})
			}
			c.Bends = append(c.Bends, []r2.Vec{{X: -half, Y: low + f.Middle}, {X: half, Y: low + f.Middle}})
		}
		c.Facts = append(c.Facts, "Bend along the line between the two others, square; the short side is folded over the rail.")
	}
	c.Written = append(c.Written, scene.Note{At: r2.Vec{X: -half + 2, Y: low + 1.5}, Text: "lower edge"})
	if w.Figures.Height > 20 {
		c.Written = append(c.Written, scene.Note{At: r2.Vec{X: -half + 2, Y: -low - 5}, Text: b.Label + " " + w.End})
	}
	return c
}

// leastTaper is a lean that no shim is made for, mm.
const leastTaper = 0.2

// sheetCutout is another flat plate of a mount, as it is cut out.
func sheetCutout(b *assess.Bracket, w *assess.SheetWork, i int) Cutout {
	c := Cutout{Name: fmt.Sprintf("%s-sheet-%d", b.Name, i+1), Title: b.Label + " mount, " + w.Name, Edges: [][]r2.Vec{w.Plate.Outline}}
	c.Facts = facts(w.Name, b, "either side; both are alike.", fmt.Sprintf("Make %d.", w.Count))
	for _, h := range w.Plate.Holes {
		c.Holes = append(c.Holes, Circle{h.At, h.Diameter})
	}
	return c
}

// taperCutout is the profile of the shim that makes up for a pad that leans.
func taperCutout(b *assess.Bracket, u quantity.Units) (Cutout, bool) {
	k, err := b.CheckOf()
	if err != nil || !k.Wedge.Known || !k.Lean.Known {
		return Cutout{}, false
	}
	rise := math.Abs(k.Wedge.V)
	run := rise / math.Tan(math.Abs(k.Lean.V))
	if !(rise >= leastTaper) || math.IsInf(run, 0) {
		return Cutout{}, false
	}
	return Cutout{
		Name:  b.Name + "-pad-taper",
		Title: b.Label + " mount, taper under the pad",
		Facts: facts("tapered shim, seen from its side", b, "either one.",
			fmt.Sprintf("%s more at the thick end over %s of length, an angle of %s. Add the thickness of the thin end along the long side.",
				Magnitude(quantity.Length, rise, u), Magnitude(quantity.Length, run, u), Magnitude(quantity.Angle, math.Abs(k.Lean.V), u))),
		Edges: [][]r2.Vec{{{}, {X: run}, {X: run, Y: rise}}},
	}, true
}

// clean makes all text of a template fit for a document; names come from the
// file. A name of a file has letters, digits, hyphens and low lines.
func (c *Cutout) clean() {
	c.Name = fileName(c.Name)
	c.Title = project.Printable(c.Title)
	for i := range c.Facts {
		c.Facts[i] = project.Printable(c.Facts[i])
	}
	for i := range c.Written {
		c.Written[i].Text = project.Printable(c.Written[i].Text)
	}
}

// longName is how many bytes of a name a file's name has.
const longName = 80

// fileName is a text as part of a file's name.
func fileName(s string) string {
	s = strings.Map(func(r rune) rune {
		if r == '_' || r == '-' || unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return '_'
	}, s)
	for len(s) > longName {
		_, size := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-size]
	}
	return s
}
