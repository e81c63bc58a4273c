package scene

import (
	"math"

	"fitup/internal/scene/hidden"
	"fitup/internal/scene/label"
	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Look is how a scene is looked at, and with what. Lengths are mm of the drawing.
type Look struct {
	View   view.View
	Window r2.Box  // what of the drawing there is room for
	Letter r2.Vec  // the room of one letter
	Dot    float64 // the least that can be told apart
	Lit    string  // what the cursor is on: the id of a row, a finding or a thing
	Marked bool    // the name of a mark that the cursor is on says so, as that of a part does
	Watch  string  // the finding in trouble
	Sizes  bool    // the dimensions of the placement, of the legs and of the shafts too
	Full   bool    // with its dimensions also where there is little room
	Bar    bool    // whether a scale bar and the vehicle's axes go with it
	Title  string  // written in the upper left corner; "" for nothing
	Before *Scene  // how it stood before the last change; nil for nothing to show
}

// Words are the texts of a drawing. Where they give several of one meaning the
// fullest comes first, and what there is room for is drawn.
type Words struct {
	Joint  func(Mark) []string
	Figure func(Dimension) []string
	Name   func(string) string // a name as the pen can write it
	Lit    func(string) string // the name of what the cursor is on
	Width  func(string) int    // letters that a text takes
	Unit   string              // of the scale bar
	Size   float64             // mm of that unit
}

// drawing is a scene while it is drawn.
type drawing struct {
	*Scene
	Look
	subject string // of Lit
	pen     Pen
	say     Words
	sight   view.Sight
	seen    *hidden.Scene
	shown   []bool
	lit     []bool
	sheet   *label.Sheet
	owner   []int16 // of each letter's place the part that is seen there, -1 for none
	near    []float64

	tags    []tag
	visible []float64 // how much of each part's lines is seen, mm
}

// Draw draws the scene with a pen. Strokes come before signs, and signs before
// texts, so that no text lies under a sign or on another.
func (s *Scene) Draw(p Pen, l Look, w Words) {
	d := &drawing{Scene: s, Look: l, pen: p, say: w, sight: l.View.Sight()}
	d.Lit = s.meant(l.Lit)
	d.subject = Subject(d.Lit)
	size := r2.Sub(l.Window.Max, l.Window.Min)
	d.sheet = label.New(int(math.Round(size.X/l.Letter.X)), int(math.Round(size.Y/l.Letter.Y)))
	d.entitle()
	d.choose()
	d.frame()
	d.visible = make([]float64, len(s.Parts))
	if l.Before != nil {
		d.ghost(l.Before)
	}
	d.swung()
	for i := range s.Parts {
		if d.shown[i] {
			d.part(i)
		}
	}
	for _, m := range s.Seams {
		if d.shown[m.Part] {
			d.pieces(d.seen.Line(l.View, m.Part, m.Line[0], m.Line[1]), Style{Role: s.Parts[m.Part].Role, Kind: s.Parts[m.Part].Kind, Lit: d.lit[m.Part]})
		}
	}
	d.signs()
	d.figures()
	if cols, rows := d.sheet.Size(); d.Bar && cols >= 50 && rows >= 10 {
		d.axes()
	}
	d.offGround()
	d.names()
}

// choose finds which parts this view shows: none that is too small to be told
// from a speck, unless the cursor is on it.
func (d *drawing) choose() {
	n := len(d.Parts)
	items := make([]hidden.Item, n)
	both := make([]bool, 2*n)
	d.shown, d.lit = both[:n], both[n:]
	for i := range d.Parts {
		p := &d.Parts[i]
		d.lit[i] = under(p.ID, d.subject)
		items[i].Layer = p.Role.layer()
		if d.shown[i] = d.shows(p) && (!p.Asked || d.lit[i]); d.shown[i] {
			items[i].Solid, items[i].Ball = p.Solid, p.Ball
		}
	}
	d.seen = hidden.See(d.View, items)
	for i := range d.Parts {
		b, solid := d.seen.Room(i)
		if solid && !d.lit[i] && max(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y) < speck*d.Dot {
			d.shown[i] = false
		}
	}
}

// speck is how many dots across a solid is too small to be drawn, and thin how
// many a rod is too thin to be more than a line.
const (
	speck = 6
	thin  = 2.5
)

// shows reports whether a view has a place for a part. Along the vehicle rails
// are cut through, drivelines left out, and of the rest what stands before or
// behind the powertrain.
func (d *drawing) shows(p *Part) bool {
	_, _, toward := d.View.Axes()
	const along = 1 - 1e-9
	switch p.Side {
	case 'x':
		return math.Abs(toward.X) > along
	case 'y':
		return math.Abs(toward.Y) > along
	}
	if math.Abs(toward.X) < along {
		return true
	}
	if p.Asked {
		return true
	}
	switch p.Role {
	case RoleRail, RoleAxis, RoleShaft:
		return false
	case RoleChassis, RoleWheel:
		lo, hi := p.stations()
		return d.Body == (r3.Box{}) || hi > d.Body.Min.X && lo < d.Body.Max.X
	}
	return true
}

// stations are the first and the last one of a part.
func (p *Part) stations() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, q := range p.places() {
		lo, hi = min(lo, q.X), max(hi, q.X)
	}
	return lo, hi
}

