package frame

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// Tape is a length that was measured and written down in plain words, without
// points of a survey.
type Tape struct {
	Of    string // the words
	On    string // between which marks; "" where nothing is said
	Value finding.Number
	Count int // how many times it was read
	After project.After
	Stood project.Stood
	// Supposed is the half-width that its ± was made of because the file states none,
	// mm; 0 where it does.
	Supposed float64
}

// Which of the frame's lengths a tape is, by its words.
type taped int

const (
	diagonalLF    taped = iota // left front to right rear
	diagonalRF                 // right front to left rear
	sideLeft                   // along the left rail
	sideRight                  // along the right rail
	acrossFront                // from rail to rail, in front
	acrossRear                 // the same at the rear
	wheelbaseLeft              // from axle to axle
	wheelbaseRight
	tapedKinds
)

// tapedAs is what each is called when it is asked for; the same words are read.
var tapedAs = [tapedKinds]string{
	"diagonal, left front to right rear", "diagonal, right front to left rear", "left front to left rear", "right front to right rear",
	"left front to right front", "left rear to right rear", "wheelbase left", "wheelbase right",
}

// corner is a corner of the frame: its side and its end.
type corner struct{ right, rear bool }

// read finds out by its words which length of the frame a tape is; false when a word
// says something else than its corners, for then it is of something else. named
// reports that it is called a diagonal or a wheelbase without saying which.
func read(of string) (is taped, ok, named bool) {
	w := wordsOf(of)
	if w.other {
		return 0, false, false
	}
	is, ok = w.length()
	return is, ok, w.diagonal || w.base
}

// words are what the words of a tape say.
type words struct {
	corners                              []corner
	side, end                            *bool // left over: right, rear
	diagonal, base, along, across, whole bool
	other                                bool // a word that does not belong
}

// fillers are words that change nothing.
var fillers = strings.Fields("frame chassis rail rails corner corners from to of the at over between and end ends mark marks hole holes tape taped distance measured s")

func wordsOf(of string) words {
	var w words
	yes, no := true, false
	for _, t := range strings.FieldsFunc(strings.ToLower(of), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		switch t {
		case "left", "lh", "l":
			w.turn(&no, nil)
		case "right", "rh", "r":
			w.turn(&yes, nil)
		case "front", "forward", "f":
			w.turn(nil, &no)
		case "rear", "back":
			w.turn(nil, &yes)
		case "lf", "fl":
			w.turn(&no, &no)
		case "rf", "fr":
			w.turn(&yes, &no)
		case "lr", "rl":
			w.turn(&no, &yes)
		case "rr":
			w.turn(&yes, &yes)
		case "diagonal", "diagonals", "diag":
			w.diagonal = true
		case "wheelbase":
			w.base = true
		case "side", "length", "along":
			w.along = true
		case "across", "width":
			w.across = true
		default:
			w.whole = w.whole || t == "frame" || t == "rails"
			w.other = w.other || !slices.Contains(fillers, t)
		}
		if t == "frame" || t == "rails" {
			w.whole = true
		}
	}
	return w
}

// turn takes a side, an end or both, and makes a corner once it has both.
func (w *words) turn(side, end *bool) {
	if side != nil {
		w.other = w.other || w.side != nil // two sides without an end between them
		w.side = side
	}
	if end != nil {
		w.other = w.other || w.end != nil
		w.end = end
	}
	if w.side != nil && w.end != nil {
		w.corners = append(w.corners, corner{*w.side, *w.end})
		w.side, w.end = nil, nil
	}
}

func (w *words) length() (taped, bool) { //nolint:gocyclo // a case for each way to name a length
	pick := func(second bool, a, b taped) (taped, bool) {
		if second {
			return b, true
		}
		return a, true
	}
	left := w.side == nil && w.end == nil
	switch {
	case len(w.corners) == 2 && left:
		a, b := w.corners[0], w.corners[1]
		if a.rear { // said from the rear
			a, b = b, a
		}
		return w.between(a, b, pick)
	case len(w.corners) == 1 && left && w.diagonal && !w.base:
		c := w.corners[0]
		return pick(c.right != c.rear, diagonalLF, diagonalRF)
	case len(w.corners) == 1 && w.side == nil && w.end != nil && *w.end != w.corners[0].rear && !w.diagonal: // left rail, front to rear
		c := w.corners[0]
		if w.base {
			return pick(c.right, wheelbaseLeft, wheelbaseRight)
		}
		return pick(c.right, sideLeft, sideRight)
	case len(w.corners) != 0 || w.diagonal:
		return 0, false
	case w.base && w.side != nil && w.end == nil:
		return pick(*w.side, wheelbaseLeft, wheelbaseRight)
	case w.along && w.side != nil && w.end == nil:
		return pick(*w.side, sideLeft, sideRight)
	case w.across && w.whole && w.end != nil && w.side == nil:
		return pick(*w.end, acrossFront, acrossRear)
	}
	return 0, false
}

