package book

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/book/paper"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"
	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r2"
)

// screening is said of the whole book; the places where it counts say it again.
const screening = "Strength, loads and speeds here are screening figures: they say what is plainly too weak or too fast, and nothing more. " +
	"A licensed engineer, the makers' figures and the rules of the place decide. Mind the caution of each job before you begin it."

func (m *maker) cover(s *Sheet) {
	a := m.a
	rows := [][]string{{"vehicle", orNotKnown(a.Build.Vehicle.Name)}, {"file", m.from.File}, {"SHA-256 of the file", m.from.Hash}, {"printed on", m.from.Date}}
	n := a.Count()
	findings := fmt.Sprintf("%d: %d ok, %d tight, %d over, %d not known", len(a.Findings), n[assess.OK], n[assess.Tight], n[assess.Over], n[assess.NotKnown])
	if n[assess.Elsewhere] > 0 {
		findings += fmt.Sprintf(", %d judged elsewhere", n[assess.Elsewhere])
	}
	if len(a.Findings) == 0 {
		findings = "none: nothing to check is in the file yet, which proves nothing"
	}
	rows = append(rows, []string{"findings", findings})
	if w, ok := a.Worst(); ok && w.Status != assess.OK {
		rows = append(rows, []string{"most in need of attention", w.Title + ": " + w.Status.String()})
	}
	jobs := "no job is in the file yet"
	if h := a.Headcount(); h.Total > 0 {
		jobs = h.String()
	}
	s.add("", table(0, 0, append(rows, []string{"jobs", jobs})))
	if note := a.Build.Note; note != "" {
		s.add("", text(0, note)...)
	}
	s.add("", text(0, screening)...)
	sc := scene.Of(a)
	for _, v := range views[:3] {
		if f, ok := m.view(sc, v.word, v.view); ok {
			s.add("", figure(f))
			continue
		}
		s.add("", text(0, "There is nothing to draw yet: no rails, and the powertrain is not placed.")...)
		break
	}
}

// Round a view on a page across, mm.
const (
	viewEdge = 20.0 // left and right together
	viewFoot = 42.0 // above and below, with its title
)

func (m *maker) view(sc *scene.Scene, word string, v view.View) (Figure, bool) {
	wide, high := m.size.High-viewEdge, m.size.Wide-viewFoot
	to, box, ok := viewScale(sc, v, r2.Vec{X: wide, Y: high - 4})
	if !ok {
		return Figure{}, false
	}
	words := paperWords(m.a)
	return Figure{
		Name:  "view-" + word,
		Title: fmt.Sprintf("%s, 1:%g where the page is printed at 100 %%. Parallel projection; what stands before the powertrain is looked through. Planned, but for joint angles that were read: measure on the vehicle and not here.", capital(v.String()), to),
		High:  high,
		Wide:  wide,
		draw: func(p *paper.Page, place r2.Box) {
			place.Min.Y += 4 // the scale bar's words reach below
			p.Clip(place)
			drawIn(p, sc, v, to, box, place, words)
			p.Unclip()
		},
	}, true
}

func orNotKnown(s string) string {
	if s == "" {
		return "not known: no name in the file"
	}
	return s
}

func (m *maker) placement(s *Sheet) {
	a := m.a
	var rows [][]string
	for _, r := range a.Rows {
		why := ""
		if !r.Now.Known {
			why = sentence(r.Now.Why)
		}
		rows = append(rows, []string{r.Label, m.number(r.Kind, r.Now), why})
	}
	if len(rows) == 0 {
		s.add("", text(0, "No placement is in the file yet: [placement] holds it.")...)
		return
	}
	s.add("", written(1, []string{"row", "now, planned", "what is missing", "measured"}, rows))
	if !a.Pose.Known {
		s.add("", text(0, "Where the powertrain stands is not known: "+a.Pose.Why+".")...)
		return
	}
	rows = nil
	for _, pad := range []string{"left_front", "right_front"} {
		if edge, over := a.PadOverRail(pad); over.Known {
			rows = append(rows, []string{strings.ReplaceAll(pad, "_", " "), m.upDown(over.V, "over", "below") + " the rail's inner top edge", "at station " + Magnitude(quantity.Length, edge.X, m.u)})
		}
	}
	for _, l := range a.Statics.Mounts {
		if l.At.Known {
			at := l.At.V
			rows = append(rows, []string{l.Label + ", its pad", fmt.Sprintf("station %s, offset %s, height %s", Magnitude(quantity.Length, at.X, m.u), m.say(quantity.Offset, at.Y), Magnitude(quantity.Length, at.Z, m.u)), ""})
		}
	}
	if len(rows) > 0 {
		s.add("Mount heights", written(1, []string{"mount", "planned", "where", "measured"}, rows))
	}
}

func (m *maker) readings(s *Sheet) {
	a := m.a
	var rows [][]string
	for _, r := range a.Build.Readings {
		shown := "no value"
		if x, ok := r.Shown.Get(); ok {
			shown = Magnitude(quantity.Angle, x, m.u)
		}
		if r.InPlan() {
			shown = m.say(quantity.Offset, r.Aside.V()) + " over " + Magnitude(quantity.Length, r.Over.V(), m.u)
		}
		var on []string
		for _, x := range []string{string(r.On), lower(r.Lower), string(r.After), string(r.Stood), day(r), r.Note} {
			if x != "" {
				on = append(on, x)
			}
		}
		rows = append(rows, []string{axisName(a, r.Of), shown, strings.Join(on, ", ")})
	}
	if len(rows) == 0 && len(a.Measurements) == 0 {
		s.add("", text(0, "Nothing was read or measured yet: what the book says is planned. Every verdict that wants a reading says so.")...)
		return
	}
	if len(rows) > 0 {
		s.add("Gauge and tape", written(2, []string{"of", "shown", "how", "the next: shown", "lower end"}, rows))
	}
	rows = nil
	for _, x := range a.Measurements {
		rows = append(rows, []string{x.Of, m.number(x.Kind, x.Mean), fmt.Sprintf("%s, %d read, spread %s", x.With, x.Count, Magnitude(x.Kind, x.Spread, m.u)), string(x.After)})
	}
	if len(rows) > 0 {
		s.add("Measurements", written(1, []string{"of", "mean", "how", "after", "the next"}, rows))
	}
	m.marks(s)
	rows = nil
	for _, f := range a.Findings {
		if finding.IsDrift(f.ID) {
			rows = append(rows, []string{f.Title, f.Status.String(), m.value(f), sentence(f.Advice())})
		}
	}
	if len(rows) > 0 {
		s.add("Drift in welding", grid([]string{"of", "verdict", "change", "what to do"}, rows))
	}
}

func lower(e project.End) string {
	if e == "" {
		return ""
	}
	return "lower at the " + string(e)
}

func day(r project.Reading) string {
	if r.Taken.IsZero() {
		return ""
	}
	return r.Taken.Format("2006-01-02")
}

// axisName is the name of what a reading is of in the words of its finding.
func axisName(a *assess.Assessment, path string) string {
	if f, ok := a.Finding(finding.AxisRead(path)); ok {
		if name, ok := strings.CutPrefix(f.Title, "reading of the "); ok {
			return name
		}
	}
	return path
}
