package ui

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/theme"
)

// repeats are how the values of the thing shown stand to each other.
type repeats struct {
	kind         quantity.Kind
	count        int           // of those that count together
	apart        float64       // the largest of these less the smallest
	mean         assess.Number // of these
	last         assess.Number // what the gauge showed last
	clash, doubt string        // they cannot all be true; a third is wanted
}

// agree is how the values of the thing shown stand to each other.
func (r *round) agree(m *Model) repeats {
	if r.tape {
		return r.agreeTape(m)
	}
	s := repeats{kind: quantity.Slope}
	for _, l := range m.now.Lines {
		for _, x := range l.Axes {
			if x.Target != r.list().at {
				continue
			}
			s.count, s.apart, s.doubt = x.Count, x.Apart, x.Doubt
			if s.mean = x.Raw; x.Clash {
				s.clash = x.Read.Why
			}
			if x.Reading >= 0 && x.Count > 0 {
				s.last = assess.Exact(m.now.Build.Readings[x.Reading].Shown.V())
			}
		}
	}
	return s
}

func (r *round) agreeTape(m *Model) repeats {
	s := repeats{kind: quantity.Length}
	for _, x := range slices.Backward(m.now.Measurements) {
		if x.Of == r.list().at {
			s.kind, s.count, s.apart, s.mean = x.Kind, x.Count, x.Spread, x.Mean
			if s.count == 2 && x.Mean.Known && s.apart > x.Mean.Expanded() {
				s.doubt = "The two are farther apart than what they were taken with is good for: take a third."
			}
			break
		}
	}
	return s
}

func (r *round) size(w, h int) (int, int) { return w, h - 2 }

func (r *round) draw(m *Model, w, h int) (string, string, []string) {
	r.settle(m)
	title := "Round of readings"
	if r.tape {
		title = "Round of measures"
	}
	if all, _ := r.things(m); len(all) == 0 {
		text := "The file has no measurement yet that could be repeated. Enter the first of each with its name, from the Jobs pane; tab goes back to the gauge."
		return title, "esc leaves", theme.Wrap(text, max(w, 1))
	}
	s := r.agree(m)
	foot := r.foot(m, w)
	words, role := r.words(m, s)
	second, caption, secondRole := r.second(m, s)
	room := h - 1 - len(foot)
	if second != "" && r.refused == "" && room < 2*digitHeight+2 { // no line of its own for it
		words, caption = caption+".  "+words, ""
	}
	text := theme.Wrap(m.theme.Plain(project.Printable(words)), max(w-2, 1))
	if r.refused != "" {
		second = "" // what is wanted has to be read in full
	}
	fixed := 1
	if second != "" {
		fixed += digitHeight
		if caption != "" {
			fixed++
		}
	}
	if most := max(room+1-fixed-digitHeight, 1); len(text) > most {
		text = append(text[:most-1], m.theme.Cut(text[most-1]+" "+text[most], w-4))
	}
	first, firstRole := r.first(m, s)
	room -= len(text)
	small := 0
	if second != "" {
		if caption != "" {
			room--
		}
		small = max(min((room-digitHeight)/digitHeight, room/digitHeight/2), 1)
		room -= small * digitHeight
	}
	lines := []string{centre(w, m.theme.Paint(theme.Title, m.theme.Cut(r.head(m), w)))}
	lines = append(lines, m.figures(first, w, max(room, 1), firstRole)...)
	if second != "" {
		if caption != "" {
			lines = append(lines, centre(w, m.theme.Paint(secondRole, m.theme.Cut(caption, w))))
		}
		lines = append(lines, m.figures(second, w, small*digitHeight, secondRole)...)
	}
	for len(lines) < h-len(text)-len(foot) {
		lines = slices.Insert(lines, 1, "")
	}
	lines = append(lines, m.said(text, w, role)...)
	return title, "esc leaves", append(lines, foot...)
}

// said draws the words, with the cursor before them: what is typed stands there in
// letters.
func (m *Model) said(text []string, w int, role theme.Role) []string {
	var out []string
	for _, l := range text {
		out = append(out, centre(w, m.theme.Paint(role, l)))
	}
	if len(out) > 0 {
		out[0] = theme.Caret + out[0]
	}
	return out
}

// figures draws a value in digits as large as there is room for, or as it is where it
// has signs that there are no large ones of.
func (m *Model) figures(text string, w, h int, role theme.Role) []string {
	body := strings.TrimRight(text, "°\"'abcdefghijklmnopqrstuvwxyz ")
	plain := body == "" || strings.ContainsFunc(body, func(r rune) bool { _, ok := digitRows[r]; return !ok })
	if plain || digitWidth(body) > w || h < digitHeight {
		return []string{centre(w, m.theme.Paint(role, m.theme.Cut(text, w)))}
	}
	scale := 1
	for (scale+1)*digitWidth(body) <= w && (scale+1)*digitHeight <= h {
		scale++
	}
	var out []string
	for _, s := range digits(body, scale, m.theme.Full) {
		out = append(out, centre(w, m.theme.Paint(role, s)))
	}
	return out
}

// head names the thing shown, and how far the round is.
func (r *round) head(m *Model) string {
	l := r.list()
	all, labels := r.things(m)
	at := max(slices.Index(all, l.at), 0)
	label := labels[at]
	if !r.tape {
		label += ", " + r.form.on.answers[r.form.on.at]
	}
	return m.theme.Plain(project.Printable(fmt.Sprintf("%s  (%d of %d, %d now)", label, at+1, len(all), r.done(m, l.at))))
}

