// Package drawing is the sketch: the build as a line drawing that follows
// every nudge.
package drawing

import (
	"math"
	"slices"
	"strings"

	"fitup/internal/abreast"
	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"
	"fitup/internal/scene/view"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/sketch"
	"fitup/internal/ui/theme"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Pane is the state of the sketch: from where it looks, how much of the build it
// shows, and how near.
type Pane struct {
	stand
	pan   float64  // one step of panning as it was drawn last, mm
	whole float64  // the scale that shows all, as it was drawn last, dots to the mm
	size  [2]int   // cells
	led   struct { // from which view to which one the last zoom to the cursor led, until all is shown again
		from, to view.View
		there    bool
	}
	marked bool // the name of a pad that the cursor is on has its sign, also without colours
	plain  bool // a figure: without a scale bar and the vehicle's axes
	last   drawn
	of     *assess.Assessment
	scene  *scene.Scene
	was    struct {
		of    *assess.Assessment
		scene *scene.Scene
	}
}

// stand is from where the sketch looks, how near, and how much it shows.
type stand struct {
	view  view.View
	close bool // only powertrain and driveline
	zoom  int  // steps nearer than what shows all
	away  bool // the middle is not that of the build but
	at    r3.Vec
}

// drawn is the last sketch and all that it follows from.
type drawn struct {
	stand
	of, before     *assess.Assessment
	theme          *theme.Theme
	w, h           int
	subject, watch string
	frame          pane.Frame
}

// same reports whether two sketches follow from the same.
func (d drawn) same(e drawn) bool {
	return d.stand == e.stand && d.of == e.of && d.before == e.before && d.theme == e.theme &&
		d.w == e.w && d.h == e.h && d.subject == e.subject && d.watch == e.watch
}

// Actions of the sketch.
const (
	NextView  action.ID = "sketch.view"
	Closer    action.ID = "sketch.closer"
	TurnLeft  action.ID = "sketch.turn.left"
	TurnRight action.ID = "sketch.turn.right"
	TurnUp    action.ID = "sketch.turn.up"
	TurnDown  action.ID = "sketch.turn.down"
	ZoomIn    action.ID = "sketch.zoom.in"
	ZoomOut   action.ID = "sketch.zoom.out"
	PanLeft   action.ID = "sketch.pan.left"
	PanRight  action.ID = "sketch.pan.right"
	PanUp     action.ID = "sketch.pan.up"
	PanDown   action.ID = "sketch.pan.down"
	FitAll    action.ID = "sketch.fit.all"
	FitThis   action.ID = "sketch.fit.this"
)

// Actions are all that only change how the sketch is looked at.
func Actions() []action.ID {
	return []action.ID{NextView, Closer, TurnLeft, TurnRight, TurnUp, TurnDown, ZoomIn, ZoomOut, PanLeft, PanRight, PanUp, PanDown, FitAll, FitThis}
}

// mostZoom is how many steps nearer or further away one can go. Two steps show
// things twice as large.
const mostZoom = 20

// Key turns an action into an intent; those of the sketch change only how it
// is looked at.
func (p *Pane) Key(id action.ID, v pane.View) pane.Intent {
	switch id {
	case NextView, pane.More, pane.Down, pane.Enter:
		p.view = step(p.view, 1)
	case pane.Less, pane.Up:
		p.view = step(p.view, -1)
	case Closer:
		p.close, p.zoom, p.away = !p.close, 0, false
	case TurnLeft:
		p.view = p.view.Turned(-1, 0)
	case TurnRight:
		p.view = p.view.Turned(1, 0)
	case TurnUp:
		p.view = p.view.Turned(0, 1)
	case TurnDown:
		p.view = p.view.Turned(0, -1)
	case ZoomIn:
		p.zoom = min(p.zoom+1, mostZoom)
	case ZoomOut:
		p.zoom = max(p.zoom-1, -mostZoom/2)
	case PanLeft:
		p.move(-1, 0, v)
	case PanRight:
		p.move(1, 0, v)
	case PanUp:
		p.move(0, 1, v)
	case PanDown:
		p.move(0, -1, v)
	case FitAll:
		p.zoom, p.away = 0, false
		if p.led.there && p.view == p.led.to {
			p.view = p.led.from
		}
		p.led.there = false
	case FitThis:
		return p.fit(v)
	}
	return nil
}

// step is the next of the named views, or the one before.
func step(v view.View, by int) view.View {
	all := view.Named()
	i := slices.Index(all, v)
	if i < 0 {
		i = len(all) - 1 // one that was turned
	}
	return all[(i+by+len(all))%len(all)]
}

// move moves the window over the drawing by steps.
func (p *Pane) move(right, up float64, v pane.View) {
	if !p.away {
		box, ok := p.sceneOf(v).Bounds(p.view, p.extent())
		if !ok {
			return
		}
		p.at, p.away = p.lifted(r2.Scale(0.5, r2.Add(box.Min, box.Max))), true
	}
	r, u, _ := p.view.Axes()
	p.at = r3.Add(p.at, r3.Add(r3.Scale(right*p.pan, r), r3.Scale(up*p.pan, u)))
}

// lifted is a point in vehicle axes that is seen at a place of the drawing.
func (p *Pane) lifted(at r2.Vec) r3.Vec {
	r, u, _ := p.view.Axes()
	return r3.Add(r3.Scale(at.X, r), r3.Scale(at.Y, u))
}

// fit shows what the cursor is on as large as leaves it some surroundings.
func (p *Pane) fit(v pane.View) pane.Intent {
	b, ok := p.sceneOf(v).Selection(v.Subject)
	if !ok {
		return pane.Say{Text: "What the cursor is on has no place in the sketch: put it on a mount, a clearance, a bracket or a joint first."}
	}
	p.lead(v.Subject)
	p.at, p.away = r3.Scale(0.5, r3.Add(b.Min, b.Max)), true
	const least = 300 // mm: the surroundings of a point
	size := max(r3.Norm(r3.Sub(b.Max, b.Min)), least)
	room := float64(min(2*p.size[0], 4*p.size[1]))
	p.zoom = 0
	if p.whole > 0 && room > 0 {
		p.zoom = max(0, min(mostZoom, int(math.Floor(2*math.Log2(0.6*room/size/p.whole)))))
	}
	return nil
}

// lead turns to the view that shows most of the dimensions of what the cursor is
// on, unless the view is one that was turned.
func (p *Pane) lead(subject string) {
	from := p.view
	for _, x := range view.Named() {
		if from.Along() && p.scene.Shown(x, subject) > p.scene.Shown(p.view, subject) {
			p.view = x
		}
	}
	if p.led.there && from == p.led.to {
		from = p.led.from
	}
	p.led.from, p.led.to, p.led.there = from, p.view, true
}

func (p *Pane) extent() scene.Extent {
	if p.close {
		return scene.Fitted
	}
	return scene.Whole
}

// sceneOf is the scene of what is on show. It is made once for each state.
func (p *Pane) sceneOf(v pane.View) *scene.Scene {
	if p.of != v.A {
		if p.of != nil && p.of == v.Before { // a row that is moved on keeps what was before
			p.was.of, p.was.scene = p.of, p.scene
		}
		p.of, p.scene = v.A, scene.Of(v.A)
	}
	return p.scene
}

// before is the scene before the last change; nil where there is none.
func (p *Pane) before(v pane.View) *scene.Scene {
	if v.Before == nil {
		return nil
	}
	if p.was.of != v.Before {
		p.was.of, p.was.scene = v.Before, scene.Of(v.Before)
	}
	return p.was.scene
}

// Draw draws the pane's content for w by h cells, anew only when something of it
// has changed.
func (p *Pane) Draw(w, h int, v pane.View) pane.Frame {
	now := drawn{stand: p.stand, of: v.A, before: v.Before, theme: v.Theme, w: w, h: h, subject: v.Subject, frame: p.last.frame}
	if v.HasW {
		now.watch = v.Watch.ID
	}
	if last := p.last; last.of == nil || !last.same(now) {
		now.frame = p.drawAnew(w, h, v)
	}
	p.last = now
	return now.frame
}

func (p *Pane) drawAnew(w, h int, v pane.View) pane.Frame {
	if f, ok := surveyed(w, h, v); ok {
		return f
	}
	if f, ok := hungSubframe(w, h, v); ok {
		return f
	}
	s := p.sceneOf(v)
	f := pane.Frame{Title: "Sketch: " + p.view.String(), Note: p.note(s)}
	views := []view.View{p.view}
	for _, x := range view.Named() {
		if x != p.view && p.zoom == 0 && !p.away {
			views = append(views, x)
		}
	}
	boxes := p.boxes(s, views, h)
	if len(boxes) == 0 || w < 1 || h < 1 {
		c := sketch.New(w, h, v.Theme.Glyphs.Name == theme.ASCII().Name)
		for i, l := range theme.Wrap("Nothing to draw yet: no rails, and the powertrain is not placed.", w) {
			c.Text(0, i, l, inkLabel)
		}
		f.Text = c.Lines(style(v))
		return f
	}
	places, k := arrange(w, h, boxes)
	align(places)
	p.size, p.whole = [2]int{w, h}, k
	k *= math.Pow(2, float64(p.zoom)/2)
	p.pan = float64(min(2*w, 4*h)) / k / 6
	names := make([]string, len(places))
	parts := make([][]string, len(places))
	before := p.before(v)
	abreast.Each(len(places), func(i int) {
		names[i] = places[i].view.String()
		parts[i] = p.draw(s, before, places[i], k, v, i == 0, len(places) > 1)
	})
	if len(names) > 1 {
		f.Title = "Sketch: " + strings.Join(short(names), ", ")
	}
	f.Text = joined(places, parts, w, h)
	return f
}

// short are the names of views without from where they are seen.
func short(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i], _, _ = strings.Cut(n, ", ")
		out[i] = strings.TrimPrefix(out[i], "view ")
		out[i] = strings.TrimSuffix(out[i], " view")
	}
	return out
}