// places are points that a part lies between.
func (p *Part) places() []r3.Vec {
	switch {
	case p.Solid != nil:
		return p.Solid.Points
	case p.Ball != nil:
		r := p.Ball.Radius
		return []r3.Vec{
			r3.Add(p.Ball.At, r3.Vec{X: r}), r3.Sub(p.Ball.At, r3.Vec{X: r}), r3.Add(p.Ball.At, r3.Vec{Y: r}),
			r3.Sub(p.Ball.At, r3.Vec{Y: r}), r3.Add(p.Ball.At, r3.Vec{Z: r}), r3.Sub(p.Ball.At, r3.Vec{Z: r}),
		}
	}
	return p.Line
}

// part draws what is seen of a part.
func (d *drawing) part(i int) {
	p := &d.Parts[i]
	style := Style{Role: p.Role, Kind: p.Kind, Lit: d.lit[i]}
	switch {
	case p.Plain:
		d.stroke(d.flat(p.Line), style)
	case p.Side == 'y': // as near to the eye as anything
		_, _, toward := d.View.Axes()
		d.visible[i] = d.pieces(d.seen.Line(d.View, i, moved(p.Line, r3.Scale(1e5, toward))...), style)
	case p.Solid == nil && p.Ball == nil, p.Thick > 0 && p.Thick < thin*d.Dot:
		d.visible[i] = d.pieces(d.seen.Line(d.View, i, p.Line...), style)
	default:
		if style.Lit { // what is hidden of it too
			d.pieces(d.seen.Alone(i), Style{Role: p.Role, Kind: Dashed, Lit: true})
		}
		d.visible[i] = d.pieces(d.seen.Pieces(i), style)
	}
}

func moved(points []r3.Vec, by r3.Vec) []r3.Vec {
	out := make([]r3.Vec, len(points))
	for i, p := range points {
		out[i] = r3.Add(p, by)
	}
	return out
}

func (d *drawing) flat(points []r3.Vec) []r2.Vec {
	out := make([]r2.Vec, len(points))
	for i, p := range points {
		out[i] = d.sight.At(p)
	}
	return out
}

// pieces draws what is seen; what lies across something that it does not hide is
// drawn as what stands before the rest. It returns how long it all is, mm.
func (d *drawing) pieces(ps []hidden.Piece, s Style) (length float64) {
	for _, p := range ps {
		for i := 1; i < len(p.Points); i++ {
			length += r2.Norm(r2.Sub(p.Points[i], p.Points[i-1]))
		}
		t := s
		if p.Across {
			t.Kind = Phantom
		}
		d.stroke(p.Points, t)
	}
	return length
}

// stroke draws a run of lines and keeps texts off it.
func (d *drawing) stroke(points []r2.Vec, s Style) {
	d.pen.Line(points, s)
	for i := 1; i < len(points); i++ {
		x0, y0 := d.cell(points[i-1])
		x1, y1 := d.cell(points[i])
		d.sheet.Line(x0, y0, x1, y1)
	}
}

