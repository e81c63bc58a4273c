// Package pane is what all panes share: what they are given to draw from, what
// they may ask for, and the actions they know. A pane holds no numbers of its
// own; it draws an assessment and turns actions into intents.
package pane

import (
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/action"
	"fitup/internal/ui/theme"
)

// View is everything a pane draws from.
type View struct {
	A       *assess.Assessment
	Theme   *theme.Theme
	Step    assess.Step
	Watch   assess.Finding // the finding in trouble
	HasW    bool           // whether there is one
	Focused bool
	Rule    bool    // lengths that stand on an inch rule are written as its fractions
	Mouse   bool    // rows are marked for clicks
	Hidden  *Hidden // where a list notes what it does not show; nil for nowhere
	InFull  string  // the key that shows in full what has no room; "" for none
	// Effect is what one step of a row does to Watch, false when that cannot be
	// told. It takes an assessment to find out: ask for what is shown only.
	Effect func(project.RowID) (assess.Effect, bool)
	// Next is what to measure next before a job that is hard to undo, in a sentence; "" where
	// that is not known yet. nil where nobody weighs it.
	Next    func(assess.Job) string
	Subject string             // what the cursor is on, for the sketch: the id of a row or a finding, or a reading's target
	Before  *assess.Assessment // how it stood before the powertrain was moved last, for the sketch; nil for never
}

// Hidden is how many lines of a list stand above and below those that are shown.
type Hidden struct{ Above, Below int }

// Hide notes that of all lines those from top on are shown in h.
func (v View) Hide(all, top, h int) {
	if v.Hidden != nil {
		*v.Hidden = Hidden{max(top, 0), max(all-top-h, 0)}
	}
}

// String says it in words; empty when everything is shown.
func (h Hidden) String() string {
	switch {
	case h.Above > 0 && h.Below > 0:
		return fmt.Sprintf("%d above, %d below", h.Above, h.Below)
	case h.Above > 0:
		return fmt.Sprintf("%d above", h.Above)
	case h.Below > 0:
		return fmt.Sprintf("%d below", h.Below)
	}
	return ""
}

// Units of the build on show.
func (v View) Units() quantity.Units { return v.A.Build.Units }

// Pane is one pane of the bench, or a page that takes the whole screen. It holds
// where its cursors stand and nothing of the build.
type Pane interface {
	// Draw draws the content for w by h cells: at most h lines of at most w.
	Draw(w, h int, v View) Frame
	// Key turns an action into an intent, nil for none.
	Key(id action.ID, v View) Intent
}

// Paged is a pane of several pages.
type Paged interface {
	Pane
	Leaf() string    // the name of the open one
	Leafs() []string // all names, in order
	Show(i int)      // opens the one with that index
}

// Effective is a pane that may show what one step does to the watched finding,
// for which View.Effects is worked out only when it does.
type Effective interface {
	Pane
	ShowsEffects() bool
}

// Worded is a pane that says what the sideways arrows and Enter do in it now, for
// the footer; "" for nothing.
type Worded interface {
	Pane
	Words(v View) (sides, enter string)
}

// Pointing is a pane whose cursor can be on something that has a place in the
// sketch.
type Pointing interface {
	Pane
	Subject(v View) string // "" for nothing
}

// Telling is a pane that can say in full what there is to say of the row under its
// cursor.
type Telling interface {
	Pane
	Tell(v View) (head string, words []string) // none where there is nothing more
}

// Picking is a pane whose cursor can be put on a row of the open page, counted
// from 0 over those on which it can stand.
type Picking interface {
	Pane
	Pick(row int)
}

// Frame is a drawn pane: the words of its border and its lines.
type Frame struct {
	Title, Note string
	Text        []string
}

// Actions that panes understand.
const (
	Up       action.ID = "move.up"
	Down     action.ID = "move.down"
	Less     action.ID = "value.less"
	More     action.ID = "value.more"
	Enter    action.ID = "value.enter"
	NextLeaf action.ID = "leaf.next"
	PrevLeaf action.ID = "leaf.prev"
	Tick     action.ID = "job.tick"
	Read     action.ID = "reading.add"
	Delete   action.ID = "reading.remove"
	DropJob  action.ID = "job.remove"
	JobUp    action.ID = "job.up"
	JobDown  action.ID = "job.down"
	Seen     action.ID = "weld.inspected"
)

// Intent is what a pane asks the bench to do. Nil asks for nothing.
type Intent interface{ intent() }

// Nudge moves a placement row by a number of steps.
type Nudge struct {
	Row   project.RowID
	Steps int
}

// AskRow asks for a value of a placement row.
type AskRow struct{ Row project.RowID }

// AskReading asks for a reading of a target.
type AskReading struct{ Of string }

// DropReading takes out the reading with that index.
type DropReading struct{ Index int }

// ToggleJob ticks or unticks the job with that index.
type ToggleJob struct{ Index int }

// ShowJob shows all there is to know about the job with that index.
type ShowJob struct{ Index int }

// RemoveJob takes the job with that index out of the list.
type RemoveJob struct{ Index int }

