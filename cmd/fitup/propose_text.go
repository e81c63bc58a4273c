package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/propose"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// proposeText is the answer of a search for people.
func proposeText(path string, p *propose.Problem, a propose.Answer, within *propose.Tolerances, g theme.Glyphs) string {
	var out strings.Builder
	out.WriteString(headLine(path, p.Build) + "\n\n")
	for i := range a.Proposals {
		writeProposal(&out, p, &a.Proposals[i], i+1, g)
	}
	if len(a.Proposals) == 0 {
		writeNone(&out, p, a)
	}
	if within != nil {
		wrapped(&out, "", toleranceText(p, within))
		out.WriteString("\n")
	}
	wrapped(&out, "", tried(a))
	for _, s := range p.Left {
		wrapped(&out, "  ", "Left out: "+project.Printable(s)+".")
	}
	if s := p.NotKnownWords(); s != "" {
		wrapped(&out, "  ", project.Printable(s))
	}
	return out.String()
}

// toleranceText says how closely the mounts are to be placed.
func toleranceText(p *propose.Problem, t *propose.Tolerances) string {
	if t.Why != "" {
		return "No tolerances for proposal 1: " + project.Printable(t.Why) + "."
	}
	parts := make([]string, len(t.Rows))
	for i, r := range t.Rows {
		parts[i] = r.Words(p.Build)
	}
	return "Place proposal 1 within: " + strings.Join(parts, ", ") + "; then all that is held stays within its limits with at least 95 %."
}

// tried says how many places there were and how far the search got.
func tried(a propose.Answer) string {
	s := fmt.Sprintf("%s places on these steps, %s worked out.", count(a.Places), count(float64(a.Judged)))
	if a.Stopped != nil && !errors.Is(a.Stopped, propose.ErrBudget) {
		s += " The search was stopped: what is not said to be shown may be bettered."
	}
	return s
}

// count writes a count with a comma between thousands.
func count(n float64) string {
	s := fmt.Sprintf("%.0f", n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

func writeProposal(out *strings.Builder, p *propose.Problem, x *propose.Proposal, n int, g theme.Glyphs) {
	kinds := strings.Join(x.Kinds, ", ")
	if !x.Best {
		kinds += " (of what was tried)"
	}
	fmt.Fprintf(out, "%d. %s\n", n, kinds)
	wrapped(out, "   ", project.Printable(x.Words(p.Build))+"; "+verdict(p, x)+".")
	for _, s := range x.Moves {
		fmt.Fprintf(out, "   %s %s to %s, %s\n", s.Of.Path(), quantity.Format(s.Of.Kind(), s.From, p.Build.Units, 2), quantity.Format(s.Of.Kind(), s.To, p.Build.Units, 2), propose.WorkWords(s.Work))
	}
	if len(x.Again) > 0 {
		wrapped(out, "   ", "Read again after it, since what rests on these is planned until then: "+project.Printable(p.Build.TargetWords(x.Again...))+".")
	}
	rows := [][]string{}
	for _, c := range p.Compared(x) {
		rows = append(rows, []string{"  " + g.Sign(pane.Status(c.After.Status)) + " " + project.Printable(c.Before.Title),
			valueText(c.Before, p.Build.Units) + " " + c.Before.Status.String(), valueText(c.After, p.Build.Units) + " " + c.After.Status.String(), limitText(c.After, p.Build.Units), c.After.SureText()})
	}
	if len(rows) > 0 {
		rows = append([][]string{{"    finding", "before", "after", "limit", "sure"}}, rows...)
		for _, l := range columns(rows, g, 0) {
			out.WriteString(l + "\n")
		}
	}
	out.WriteString("\n")
}

// verdict says how the findings that are held stand after a proposal.
func verdict(p *propose.Problem, x *propose.Proposal) string {
	var tight []string
	for _, c := range p.Held(x) {
		if c.After.Status == assess.Tight {
			tight = append(tight, project.Printable(c.After.Title))
		}
	}
	switch {
	case len(tight) == 0:
		return "all ok"
	case len(tight) > 4:
		return fmt.Sprintf("%d tight, the others ok", len(tight))
	}
	return "tight: " + strings.Join(tight, "; ") + "; the others ok"
}

func writeNone(out *strings.Builder, p *propose.Problem, a propose.Answer) {
	switch {
	case !a.None:
		wrapped(out, "", fmt.Sprintf("No place was found, and %.2g %% of them are ruled out. This proves nothing: allow larger steps or shorter ranges, hold fewer findings, or give it longer with --seconds.", 100*a.Settled))
		out.WriteString("\n")
		return
	case len(a.Conflicts) == 1:
		wrapped(out, "", "There is none: every place on these steps is ruled out by one finding alone.")
	default:
		s := "There is none: every place on these steps is ruled out. These cannot all hold"
		if a.Irreducible {
			s += ", and without any one of them the others can"
		} else {
			s += "; it was not shown that none of them can be spared"
		}
		wrapped(out, "", s+":")
	}
	for i := range a.Conflicts {
		c := &a.Conflicts[i]
		f := c.Finding
		wrapped(out, "  ", project.Printable(f.Title)+", "+limitText(f, p.Build.Units)+": "+c.ShortWords(p.Build.Units, len(a.Conflicts) == 1)+" ["+project.Printable(f.ID)+"]")
		if c.Known && !math.IsInf(c.Short, 1) && len(c.At) > 0 {
			x := propose.Proposal{Moves: c.At}
			wrapped(out, "    ", "there: "+project.Printable(x.Words(p.Build)))
		}
	}
	out.WriteString("\n")
}