// cell is where a place lies on the sheet of letters, in columns and rows.
func (d *drawing) cell(at r2.Vec) (col, row float64) {
	return (at.X - d.Window.Min.X) / d.Letter.X, (d.Window.Max.Y - at.Y) / d.Letter.Y
}

func (d *drawing) letter(at r2.Vec) (col, row int) {
	x, y := d.cell(at)
	if !(math.Abs(x) < 1e6 && math.Abs(y) < 1e6) {
		return -1e6, -1e6
	}
	return int(math.Floor(x)), int(math.Floor(y))
}

// inside reports whether a place is within the window.
func (d *drawing) inside(at r2.Vec) bool {
	w := d.Window
	return at.X >= w.Min.X && at.X <= w.Max.X && at.Y >= w.Min.Y && at.Y <= w.Max.Y
}

// write writes a text whose first letter stands at a column and row.
func (d *drawing) write(col, row int, text string, s Style) {
	at := r2.Vec{
		X: d.Window.Min.X + (float64(col)+0.1)*d.Letter.X,
		Y: d.Window.Max.Y - (float64(row)+0.75)*d.Letter.Y,
	}
	d.pen.Text(Note{At: at, Text: text, Style: s, Clear: true})
}

// ghost draws the outlines of the powertrain as it stood before, where that can
// be told from where it stands.
func (d *drawing) ghost(before *Scene) {
	var items []hidden.Item
	far := false
	for i, p := range before.Parts {
		if p.Role != RoleBody || p.Solid == nil {
			continue
		}
		items = append(items, hidden.Item{Solid: p.Solid})
		if i < len(d.Parts) && d.Parts[i].Solid != nil && len(d.Parts[i].Solid.Points) == len(p.Solid.Points) {
			for k, q := range p.Solid.Points {
				far = far || r2.Norm(r2.Sub(d.sight.At(q), d.sight.At(d.Parts[i].Solid.Points[k]))) > d.Dot
			}
		}
	}
	if !far {
		return
	}
	h := hidden.See(d.View, items)
	for i := range items {
		for _, p := range h.Outline(i) {
			d.pen.Line(p, Style{Role: RoleGhost, Kind: Phantom})
		}
	}
}

// signs draws the marks.
func (d *drawing) signs() {
	for _, m := range d.Marks {
		at := d.sight.At(m.At)
		if !d.marks(m) || !d.inside(at) {
			continue
		}
		if under(m.ID, d.subject) && m.Role == RoleJoint {
			d.prolonged(m)
		}
		d.pen.Sign(at, m.style(d.subject))
		col, row := d.letter(at)
		d.sheet.Take(col, row, 1)
	}
}

// marks reports whether a view has a place for a mark.
func (d *drawing) marks(m Mark) bool {
	return m.Role != RoleJoint || !d.along()
}

// along reports whether one looks along the vehicle.
func (d *drawing) along() bool {
	_, _, toward := d.View.Axes()
	return math.Abs(toward.X) > 1-1e-9
}

// prolonged draws the shaft before a joint on beyond it, so that the angle there
// can be seen.
func (d *drawing) prolonged(m Mark) {
	const on = 350 // mm
	for i := range d.Parts {
		p := &d.Parts[i]
		n := len(p.Line)
		if (p.Role != RoleShaft && p.Role != RoleAxis) || n < 2 || r3.Norm(r3.Sub(p.Line[n-1], m.At)) > 1 {
			continue
		}
		way := r3.Unit(r3.Sub(p.Line[n-1], p.Line[n-2]))
		d.stroke(d.flat([]r3.Vec{m.At, r3.Add(m.At, r3.Scale(on, way))}), Style{Role: RoleDimension, Kind: Chain, Lit: true})
	}
}

func (m Mark) style(subject string) Style {
	return Style{Role: m.Role, Status: m.Status, Judged: m.Role == RoleJoint, Lit: under(m.ID, subject)}
}
