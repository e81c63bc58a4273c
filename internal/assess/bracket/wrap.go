package bracket

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project/quantity"
)

// Wrap is a paper template wrapped around one end of a round leg. It is set to
// a square line drawn around the tube, the ring; the cut lies from there toward
// the end.
type Wrap struct {
	End     string  // pad or rail
	Ring    float64 // of the square line from the axis' end at the pad, mm along the axis
	Around  float64 // once around the tube, mm
	Zero    float64 // where the template begins around the tube, rad clockwise from the top, seen from the pad
	Fitted  string  // which surface of the wall is fitted; empty for a flat cut
	Points  []WrapPoint
	Deepest float64 // of Toward, mm
}

// WrapPoint is one place of a template.
type WrapPoint struct {
	Angle  float64 // around the tube from the template's beginning, rad
	Around float64 // the same on the outside of the tube, mm
	Toward float64 // of the cut from the ring toward the end, mm
}

// Wraps returns the templates of the ends of a round leg that are not square,
// with so many places around (12 to 360).
func (b *Bracket) Wraps(places int) ([]Wrap, error) {
	w, err := b.wraps(places)
	if err != nil && b.ready != nil {
		err = errors.New(quantity.Restate(err.Error(), b.ready.units))
	}
	return w, err
}

func (b *Bracket) wraps(places int) ([]Wrap, error) {
	k := b.Leg.Shape.Kind
	switch {
	case b.Members != nil:
		return nil, fmt.Errorf("the members of the %s mount are cut on the saw, by the settings of the cut sheet; a template is for the round tube of a single leg", b.Label)
	case !b.HasCut:
		return nil, fmt.Errorf("%s", b.Why)
	case k != section.RoundTube && k != section.RoundBar:
		return nil, fmt.Errorf("the %s leg is a %s and is cut on the saw; a template is for round tube", b.Label, b.Section)
	case places < 12 || places > 360:
		return nil, fmt.Errorf("a template has 12 to 360 places around the tube, not %d", places)
	}
	var out []Wrap
	add := func(end string, t geombracket.Template, acute geom.Angle) {
		w := Wrap{End: end, Around: t.Around, Zero: turned(acute), Fitted: t.Fitted, Ring: t.Most}
		if end == "rail" {
			w.Ring = b.Cut.Length - t.Most
		}
		for i, p := range t.Points {
			x := WrapPoint{2 * math.Pi * float64(i) / float64(places), p.X, t.Most - p.Y}
			w.Points = append(w.Points, x)
			w.Deepest = max(w.Deepest, x.Toward)
		}
		out = append(out, w)
	}
	for i, e := range b.ends() {
		if e.Angle < level {
			continue
		}
		// The tube is shortest on the acute side, opposite the long point.
		t, err := geombracket.PlateTemplate(b.Label+" leg", b.Leg.Shape.H, 90*geom.Deg-e.Angle, places)
		if err != nil {
			return nil, err
		}
		t.Fitted = ""
		add([2]string{"pad", "rail"}[i], t, e.Clock+180*geom.Deg)
	}
	if b.Saddle != nil {
		t, err := b.Saddle.Saddle.Template(places)
		if err != nil {
			return nil, err
		}
		add("rail", t, b.Saddle.Acute)
	}
	return out, nil
}

// level is the angle below which a cut counts as square.
const level = 0.01 * geom.Deg

// turned brings an angle into a full turn from 0.
func turned(a geom.Angle) float64 {
	r := math.Mod(a.Rad(), 2*math.Pi)
	if r < -1e-9 {
		r += 2 * math.Pi
	}
	return max(r, 0)
}
