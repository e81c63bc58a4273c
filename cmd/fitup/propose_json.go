package main

import (
	"math"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/propose"
)

type jsonPropose struct {
	Fitup     string         `json:"fitup"`
	File      string         `json:"file"`
	Places    float64        `json:"places"`
	Judged    int            `json:"judged"`
	RuledOut  float64        `json:"settled"` // share of the places, by the search for any
	None      bool           `json:"none"`    // shown: no place will do
	Stopped   *string        `json:"stopped"`
	Proposals []jsonProposal `json:"proposals"`
	Conflict  *jsonConflict  `json:"conflict"`
	Within    *jsonWithin    `json:"tolerances"` // of the first proposal; null where not asked for
	Left      []string       `json:"left_out"`
	NotKnown  []jsonNotKnown `json:"not_known"` // in part of the range, where nothing is proposed
}

type jsonNotKnown struct {
	ID  string `json:"id"`
	Why string `json:"why"`
}

type jsonProposal struct {
	Kinds    []string      `json:"kinds"`
	Shown    bool          `json:"shown"` // that nothing on these steps is better of its kind
	Words    string        `json:"words"`
	Cuts     int           `json:"cuts"`
	Moves    []jsonMove    `json:"moves"`
	Again    []string      `json:"read_again"`
	Findings []jsonFinding `json:"findings"` // that are held, after it
	Before   []jsonFinding `json:"before"`   // the same, now
}

type jsonWithin struct {
	Why         *string         `json:"why"` // there are none
	Probability float64         `json:"probability"`
	Rows        []jsonTolerance `json:"rows"`
}

type jsonTolerance struct {
	Of   string   `json:"of"`
	Half *float64 `json:"half_width"`
	Unit string   `json:"unit"`
	Free bool     `json:"more_allowed"`
}

type jsonMove struct {
	Of   string   `json:"of"`
	From *float64 `json:"from"`
	To   *float64 `json:"to"`
	Unit string   `json:"unit"`
	Work string   `json:"work"`
}

type jsonConflict struct {
	Irreducible bool            `json:"irreducible"`
	Demands     []jsonGivingWay `json:"demands"`
}

type jsonGivingWay struct {
	ID    string     `json:"id"`
	Short *float64   `json:"short"` // null where it is not known
	Why   *string    `json:"why"`   // it is not known
	Unit  string     `json:"unit"`
	Least bool       `json:"least"`
	At    []jsonMove `json:"at"`
}

// proposeJSON is the answer of a search for programs, in the file's own units.
func proposeJSON(version, path string, p *propose.Problem, a propose.Answer, within *propose.Tolerances) (string, error) {
	u := p.Build.Units
	out := jsonPropose{Fitup: version, File: project.Printable(path), Places: a.Places, Judged: a.Judged, RuledOut: a.Settled, None: a.None,
		Proposals: []jsonProposal{}, Left: []string{}, NotKnown: []jsonNotKnown{}}
	if a.Stopped != nil {
		out.Stopped = text(a.Stopped.Error())
	}
	for _, s := range p.Left {
		out.Left = append(out.Left, project.Printable(s))
	}
	for _, f := range p.NotKnownThere() {
		out.NotKnown = append(out.NotKnown, jsonNotKnown{project.Printable(f.ID), project.Printable(f.Why)})
	}
	for i := range a.Proposals {
		x := &a.Proposals[i]
		j := jsonProposal{Kinds: x.Kinds, Shown: x.Best, Words: project.Printable(x.Words(p.Build)), Cuts: x.Cuts, Moves: movesJSON(x.Moves, u), Again: []string{}, Findings: []jsonFinding{}, Before: []jsonFinding{}}
		for _, of := range x.Again {
			j.Again = append(j.Again, project.Printable(of))
		}
		for _, c := range p.Held(x) {
			j.Before, j.Findings = append(j.Before, findingJSON(c.Before, u)), append(j.Findings, findingJSON(c.After, u))
		}
		out.Proposals = append(out.Proposals, j)
	}
	if a.None {
		out.Conflict = &jsonConflict{Irreducible: a.Irreducible, Demands: []jsonGivingWay{}}
		for _, c := range a.Conflicts {
			k := c.Finding.Kind
			out.Conflict.Demands = append(out.Conflict.Demands, jsonGivingWay{ID: project.Printable(c.Finding.ID),
				Short: number(k, c.Short, u, c.Known && !math.IsInf(c.Short, 1)), Unit: quantity.UnitName(k, u), Why: text(c.Why), Least: c.Least, At: movesJSON(c.At, u)})
		}
	}
	if within != nil {
		out.Within = &jsonWithin{Why: text(within.Why), Probability: within.Sure, Rows: []jsonTolerance{}}
		for _, r := range within.Rows {
			out.Within.Rows = append(out.Within.Rows, jsonTolerance{r.Row.Name, number(r.Row.Kind, r.Half, u, true), quantity.UnitName(r.Row.Kind, u), r.Free})
		}
	}
	return jsonText("proposals", out)
}

func movesJSON(moves []propose.Step, u quantity.Units) []jsonMove {
	out := []jsonMove{}
	for _, s := range moves {
		k := s.Of.Kind()
		out = append(out, jsonMove{project.Printable(s.Of.Path()), number(k, s.From, u, true), number(k, s.To, u, true), quantity.UnitName(k, u), string(s.Work)})
	}
	return out
}
