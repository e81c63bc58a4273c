package frame

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

func sectionsPage() pane.Leaf { return pane.Leaf{Name: "sections", Items: sectionItems, Key: shown} }

// sectionItems are what the rails are made of, old and new side by side, and what they
// use of their strength.
func sectionItems(w int, v pane.View) []pane.Item {
	r := v.A.Rails
	if !r.Given() {
		return pane.Says(w, theme.Dim, "The file does not say what the rails are made of. On the data page, under Rails, give a length with its section, the supports that carry the rail, and what rests on it: then it is bent over a bump and twisted by one wheel up.")
	}
	t, screened := pane.NewTable(w, 4, v), pane.NewTable(w, 1, v)
	t.Width = 7
	_, unit := quantity.Power(0, 4, v.Units())
	for _, b := range r.Rails {
		t.Out = append(t.Out, strip(w, b, v)...)
		if b.Rail.Why != "" {
			t.Out = append(t.Out, pane.Says(w, theme.Dim, finding.Sentence(b.Rail.Why))...)
		}
		t.Heading(string(b.Side)+" rail, "+unit, "I was", "I is", "It was", "It is")
		for _, p := range b.Lengths() {
			t.Named(fmt.Sprintf("%d: %s", p.Length+1, p.Section), []string{second(p.Was.Ix, v), second(p.Now.Ix, v), second(p.Was.J, v), second(p.Now.J, v)},
				more(&p, v), pane.Findings(v, finding.RailPlate(string(b.Side), p.Length+1))...)
		}
		screened.Out = nil
		screened.Heading(string(b.Side)+" rail, screening", "is")
		uses(screened, b, v)
		t.Out = append(t.Out, screened.Out...)
	}
	return t.Out
}

// uses are the verdicts on a rail as a whole and on its joints.
func uses(t *pane.Table, b *assess.BentRail, v pane.View) {
	side := string(b.Side)
	row := func(name, id string) {
		for _, f := range pane.Findings(v, id) {
			value := ""
			if f.HasValue {
				value = v.Number(quantity.Number, finding.Exact(f.Value), 2)
			}
			t.Named(name, []string{value}, nil, f)
		}
	}
	row("bending, part of yield", finding.RailBending(side))
	for i, s := range b.Splices {
		row(s.Words+", part of yield", finding.RailSplice(side, i+1))
	}
	row("twist, part of yield", finding.RailTwist(side))
	row("stiffness beside itself", finding.RailStep(side))
	row("details prone to crack", finding.RailDetails(side))
}

// strip draws a rail from the side, front to the left: what its lengths are, joints and
// holes in them, what carries it below.
func strip(w int, b *assess.BentRail, v pane.View) []pane.Item {
	n := max(w-4, 8)
	if b.To <= b.From {
		return nil
	}
	at := func(x float64) int { return min(max(int((x-b.From)/(b.To-b.From)*float64(n)), 0), n-1) }
	body, below := []byte(strings.Repeat("-", n)), []byte(strings.Repeat(" ", n))
	for _, p := range b.Lengths() {
		sign := byte('-')
		switch p.Spec().Plated {
		case "":
		case project.PlatedBoxed:
			sign = '#'
		default:
			sign = '='
		}
		for i := at(p.From); i <= at(p.To-1e-3); i++ {
			body[i] = sign
		}
	}
	for _, h := range b.Spec.Holes {
		body[at(h.At.V())] = 'o'
	}
	for _, s := range b.Spec.Splices {
		body[at(s.At.V())] = '|'
	}
	for _, s := range b.Spec.Supports {
		below[at(s.At.V())] = '^'
	}
	ends := fmt.Sprintf("%s rail, %s to %s: = plated, # boxed, | joint, o hole, ^ support", b.Side,
		length(v, b.From), length(v, b.To))
	out := pane.Says(w, theme.Dim, ends)
	return append(out, pane.Heading(" "+string(body)), pane.Heading(" "+string(below)))
}

// of writes an area, a modulus or a second moment with its unit.
func of(x float64, power int, v pane.View) string {
	text, unit := quantity.Power(x, power, v.Units())
	return text + " " + unit
}

// second writes a second moment for a column whose heading has the unit.
func second(x float64, v pane.View) string {
	text, _ := quantity.Power(x, 4, v.Units())
	return text
}

// more says the rest of a length's figures.
func more(q *assess.RailPiece, v pane.View) []string {
	f := &q.Now
	out := []string{fmt.Sprintf("%s from station %s to %s; before, %s.", q.Section, length(v, q.From),
		length(v, q.To), q.Before)}
	out = append(out, fmt.Sprintf("Area %s (was %s), shear area up %s, across %s; I across %s, least modulus up and down %s (was %s), its axes turned by %s.",
		of(f.Area, 2, v), of(q.Was.Area, 2, v), of(f.ShearY, 2, v), of(f.ShearX, 2, v), of(f.Iy, 4, v),
		of(f.Wx, 3, v), of(q.Was.Wx, 3, v), v.Number(quantity.Angle, finding.Exact(f.Turn.Rad()), v.Digits(quantity.Angle))))
	if f.HasShearCentre {
		d := f.ShearCentre.X - f.Centroid.X
		way := "towards the flanges"
		if d < 0 {
			d, way = -d, "on the web's side"
		}
		out = append(out, fmt.Sprintf("Its shear centre lies %s from its centre of area, %s: a load beside it twists the rail. Accuracy: %s.",
			length(v, d), way, f.JAccuracy()))
	}
	if wide, ok := q.Spec().Widened.Get(); ok && wide != 0 {
		out = append(out, "It was moved out by "+length(v, wide)+" here.")
	}
	if put, ok := q.Spec().Stretched.Get(); ok && put != 0 {
		out = append(out, length(v, put)+" of it was put in.")
	}
	return out
}

func length(v pane.View, mm float64) string {
	return v.Number(quantity.Length, finding.Exact(mm), v.Digits(quantity.Length))
}
