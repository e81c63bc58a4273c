package assess

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"strings"
	"testing"
	"text/tabwriter"

	"fitup/internal/assess/finding"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain/coverage"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const defaultBuilds = 16

// simulated is how many builds of each kind are drawn: few for every change, many on
// demand. DEVELOPERS.md says how.
var simulated = flag.Int("builds", defaultBuilds, "how many builds of each kind the simulation draws")

// readings is how often each of them is read.
var readings = flag.Int("readings", 2, "how often each build of the simulation is read")

var only = flag.String("kind", "", "which kinds the simulation draws: those with this in their name")

// judge reads the build anew, assesses it, and holds what is said against what is
// true.
func (t *truth) judge(dice *rand.Rand, say func(coverage.Outcome)) error {
	f, err := project.Parse("simulated.toml", []byte(t.text(dice)))
	if err != nil {
		return fmt.Errorf("%s: %w", t.kind, err)
	}
	asked := OfLines | OfLists
	if t.assumed() {
		asked |= OfTravel // what a number assumes is said of the whole alone
	}
	a, err := Prepare(f.Build).At(nil, asked)
	if err != nil {
		return err
	}
	j := &judging{truth: t, a: a, say: say, dice: dice}
	l := &a.Lines[0]
	for i, x := range l.Axes {
		j.number("slope of an axis", t.stated(x.Read, x.Planned), t.slope[i])
	}
	for i := range l.Joints {
		read := t.stated(l.Joints[i].Read, l.Joints[i].Planned)
		what := "angle of a joint"
		if t.of.joints[i] <= read.Expanded() {
			what += underPlusMinus
		}
		j.number(what, read, t.of.joints[i])
		j.finding("joint, largest", finding.JointMax("rear", i+1), t.of.joints[i])
		j.finding("joint, smallest", finding.JointMin("rear", i+1), t.of.joints[i])
	}
	last := len(l.Shafts)
	motion := &l.Read
	if t.typed {
		motion = &l.Planned
	}
	j.size("difference of two joints", t.stated(l.Shafts[last-1].MismatchRead, l.Shafts[last-1].MismatchPlanned), t.mismatch())
	j.finding("difference of two joints", finding.ShaftMismatch("rear", last), t.mismatch())
	j.size("equivalent angle", motion.Equivalent, t.of.equivalent)
	j.finding("equivalent angle", finding.Equivalent("rear"), t.of.equivalent)
	j.size("residual vibration", motion.Residual, t.of.residual)
	j.finding("residual vibration", finding.Residual("rear"), t.of.residual)
	for i := range motion.Drive {
		j.size("inertia in drive", motion.Drive[i], t.of.drive[i])
		j.size("inertia in coast", motion.Coast[i], t.of.coast[i])
		j.finding("inertia in drive", finding.ShaftDrive("rear", i+1), t.of.drive[i])
		j.finding("inertia in coast", finding.ShaftCoast("rear", i+1), t.of.coast[i])
	}
	if t.typed {
		return nil
	}
	pinion := len(t.then) - 1
	j.finding("reading against the plan", finding.AxisAgree("line.rear.pinion"), math.Abs(t.slope[pinion]-t.planned))
	j.finding("drift in welding", finding.Drift("line.rear.pinion"), math.Abs(t.welded))
	j.finding("drift of a length by tape", finding.DriftMeasure("diagonal"), math.Abs(t.stretch))
	if len(j.silent) > 0 {
		return fmt.Errorf("%s: ok without a word of what is assumed: %s", t.kind, strings.Join(j.silent, ", "))
	}
	return nil
}

// underPlusMinus marks a size that is smaller than its ±. Its upper limit is never
// less than that ±, so it cannot fail, and the interval holds with what the lower
// limit alone promises: 97.5 %, and more where the errors are bounded (all here are
// rectangular, and a sum of two is a triangle). Both limits are the inversion of
// the distribution of a measured size, which is what an interval of that promise
// has to be as wide as (TestLimitsAgainstRice in internal/uncertain).
const underPlusMinus = ", less than its ±"

// stated is what is known of a number: what was read, or what is planned.
func (t *truth) stated(read, planned Number) Number {
	if t.typed {
		return planned
	}
	return read
}

// judging says what came out of one reading of a build.
type judging struct {
	*truth
	a      *Assessment
	say    func(coverage.Outcome)
	dice   *rand.Rand
	silent []string // findings that do not say what they assume
}

// number is something with limits to both sides; what one rectangular source
// makes most of goes by itself, since its ± of two standard uncertainties holds
// more than the 95 % of others.
func (j *judging) number(what string, n Number, truth float64) {
	o := coverage.Outcome{Of: what + "|" + j.kind.String(), Truth: truth, Known: n.Known, Lower: n.V - n.Below(), Upper: n.V + n.Expanded(), Keeps: n.Known}
	if n.Known {
		if s := n.Largest()[0]; s.Part > 0.5 {
			o.Of = what + mostlyOne + "|" + j.kind.String()
		}
	}
	o.OK = true
	j.say(o)
}