func (p *Pane) note(s *scene.Scene) string {
	_, fitted := s.Bounds(p.view, scene.Fitted)
	switch {
	case p.zoom != 0 || p.away:
		return "zoomed, 0 shows all"
	case p.close && fitted: // before that there is nothing but the vehicle
		return "driveline only"
	}
	return ""
}

// joined sets the pictures of views in their places.
func joined(places []place, parts [][]string, w, h int) []string {
	out := make([]string, h)
	for y := range out {
		x := 0
		var b strings.Builder
		for { // the next picture on this row, from left to right
			next := -1
			for i, p := range places {
				if y >= p.y && y < p.y+p.h && p.x >= x && (next < 0 || p.x < places[next].x) {
					next = i
				}
			}
			if next < 0 {
				break
			}
			b.WriteString(strings.Repeat(" ", places[next].x-x))
			b.WriteString(parts[next][y-places[next].y])
			x = places[next].x + places[next].w
		}
		b.WriteString(strings.Repeat(" ", max(w-x, 0)))
		out[y] = b.String()
	}
	return out
}

// draw draws one view at so many dots to the mm; before is the scene before the last
// change, nil for none. It changes nothing of the pane: views are drawn side by side.
func (p *Pane) draw(s, before *scene.Scene, x place, k float64, v pane.View, first, several bool) []string {
	ascii := v.Theme.Glyphs.Name == theme.ASCII().Name
	c := sketch.New(x.w, x.h, ascii)
	dots := 1.0 // that can be told apart
	if ascii {
		dots = 2
	}
	middle := r2.Scale(0.5, r2.Add(x.box.Min, x.box.Max))
	if p.away {
		middle = x.view.Sight().At(p.at)
	}
	screen := sketch.Centred(middle.X, middle.Y, k, c)
	half := r2.Vec{X: float64(x.w) / k, Y: 2 * float64(x.h) / k}
	look := scene.Look{
		View: x.view, Window: r2.Box{Min: r2.Sub(middle, half), Max: r2.Add(middle, half)},
		Letter: r2.Vec{X: 2 / k, Y: 4 / k}, Dot: dots / k,
		Lit: v.Subject, Marked: p.marked, Before: before, Bar: first && !p.plain && (!p.marked || x.h >= leastBar), Full: p.marked,
	}
	if v.HasW {
		look.Watch = v.Watch.ID
	}
	if several {
		look.Title = short([]string{x.view.String()})[0]
	}
	s.Draw(pen{c: c, view: screen, joint: v.Theme.Joint, ascii: ascii}, look, words(v))
	return c.Lines(style(v))
}

