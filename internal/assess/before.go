package assess

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// Word is what is said before a hold point, in a word.
type Word string

// The words.
const (
	GoOn    Word = "ok"      // by all that is held it may be done
	Measure Word = "measure" // something is not known, or not sure enough
	MoveIt  Word = "move"    // something is past its limit
)

// Before is what is said before a job that is hard to undo: whether it may be done, how
// sure that is, and on what it rests.
type Before struct {
	Word Word
	Text string // a sentence
	Why  string // what to do, where there is more to say than that; "" otherwise
	// Sure is the probability, at least, that all that the job waits for is within its
	// limit in truth: the chances that one is not are added (Boole). Stated is false where
	// nothing says how far off any of it may be.
	Sure   float64
	Stated bool
	// Least is the least move that does, where what holds is a finding that a move mends;
	// nil where none is known.
	Least *Mend
}

// Before says whether a job that is hard to undo may be done by what is known now; false
// of other jobs, of what is done, and where it waits for no finding: that proves nothing.
func (a *Assessment) Before(j Job) (Before, bool) {
	what := j.Hard.Does()
	if what == "" || j.State == Done {
		return Before{}, false
	}
	if again := slices.Concat(j.Broken, j.Doubts); len(again) > 0 {
		return Before{Word: Measure, Text: "This was done and has to be proved again: " + again[0] + "."}, true
	}
	var of []Finding
	elsewhere := 0
	var worst, first *Hold // that holds by a finding or a fact; that waits
	for i := range j.Holds {
		h := &j.Holds[i]
		switch f, ok := a.Finding(h.ID); {
		case brings(&j, h):
		case h.Holds() && h.Waits():
			first = cmpFirst(first, h)
		case h.Holds() && (worst == nil || graver(h, worst)):
			worst = h
		case h.Status == finding.Elsewhere:
			elsewhere++
		case ok && f.Status != finding.Elsewhere:
			of = append(of, f)
		}
	}
	if worst != nil {
		return a.held(worst, what), true
	}
	if len(of) == 0 {
		return Before{}, false
	}
	b := sureOf(of)
	b.Word, b.Text = GoOn, fmt.Sprintf("Ok to %s%s", what, b.percent(of)+restingOn(of))
	if f := leastSure(of); f != nil && f.Status == Tight {
		b.Text += "; least sure is " + f.Title + " with " + f.SureText()
	}
	if elsewhere > 0 {
		b.Text += fmt.Sprintf("; %d more judged elsewhere, and not by this", elsewhere)
	}
	if first != nil {
		b.Text = strings.Replace(b.Text, "Ok to", "By what is known ok to", 1) + "; but " + first.Text
	}
	b.Text += "."
	return b, true
}

// brings reports whether a hold is what doing the job brings about: it keeps its tick and
// not its doing.
func brings(j *Job, h *Hold) bool {
	return strings.HasPrefix(h.ID, "welds.finished") || slices.ContainsFunc(j.Yields, func(p string) bool { return finding.Matches(p, h.ID) })
}

func cmpFirst(first, h *Hold) *Hold {
	if first != nil {
		return first
	}
	return h
}

// graver reports whether a hold comes before another: what is past its limit before what
// is not known, that before what is not sure enough.
func graver(h, than *Hold) bool {
	rank := func(h *Hold) int { return slices.Index([]Status{Tight, NotKnown, Over}, h.Status) }
	return rank(h) > rank(than)
}

const moveFirst = "move that first"

// saysMend says a move as an amount.
func (a *Assessment) saysMend(m *Mend) string {
	u := a.Build.Units
	digits := 1
	if m.Row.Kind != quantity.Length && m.Row.Kind != quantity.Offset {
		digits = 2
	} else if u.For(quantity.Length).Name() == "in" {
		digits = 4
	}
	return fmt.Sprintf("Least: %s from %s to %s, to %s by that finding alone.", m.Row.Label,
		quantity.Format(m.Row.Kind, m.Row.Now.V, u, digits), quantity.Format(m.Row.Kind, m.Row.Now.V+m.By, u, digits), m.To)
}

// held is what is said where something holds.
func (a *Assessment) held(h *Hold, what string) Before {
	b := Before{Word: Measure}
	do := "measure this first"
	if h.Status == Over {
		b.Word, do = MoveIt, "put this right first"
		switch finding.TradeOf(h.ID) {
		case finding.LineTrade, finding.TravelTrade, finding.ClearTrade, finding.MountTrade:
			do = moveFirst
		}
	}
	b.Text = fmt.Sprintf("Do not %s yet, %s: %s.", what, do, h.Text)
	if do == moveFirst {
		if m, ok := a.Mends(h.ID, usualStep(a.Build.Units)); ok {
			b.Text, b.Least = b.Text+" "+a.saysMend(&m), &m
		}
	}
	if why := strings.TrimRight(h.Because(), " ."); why != "" {
		b.Why = why + "."
	}
	return b
}

// sureOf adds up how sure findings are.
func sureOf(of []Finding) Before {
	b := Before{Sure: 1}
	for i := range of {
		if in, stated := of[i].Within(); stated {
			b.Stated = true
			b.Sure -= 1 - in
		}
	}
	b.Sure = max(b.Sure, 0)
	return b
}

// percent says how sure it is, never surer than it is, and by how many of the findings:
// of the others nobody says how far off they may be.
func (b *Before) percent(of []Finding) string {
	const most = 0.99
	stated := 0
	for i := range of {
		if _, ok := of[i].Within(); ok {
			stated++
		}
	}
	text := fmt.Sprintf(", at least %d %%", int(100*b.Sure))
	switch {
	case !b.Stated:
		return " by what stands in the file; how sure is not known, since nothing says how far off it may be"
	case b.Sure >= most:
		text = ", more than 99 %"
	}
	if stated < len(of) {
		text += fmt.Sprintf(" by %d of %d findings, the others have no ±", stated, len(of))
	}
	return text
}

// restingOn says what findings rest on: how many are proved, read and planned.
func restingOn(of []Finding) string {
	n := map[finding.Basis]int{}
	for i := range of {
		n[of[i].Basis]++
	}
	var parts []string
	for _, basis := range []finding.Basis{finding.Proved, finding.Read, finding.Planned} {
		if n[basis] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[basis], basis))
		}
	}
	return ", resting on " + strings.Join(parts, " and ")
}

// leastSure is the finding with the smallest probability, nil where none states one.
func leastSure(of []Finding) *Finding {
	var least *Finding
	at := 2.0
	for i := range of {
		if in, stated := of[i].Within(); stated && in < at {
			least, at = &of[i], in
		}
	}
	return least
}

// NextHoldPoint is the first job that is hard to undo and not done, with what is said
// before it; false where there is none.
func (a *Assessment) NextHoldPoint() (Job, Before, bool) {
	for _, j := range a.Jobs {
		if b, ok := a.Before(j); ok {
			return j, b, true
		}
	}
	return Job{}, Before{}, false
}
