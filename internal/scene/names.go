package scene

import (
	"cmp"
	"math"
	"slices"

	"fitup/internal/scene/hidden"
	"fitup/internal/scene/label"

	"gonum.org/v1/gonum/spatial/r2"
)

// names writes the names of joints, pads and parts: what the cursor is on first,
// then the joint worst off, then the smaller before the larger.
func (d *drawing) names() {
	marks := make([]int, len(d.Marks))
	figures := map[int][]string{}
	for i := range marks {
		marks[i] = i
	}
	for _, t := range d.tags {
		figures[t.mark] = d.behind(figures[t.mark], t.of)
	}
	slices.SortStableFunc(marks, func(i, j int) int {
		a, b := &d.Marks[i], &d.Marks[j]
		return cmp.Or(-cmp.Compare(rank(under(a.ID, d.subject)), rank(under(b.ID, d.subject))), -cmp.Compare(a.Role, b.Role), -cmp.Compare(a.Status, b.Status))
	})
	for _, i := range marks {
		if at := d.sight.At(d.Marks[i].At); d.marks(d.Marks[i]) && d.inside(at) {
			d.mark(d.Marks[i], at, figures[i])
		}
	}
	d.own()
	type named struct{ part, cells int }
	var parts []named
	count := make([]int, len(d.Parts))
	for _, o := range d.owner {
		if o >= 0 {
			count[o]++
		}
	}
	for i := range d.Parts {
		if d.shown[i] && d.Parts[i].Name != "" {
			parts = append(parts, named{i, count[i]})
		}
	}
	slices.SortStableFunc(parts, func(a, b named) int {
		x, y := &d.Parts[a.part], &d.Parts[b.part]
		return cmp.Or(-cmp.Compare(rank(d.lit[a.part]), rank(d.lit[b.part])), -cmp.Compare(order(x.Role), order(y.Role)), cmp.Compare(a.cells, b.cells))
	})
	for _, n := range parts {
		d.name(n.part)
	}
}

func rank(lit bool) int {
	if lit {
		return 1
	}
	return 0
}

// order is that in which parts are named, the highest first.
func order(r Role) int {
	switch r {
	case RoleBody:
		return 3
	case RoleChassis:
		return 2
	case RoleLeg:
		return 1
	}
	return 0
}

// behind are the figures that stand behind the name of a mark, with one more of them.
func (d *drawing) behind(already []string, x Dimension) []string {
	more := d.say.Figure(x)
	if len(already) == 0 {
		return more
	}
	return append([]string{already[0] + ", " + more[0]}, already...)
}

// mark writes the name of a mark beside it, with the figures behind it.
func (d *drawing) mark(m Mark, at r2.Vec, figures []string) {
	name := d.say.Name(m.Label)
	texts := []string{name}
	switch {
	case m.Role == RoleJoint:
		texts = d.say.Joint(m)
	case d.Marked && under(m.ID, d.subject):
		texts = []string{d.say.Lit(name), name}
	}
	if len(figures) > 0 {
		var with []string
		for _, f := range figures {
			with = append(with, texts[0]+" "+f)
		}
		texts = append(with, texts...)
	}
	col, row := d.letter(at)
	reach := 3
	if m.Role != RoleJoint || d.tiny() { // a name further off would be taken for another's
		reach = 2
	}
	for _, text := range texts {
		n := d.say.Width(text)
		spots := label.Around(col, row, n, reach)
		for i := range spots {
			if m.Role != RoleJoint {
				spots[i].Cost *= 3
			}
			under := spots[i].Row > row
			if m.Role == RoleJoint && under == (m.Line == 0) && spots[i].Row != row {
				spots[i].Cost += 2 // those of the second line and those after it under theirs
			}
		}
		if p, ok := d.sheet.Place(n, n/2, spots); ok {
			d.write(p.Col, p.Row, text, m.style(d.subject))
			return
		}
	}
}

