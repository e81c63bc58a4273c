package frame

import (
	"fmt"
	"strconv"
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
	t := pane.NewTable(w, 4, v)
	unit := powers(v)
	for _, b := range r.Rails {
		t.Out = append(t.Out, strip(w, b, v)...)
		if b.Rail.Why != "" {
			t.Out = append(t.Out, pane.Says(w, theme.Dim, finding.Sentence(b.Rail.Why))...)
		}
		t.Heading(string(b.Side)+" rail, "+unit.fourth, "I was", "I is", "It was", "It is")
		for _, p := range b.Lengths() {
			t.Row(t.Cells(fmt.Sprintf("%d: %s", p.Length+1, p.Section), unit.second(p.Was.Ix), unit.second(p.Now.Ix), unit.second(p.Was.J), unit.second(p.Now.J)),
				unit.more(&p, v), pane.Findings(v, finding.RailPlate(string(b.Side), p.Length+1))...)
		}
		uses(t, b, v)
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
			t.Row(t.Cells(name, "", "", "", value), nil, f)
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

// power writes areas and second moments in the unit that the file's lengths go with:
// cm for metric tables, inches for others.
type power struct {
	mm     float64
	name   string
	fourth string
}

func powers(v pane.View) power {
	switch quantity.UnitName(quantity.Length, v.Units()) {
	case "in", "ft", "thou":
		return power{25.4, "in", "in4"}
	}
	return power{10, "cm", "cm4"}
}

func (p power) of(x float64, power int) string {
	for range power {
		x /= p.mm
	}
	return three(x)
}

func (p power) second(x float64) string { return p.of(x, 4) }

// three writes a number with three figures, without a power of ten.
func three(x float64) string {
	digits := 0
	for s := x; s != 0 && s < 100 && s > -100 && digits < 5; s *= 10 {
		digits++
	}
	return strconv.FormatFloat(x, 'f', digits, 64)
}

// more says the rest of a length's figures.
func (p power) more(q *assess.RailPiece, v pane.View) []string {
	f := &q.Now
	out := []string{fmt.Sprintf("%s from station %s to %s; before, %s.", q.Section, length(v, q.From),
		length(v, q.To), q.Before)}
	out = append(out, fmt.Sprintf("Area %s %s2 (was %s), shear area up %s %s2, across %s %s2; I across %s %s, least modulus up and down %s %s3 (was %s), its axes turned by %s.",
		p.of(f.Area, 2), p.name, p.of(q.Was.Area, 2), p.of(f.ShearY, 2), p.name, p.of(f.ShearX, 2), p.name, p.second(f.Iy), p.fourth,
		p.of(f.Wx, 3), p.name, p.of(q.Was.Wx, 3), v.Number(quantity.Angle, finding.Exact(f.Turn.Rad()), v.Digits(quantity.Angle))))
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
