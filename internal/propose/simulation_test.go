package propose_test

import (
	"context"
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/example"
	"fitup/internal/propose"
	"fitup/internal/uncertain/coverage"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const defaultBuilds = 3

// simulated is how many builds the simulation of proposals draws: few for every change,
// many on demand. DEVELOPERS.md says how.
var simulated = flag.Int("builds", defaultBuilds, "how many builds the simulation of proposals draws")

// onThreePads is a line under a crossmember and beside a tank, each number with a ±.
const onThreePads = example.Standing + `[[chassis]]
name = "crossmember"
from = [1500, -380, "<-330 ± 2 mm>"]
to = [1620, 380, "<-250 ± 2 mm>"]
[[chassis]]
name = "tank"
from = ["<700 ± 3 mm>", "<190 ± 3 mm>", -100]
to = [1300, 400, 100]
[line.rear]
speed = "3000 rpm"
[line.rear.pinion]
at = ["<3010 ± 1.5 mm>", "<0 ± 1.5 mm>", "<-52 ± 1.5 mm>"]
slope = "<4.8 ± 0.15 deg> down to the rear"
[[line.rear.shaft]]
phase = "in phase"
`

// searched is a build whose rear mount and pinion may move, as it is and as somebody reads
// it, with limits near what is true.
type searched struct {
	truth  *project.Build
	read   func(dice *rand.Rand) string
	limits map[string]project.Rule
	hold   []string
	tight  bool
	err    error
}

// holdable are findings that may be held, each with the key of its limit.
var holdable = [][2]string{
	{"line.rear.joint.1.max", "joint_max"}, {"line.rear.joint.2.max", "joint_max"}, {"line.rear.joint.1.min", "joint_min"}, {"line.rear.joint.2.min", "joint_min"},
	{"line.rear.shaft.1.mismatch", "mismatch"}, {"line.rear.residual", "residual"}, {"clearance.crossmember", "gap"}, {"clearance.tank", "gap"},
}

const ofProposals = assess.OfLines | assess.OfRoom

func built(text string, limits map[string]project.Rule) (*project.Build, error) {
	f, err := project.Parse("simulated.toml", []byte(text))
	if err != nil {
		return nil, fmt.Errorf("proposals: %w", err)
	}
	f.Build.Limits = map[string]project.Rule{}
	for _, r := range project.Defaults() {
		f.Build.Limits[r.Key] = r
	}
	maps.Copy(f.Build.Limits, limits)
	return f.Build, nil
}

// drawSearched draws one.
func drawSearched(dice *rand.Rand) *searched {
	text, read := coverage.Marked(onThreePads)(dice)
	s := &searched{limits: map[string]project.Rule{}, tight: dice.IntN(2) == 0, read: read}
	plain, err := built(text, nil)
	if err != nil {
		s.err = err
		return s
	}
	once, err := built(read(dice), nil)
	if err != nil {
		s.err = err
		return s
	}
	is, as := assess.Run(plain), assess.Run(once)
	ids := slices.Clone(holdable)
	dice.Shuffle(len(ids), func(i, j int) { ids[i], ids[j] = ids[j], ids[i] })
	for _, one := range ids {
		id, key := one[0], one[1]
		f, ok := is.Finding(id)
		g, known := as.Finding(id)
		if _, set := s.limits[key]; set || !ok || !known || !f.HasValue || !g.HasValue || len(s.hold) == 2 {
			continue
		}
		for _, r := range project.Defaults() {
			if near := f.Value + g.Uncertainty*(3*dice.Float64()-1); r.Key == key && near > 0 {
				r.Value *= near / f.Limit
				s.limits[key] = r
				s.hold = append(s.hold, id)
			}
		}
	}
	s.truth, s.err = built(text, s.limits)
	return s
}

// after is the truth when it was moved by the steps of a proposal, off by so much in each
// of the named rows.
func (s *searched) after(steps []propose.Step, off map[string]float64) (*assess.Assessment, error) {
	var moves []project.Move
	add := func(of project.Movable, by float64) error {
		at, err := s.truth.Reads(of)
		moves = append(moves, project.Move{Of: of, To: at + by})
		return err
	}
	for _, m := range steps {
		by := m.To - m.From + off[m.Of.Path()]
		delete(off, m.Of.Path())
		if err := add(m.Of, by); err != nil {
			return nil, err
		}
	}
	for path, by := range off {
		of, err := s.truth.MovableNamed(path)
		if err != nil {
			return nil, err
		}
		if err := add(of, by); err != nil {
			return nil, err
		}
	}
	return assess.Prepare(s.truth).At(moves, ofProposals)
}

// sureClasses are the classes of stated probabilities, by their lower ends.
var sureClasses = []float64{0.975, 0.9, 0.7, 0.5}

// judge reads the build, looks for proposals, moves what is true by the first steps that
// they say, and holds what they state against what is true then.
func (s *searched) judge(dice *rand.Rand, tolerances bool, say func(coverage.Outcome)) error {
	if s.err != nil || len(s.hold) == 0 {
		return s.err
	}
	b, err := built(s.read(dice), s.limits)
	if err != nil {
		return err
	}
	deg := math.Pi / 180
	var moves []propose.Allowed
	for of, by := range map[string][2]float64{"placement.rear": {10, 2.5}, "line.rear.pinion.slope": {deg, deg / 2}} {
		m, err := b.MovableNamed(of)
		if err != nil {
			return err
		}
		at, err := b.Reads(m)
		if err != nil {
			return err
		}
		moves = append(moves, propose.Allowed{Of: of, From: at - by[0], To: at + by[0], Step: by[1]})
	}
	p, err := propose.New(b, propose.Wanted{Moves: moves, Hold: s.hold, Tight: s.tight, Budget: 80})
	if err != nil {
		return fmt.Errorf("proposals: %w", err)
	}
	answer := p.Run(context.Background(), nil)
	how := "held ok"
	if s.tight {
		how = "held tight at least"
	}
	for i := range answer.Proposals {
		x := &answer.Proposals[i]
		is, err := s.after(x.Moves, nil)
		if err != nil {
			return err
		}
		for _, c := range p.Held(x) {
			s.verdict(&c.After, is, how, say)
		}
		if tolerances && i == 0 && dice.IntN(10) == 0 { // which takes as long as ten searches
			if err := s.placed(dice, p, x, how, say); err != nil {
				return err
			}
		}
	}
	return nil
}

// shapeOf is the shape of a finding's id.
func shapeOf(id string) string {
	r, _ := finding.RowOf(id)
	return r.Shape
}

// keeps reports whether what is true keeps the limit of a finding.
func keeps(is *assess.Assessment, id string) bool {
	f, ok := is.Finding(id)
	return ok && (f.Status == finding.OK || f.Status == finding.Tight)
}

func (s *searched) verdict(f *finding.Finding, is *assess.Assessment, how string, say func(coverage.Outcome)) {
	o := coverage.Outcome{Known: true, Lower: math.Inf(-1), Upper: math.Inf(1), OK: f.Status == finding.OK, Keeps: keeps(is, f.ID)}
	for _, what := range []string{"verdict: proposed " + shapeOf(f.ID), "verdict: all"} {
		o.Of = what + "|proposals, " + how
		say(o)
	}
	sure, stated := f.Within()
	if k := slices.IndexFunc(sureClasses, func(least float64) bool { return sure >= least }); stated && k >= 0 {
		o.Of, o.OK = fmt.Sprintf("stated to be within with %g or more|proposals", sureClasses[k]), true
		say(o)
	}
}

// placed makes a proposal within its tolerances, and looks whether all that is held holds.
func (s *searched) placed(dice *rand.Rand, p *propose.Problem, x *propose.Proposal, how string, say func(coverage.Outcome)) error {
	t := p.Tolerances(context.Background(), x.After.Build)
	if t.Why != "" {
		return nil
	}
	off := map[string]float64{}
	for _, r := range t.Rows {
		off[r.Row.Name] = r.Half * (2*dice.Float64() - 1)
	}
	is, err := s.after(x.Moves, off)
	if err != nil {
		return err
	}
	all := !slices.ContainsFunc(s.hold, func(id string) bool { return !keeps(is, id) })
	say(coverage.Outcome{Of: "all holds within the tolerances|proposals, " + how, Known: true, Lower: math.Inf(-1), Upper: math.Inf(1), OK: true, Keeps: all})
	return nil
}

// What proposals state holds: of findings that a proposal leaves past their limit no more
// than 2.5 % are called ok where tight ones are allowed, and where all must be ok no more
// than that of those are past it; a probability is no larger than it is; and all that is
// held holds within the tolerances as often as they say. The truth is drawn, read by
// numbers with a ±, and moved by the steps of the proposals.
func TestSimulationOfProposals(t *testing.T) {
	long := *simulated != defaultBuilds
	plan := coverage.Plan{Builds: *simulated, At: runtime.GOMAXPROCS(0), Start: 2000}
	if long {
		plan.Each = 2
	}
	r, err := coverage.Run(coverage.Trial[*searched]{
		Truth: drawSearched,
		Judge: func(dice *rand.Rand, s *searched, say func(coverage.Outcome)) error { return s.judge(dice, long, say) },
	}, plan)
	require.NoError(t, err)
	require.NotEmpty(t, r.Rows, "nothing was proposed")
	for _, row := range r.Rows {
		most := 0.025
		switch {
		case strings.HasPrefix(row.Of, "stated"):
			var least float64
			_, err := fmt.Sscanf(row.Of, "stated to be within with %g", &least)
			require.NoError(t, err)
			most = 1 - least
		case strings.HasPrefix(row.Of, "all holds"):
			most = 1 - propose.Sureness
		case strings.HasSuffix(row.Of, "at least"):
			assert.LessOrEqual(t, row.Past.Lower(coverage.Confidence), 0.025, "%s: of %d past the limit %.2f %% are called ok", row.Of, row.Past.Of, 100*row.Past.Value())
			t.Logf("%s: of %d past the limit %.2f %% are called ok (at least %.2f)", row.Of, row.Past.Of, 100*row.Past.Value(), 100*row.Past.Lower(coverage.Confidence))
		}
		t.Logf("%s: of %d called so %.2f %% are not (at least %.2f, at most promised %.1f)", row.Of, row.False.Of, 100*row.False.Value(), 100*row.False.Lower(coverage.Confidence), 100*most)
		assert.LessOrEqual(t, row.False.Lower(coverage.Confidence), most, "%s: of %d called so %.2f %% are not", row.Of, row.False.Of, 100*row.False.Value())
	}
}
