package book

import (
	"fmt"
	"strconv"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// AdapterNote says how an adapter plate is drilled and put on.
const AdapterNote = `Seen from the isolator, upward up. Drill the holes for the bosses first, put the plate on
the block and see that it lies on every boss without its bolts; then drill the pad. The
weight of the engine hangs on these bolts: clean threads, the maker's torque for the block
where there is one, and look again after the first drive. Ask before any boss is faced or
tapped deeper: oil and water run behind some.`

// adapters are the plates between the block and the isolators.
func (s *Sheet) adapters(a *assess.Assessment) {
	for _, x := range a.Adapters {
		s.adapter(a.Build.Units, x)
	}
}

// adapter is one of them, for the person who cuts and drills it.
func (s *Sheet) adapter(u quantity.Units, a *assess.Adapter) {
	head := capital(a.Label) + " mount, adapter plate"
	if a.Why != "" {
		s.add(head, text(0, "No plate. "+a.Why+".")...)
		return
	}
	var rows [][]string
	for _, r := range a.Rows() {
		rows = append(rows, []string{r.Label, Magnitude(r.Kind, r.V, u), strings.TrimSpace(Sense(r.Kind, r.V, u) + " " + r.Words)})
	}
	s.add(head, append([]Item{table(1, labels+2, rows)}, text(0, AdapterNote)...)...)
}

// adapterCutout is the plate as it is cut out.
func adapterCutout(a *assess.Adapter, u quantity.Units) Cutout {
	b := assess.Bracket{Name: a.Name, Label: a.Label}
	c := Cutout{
		Name:  a.Name + "-adapter",
		Title: fmt.Sprintf("%s mount, adapter plate, %s thick", a.Label, Magnitude(quantity.Length, a.Plate.Thickness, u)),
		Facts: facts("adapter plate on the block", &b, "the face that the isolator stands on.",
			"Holes 1 to "+strconv.Itoa(len(a.Bosses))+" are those of the bosses, as the file lists them; the cross is the middle of the pad."),
		Edges: [][]r2.Vec{a.Plate.Outline},
		Marks: [][]r2.Vec{{{X: -5}, {X: 5}}, {{Y: -5}, {Y: 5}}},
	}
	for i, h := range a.Plate.Holes {
		c.Holes = append(c.Holes, Circle{h.At, h.Diameter})
		if i < len(a.Bosses) {
			c.Written = append(c.Written, scene.Note{At: r2.Vec{X: h.At.X + h.Diameter/2 + 1, Y: h.At.Y}, Text: strconv.Itoa(i + 1)})
		}
	}
	return c
}

// adapterCutouts are those of one mount, or of all; left says of each without a plate why.
func adapterCutouts(a *assess.Assessment, mount string) (out []Cutout, left []string) {
	for _, x := range a.Adapters {
		switch {
		case mount != "" && x.Name != mount:
		case x.Why != "":
			left = append(left, fmt.Sprintf("%s adapter: no plate. %s", capital(x.Label), x.Why))
		default:
			out = append(out, adapterCutout(x, a.Build.Units))
		}
	}
	return out, left
}
