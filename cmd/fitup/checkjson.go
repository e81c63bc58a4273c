package main

import (
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// coverage is the factor k behind every uncertainty that is printed: 2, about
// 95 % (JCGM 100:2008, 6.3.3). A test holds it against the one in use.
const coverage = 2

type jsonCheck struct {
	Fitup    string        `json:"fitup"`
	File     string        `json:"file"`
	Findings []jsonFinding `json:"findings"`
	Values   []jsonValue   `json:"values"`
	Jobs     []jsonJob     `json:"jobs"`
}

type jsonFinding struct {
	ID          string   `json:"id"`
	Title       string   `json:"title"`
	Status      string   `json:"status"`
	Basis       string   `json:"basis"`
	Moved       bool     `json:"moved"`
	Value       *float64 `json:"value"`
	Sense       *string  `json:"sense"`
	Unit        string   `json:"unit"`
	Limit       *float64 `json:"limit"`
	LimitIs     *string  `json:"limit_is"`
	Margin      *float64 `json:"margin"`
	Uncertainty *float64 `json:"uncertainty"`
	Coverage    *float64 `json:"coverage"`
	// Probability is that of keeping the limit, null where it cannot be stated.
	Probability *float64     `json:"probability"`
	From        []jsonSource `json:"from"`
	Source      string       `json:"source"`
	Changed     bool         `json:"changed"`
	Missing     *string      `json:"missing"`
	Assumes     []string     `json:"assumes"`
	Advice      string       `json:"advice"`
	Elsewhere   *string      `json:"elsewhere"`
}

// jsonSource is one of the two sources that have most in an uncertainty, with its
// share of the variance.
type jsonSource struct {
	What  string  `json:"what"`
	Share float64 `json:"share"`
}

type jsonValue struct {
	Name  string   `json:"name"`
	Value *float64 `json:"value"`
	Sense *string  `json:"sense"`
	Unit  string   `json:"unit"`
}

type jsonJob struct {
	ID    string     `json:"id"`
	Stage string     `json:"stage"`
	Title string     `json:"title"`
	Done  bool       `json:"done"`
	Held  bool       `json:"held"`
	State string     `json:"state"`
	Why   []string   `json:"why"`
	Holds []jsonHold `json:"holds"`
	// Before is what is said before a job that is hard to undo, null of any other.
	Before *jsonBefore `json:"before"`
}

type jsonBefore struct {
	Word        string   `json:"word"` // ok, measure or move
	Text        string   `json:"text"`
	Why         string   `json:"why"`
	Probability *float64 `json:"probability"` // at least, null where it cannot be stated
}

type jsonHold struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Status string `json:"status"`
	Why    string `json:"why"`
}

// checkJSON is the assessment for programs, in the file's own units.
func checkJSON(version, path string, a *assess.Assessment) (string, error) {
	u := a.Build.Units
	out := jsonCheck{
		Fitup: version, File: project.Printable(path),
		Findings: make([]jsonFinding, 0, len(a.Findings)),
		Values:   make([]jsonValue, 0, len(a.Values())),
		Jobs:     make([]jsonJob, 0, len(a.Jobs)),
	}
	for _, f := range a.Findings {
		out.Findings = append(out.Findings, findingJSON(f, u))
	}
	for _, v := range a.Values() {
		out.Values = append(out.Values, jsonValue{
			Name: project.Printable(v.Name), Unit: quantity.UnitName(v.Kind, u),
			Value: number(v.Kind, v.V, u, v.Known), Sense: senseJSON(v.Kind, v.V, u, v.Known),
		})
	}
	for _, j := range a.Jobs {
		out.Jobs = append(out.Jobs, jobJSON(a, j))
	}
	return jsonText("findings", out)
}

func findingJSON(f assess.Finding, u quantity.Units) jsonFinding {
	claimed := f.HasValue && f.Uncertainty > 0
	out := jsonFinding{
		ID: project.Printable(f.ID), Title: project.Printable(f.Title),
		Status: statusJSON(f.Status), Basis: f.Basis.String(), Moved: f.Moved,
		Value: number(f.Kind, f.Value, u, f.HasValue), Sense: senseJSON(f.Kind, f.Value, u, f.HasValue),
		Unit:        quantity.UnitName(f.Kind, u),
		Limit:       number(f.Kind, f.Limit, u, f.HasLimit),
		Margin:      number(f.Kind, f.Margin, u, f.HasLimit && f.HasValue),
		Uncertainty: number(f.Kind, f.Uncertainty, u, claimed),
		Source:      project.Printable(f.Source), Changed: f.Changed,
		Missing: text(f.Missing), Advice: project.Printable(f.Advice()), Assumes: []string{}, From: []jsonSource{}, Elsewhere: text(f.Elsewhere),
	}
	for _, s := range f.Assumes {
		out.Assumes = append(out.Assumes, project.Printable(s))
	}
	if f.HasLimit {
		out.LimitIs = text("at most")
		if f.AtLeast {
			out.LimitIs = text("at least")
		}
	}
	if claimed {
		k := float64(coverage)
		out.Coverage = &k
	}
	if p, stated := f.Within(); stated {
		p = math.Round(p*1e4) / 1e4
		out.Probability = &p
	}
	for _, s := range f.Largest() {
		out.From = append(out.From, jsonSource{project.Printable(s.Label), math.Round(s.Part*1e4) / 1e4})
	}
	return out
}

func jobJSON(a *assess.Assessment, j assess.Job) jsonJob {
	out := jsonJob{
		ID: project.Printable(j.ID), Stage: project.Printable(j.Stage), Title: project.Printable(j.Title),
		Done: j.Done, Held: j.Held, State: strings.ReplaceAll(j.State.String(), " ", "_"), Holds: make([]jsonHold, 0, len(j.Holds)),
		Why: []string{},
	}
	for _, why := range slices.Concat(j.Broken, j.Doubts) {
		out.Why = append(out.Why, project.Printable(why))
	}
	for _, h := range j.Holds {
		out.Holds = append(out.Holds, jsonHold{
			ID: project.Printable(h.ID), Title: project.Printable(h.Title),
			Status: statusJSON(h.Status), Why: project.Printable(h.Because()),
		})
	}
	if b, ok := a.Before(j); ok {
		out.Before = &jsonBefore{Word: string(b.Word), Text: project.Printable(b.Text), Why: project.Printable(b.Why)}
		if b.Word == assess.GoOn && b.Stated {
			p := math.Floor(b.Sure*1e4) / 1e4
			out.Before.Probability = &p
		}
	}
	return out
}

func statusJSON(s assess.Status) string { return strings.ReplaceAll(s.String(), " ", "_") }

// number is a number in the file's unit, rounded to hide what is only the
// rounding of binary fractions; nil when it is not known.
func number(k quantity.Kind, v float64, u quantity.Units, known bool) *float64 {
	x := quantity.InUnit(k, v, u)
	if !known || math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	if math.Abs(x) < 1e6 {
		x = math.Round(x*1e9)/1e9 + 0 // + 0 turns -0 into 0
	}
	return &x
}

func senseJSON(k quantity.Kind, v float64, u quantity.Units, known bool) *string {
	if !known {
		return nil
	}
	return text(book.Sense(k, v, u))
}

// text is a string, or null when there is nothing to say.
func text(s string) *string {
	if s == "" {
		return nil
	}
	s = project.Printable(s)
	return &s
}
