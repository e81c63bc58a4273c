package project

import (
	"slices"
	"strings"
	"time"

	"fitup/internal/project/joblist"
	"fitup/internal/project/jobs"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// Job is one step of the build. What a job with From leaves out is taken from
// the built-in step of that id when the file is read.
type Job struct {
	ID       string    `toml:"id" doc:"a short name, unique in the file" need:"yes"`
	From     string    `toml:"from" doc:"id of the built-in step it came from" offers:"steps"`
	Stage    string    `toml:"stage" doc:"the part of the build it belongs to"`
	Title    string    `toml:"title" doc:"what is to be done"`
	Means    string    `toml:"means" doc:"what has to be true before it counts as done" lines:"yes"`
	Done     bool      `toml:"done" doc:"true once it is done" how:"Enter ticks it, through the same door as the Jobs pane." own:"yes" ticked:"yes"`
	Needs    []string  `toml:"needs" doc:"ids of jobs that come first" offers:"jobs"`
	Hold     []string  `toml:"hold" doc:"findings that must be ok or tight first; * for any part, ? where there is one, @proved for proved only" offers:"findings"`
	Out      bool      `toml:"out" doc:"true when it can only be reached with the powertrain out"`
	Finish   bool      `toml:"finish" doc:"true when it cannot be undone, such as a finish weld: it waits for ok, and for proof"`
	Hard     HardWork  `toml:"hard_to_undo" doc:"what it does that is hard to undo: tack, weld, drill, cut or nothing; before it the Jobs pane and the bench sheet say how sure all is. That of its built-in step when left out" how:"What would have to be ground off, filled or bought again?"`
	Cautions []string  `toml:"cautions" doc:"what to mind; added to those of the built-in step"`
	Tools    string    `toml:"tools" doc:"what it takes" lines:"yes"`
	Override string    `toml:"override" doc:"why it was ticked although something held it" own:"yes" ticked:"yes"`
	DoneOn   time.Time `toml:"done_on" doc:"date it was ticked; written by the program"`
	Placed   Placement `toml:"placed" doc:"the placement it was ticked at; written by the program"`
	Relied   []Relied  `toml:"relied" doc:"the findings it was ticked on; written by the program"`
	Note     string    `toml:"note" doc:"anything worth knowing" lines:"yes"`

	// Loosened are the jobs that its built-in step waits for and this one, by
	// the file's own needs, does not.
	Loosened []string `toml:"-"`
	// StepHold is what its built-in step waits for, and Yields those of them
	// that doing the step brings about.
	StepHold []string `toml:"-"`
	// NoFinish is set where the title says that something is welded and the
	// file says by finish = false that proof is not waited for.
	NoFinish bool     `toml:"-"`
	Yields   []string `toml:"-"`
}

// HardWork is what a job does that is hard to undo, as the file spells it.
type HardWork string

// Words lists what that can be.
func (HardWork) Words() []string {
	return []string{string(joblist.Tacks), string(joblist.Welds), string(joblist.Drills), string(joblist.Cuts), string(joblist.Spares)}
}

// Does is that as a sentence has it, "" where nothing is hard to undo.
func (h HardWork) Does() string {
	switch joblist.Hard(h) {
	case joblist.Spares:
		return ""
	case joblist.Drills:
		return "drill and bolt"
	}
	return string(h)
}

// Relied is a finding as it was when a job was ticked on it.
type Relied struct {
	Finding   string `toml:"finding" doc:"id of the finding"`
	Status    string `toml:"status" doc:"ok, tight, over or not known"`
	Value     string `toml:"value" doc:"its value, with its unit"`
	PlusMinus string `toml:"plus_minus" doc:"its uncertainty, with its unit"`
	Basis     string `toml:"basis" doc:"planned, read or proved"`
}

// Standing is where the powertrain is, as the file spells it.
type Standing string

// Fixing is how mounts hold to the frame, as the file spells it.
type Fixing string

// The words the file uses.
const (
	StandsIn  Standing = "in"
	StandsOut Standing = "out"

	WeldedOn Fixing = "welded"
	BoltedOn Fixing = "bolted"

	BodyOnFrame Body = "on frame"
	UnitBody    Body = "unit-body"
)

// Body is what carries a vehicle, as the file spells it.
type Body string

// Words lists what can carry a vehicle.
func (Body) Words() []string { return []string{string(BodyOnFrame), string(UnitBody)} }

// Words lists where a powertrain can be.
func (Standing) Words() []string { return []string{string(StandsIn), string(StandsOut)} }

// Words lists how mounts can be fixed.
func (Fixing) Words() []string { return []string{string(WeldedOn), string(BoltedOn)} }

// Facts returns what the built-in list asks of a build, as far as it is known.
func (b *Build) Facts() joblist.Facts {
	f := joblist.Facts{}
	transaxle := b.Powertrain.Layout == Transaxle
	if b.Powertrain.Layout != "" || len(b.Lines) > 0 {
		f[joblist.Transaxle], f[joblist.Propshaft] = transaxle, !transaxle
	}
	for _, l := range b.Lines {
		if transaxle && !l.hasShaft() && !b.readOf(l) {
			for _, c := range []joblist.Condition{joblist.OnePiece, joblist.TwoPiece, joblist.FrontDrive} {
				f[c] = f[c] || false
			}
			continue
		}
		f[joblist.Propshaft] = true
		if l.Suspension.Kind != "" {
			for kind, c := range map[SuspensionKind]joblist.Condition{
				LeafSprings: joblist.LeafSprings, LinkAxle: joblist.Links,
				TrailingArms: joblist.Arms, FixedDiff: joblist.FixedDiff,
			} {
				f[c] = f[c] || l.Suspension.Kind == kind
			}
		}
		if len(l.Joints) > 0 || len(l.Shafts) > 0 {
			f[joblist.TwoPiece] = f[joblist.TwoPiece] || l.JointCount() > 2
			f[joblist.OnePiece] = f[joblist.OnePiece] || l.JointCount() == 2
		}
		f[joblist.FrontDrive] = f[joblist.FrontDrive] || l.Toward == TowardFront
	}
	if how := b.Vehicle.Body; how != "" {
		f[joblist.OnFrame], f[joblist.UnitBody] = how == BodyOnFrame, how == UnitBody
	}
	if how := b.Powertrain.Fixing; how != "" {
		f[joblist.WeldedOn], f[joblist.BoltedOn] = how == WeldedOn, how == BoltedOn
		f[joblist.SupportWelded], f[joblist.SupportBolted] = how == WeldedOn, how == BoltedOn
	}
	if welded, bolted := b.support(); welded || bolted { // it may be otherwise than the engine's mounts
		f[joblist.SupportWelded], f[joblist.SupportBolted] = welded, bolted
	}
	return f
}

// support says how the crossmembers of the powertrain are fixed to the rails, as far as the
// file describes any: ears and sockets without bolts of their own are welded there.
func (b *Build) support() (welded, bolted bool) {
	for i := range b.Mounts {
		m := &b.Mounts[i]
		if !m.Bracket.Kind.Crosses() || m.Support() {
			continue
		}
		by := m.Bracket.Bolts.Begun()
		welded, bolted = welded || !by, bolted || by
	}
	return welded, bolted
}

// hasShaft reports whether the line has a shaft from gearbox or transfer case to
// an axle; with a transaxle most have half shafts only.
func (l *Line) hasShaft() bool {
	return len(l.Joints) > 0 || len(l.Shafts) > 0 || l.Pinion.At.Known || l.Pinion.Slope.Known()
}

// readOf reports whether some axis of the line itself was read: then there is a
// shaft, and what it runs at wants proof.
func (b *Build) readOf(l Line) bool {
	return b.readBelow("line." + l.Name + ".")
}

// readBelow reports whether anything was read whose name begins so.
func (b *Build) readBelow(name string) bool {
	for i := range b.Readings {
		if strings.HasPrefix(b.Readings[i].Of, name) {
			return true
		}
	}
	return false
}

// fillJobs gives the jobs what the built-in list has to say of them; list is the
// text of them.
func (b *Build) fillJobs(list *tomltext.Node, facts joblist.Facts) {
	given := make([]jobs.Given, len(b.Jobs))
	for i, j := range b.Jobs {
		said := list != nil && i < len(list.Children) && list.Children[i].Child("finish") != nil
		given[i] = jobs.Given{ID: j.ID, From: j.From, Stage: j.Stage, Title: j.Title, Means: j.Means, Tools: j.Tools,
			Done: j.Done, Out: j.Out, Finish: j.Finish, FinishSaid: said, Needs: j.Needs, Hold: j.Hold, Cautions: j.Cautions, Hard: joblist.Hard(j.Hard)}
	}
	for i, f := range jobs.Fill(given, facts) {
		j := &b.Jobs[i]
		j.Stage, j.Title, j.Means, j.Tools = f.Stage, f.Title, f.Means, f.Tools
		j.Out, j.Finish, j.NoFinish = f.Out, f.Finish, f.NoFinish
		j.Hard = HardWork(f.Hard)
		j.Needs, j.Hold, j.Cautions = f.Needs, f.Hold, f.Cautions
		j.StepHold, j.Yields, j.Loosened = f.StepHold, f.Yields, f.Loosened
	}
}

// Proof is what every finish weld of this build waits for.
func (b *Build) Proof() []string { return joblist.Proof(b.Facts()) }

// circle returns the ids of a circle of needs, or nothing.
func (b *Build) circle() []string {
	byID := map[string]Job{}
	for _, j := range b.Jobs {
		byID[j.ID] = j
	}
	const inHand, clear = 1, 2
	seen := map[string]int{}
	var path []string
	var visit func(id string) []string
	visit = func(id string) []string {
		switch seen[id] {
		case clear:
			return nil
		case inHand:
			return append(slices.Clone(path[slices.Index(path, id):]), id)
		}
		seen[id] = inHand
		path = append(path, id)
		for _, need := range byID[id].Needs {
			if c := visit(need); c != nil {
				return c
			}
		}
		path = path[:len(path)-1]
		seen[id] = clear
		return nil
	}
	for _, j := range b.Jobs {
		if c := visit(j.ID); c != nil {
			return c
		}
	}
	return nil
}

// Slug makes an id out of words: small letters and digits, a dash for the
// rest.
func Slug(words string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(words) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			b.WriteRune(r)
		} else if s := b.String(); s != "" && !strings.HasSuffix(s, "-") {
			b.WriteByte('-')
		}
	}
	if s := strings.Trim(b.String(), "-"); s != "" {
		return s
	}
	return "x"
}