// first is the large figure: what is typed, what waits, or what was read.
func (r *round) first(m *Model, s repeats) (string, theme.Role) {
	l := r.list()
	v := m.view(m.focus)
	switch {
	case l.field.Text() != "":
		return m.theme.Plain(project.Printable(l.field.Text())), theme.Key
	case l.waits != "":
		return m.theme.Plain(project.Printable(l.waits)), theme.Doubt
	case s.mean.Known:
		k := s.kind
		if k == quantity.Slope { // the words below say which end is lower
			k = quantity.Angle
		}
		return v.Cell(k, assess.Exact(math.Abs(s.mean.V)), v.Digits(k)), theme.Text
	case s.last.Known:
		return v.Cell(quantity.Angle, s.last, v.Digits(quantity.Angle)), theme.Doubt
	}
	return "-", theme.Dim
}

// second is the other large figure: how far the values are apart.
func (r *round) second(m *Model, s repeats) (text, caption string, role theme.Role) {
	if s.count < 2 {
		return "", "", theme.Dim
	}
	text = r.apart(m, s)
	switch {
	case s.clash != "":
		return text, "apart: they cannot all be true", theme.Danger
	case s.doubt != "":
		return text, "apart: read it once more", theme.Doubt
	}
	return text, fmt.Sprintf("apart, %d repeats", s.count), theme.Good
}

// apart is how far the values are apart, with its unit.
func (r *round) apart(m *Model, s repeats) string {
	k := s.kind
	if k == quantity.Slope {
		k = quantity.Angle
	}
	v := m.view(m.focus)
	return v.Number(k, assess.Exact(s.apart), v.Digits(k))
}

// words says what is asked for, what was refused, or how it stands.
func (r *round) words(m *Model, s repeats) (string, theme.Role) {
	l := r.list()
	v := m.view(m.focus)
	g := m.theme.Glyphs
	low, high := "front", "rear"
	if project.LiesAcross(l.at) {
		low, high = "left", "right"
	}
	switch {
	case r.refused != "":
		return r.refused, theme.Danger
	case l.waits != "":
		return fmt.Sprintf("Which end is lower?  %s %s   %s %s   n not sure", g.Left, low, g.Right, high), theme.Doubt
	case l.field.Text() != "":
		return r.typing(m, s)
	case s.clash != "":
		return m.keyOf(actRoundDrop) + " drops one: " + s.clash + ".", theme.Danger
	case s.doubt != "":
		return s.doubt, theme.Doubt
	}
	text := ""
	if r.taken != "" {
		text = "Taken: " + r.taken + ".  "
	}
	switch {
	case l.lower != "" && l.lower != notSure:
		text += string(l.lower) + " end lower; type what the gauge shows"
	case s.mean.Known:
		digits := v.Digits(s.kind)
		text += "Reads " + v.Number(s.kind, s.mean, digits) + " " + v.Around(s.kind, s.mean, digits)
	case s.count > 0:
		text += "what was read makes no number yet: see the findings"
	default:
		text += "not read yet"
	}
	return text, theme.Text
}

// typing says how what is typed is taken.
func (r *round) typing(m *Model, s repeats) (string, theme.Role) {
	l := r.list()
	text := strings.TrimSpace(l.field.Text())
	kind, value := s.kind, text
	if !r.tape {
		kind, value = quantity.Angle, unsigned(text)
	}
	x, err := quantity.ParseStated(kind, value, m.now.Build.Units)
	if err != nil {
		return firstLine(err), theme.Danger
	}
	if err := r.form.fault(m); !r.tape && err != nil && !errors.Is(err, gauge.ErrNoSense) {
		return r.standsOnAnother(m, err), theme.Danger
	}
	v := m.view(m.focus)
	words := "= " + v.Number(kind, assess.Exact(x.V), v.Digits(kind)+1)
	if value != text {
		words += ", its sign left out, which says nothing of front and rear"
	}
	if l.lower != "" && l.lower != notSure {
		words += ", " + string(l.lower) + " end lower"
	}
	return words + "; enter takes it", theme.Key
}

// foot says with what answers a reading is taken, and the keys.
func (r *round) foot(m *Model, w int) []string {
	form := &r.form
	g := m.theme.Glyphs
	var out []string
	line, room := "", 0
	flush := func() {
		if line != "" {
			out = append(out, centre(w, line))
		}
		line, room = "", 0
	}
	add := func(key, label string, role theme.Role) {
		label = m.theme.Plain(label)
		n := theme.Width(key) + 1 + theme.Width(label)
		if room > 0 && room+2+n > w-2 {
			flush()
		}
		if room > 0 {
			line, room = line+"  ", room+2
		}
		line += m.theme.Paint(theme.Key, key) + " " + m.theme.Paint(role, label)
		room += n
	}
	role := theme.Dim
	if after, _ := r.state(); after.Proves() {
		role = theme.Doubt // it counts as proof
	}
	add(m.keyOf(actRoundAfter), form.after.answers[form.after.at], role)
	stood := form.stood.answers[form.stood.at]
	if form.stood.at == 0 {
		stood = "stood not noted"
	}
	add(m.keyOf(actRoundStood), stood, theme.Dim)
	if !r.tape && form.moved {
		add(m.keyOf(actRoundPlace), "hangs "+form.hangs.answers[form.hangs.at], theme.Dim)
	}
	if !r.tape {
		add(m.keyOf(actRoundOn), "face or along", theme.Dim)
	}
	add(m.keyOf(actRoundEach), fmt.Sprintf("%d of each", r.each), theme.Dim)
	flush()
	add("enter", "takes it", theme.Dim)
	if !r.tape {
		add(g.Left+g.Right, "lower end", theme.Dim)
	}
	add("up down", "another", theme.Dim)
	add("tab", map[bool]string{true: "gauge", false: "tape"}[r.tape], theme.Dim)
	add(m.keyOf(actUndo), "undo", theme.Dim)
	flush()
	return out
}