// between is the length between two corners, the front one first.
func (w *words) between(a, b corner, pick func(second bool, a, b taped) (taped, bool)) (taped, bool) {
	switch {
	case a.right != b.right && a.rear != b.rear && !w.base:
		return pick(a.right, diagonalLF, diagonalRF)
	case a.right == b.right && a.rear != b.rear && w.base:
		return pick(a.right, wheelbaseLeft, wheelbaseRight)
	case a.right == b.right && a.rear != b.rear && !w.diagonal:
		return pick(a.right, sideLeft, sideRight)
	case a.right != b.right && a.rear == b.rear && !w.diagonal && !w.base:
		return pick(a.rear, acrossFront, acrossRear)
	}
	return 0, false
}

// Taped is what the tapes in plain words say of the frame, of one occasion. Signs as
// in Frame.
type Taped struct {
	After   project.After
	Lengths [tapedKinds]finding.Number
	Unread  []string       // called a diagonal or a wheelbase, and not taken for one of the frame
	Misfit  finding.Number // of the six, in its own standard uncertainties
	Gap     finding.Number // the same in mm, at the right side
	Apart   finding.Number // diagonal from the left front less the other
	Square  finding.Number // how far the right rail's marks stand behind those of the left one, in the mean
	Front   finding.Number // the same of the front marks alone
	Rear    finding.Number // and of the rear ones
	Skew    finding.Number // rad
	Swing   finding.Number // how far a rail's end is aside when squared to the cross line, mm
	Between finding.Number // wheelbase left less right
	Assumes []string
	twice   [tapedKinds]bool // read more than once
}

// Taped takes what was taped in plain words: of the frame's corners the last occasion
// and the one before, where a diagonal is among them, and the last wheelbases.
func (r *Result) Taped(tapes []Tape) {
	var corners, bases []Tape
	crossed := false
	for _, t := range tapes {
		switch k, ok, named := read(t.Of); {
		case ok && k >= wheelbaseLeft || !ok && named && wordsOf(t.Of).base:
			bases = append(bases, t)
		case ok || named:
			corners = append(corners, t)
			crossed = crossed || !ok || k <= diagonalRF
		}
	}
	if crossed {
		r.Plain, r.PlainBefore = lastTwo(corners)
	}
	r.Wheels, _ = lastTwo(bases)
}

// InPlainWords reports whether anything of the frame was taped in plain words.
func (r *Result) InPlainWords() bool { return r != nil && (r.Plain != nil || r.Wheels != nil) }

// lastTwo are the last occasion of the tapes and the one before it.
func lastTwo(tapes []Tape) (last, before *Taped) {
	for _, step := range []project.After{project.Welded, project.Tacked, project.Hung, ""} {
		of := slices.DeleteFunc(slices.Clone(tapes), func(t Tape) bool { return t.After != step })
		switch {
		case len(of) == 0:
		case last == nil:
			last = tapedOf(step, of)
		case before == nil:
			before = tapedOf(step, of)
		}
	}
	return last, before
}

func tapedOf(step project.After, tapes []Tape) *Taped {
	t := &Taped{After: step}
	for k := range t.Lengths {
		t.Lengths[k] = finding.Missing(tapedAs[k] + " is not taped yet")
	}
	half := 0.0
	marks, stood := marksOf(tapes), map[project.Stood]bool{}
	for _, tape := range tapes {
		k, ok, _ := read(tape.Of)
		if !ok {
			t.Unread = append(t.Unread, tape.Of)
			continue
		}
		stood[tape.Stood.Or()] = true
		half = max(half, tape.Supposed)
		t.take(k, tape, marks)
	}
	if len(stood) > 1 {
		t.Assumes = append(t.Assumes, "the frame did not change its shape between how it stood for one tape and for another")
	}
	if half > 0 {
		t.Assumes = append(t.Assumes, fmt.Sprintf("a tape is right to ±%g mm, for the file does not say what it is good for", half))
	}
	t.work()
	return t
}