// size is something that is judged by its upper limit.
func (j *judging) size(what string, n Number, truth float64) {
	j.say(coverage.Outcome{Of: what + ", upper limit|" + j.kind.String(), Truth: truth, Known: n.Known,
		Lower: math.Inf(-1), Upper: n.V + n.Expanded(), OK: true, Keeps: true})
}

// allVerdicts is a row of every verdict of a kind of build.
const allVerdicts = "verdict: all|"

// finding is a verdict.
func (j *judging) finding(what, id string, truth float64) {
	f, ok := j.a.Finding(id)
	if !ok {
		return
	}
	is := f.Limit - truth
	if f.AtLeast {
		is = -is
	}
	keeps := is >= 0
	u, again := j.scale[id]
	switch {
	case j.assumed() || f.By == finding.LineTrade && strings.Contains(id, "mismatch") && !strings.HasSuffix(f.Title, ", difference"): // it is of another number
	case again:
		nearLimit(j.dice, &f, is, u, j.say)
	case f.HasValue:
		j.scale[id] = f.Uncertainty / 2 // as it was read first
	}
	limits := func(o coverage.Outcome) coverage.Outcome { o.Lower, o.Upper = math.Inf(-1), math.Inf(1); return o }
	if f.Status == OK && j.assumed() && f.Kind != quantity.Length && !strings.Contains(strings.Join(f.Assumes, "; "), "repeat within its accuracy") {
		j.silent = append(j.silent, id)
	}
	o := limits(coverage.Outcome{Of: "verdict: " + what + "|" + j.kind.String(), Truth: truth, Known: f.Status != NotKnown, OK: f.Status == OK, Keeps: keeps})
	j.say(o)
	o.Of = allVerdicts + j.kind.String()
	j.say(o)
}

// What is stated holds, and what is called ok is, near the limits and near parallel too.
// Lines are read once and read again, in one plane and twisted, of one to three shafts,
// and moved since; with a scatter that nobody stated, with joints of 10° that cancel, and
// planned with a ±. What every trade works out is planned by numbers with a ±: axles over
// their travel, loads on mounts, legs and members, rails, room, the steering shaft, by
// numbers typed, taped from the rails and found by a survey, pick-ups too. Every kind of build is drawn,
// read by instruments with errors of their own, written, read as a file and assessed.
func TestSimulation(t *testing.T) {
	report := coverage.Report{}
	add := func(r coverage.Report, err error, known float64, promised bool) {
		require.NoError(t, err)
		report.Builds += r.Builds
		report.Rows = append(report.Rows, r.Rows...)
		for _, row := range r.Rows {
			if row.Known.Of >= 20 {
				assert.Greater(t, row.Known.Value(), known, "%s is judged", row.Of)
			}
			for _, wrong := range wrongIn(row) {
				if promised {
					t.Error(wrong)
				}
			}
		}
	}
	plan := coverage.Plan{Builds: *simulated, Each: *readings, At: runtime.GOMAXPROCS(0)}
	for i, k := range kinds() {
		if !strings.Contains(k.String(), *only) || *simulated == defaultBuilds && !inturn.Try(t, i, 2) {
			continue
		}
		plan.Start = uint64(i + 1)
		r, err := coverage.Run(coverage.Trial[*truth]{
			Truth: func(dice *rand.Rand) *truth { return draw(k, dice) },
			Judge: func(dice *rand.Rand, build *truth, say func(coverage.Outcome)) error { return build.judge(dice, say) },
		}, plan)
		known := 0.97
		if k.unstated >= 1 { // repeats that far apart contradict each other
			known = -1
		}
		add(r, err, known, !k.assumed())
	}
	if *simulated == defaultBuilds {
		plan.Builds = 1 // each is assessed with many a ±
	}
	for i, k := range plannedKinds() {
		if !strings.Contains(k.name, *only) || *simulated == defaultBuilds && (k.long || !inturn.Try(t, i, 2)) {
			continue
		}
		plan.Start = uint64(1000 + i)
		r, err := coverage.Run(coverage.Trial[*planned]{
			Truth: k.drawTyped,
			Judge: func(dice *rand.Rand, build *planned, say func(coverage.Outcome)) error { return build.judge(dice, say) },
		}, plan)
		add(r, err, k.known, true)
	}
	for i, k := range sampledKinds(buildTexts(t)) {
		if !strings.Contains(k.name, *only) || *simulated == defaultBuilds && i > 0 {
			continue
		}
		plan.Start = uint64(5000 + i)
		r, err := coverage.Run(coverage.Trial[*drawnSample]{
			Truth: k.draw,
			Judge: func(dice *rand.Rand, build *drawnSample, say func(coverage.Outcome)) error {
				return build.judge(dice, say)
			},
		}, plan)
		add(r, err, -1, true)
	}
	for _, row := range classesOf(report) {
		for _, wrong := range wrongIn(row) {
			t.Error(wrong)
		}
	}
	if testing.Verbose() {
		writeClasses(report)
		writeSimulation(report)
	}
}