// ShiftJob moves the job with that index up (-1) or down (1).
type ShiftJob struct{ Index, By int }

// MarkOut marks an entry of the engine-out list as done.
type MarkOut struct{ Item assess.OutItem }

// MarkFastener marks the fastener with that index, or takes its mark away.
type MarkFastener struct{ Index int }

// WeldOn takes a side of the weld with that index one state further.
type WeldOn struct {
	Index int
	Side  string
}

// Inspect enters the inspection of a side of the weld with that index.
type Inspect WeldOn

// FillFluid notes that the fluid with that index is in, or out again.
type FillFluid struct{ Index int }

// ShowData opens the data page at what the cursor is on.
type ShowData struct{}

// Say puts a sentence on the message line.
type Say struct{ Text string }

func (Nudge) intent()       {}
func (AskRow) intent()      {}
func (AskReading) intent()  {}
func (DropReading) intent() {}
func (ToggleJob) intent()   {}

func (ShowJob) intent()      {}
func (RemoveJob) intent()    {}
func (ShiftJob) intent()     {}
func (MarkOut) intent()      {}
func (MarkFastener) intent() {}
func (FillFluid) intent()    {}
func (WeldOn) intent()       {}
func (Inspect) intent()      {}

func (ShowData) intent() {}

func (Say) intent() {}

// Status turns an assessment's verdict into the theme's.
func Status(s assess.Status) theme.Status {
	switch s {
	case assess.OK:
		return theme.OK
	case assess.Tight:
		return theme.Tight
	case assess.Over:
		return theme.Over
	case assess.Elsewhere:
		return theme.Elsewhere
	}
	return theme.Unknown
}

// Number writes a measure for a screen, or the words for an unknown one.
func (v View) Number(k quantity.Kind, m assess.Number, digits int) string {
	if !m.Known {
		return "not known"
	}
	if v.Rule && k.Long() {
		if s, ok := quantity.Fraction(k, m.V, v.Units()); ok {
			return v.glyphs(s)
		}
	}
	return v.glyphs(quantity.Format(k, m.V, v.Units(), digits))
}

// Against writes the value of a finding with as many decimals as it takes to
// tell it from its limit.
func (v View) Against(f assess.Finding) string {
	digits := v.Digits(f.Kind)
	num := func(x float64) string { return v.Number(f.Kind, assess.Exact(x), digits) }
	for f.HasLimit && f.Value != f.Limit && num(f.Value) == num(f.Limit) && digits < 6 {
		digits++
	}
	return num(f.Value)
}

// Cell is Number for a table whose heading names the quantity: short sense
// words, and a dash for the unknown.
func (v View) Cell(k quantity.Kind, m assess.Number, digits int) string {
	if !m.Known {
		return "-"
	}
	return v.glyphs(quantity.Short(k, m.V, v.Units(), digits))
}

// Around writes the expanded uncertainty of a measure behind its sign, or
// nothing where none is claimed.
func (v View) Around(k quantity.Kind, m assess.Number, digits int) string {
	if !m.Known {
		return ""
	}
	return v.PlusMinus(k, m.Expanded(), digits)
}

// PlusMinus is Around for an expanded uncertainty.
func (v View) PlusMinus(k quantity.Kind, expanded float64, digits int) string {
	if expanded == 0 {
		return ""
	}
	return v.Theme.PlusMinus + quantity.Short(finding.Unsigned(k), expanded, v.Units(), digits)
}

// glyphs respells signs that the glyph set does not have.
func (v View) glyphs(s string) string { return v.Theme.Plain(s) }

// Digits returns how many decimals a screen shows for a kind in the units in
// force: a tenth of a degree, a tenth of a millimetre, a thousandth of an inch.
func (v View) Digits(k quantity.Kind) int { return Digits(k, v.Units()) }

// Digits is View.Digits for given units.
func Digits(k quantity.Kind, u quantity.Units) int {
	switch k {
	case quantity.Angle, quantity.Slope, quantity.Heading:
		return 2
	case quantity.Length, quantity.Offset:
		if u.For(quantity.Length).Name() == "in" {
			return 3
		}
		return 1
	}
	switch u.For(k).Name() { // units so small that nobody asks for a part of one
	case "rpm", "N m", "N mm", "lb ft", "lb in", "MPa", "kPa", "psi", "rad/s2", "deg/s2", "g mm", "N", "lbf":
		return 0
	case "kN m", "oz in", "kg mm":
		return 2
	}
	return 1
}

// Cursor keeps i within a list of n.
func Cursor(i, n int) int { return max(0, min(i, n-1)) }

// Window returns the first line to show of n so that line at is visible in h.
func Window(at, n, h int) int {
	if n <= h || h <= 0 {
		return 0
	}
	return max(0, min(at-h/2, n-h))
}

// StepDigits returns the decimals needed to show a step in full.
func (v View) StepDigits(k quantity.Kind) int {
	if k == quantity.Length && v.Units().For(quantity.Length).Name() == "in" {
		return 4
	}
	return 2
}
