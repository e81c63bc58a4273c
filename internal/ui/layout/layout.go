// Package layout turns a terminal size into rectangles. It is pure: the same
// size, panes and focus always give the same plan, and every rectangle lies
// inside the screen and overlaps no other.
package layout

// Rect is a rectangle in character cells; X runs to the right and Y downwards
// from the upper left corner of the screen. W and H are never negative.
type Rect struct{ X, Y, W, H int }

// Empty reports whether the rectangle holds no cell.
func (r Rect) Empty() bool { return r.W <= 0 || r.H <= 0 }

// Has reports whether a cell lies in the rectangle.
func (r Rect) Has(x, y int) bool { return x >= r.X && x < r.X+r.W && y >= r.Y && y < r.Y+r.H }

// Slot is one of the areas a builder can put the focus on, by its place: the
// sketch is the first, the others follow in the order in which they are shown
// and stepped through.
type Slot int

// Sketch is the pane that lies across the top.
const Sketch Slot = 0

// Mode says how the panes share the screen.
type Mode int

// The modes from the smallest terminal to the largest.
const (
	Refused Mode = iota // too small to work on safely: show only a message
	Single              // one pane at a time
	Stacked             // a strip of sketch, one open pane, the others as titles
	Wide                // everything visible
)

// The sizes at which the modes begin, in columns and rows.
const (
	MinW, MinH     = 60, 20
	StackW, StackH = 80, 24
	WideW, WideH   = 120, 36
)

const (
	minPaneW      = 38 // a row of name, value, unit and status needs this much
	minSketchRows = 7
)

// Plan is where everything goes. In mode Refused only Message is set and it is
// the whole screen. Panes holds the open panes, Collapsed those reduced to a
// title line (mode Stacked only), Strip the line that names all panes (mode
// Single only, unless zoomed).
type Plan struct {
	Mode   Mode
	Focus  Slot // the focused pane; differs from the one asked for if there is none such
	Zoomed bool

	Title, Strip, Message, Footer Rect

	Panes     map[Slot]Rect
	Collapsed map[Slot]Rect
}

// Edges are how many rows the message and the footer take; none counts as one.
type Edges struct{ Message, Footer int }

// rows are the edges on a screen of h rows: the panes keep most of it.
func (e Edges) rows(h int) (message, footer int) {
	footer = min(max(e.Footer, 1), 2)
	return max(min(max(e.Message, 1), h/4-footer), 1), footer
}

// Compute lays out the sketch and n panes more on a screen of w columns and h
// rows. A focus that is none of them goes to the first pane after the sketch, if
// there is one. With zoomed the focused pane takes all rows between the title
// and the message. Negative sizes and numbers count as zero.
func Compute(w, h, n int, focus Slot, zoomed bool, edges Edges) Plan {
	w, h, n = max(w, 0), max(h, 0), max(n, 0)
	if focus < 0 || int(focus) > n {
		focus = Slot(min(n, 1))
	}
	others := make([]Slot, n)
	for i := range others {
		others[i] = Sketch + 1 + Slot(i)
	}
	p := Plan{
		Mode:      modeFor(w, h),
		Focus:     focus,
		Panes:     map[Slot]Rect{},
		Collapsed: map[Slot]Rect{},
	}
	if p.Mode == Refused {
		p.Message = Rect{W: w, H: h}
		return p
	}
	p.Title = Rect{0, 0, w, 1}
	message, footer := edges.rows(h)
	p.Message = Rect{0, h - footer - message, w, message}
	p.Footer = Rect{0, h - footer, w, footer}
	body := Rect{0, 1, w, h - 1 - message - footer}
	switch {
	case zoomed:
		p.Zoomed = true
		p.Panes[focus] = body
	case p.Mode == Single:
		p.Strip, body = splitRows(body, 1)
		p.Panes[focus] = body
	case p.Mode == Stacked:
		p.stack(body, others)
	default:
		p.spread(body, others)
	}
	return p
}

func modeFor(w, h int) Mode {
	switch {
	case w < MinW || h < MinH:
		return Refused
	case w < StackW || h < StackH:
		return Single
	case w < WideW || h < WideH:
		return Stacked
	}
	return Wide
}

// stack puts the sketch strip on top and the panes below it, the focused one
// open. When the sketch itself has the focus it gets every row the titles
// leave.
func (p *Plan) stack(body Rect, others []Slot) {
	if len(others) == 0 {
		p.Panes[Sketch] = body
		return
	}
	extra := p.Message.H - 1 // a long message takes its rows from the sketch
	sketchRows := max(minSketchRows, (body.H+extra)/3) - extra
	if p.Focus == Sketch {
		sketchRows = body.H - len(others)
	}
	strip, rest := splitRows(body, sketchRows)
	p.Panes[Sketch] = strip
	for i, pane := range others {
		if pane != p.Focus {
			p.Collapsed[pane], rest = splitRows(rest, 1)
			continue
		}
		p.Panes[pane], rest = splitRows(rest, rest.H-(len(others)-1-i))
	}
}

// spread shows everything: the sketch across the top, the panes side by side
// below, or in two rows of two when four would be too narrow.
func (p *Plan) spread(body Rect, others []Slot) {
	if len(others) == 0 {
		p.Panes[Sketch] = body
		return
	}
	beside := len(others)*minPaneW <= body.W
	rows := body.H * 2 / 5
	if !beside {
		rows = body.H / 3 // two rows of panes need more
	}
	if p.Focus == Sketch {
		rows = body.H * 3 / 5
	}
	strip, rest := splitRows(body, max(minSketchRows, rows))
	p.Panes[Sketch] = strip
	if beside {
		p.sideBySide(rest, others)
		return
	}
	half := (len(others) + 1) / 2
	first, second := others[:half], others[half:]
	rows = rest.H / 2
	switch {
	case p.has(first):
		rows = rest.H * 2 / 3
	case p.has(second):
		rows = rest.H - rest.H*2/3
	}
	upper, lower := splitRows(rest, rows)
	p.sideBySide(upper, first)
	p.sideBySide(lower, second)
}

func (p *Plan) has(panes []Slot) bool {
	for _, q := range panes {
		if q == p.Focus {
			return true
		}
	}
	return false
}

// sideBySide gives every pane its minimum width and shares out what is left,
// the focused pane taking two shares.
func (p *Plan) sideBySide(r Rect, panes []Slot) {
	shares := len(panes)
	if p.has(panes) {
		shares++
	}
	spare := r.W - len(panes)*minPaneW
	for i, pane := range panes {
		w := minPaneW + spare/shares
		if pane == p.Focus {
			w += spare / shares
		}
		if i == len(panes)-1 {
			w = r.W
		}
		p.Panes[pane] = Rect{r.X, r.Y, w, r.H}
		r.X += w
		r.W -= w
	}
}

// splitRows cuts the first n rows off r.
func splitRows(r Rect, n int) (top, rest Rect) {
	n = min(max(n, 0), r.H)
	return Rect{r.X, r.Y, r.W, n}, Rect{r.X, r.Y + n, r.W, r.H - n}
}
