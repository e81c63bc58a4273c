package assess

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project"
)

// OutKind is what an entry of the engine-out list is.
type OutKind uint8

// The kinds.
const (
	OutJob OutKind = iota
	OutWeld
	OutFastener
)

// OutItem is something open that can only be reached with the powertrain out.
type OutItem struct {
	Kind  OutKind
	Index int    // in Jobs, Build.Welds or Build.Fasteners
	Side  string // of a weld
	Text  string
}

// engineOut collects the engine-out list and makes the facts that follow from
// it.
func (a *Assessment) engineOut() {
	a.EngineOut = nil
	a.Facts = slices.DeleteFunc(a.Facts, func(f Fact) bool { return f.ID == engineOutID })
	for _, j := range a.Jobs {
		if j.Out && j.State != Done {
			text := j.Title
			if j.State == ProveAgain {
				text += " (prove again)"
			}
			if j.State == InDoubt {
				text += " (in doubt)"
			}
			a.EngineOut = append(a.EngineOut, OutItem{Kind: OutJob, Index: j.Index, Text: text})
		}
	}
	for i, w := range a.Build.Welds {
		for _, s := range w.Sides {
			if s.Out && !s.Carries() {
				a.EngineOut = append(a.EngineOut, OutItem{Kind: OutWeld, Index: i, Side: s.Name,
					Text: fmt.Sprintf("weld %s, %s, %s side: %s", w.Bracket, w.At, s.Name, s.State.Spoken())})
			}
		}
	}
	for i, f := range a.Build.Fasteners {
		if f.Out && !f.Marked {
			a.EngineOut = append(a.EngineOut, OutItem{Kind: OutFastener, Index: i, Text: f.Name + ": to be tightened and marked"})
		}
	}
	fact := Fact{ID: engineOutID, Title: "the engine-out list", Status: OK, Text: "nothing on the engine-out list is open"}
	if n := len(a.EngineOut); n > 0 {
		var texts []string
		for _, it := range a.EngineOut {
			texts = append(texts, it.Text)
		}
		fact.Status, fact.Text = Over, fmt.Sprintf("%d on the engine-out list still open", n)
		fact.Why = "Before the powertrain goes in: " + strings.Join(texts, "; ") + "."
	}
	a.Facts = append(a.Facts, fact)
}

// Out reports whether the file says that the powertrain is out.
func (a *Assessment) Out() bool { return a.Build.Powertrain.Standing == project.StandsOut }
