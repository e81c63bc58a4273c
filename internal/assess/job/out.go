package job

import (
	"fmt"
	"strings"

	"fitup/internal/assess/finding"
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

// engineOut collects the engine-out list and makes the fact that follows from
// it.
func (res *Result) engineOut() {
	res.EngineOut = nil
	for _, j := range res.Jobs {
		if j.Out && j.State != Done {
			text := j.Title
			if j.State == ProveAgain {
				text += " (prove again)"
			}
			if j.State == InDoubt {
				text += " (in doubt)"
			}
			res.EngineOut = append(res.EngineOut, OutItem{Kind: OutJob, Index: j.Index, Text: text})
		}
	}
	for i, w := range res.build.Welds {
		for _, s := range w.Sides {
			if s.Out && !s.Carries() {
				res.EngineOut = append(res.EngineOut, OutItem{Kind: OutWeld, Index: i, Side: s.Name,
					Text: fmt.Sprintf("weld %s, %s, %s side: %s", w.Bracket, w.At, s.Name, s.State.Spoken())})
			}
		}
	}
	for i, f := range res.build.Fasteners {
		if f.Out && !f.Marked {
			res.EngineOut = append(res.EngineOut, OutItem{Kind: OutFastener, Index: i, Text: f.Name + ": to be tightened and marked"})
		}
	}
	fact := finding.Fact{ID: finding.EngineOut, Title: "the engine-out list", Status: finding.OK, Text: "nothing on the engine-out list is open"}
	if n := len(res.EngineOut); n > 0 {
		var texts []string
		for _, it := range res.EngineOut {
			texts = append(texts, it.Text)
		}
		fact.Status, fact.Text = finding.Over, fmt.Sprintf("%d on the engine-out list still open", n)
		fact.Why = "Before the powertrain goes in: " + strings.Join(texts, "; ") + "."
	}
	res.Fact = fact
}

// Out reports whether the file says that the powertrain is out.
func (res *Result) Out() bool { return res.build.Powertrain.Standing == project.StandsOut }