// own finds what is seen at each letter's place; what is looked through only
// where there is nothing else.
func (d *drawing) own() {
	cols, rows := d.sheet.Size()
	d.owner, d.near = make([]int16, cols*rows), make([]float64, cols*rows)
	for i := range d.owner {
		d.owner[i] = -1
	}
	for i := range d.Parts {
		p := &d.Parts[i]
		b, solid := d.seen.Room(i)
		if !d.shown[i] || !solid || p.Role == RoleRail {
			continue
		}
		c0, r0 := d.letter(r2.Vec{X: b.Min.X, Y: b.Max.Y})
		c1, r1 := d.letter(r2.Vec{X: b.Max.X, Y: b.Min.Y})
		for row := max(r0, 0); row <= min(r1, rows-1); row++ {
			for col := max(c0, 0); col <= min(c1, cols-1); col++ {
				z, ok := d.seen.Depth(i, d.middle(col, row))
				if !ok {
					continue
				}
				if p.Role.layer() == hidden.Front {
					z += 1e6
				}
				if at := row*cols + col; d.owner[at] < 0 || z > d.near[at] {
					d.owner[at], d.near[at] = int16(i), z
				}
			}
		}
	}
}

// middle is that of a letter's place.
func (d *drawing) middle(col, row int) r2.Vec {
	return r2.Vec{X: d.Window.Min.X + (float64(col)+0.5)*d.Letter.X, Y: d.Window.Max.Y - (float64(row)+0.5)*d.Letter.Y}
}

// leastCells is how many letters' places of a part have to be seen before it is
// named: smaller ones would be named without being known.
const leastCells = 4

// name writes the name of a part on its face, or beside it with a leader.
func (d *drawing) name(i int) {
	p := &d.Parts[i]
	text, style := d.say.Name(p.Name), Style{Role: p.Role, Lit: d.lit[i]}
	if style.Lit {
		text = d.say.Lit(text)
	}
	n := d.say.Width(text)
	_, rows := d.sheet.Size()
	if p.Solid == nil && p.Ball == nil || p.Role == RoleRail {
		if (!d.tiny() || style.Lit) && (p.Asked || d.known(i)) {
			d.beside(p, text, n, style)
		}
		return
	}
	f := d.face(i)
	if f.cells < leastCells && !(style.Lit && f.cells > 0) {
		return
	}
	if at, ok := d.onFace(i, n, f); ok {
		d.sheet.Take(at.Col, at.Row, n)
		d.write(at.Col, at.Row, text, style)
		return
	}
	if rows >= 10 || style.Lit {
		d.leader(i, text, n, f, style)
	}
}

// known reports whether so much of a line or a rail is seen that its name would
// not be taken for another's.
func (d *drawing) known(i int) bool {
	p := &d.Parts[i]
	if p.Plain {
		return true
	}
	b := empty()
	b.take(d.sight, p.places()...)
	if d.visible[i] < 0.6*max(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y) {
		return false
	}
	middle := r2.Scale(0.5, r2.Add(b.Min, b.Max))
	own, ok := d.seen.Depth(i, middle)
	for j := range d.Parts {
		if j == i || d.Parts[j].Role != RoleRail || !ok {
			continue
		}
		if z, there := d.seen.Depth(j, middle); there && z > own+1 {
			return false // what is seen of it is little more than its edges
		}
	}
	return true
}

// face is what is seen of a part: how many letters' places, in which columns and
// rows, and their middle.
type face struct {
	cells          int
	c0, c1, r0, r1 int
	col, row       float64
}

func (d *drawing) face(i int) face {
	cols, rows := d.sheet.Size()
	f := face{c0: cols, r0: rows, c1: -1, r1: -1}
	for row := range rows {
		for col := range cols {
			if int(d.owner[row*cols+col]) != i {
				continue
			}
			f.cells++
			f.c0, f.c1, f.r0, f.r1 = min(f.c0, col), max(f.c1, col), min(f.r0, row), max(f.r1, row)
			f.col, f.row = f.col+float64(col), f.row+float64(row)
		}
	}
	if f.cells > 0 {
		f.col, f.row = f.col/float64(f.cells), f.row/float64(f.cells)
	}
	return f
}

