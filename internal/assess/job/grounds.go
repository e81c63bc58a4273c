package job

import (
	"maps"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
)

// grounds are the findings and facts that jobs wait for.
type grounds struct {
	findings []finding.Finding
	plans    []finding.Finding // by the plan beside findings by readings
	facts    []finding.Fact
	at       map[string]int // findings by id
	looked   map[lookKey][]Hold
	byFirst  map[string][]int // findings by the first part of their ids, where many are looked up
}

func (in *Input) grounds() grounds {
	g := grounds{findings: in.Findings, plans: in.Plans, facts: slices.Clip(in.Facts), at: in.At}
	if g.at == nil {
		g.at = make(map[string]int, len(in.Findings))
		for i := range in.Findings {
			g.at[in.Findings[i].ID] = i
		}
	}
	return g
}

// remembering are the same with room to keep what was looked up, for as long as
// one goroutine settles the jobs.
func (g grounds) remembering() grounds {
	g.looked = map[lookKey][]Hold{}
	g.byFirst = make(map[string][]int, 32)
	for i := range g.findings {
		first, _, _ := strings.Cut(g.findings[i].ID, ".")
		g.byFirst[first] = append(g.byFirst[first], i)
	}
	return g
}

// forget drops what was looked up of a pattern that names the id.
func (g *grounds) forget(id string) {
	maps.DeleteFunc(g.looked, func(k lookKey, _ []Hold) bool { return names(k.pattern, id) })
}

// names reports whether the pattern of a hold names the id.
func names(pattern, id string) bool {
	pattern, _ = strings.CutSuffix(pattern, "?")
	pattern, _ = strings.CutSuffix(pattern, "@proved")
	return finding.Matches(pattern, id)
}

// finding returns the finding with the given id, also one of the plans.
func (g *grounds) finding(id string) (finding.Finding, bool) {
	if i, ok := g.at[id]; ok {
		return g.findings[i], true
	}
	if i := slices.IndexFunc(g.plans, func(f finding.Finding) bool { return f.ID == id }); i >= 0 {
		return g.plans[i], true
	}
	return finding.Finding{}, false
}

// lookUp finds what a hold names: findings and facts, "*" standing for any one
// part of an id and "**" at its end for all that follows. "?" behind it lets it
// pass where this build has none, "@proved" asks for readings taken after the
// step that fixes the value. A name of a group finds all that share it. finish is for a job that cannot be undone: tight
// holds it as well, and what judges the finished work does not.
func (g *grounds) lookUp(pattern string, finish bool) []Hold {
	key := lookKey{pattern, finish}
	got, ok := g.looked[key]
	if !ok {
		got = g.find(pattern, finish)
		if g.looked != nil {
			g.looked[key] = got
		}
	}
	return got
}

// lookKey is what is looked up once while the jobs are settled: many jobs wait
// for the same.
type lookKey struct {
	pattern string
	finish  bool
}

func (g *grounds) has(id string) bool {
	return slices.ContainsFunc(g.findings, func(f finding.Finding) bool { return f.Meets(id) }) ||
		slices.ContainsFunc(g.facts, func(f finding.Fact) bool { return finding.Matches(id, f.ID) })
}

func (g *grounds) hasFact(id string) bool {
	return id == finding.EngineOut || slices.ContainsFunc(g.facts, func(f finding.Fact) bool { return f.ID == id })
}

func (g *grounds) find(pattern string, finish bool) []Hold {
	id, ifAny := strings.CutSuffix(pattern, "?")
	id, proved := strings.CutSuffix(id, "@proved")
	var out []Hold
	g.each(id, func(f *finding.Finding) {
		if !finish || !f.OfFinished {
			out = append(out, holdOf(f, finish, proved))
		}
	})
	names := finding.PatternOf(id)
	for i := range g.facts {
		if f := &g.facts[i]; names.Matches(f.ID) {
			out = append(out, Hold{ID: f.ID, Title: f.Title, Status: f.Status, Why: finding.Say(f.Why), Text: f.Text, Firm: finish})
		}
	}
	if len(out) > 0 || id == finding.EngineOut {
		return out
	}
	switch {
	case !finding.MayBe(id):
		out = append(out, Hold{ID: id, Title: id, Status: finding.NotKnown, Why: finding.Say("nothing is called so"), Text: "no finding is called " + id + g.meant(id)})
	case !ifAny:
		out = append(out, Hold{ID: id, Title: id, Status: finding.NotKnown, Why: finding.Say("this build has no such finding"), Text: "this build has no finding " + id + g.meant(id)})
	}
	return out
}

// each calls f with every finding that a pattern names.
func (g *grounds) each(pattern string, f func(*finding.Finding)) {
	if !strings.Contains(pattern, "*") && !slices.Contains(finding.Groups(), pattern) {
		if i, ok := g.at[pattern]; ok {
			f(&g.findings[i])
		}
		return
	}
	names := finding.PatternOf(pattern)
	if first, _, _ := strings.Cut(pattern, "."); g.byFirst != nil && strings.Contains(pattern, "*") && !strings.Contains(first, "*") {
		for _, i := range g.byFirst[first] { // a group has no star in its name
			if names.Names(&g.findings[i]) {
				f(&g.findings[i])
			}
		}
		return
	}
	for i := range g.findings {
		if names.Names(&g.findings[i]) {
			f(&g.findings[i])
		}
	}
}

// holdOf is a finding as it holds a job.
func holdOf(f *finding.Finding, finish, proved bool) Hold {
	h := Hold{ID: f.ID, Title: f.Title, Status: f.Status, Text: f.Title + " is " + f.Status.String(), Firm: finish}
	h.Why = func() string { return f.Advice() } // most of them nobody asks for
	switch {
	case f.Status == finding.Elsewhere:
		h.Text = f.Title + " is judged by " + f.Elsewhere
		if proved {
			h.Status, h.Why = finding.NotKnown, finding.Say("Proof is a reading of your own: take it after tacking or bolting.")
			h.Text += ", which is no proof"
		}
	case proved && !h.Holds() && (f.Basis != finding.Proved || f.Moved):
		h.Status = finding.NotKnown
		h.Text = f.Title + " is " + f.Basis.String() + " and not proved"
		if f.Moved {
			h.Text = f.Title + " is from before the powertrain was moved"
		}
		h.Why = finding.Say("Take the reading again after tacking or bolting, and enter it as taken then.")
	case finish && f.Status == finding.Tight:
		h.Text += ", and a finish weld wants ok, or a reason"
	}
	return h
}

// meant ends a sentence with the name that comes nearest, if one is near.
func (g *grounds) meant(id string) string {
	have := make([]string, 0, len(g.findings)+len(g.facts))
	for _, f := range g.findings {
		have = append(have, f.ID)
	}
	for _, f := range g.facts {
		have = append(have, f.ID)
	}
	return finding.Meant(id, have)
}

// LookUp finds what a hold names, as it keeps a job that cannot be undone
// (finish) or another.
func (res *Result) LookUp(pattern string, finish bool) []Hold {
	return res.grounds.lookUp(pattern, finish)
}

// NoSuch says that a hold names nothing that any build has, and what was
// probably meant; nothing when it is in order.
func (res *Result) NoSuch(pattern string) string {
	id, _ := strings.CutSuffix(pattern, "?")
	id, _ = strings.CutSuffix(id, "@proved")
	if finding.MayBe(id) || res.grounds.has(id) {
		return ""
	}
	return "no finding is called " + id + res.grounds.meant(id)
}