// leastBar is how many rows a view beside a row of the file has that spares one for a
// scale bar.
const leastBar = 9

// words are the texts of the drawing.
func words(v pane.View) scene.Words {
	return scene.Words{
		Joint:  func(m scene.Mark) []string { return joint(m, v) },
		Figure: func(d scene.Dimension) []string { return figure(d, v) },
		Name:   func(name string) string { return v.Theme.Plain(project.Printable(name)) },
		Lit:    func(name string) string { return v.Theme.Focus + " " + name },
		Width:  theme.Width,
		Unit:   v.Units().For(quantity.Length).Name(),
		Size:   1 / quantity.InUnit(quantity.Length, 1, v.Units()),
	}
}

// joint is a joint's name, angle and verdict, and less of that for where there
// is less room. Its line is named where there are several.
func joint(m scene.Mark, v pane.View) []string {
	name, sign := m.Label, v.Theme.Sign(pane.Status(m.Status))
	if len(v.A.Lines) > 1 {
		name = project.Printable(v.A.Lines[m.Line].Name) + " " + name
	}
	return []string{
		name + " " + v.Number(quantity.Angle, m.Angle, 2) + " " + sign,
		name + " " + sign,
		m.Label + " " + sign,
	}
}

// figure is a dimension's number with what it is of and its verdict, and less of
// that for where there is less room.
func figure(d scene.Dimension, v pane.View) []string {
	if !d.Value.Known {
		return []string{d.Of + ", not typed yet", d.Of + " ?", "?"}
	}
	number := v.Number(d.Kind, d.Value, v.Digits(d.Kind))
	sign := ""
	if d.Verdict {
		sign = " " + v.Theme.Sign(pane.Status(d.Status))
	}
	if d.Of == "" {
		return []string{number + sign}
	}
	return []string{number + " " + d.Of + sign, number + sign}
}