// marksOf are the marks that the diagonals go between, "" when none says.
func marksOf(tapes []Tape) string {
	for _, t := range tapes {
		if k, ok, _ := read(t.Of); ok && k <= diagonalRF && t.On != "" {
			return t.On
		}
	}
	return ""
}

// take is one tape; a second of the same is taken together with it where they agree.
func (t *Taped) take(k taped, tape Tape, marks string) {
	was := t.Lengths[k]
	switch {
	case k < wheelbaseLeft && tape.On != "" && marks != "" && !strings.EqualFold(tape.On, marks):
		if !was.Known {
			t.Lengths[k] = finding.Missing(tape.Of + " goes between other marks (" + tape.On + ") than the diagonals (" + marks + "): tape " + tapedAs[k] + " between those")
		}
	case !tape.Value.Known:
		t.Lengths[k] = finding.Missing(tape.Of + ": " + tape.Value.Why)
	case tape.Value.V <= 0:
		t.Lengths[k] = finding.Missing(tape.Of + " is not above zero: measure it again")
	case !was.Known && !strings.HasSuffix(was.Why, "is not taped yet"):
	case was.Known && math.Abs(was.V-tape.Value.V) > was.LessOf(tape.Value).Expanded():
		t.Lengths[k] = finding.Missing(tape.Of + " is in the file more than once, and they do not agree: measure it again and take the wrong one out")
	case was.Known:
		t.twice[k] = true
		t.Lengths[k] = finding.Of(was.Number.Mean(tape.Value.Number))
	default:
		t.Lengths[k], t.twice[k] = tape.Value, tape.Count > 1
	}
}

// lacking is the first of the lengths that is not known.
func (t *Taped) lacking(of ...taped) (why string, lacks bool) {
	for _, k := range of {
		if !t.Lengths[k].Known {
			return t.Lengths[k].Why, true
		}
	}
	return "", false
}

// work works out what follows.
func (t *Taped) work() {
	t.Between = t.of(func(v []float64) float64 { return v[wheelbaseLeft] - v[wheelbaseRight] }, wheelbaseLeft, wheelbaseRight)
	t.Apart = t.of(func(v []float64) float64 { return v[diagonalLF] - v[diagonalRF] }, diagonalLF, diagonalRF)
	t.Gap = t.of(misclosure, diagonalLF, diagonalRF, sideLeft, sideRight, acrossFront, acrossRear)
	if t.Gap.Known {
		t.Misfit = finding.Exact(math.Abs(t.Gap.V) / max(t.Gap.U(), finest))
	} else {
		t.Misfit = finding.Missing(t.Gap.Why)
	}
	four := []taped{diagonalLF, diagonalRF, sideLeft, sideRight}
	t.Square = t.of(behindBy, four...)
	t.Front = t.of(func(v []float64) float64 { return behindBy(v) - (v[sideRight]-v[sideLeft])/2 }, four...)
	t.Rear = t.of(func(v []float64) float64 { return behindBy(v) + (v[sideRight]-v[sideLeft])/2 }, four...)
	t.Skew = t.of(skewBy, four...)
	t.Swing = t.of(func(v []float64) float64 { return long(v) * math.Tan(skewBy(v)) }, four...)
}

// Of a four-sided figure with the mean rail u (to the rear) and the mean cross line
// w (to the right) the diagonals are u+w and u-w, whatever its sides: so their
// squares differ by 4 u·w and add up to 2(u²+w²) (parallelogram law; derived). So
// equal diagonals say that the mean cross line stands square to the mean rail, and
// nothing of either cross line alone: those differ from it by half of what the rails
// differ in length.

// long is the mean rail, mm. That rails lie a little open shortens it by less than
// what a tape shows.
func long(v []float64) float64 { return (v[sideLeft] + v[sideRight]) / 2 }

// behindBy is how far the right rail stands behind the left one in the mean: u·w/|u|.
func behindBy(v []float64) float64 {
	return (v[diagonalLF] - v[diagonalRF]) * (v[diagonalLF] + v[diagonalRF]) / (4 * long(v))
}

// skewBy is the angle by which the mean cross line is out of square to the mean
// rail, rad; the width is what the diagonals leave for it. NaN when they leave none.
func skewBy(v []float64) float64 {
	w := math.Sqrt((v[diagonalLF]*v[diagonalLF]+v[diagonalRF]*v[diagonalRF])/2 - long(v)*long(v))
	return math.Asin(behindBy(v) / w)
}