// Measurement is something measured with tape, plumb line, level or gauge that no
// other part of the file asks for, as often as it was read.
type Measurement struct {
	Of        string             `toml:"of" doc:"what was measured; the same words before and after welding make a pair" need:"yes" own:"yes"`
	With      Instrument         `toml:"with" doc:"tape, plumb, level or gauge, or a tool of the file such as tool.tape; tape and plumb are those of the file where it has them" need:"yes"`
	On        string             `toml:"on" doc:"what the instrument stood on, or from where to where"`
	From      string             `toml:"from" doc:"for a line of the survey: the point it goes from, such as point.rail_lf" offers:"points"`
	To        string             `toml:"to" doc:"and the point it goes to" offers:"points"`
	As        SurveyLine         `toml:"as" doc:"what was measured between them: distance, height (to over from), offset (of at, to the right of the string looking along it), square (at the corner at); distance when left out"`
	At        string             `toml:"at" doc:"the point beside the string, or in the corner of the square" offers:"points"`
	Lengths   []quantity.LengthQ `toml:"lengths" doc:"each repeat, for tape and plumb line" how:"Each repeat as it was read, taken anew each time." from:"what the instrument stood on" own:"yes"`
	Angles    []quantity.AngleQ  `toml:"angles" doc:"each repeat, for level and gauge" how:"Each repeat as it was read, taken anew each time." from:"level" own:"yes"`
	PlusMinus quantity.LengthQ   `toml:"plus_minus" doc:"what the tape or plumb line is good for; the tool's, or 1 mm, when left out" min:"0" exact:"yes" how:"The tape's class, or hold it against another." from:"the true length"`
	AnglePM   quantity.AngleQ    `toml:"angle_plus_minus" doc:"what the level or gauge is good for; 0.1 deg when left out" min:"0" exact:"yes" how:"The maker's figure." from:"the true angle"`
	After     After              `toml:"after" doc:"hung, tacked or welded" own:"yes"`
	Stood     Stood              `toml:"stood" doc:"how the vehicle stood: on its wheels, axle on stands, frame on stands, or hanging"`
	Taken     time.Time          `toml:"taken" doc:"date" offers:"days" own:"yes"`
	Placed    Placement          `toml:"placed" doc:"of what was measured to a mark on the powertrain: the placement it was taken at; written by the program"`
	Note      string             `toml:"note" doc:"anything worth knowing" lines:"yes" own:"yes"`
}

// Instrument is what a measurement was taken with, as the file spells it.
type Instrument string

// The words the file uses.
const (
	TapeMeasure Instrument = "tape"
	PlumbLine   Instrument = "plumb"
	SpiritLevel Instrument = "level"
	AngleGauge  Instrument = "gauge"
)

// Words lists what can be measured with.
func (Instrument) Words() []string {
	return []string{string(TapeMeasure), string(PlumbLine), string(SpiritLevel), string(AngleGauge)}
}

// Tables lists the tables that an instrument can be one of, by its path.
func (Instrument) Tables() []string { return []string{"tool"} }

// Tool reports whether it is a tool of the file, such as tool.tape.
func (i Instrument) Tool() bool { return strings.HasPrefix(string(i), toolPrefix) }

// Kind is what the instrument measures.
func (i Instrument) Kind() quantity.Kind {
	if i == SpiritLevel || i == AngleGauge {
		return quantity.Angle
	}
	return quantity.Length
}