// classesOf are the classes in which false oks are counted.
func classesOf(r coverage.Report) []coverage.Row {
	return coverage.Pooled(r.Rows, func(of string) string {
		if !strings.HasPrefix(of, classes) {
			return ""
		}
		of, _, _ = strings.Cut(of, "|")
		return of
	})
}

// wantedPast is how many findings past their limit a class has in a long run.
const wantedPast = 2000

// writeClasses prints the table of the classes.
func writeClasses(r coverage.Report) {
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', 0)
	fmt.Fprint(w, "A class is all findings of one kind, which is the shape of their id, in builds of every kind, each read with its limit put so that the truth is past it by up to three standard uncertainties.\n"+
		"Of those, the share that is called ok, and the least that it is with 95 % (Clopper and Pearson, by builds); it may not be more than 2.5 %.\n\nclass\tbuilds\tpast the limit\tof those called ok %\t(at least)\tok where the limit is kept as closely %\n")
	few := 0
	for _, row := range classesOf(r) {
		kept := coverage.Share{Of: row.Known.Hits - row.Past.Of, Hits: row.OK.Hits - row.Past.Hits}
		note := ""
		if row.Past.Of < wantedPast {
			note, few = " (few)", few+1
		}
		fmt.Fprintf(w, "%s\t%d\t%d%s\t%.2f\t%.2f\t%.1f\n", strings.TrimPrefix(row.Of, classes), row.Past.Builds, row.Past.Of, note,
			100*row.Past.Value(), 100*row.Past.Lower(coverage.Confidence), 100*kept.Value())
	}
	fmt.Fprintf(w, "%d classes with fewer than %d past their limit\n\n", few, wantedPast)
	_ = w.Flush() // into a text: it does not fail
}

// wrongIn says what a row proves wrong, at the confidence of its bounds.
func wrongIn(row coverage.Row) (out []string) {
	sure := coverage.Confidence
	if *simulated == defaultBuilds {
		sure = 0.9999 // of the many rows of few builds some are odd by chance
	}
	const (
		least, most = 0.93, 0.975 // of an interval
		mostNear    = 0.995       // of one that is less than its ±
		upper       = 0.97
		falseOK     = 0.025
	)
	what, _, _ := strings.Cut(row.Of, "|")
	near := strings.Contains(what, underPlusMinus) || strings.Contains(what, mostlyOne)
	if s := row.Inside; s.Of > 0 && s.Upper(sure) < least {
		out = append(out, fmt.Sprintf("%s: %.2f %% of %d truths lie within what is stated", row.Of, 100*s.Value(), s.Of))
	}
	if s := row.Inside; s.Of > 0 && !near && s.Lower(sure) > most {
		out = append(out, fmt.Sprintf("%s: %.2f %% of %d truths lie within what is stated, which is wider than it has to be", row.Of, 100*s.Value(), s.Of))
	}
	if s := row.Inside; strings.Contains(what, underPlusMinus) && s.Lower(sure) > mostNear {
		out = append(out, fmt.Sprintf("%s: %.2f %% of %d truths lie within what is stated, more than one limit promises", row.Of, 100*s.Value(), s.Of))
	}
	if s := row.Below; s.Of > 0 && row.Inside.Of == 0 && s.Upper(sure) < upper {
		out = append(out, fmt.Sprintf("%s: the upper limit holds for %.2f %% of %d truths", row.Of, 100*s.Value(), s.Of))
	}
	if s := row.Past; s.Of > 0 && s.Lower(sure) > falseOK {
		out = append(out, fmt.Sprintf("%s: of %d truths past the limit %.2f %% are called ok", row.Of, s.Of, 100*s.Value()))
	}
	return out
}

// writeSimulation prints the table of a simulation, a row for each kind of build.
func writeSimulation(r coverage.Report) {
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "%d builds, each read %d times\n\njudged\tof\tnumber\tknown %%\twithin %%\tupper limit holds %%\tmean width\tok %%\tpast the limit\tof those called ok %%\t(at least)\n", r.Builds, *readings)
	share := func(s coverage.Share) string {
		if s.Of == 0 {
			return "-"
		}
		return fmt.Sprintf("%.2f", 100*s.Value())
	}
	for _, row := range r.Rows {
		what, of, _ := strings.Cut(row.Of, "|")
		if strings.HasPrefix(what, classes) {
			continue
		}
		width := "-"
		if row.Below.Of > 0 {
			width = fmt.Sprintf("%.4g", row.Width)
		}
		least := "-"
		if row.Past.Of > 0 {
			least = fmt.Sprintf("%.2f", 100*row.Past.Lower(coverage.Confidence))
		}
		fmt.Fprintf(w, "%s\t%s\t%d\t%s\t%s\t%s\t%s\t%s\t%d\t%s\t%s\n", what, of, row.Outcomes, share(row.Known), share(row.Inside), share(row.Below), width,
			share(row.OK), row.Past.Of, share(row.Past), least)
	}
	_ = w.Flush() // into a text: it does not fail
}
