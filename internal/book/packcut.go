package book

import (
	"fmt"
	"math"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// packCutouts are the templates of wedges, shims and spring perches; left says of each
// without one why.
func packCutouts(a *assess.Assessment) (out []Cutout, left []string) {
	for i := range a.Packings {
		p := &a.Packings[i]
		l, okL := p.Spec.Length.Get()
		w, okW := p.Spec.Width.Get()
		switch {
		case !p.Thick.Known:
			left = append(left, fmt.Sprintf("The %s %s: no template. %s", p.Spec.Kind, p.Spec.Name, sentence(p.Thick.Why)))
		case !okL || !okW || !(l > 0 && w > 0):
			left = append(left, fmt.Sprintf("The %s %s: no template. Its length or its width is not in the file yet.", p.Spec.Kind, p.Spec.Name))
		case p.Spec.Kind == project.PackWedge:
			out = append(out, wedgeCutout(p, l, w, a.Build.Units))
		case p.Spec.Kind == project.PackPerch && p.Spec.Tube.V() > 0:
			out = append(out, perchCutout(p, l, w, a.Build.Units))
		default:
			out = append(out, shimCutout(p, l, w, a.Build.Units))
		}
	}
	return out, left
}

// packed is what the templates of a packing have in common.
func packed(p *assess.Packing, i string, up string, more ...string) Cutout {
	return Cutout{
		Name:  fileName(p.ID) + "-" + i,
		Title: p.Spec.Name + ", " + i,
		Facts: append([]string{
			fmt.Sprintf("Part: %s. Side: as its name says. Quantity: %d.", p.Spec.Kind, p.Count), "Face up: " + up,
		}, more...),
	}
}

// wedgeCutout is the profile of a wedge as it is seen from the left of the vehicle.
func wedgeCutout(p *assess.Packing, l, w float64, u quantity.Units) Cutout {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	front, rear := p.Thin.V, p.Thick.V
	if p.Spec.ThickEnd == project.ThickFront {
		front, rear = rear, front
	}
	c := packed(p, "profile", "seen from the left of the vehicle, its front end on the left; from the right it is the other way round.",
		fmt.Sprintf("%s at its thin end, %s at its thick end, over %s; %s wide.", mm(p.Thin.V), mm(p.Thick.V), mm(l), mm(w)),
		"The pinion's slope in the file is that with it in place. It takes a centre bolt that is longer by what lies over it.")
	edge := []r2.Vec{{}, {X: l}}
	if rear > 0 {
		edge = append(edge, r2.Vec{X: l, Y: rear})
	}
	if front > 0 {
		edge = append(edge, r2.Vec{Y: front})
	}
	c.Edges = [][]r2.Vec{edge}
	return c
}

// shimCutout is a shim from above.
func shimCutout(p *assess.Packing, l, w float64, u quantity.Units) Cutout {
	c := packed(p, "blank", "either one. Its length runs fore and aft.", Magnitude(quantity.Length, p.Thick.V, u)+" thick.")
	c.Edges = [][]r2.Vec{corners(r2.Box{Max: r2.Vec{X: l, Y: w}})}
	c.Written = []scene.Note{{At: r2.Vec{X: 2, Y: 2}, Text: "front"}}
	return c
}

// perchCutout is the profile of a spring perch, seen along the axle tube: its seat on top,
// its saddle below, as far down as the tube's middle where it is longer than the tube is
// thick.
func perchCutout(p *assess.Packing, l, w float64, u quantity.Units) Cutout {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	r, half := p.Spec.Tube.V()/2, l/2
	c := packed(p, "profile", "either one: both halves are alike.",
		fmt.Sprintf("%s from the top of the tube to its seat, on a tube of %s; %s wide across the vehicle.", mm(p.Thick.V), mm(2*r), mm(w)),
		"Its saddle lies on the tube without a gap. Welding a perch draws the tube out of line: for qualified people, in short runs on both sides in turn.")
	top, end := r+p.Thick.V, math.Asin(min(half/r, 1))
	edge := []r2.Vec{{X: half, Y: top}, {X: -half, Y: top}}
	if half > r {
		edge = append(edge, r2.Vec{X: -half})
	}
	const steps = 180 // leaves an arc of 60 mm by less than 0.01 mm
	for i := range steps + 1 {
		sin, cos := math.Sincos(end * (2*float64(i)/steps - 1))
		edge = append(edge, r2.Vec{X: r * sin, Y: r * cos})
	}
	if half > r {
		edge = append(edge, r2.Vec{X: half})
	}
	c.Edges = [][]r2.Vec{edge}
	c.Written = []scene.Note{{At: r2.Vec{X: -6, Y: top - 5}, Text: "seat"}}
	return c
}
