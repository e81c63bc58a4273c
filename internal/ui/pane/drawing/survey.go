package drawing

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/scene"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/sketch"
	"fitup/internal/ui/theme"
)

// exaggerated is by how much the survey's drawing shows errors larger than they
// are.
const exaggerated = 20

// ofSurvey reports whether the cursor is on something of the frame's survey.
func ofSurvey(subject string) bool {
	return strings.HasPrefix(subject, "survey.") || strings.HasPrefix(subject, "frame.")
}

// surveyed draws the survey from above when the cursor is on it: the square frame
// dashed, the frame as it is with its errors exaggerated, the points' ± as ellipses,
// and the measurement to take next. False where it is not, or places nothing.
func surveyed(w, h int, v pane.View) (pane.Frame, bool) {
	if !ofSurvey(v.Subject) || !v.A.Frame.Given() || w < 20 || h < 5 {
		return pane.Frame{}, false
	}
	plan := v.A.Frame.Plan()
	if len(plan.Points) == 0 {
		return pane.Frame{}, false
	}
	ascii := v.Theme.Glyphs.Name == theme.ASCII().Name
	d := &surveyDrawing{c: sketch.New(w, h, ascii), plan: plan, v: v}
	d.fit(w, h)
	d.draw()
	f := pane.Frame{Title: fmt.Sprintf("Sketch: survey from above, errors %s%d", v.Theme.Times, exaggerated), Text: d.c.Lines(style(v))}
	f.Note = "dashed: square; front at the left"
	return f, true
}

type surveyDrawing struct {
	c    *sketch.Canvas
	view sketch.View
	plan assess.FramePlan
	v    pane.View

	hangs string // the subframe that is drawn; "" for the survey
}

// at is where a point is drawn, its error exaggerated.
func (d *surveyDrawing) at(i int) (x, y float64) {
	p := d.plan.Points[i]
	return p.Ideal.X + exaggerated*(p.At.X-p.Ideal.X), p.Ideal.Y + exaggerated*(p.At.Y-p.Ideal.Y)
}

// fit chooses the scale that shows all, with room for names.
func (d *surveyDrawing) fit(w, h int) {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	take := func(x, y float64) {
		lo[0], lo[1], hi[0], hi[1] = min(lo[0], x), min(lo[1], y), max(hi[0], x), max(hi[1], y)
	}
	for i, p := range d.plan.Points {
		take(p.Ideal.X, p.Ideal.Y)
		take(d.at(i))
	}
	const names, rows = 10, 2 // cells left free at the sides, and above and below
	dots := [2]float64{float64(2 * max(w-2*names, 4)), float64(4 * max(h-rows, 3))}
	scale := math.Inf(1)
	for k := range 2 {
		if size := hi[k] - lo[k]; size > 0 {
			scale = min(scale, dots[k]/size)
		}
	}
	if math.IsInf(scale, 1) {
		scale = 1
	}
	d.view = sketch.Centred((lo[0]+hi[0])/2, (lo[1]+hi[1])/2, scale, d.c)
}

func (d *surveyDrawing) line(x0, y0, x1, y1 float64, p sketch.Pattern, ink sketch.Ink) {
	d.c.Stroke([][2]float64{{d.view.X(x0), d.view.Y(y0)}, {d.view.X(x1), d.view.Y(y1)}}, p, ink)
}

func (d *surveyDrawing) draw() {
	for _, m := range d.plan.Members {
		a, b := d.plan.Points[m[0]], d.plan.Points[m[1]]
		d.line(a.Ideal.X, a.Ideal.Y, b.Ideal.X, b.Ideal.Y, sketch.Dots, sketch.Ink(scene.RoleLeader)+1)
	}
	for _, m := range d.plan.Members {
		x0, y0 := d.at(m[0])
		x1, y1 := d.at(m[1])
		d.line(x0, y0, x1, y1, sketch.Whole, inkLabel)
	}
	for i, t := range d.plan.Tapes {
		if t.Out || t.Suspect || d.v.Subject == fmt.Sprintf("survey.measure.%d", i+1) {
			d.between(t.From, t.To, sketch.Dashes, inkStatus+sketch.Ink(assess.Over))
		}
	}
	if d.v.Subject == "survey.next" || d.v.Subject == finding.SurveyHidden {
		for k := 1; k < len(d.plan.Next); k++ {
			d.between(d.plan.Next[k-1], d.plan.Next[k], sketch.Chain, inkLit)
		}
	}
	for i := range d.plan.Points {
		d.point(i)
	}
	for _, lit := range []bool{true, false} { // the name that is looked for has the first choice
		for i := range d.plan.Points {
			if d.lit(i) == lit {
				d.name(i)
			}
		}
	}
}

func (d *surveyDrawing) between(a, b int, p sketch.Pattern, ink sketch.Ink) {
	x0, y0 := d.at(a)
	x1, y1 := d.at(b)
	d.line(x0, y0, x1, y1, p, ink)
}

// lit reports whether the cursor is on a point.
func (d *surveyDrawing) lit(i int) bool {
	path := d.plan.Points[i].Path
	return d.v.Subject == "survey."+path || d.hangs != "" && d.v.Subject == finding.SubframeCorner(d.hangs, path)
}

func (d *surveyDrawing) ink(i int) sketch.Ink {
	if d.lit(i) {
		return inkLit
	}
	return inkLabel
}

// point draws a point with the ellipse of its ± (k = 2).
func (d *surveyDrawing) point(i int) {
	x, y := d.at(i)
	ink, ring := d.ink(i), d.ring(i)
	for k, at := range ring {
		ring[k] = [2]float64{d.view.X(at[0]), d.view.Y(at[1])}
	}
	d.c.Polyline(ring, ink)
	d.c.Cross(d.view.X(x), d.view.Y(y), 1, ink)
}

// name writes a point's name beside it, clear of other names, with how far it is off where
// that is worth telling.
func (d *surveyDrawing) name(i int) {
	p, lit := d.plan.Points[i], d.lit(i)
	x, y := d.at(i)
	name := d.v.Theme.Plain(project.Printable(p.Name))
	if lit && p.Judged {
		name += fmt.Sprintf(" %.1f", p.Off())
	}
	col, row := d.view.Cell(x, y)
	if d.c.TextFree(col, row, name, d.ink(i)) || !lit {
		return
	}
	w, _ := d.c.Size()
	d.c.Text(max(min(col+2, w-theme.Width(name)), 0), row, name, inkLit)
}

// ring is the ellipse of a point's ± (k = 2) about where the point is drawn, exaggerated as
// that is; mm.
func (d *surveyDrawing) ring(i int) (out [][2]float64) {
	const k, steps = 2, 24
	e := d.plan.Points[i].Ellipse
	x, y := d.at(i)
	sin, cos := math.Sincos(e.Direction)
	for s := range steps + 1 {
		b, a := math.Sincos(2 * math.Pi * float64(s) / steps)
		a, b = exaggerated*k*e.Long*a, exaggerated*k*e.Short*b
		out = append(out, [2]float64{x + a*cos - b*sin, y + a*sin + b*cos})
	}
	return out
}