// misclosure is by how much the right side is longer than the five other tapes say:
// six tapes between four points in a plane are one more than it takes. NaN when no
// such figure can be.
func misclosure(v []float64) float64 {
	l := v[sideLeft]
	cx := (v[diagonalLF]*v[diagonalLF] - v[acrossRear]*v[acrossRear] + l*l) / (2 * l)
	bx := (v[acrossFront]*v[acrossFront] - v[diagonalRF]*v[diagonalRF] + l*l) / (2 * l)
	cy, by := math.Sqrt(v[diagonalLF]*v[diagonalLF]-cx*cx), math.Sqrt(v[acrossFront]*v[acrossFront]-bx*bx)
	return v[sideRight] - math.Hypot(cx-bx, cy-by)
}

// of is a function of some of the lengths, with what each leaves open.
func (t *Taped) of(f func(v []float64) float64, rests ...taped) finding.Number {
	if why, lacks := t.lacking(rests...); lacks {
		return finding.Missing(why)
	}
	if why := t.impossible(rests); why != "" {
		return finding.Missing(why)
	}
	v := make([]float64, tapedKinds)
	for _, k := range rests {
		v[k] = t.Lengths[k].V
	}
	is := f(v)
	if math.IsNaN(is) || math.IsInf(is, 0) {
		return finding.Missing("the tapes make no figure with four corners: one of them was misread, measure them again")
	}
	const h = 1e-3 // mm
	parts := make([]uncertain.Weighted, 0, len(rests))
	for _, k := range rests {
		was := v[k]
		v[k] = was + h
		up := f(v)
		v[k] = was - h
		parts = append(parts, uncertain.Weighted{K: (up - f(v)) / (2 * h), N: t.Lengths[k].Number})
		v[k] = was
		if math.IsNaN(parts[len(parts)-1].K) {
			return finding.Missing("the tapes hardly make a figure with four corners: measure them again")
		}
	}
	return finding.Of(uncertain.Smooth(is, parts...))
}

// opposite are the lengths that are alike on any frame.
var opposite = [][2]taped{{diagonalLF, diagonalRF}, {sideLeft, sideRight}, {acrossFront, acrossRear}, {wheelbaseLeft, wheelbaseRight}}

// paths are the lengths that join the ends of another: its own first.
var paths = [][3]taped{
	{diagonalLF, sideLeft, acrossRear}, {diagonalLF, acrossFront, sideRight},
	{diagonalRF, sideRight, acrossRear}, {diagonalRF, acrossFront, sideLeft},
}

// impossible says which of the lengths cannot be beside the others; "" for none.
func (t *Taped) impossible(rests []taped) string {
	for _, o := range opposite {
		a, b := t.Lengths[o[0]], t.Lengths[o[1]]
		if !slices.Contains(rests, o[0]) || !slices.Contains(rests, o[1]) || !a.Known || !b.Known {
			continue
		}
		if ask := manyTimes(a.V / b.V); ask != "" {
			return tapedAs[o[0]] + " beside " + tapedAs[o[1]] + ": " + ask
		}
	}
	for _, p := range paths {
		for turn := range 3 {
			x, y, z := p[turn], p[(turn+1)%3], p[(turn+2)%3]
			a, b, c := t.Lengths[x], t.Lengths[y], t.Lengths[z]
			if !slices.Contains(rests, x) || !a.Known || !b.Known || !c.Known {
				continue
			}
			over := finding.Of(a.Number.Minus(b.Number).Minus(c.Number))
			if over.V > over.Expanded() {
				return tapedAs[x] + " is longer than the way by " + tapedAs[y] + " and " + tapedAs[z] + ": one of the three was misread, measure them again"
			}
		}
	}
	return ""
}

// manyTimes asks about a length that is many times what another says, or a small part of
// it: a clause, "" where it is not.
func manyTimes(ratio float64) string {
	for _, s := range []struct {
		times float64
		ask   string
	}{
		{10, "it is ten times what the others say: was it typed in mm where the tape reads cm?"},
		{0.1, "it is a tenth of what the others say: was it typed in cm?"},
		{25.4, "it is 25.4 times what the others say: was it read in mm and typed as inches?"},
		{1 / 25.4, "the others say 25.4 times as much: was it read in inches and typed as mm?"},
	} {
		if math.Abs(ratio/s.times-1) < 0.02 {
			return s.ask
		}
	}
	return ""
}