// onFace finds room for n letters on what is seen of a part, off lines if it can
// be, as near to its middle as there is.
func (d *drawing) onFace(i, n int, f face) (best label.Spot, found bool) {
	cols, _ := d.sheet.Size()
	least := math.Inf(1)
	for row := f.r0; row <= f.r1; row++ {
		run, inked := 0, 0
		for col := f.c0; col <= f.c1; col++ {
			if int(d.owner[row*cols+col]) != i {
				run, inked = 0, 0
				continue
			}
			run++
			if d.sheet.Inked(col, row) {
				inked++
			}
			at := col - n + 1
			if run > n && d.sheet.Inked(at-1, row) {
				inked--
			}
			if run < n || inked > n/3 {
				continue
			}
			away := math.Abs(float64(at)+float64(n-1)/2-f.col) + 2*math.Abs(float64(row)-f.row) + 4*float64(inked)
			if away >= least {
				continue
			}
			if _, free := d.sheet.Free(at, row, n); free {
				best, least, found = label.Spot{Col: at, Row: row}, away, true
			}
		}
	}
	return best, found
}

// anchor is the place of a part that is seen nearest to the middle of what is.
func (d *drawing) anchor(i int, f face) (col, row int) {
	cols, _ := d.sheet.Size()
	least := math.Inf(1)
	for r := f.r0; r <= f.r1; r++ {
		for c := f.c0; c <= f.c1; c++ {
			if int(d.owner[r*cols+c]) != i {
				continue
			}
			if away := math.Abs(float64(c)-f.col) + 2*math.Abs(float64(r)-f.row); away < least {
				col, row, least = c, r, away
			}
		}
	}
	return col, row
}

// leader writes a name beside a part, with a line from it to the part (ISO
// 128-2: it ends within the outline).
func (d *drawing) leader(i int, text string, n int, f face, s Style) {
	cols, rows := d.sheet.Size()
	col, row := d.anchor(i, f)
	spots := label.Around(col, row, n, max(2, min(9, rows/3)))
	spots = slices.DeleteFunc(spots, func(p label.Spot) bool { // on the face of another it would be taken for that one's
		for c := max(p.Col, 0); c < min(p.Col+n, cols) && p.Row >= 0 && p.Row < rows; c++ {
			if o := int(d.owner[p.Row*cols+c]); o >= 0 && o != i {
				return true
			}
		}
		return false
	})
	at, ok := d.sheet.Place(n, 0, spots)
	if !ok {
		return
	}
	d.write(at.Col, at.Row, text, s)
	end := min(max(col, at.Col), at.Col+n-1)
	from, to := d.middle(col, row), d.middle(end, at.Row)
	switch {
	case at.Row > row:
		to.Y += 0.6 * d.Letter.Y
	case at.Row < row:
		to.Y -= 0.6 * d.Letter.Y
	case at.Col > col:
		to.X -= d.Letter.X
	default:
		to.X += d.Letter.X
	}
	if max(math.Abs(from.X-to.X)/d.Letter.X, math.Abs(from.Y-to.Y)/d.Letter.Y) > 0.7 {
		d.stroke([]r2.Vec{from, to}, Style{Role: RoleLeader, Lit: s.Lit})
	}
}

// beside writes a name beside a line or a rail, at the middle of what the window
// shows of it.
func (d *drawing) beside(p *Part, text string, n int, s Style) {
	points := d.flat(p.places())
	lo, hi := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, q := range points {
		lo = r2.Vec{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}
		hi = r2.Vec{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
	}
	w := d.Window
	if hi.X < w.Min.X || lo.X > w.Max.X || hi.Y < w.Min.Y || lo.Y > w.Max.Y {
		return
	}
	along := (max(lo.X, w.Min.X) + min(hi.X, w.Max.X)) / 2
	at := r2.Vec{X: along, Y: (lo.Y + hi.Y) / 2}
	if hi.X > lo.X && len(points) > 1 && p.Kind == Continuous { // on the slope of what runs aslant
		a, b := points[0], points[len(points)-1]
		if p.Solid != nil {
			b = points[len(points)/2]
		}
		if a.X != b.X {
			at.Y = a.Y + (along-a.X)/(b.X-a.X)*(b.Y-a.Y)
		}
	}
	col, row := d.letter(at)
	if place, ok := d.sheet.Place(n, 0, label.Around(col, row, n, 2)); ok {
		d.write(place.Col, place.Row, text, s)
	}
}
