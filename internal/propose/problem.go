package propose

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Work is what moving a thing by any number of steps takes.
type Work string

// The kinds of work, the least first.
const (
	Turn  Work = "turn"  // a yoke on its spline
	Shim  Work = "shim"  // under an isolator or a bearing
	Wedge Work = "wedge" // under a spring
	Bolt  Work = "bolt"  // a bracket that is bolted on, drilled anew
	Cut   Work = "cut"   // a bracket cut and welded anew
)

// Works lists the kinds of work.
func Works() []string {
	return []string{string(Turn), string(Shim), string(Wedge), string(Bolt), string(Cut)}
}

// points is what a kind of work counts: only which is the more is meant.
func (w Work) points() float64 {
	switch w {
	case Turn:
		return 1
	case Shim:
		return 2
	case Wedge:
		return 3
	case Bolt:
		return 5
	}
	return 10
}

// Allowed is one thing that may move: to From, To, or any place a whole number of steps
// from where it is now between the two; internal units. Where it stands outside of them
// now, steps count from From.
type Allowed struct {
	Of       string // path of a movable: placement.rear, line.rear.pinion.slope
	From, To float64
	Step     float64
	Work     Work // by what it is, when empty
}

// Wanted is what is asked for.
type Wanted struct {
	Moves []Allowed
	// Hold names the findings that must hold by their ids, with * and ** as in a hold of
	// a job; all that moves can change when empty.
	Hold []string
	// Tight lets findings be tight; otherwise they must be ok.
	Tight bool
	// Budget is how many places each search may assess; Usual when 0.
	Budget int
	// Yield is called between the steps of each assessment, where it is not nil, by the
	// goroutine that searches: it may wait, for what is more urgent.
	Yield func()
}

// InFile is what a build's own file asks for.
func InFile(b *project.Build) (Wanted, error) {
	w := Wanted{Hold: b.Find.Hold, Tight: b.Find.Accept == project.AcceptTight}
	err := w.Let(b, b.Find.Moves...)
	return w, err
}

// Let lets things move, spelled as a file has them.
func (w *Wanted) Let(b *project.Build, moves ...project.FindMove) error {
	for _, m := range moves {
		s, err := b.SpanOf(m)
		if err != nil {
			return err
		}
		w.Moves = append(w.Moves, Allowed{Of: m.Of, From: s.From, To: s.To, Step: s.Step, Work: Work(m.Work)})
	}
	return nil
}

func (w *Wanted) yield() {
	if w.Yield != nil {
		w.Yield()
	}
}

// Usual is the budget of a search where none is given: some ten seconds of one
// processor for a build like the demo.
const Usual = 20000

// MostMoves bounds how many things may move at once.
const MostMoves = 8

// mostSteps bounds the steps of one thing, mostPlaces those of all together.
const (
	mostSteps  = 2000
	mostPlaces = 1e15
)

// axis is a thing that may move, on its steps.
type axis struct {
	Allowed
	mov    project.Movable
	now    float64
	values []float64
	stay   int // number of the step where it is now, -1 where that is not allowed
	// takes says that a move takes readings away, so that verdicts change by more than
	// the move: then where it stays is a box of its own.
	takes bool
}

// demand is a finding that must hold.
type demand struct {
	finding.Finding // as it is now
	quick           bool
	moves           bool // with what may move
	bound           bounding
}

// Problem is what may move and what must hold, ready to be searched.
type Problem struct {
	Build *project.Build
	Now   *assess.Assessment
	// Left are findings that are not held, and why, in sentences.
	Left []string

	want    Wanted
	ready   *assess.Prepared
	moves   []axis
	demands []demand
	number  map[string]int // of demands, by id
	unknown map[int]string // demands that are not known at a place that was judged, and why there
	quick   assess.Which
	rest    assess.Which
	travels bool // something is argued of a demand on the travel
	kin     *kinematics
	clocks  map[int]*kinematics // by the step of the transfer case
	memo    *memo
}

// New makes a build ready to be searched. The error says what is wrong with what is
// asked, and what to do.
func New(b *project.Build, w Wanted) (*Problem, error) {
	p := &Problem{Build: b, want: w, Now: assess.RunAside(b, w.yield), number: map[string]int{}, unknown: map[int]string{}, memo: newMemo(1 << 16)}
	p.Build = p.Now.Build
	if err := p.allow(); err != nil {
		return nil, err
	}
	if err := p.demand(); err != nil {
		return nil, err
	}
	p.ready = assess.Prepare(b).Yielding(w.yield)
	p.kin = newKinematics(p)
	return p, nil
}

// allow takes what may move.
func (p *Problem) allow() error {
	if len(p.want.Moves) == 0 {
		return errors.New("nothing may move; say what may, how far and in which steps, such as placement.rear from -300 mm to -270 mm by 1 mm")
	}
	if n := len(p.want.Moves); n > MostMoves {
		return fmt.Errorf("%d things may move; at most %d can be searched at once, so fix those that move the findings least", n, MostMoves)
	}
	places := 1.0
	for _, m := range p.want.Moves {
		a, err := p.axis(m)
		if err != nil {
			return err
		}
		places *= float64(len(a.values))
		p.moves = append(p.moves, a)
	}
	if places > mostPlaces {
		return fmt.Errorf("there are %.0g places to try; take larger steps or shorter ranges", places)
	}
	return p.independent()
}

func (p *Problem) axis(m Allowed) (axis, error) {
	a := axis{Allowed: m, stay: -1}
	var err error
	if a.mov, err = p.Build.MovableNamed(m.Of); err != nil {
		return a, err
	}
	name := project.Printable(m.Of)
	if a.now, err = p.Build.Reads(a.mov); err != nil {
		return a, fmt.Errorf("%s: %w", name, err)
	}
	if read, ok := readSlope(p.Now, a.mov); ok {
		a.now = read
	}
	if welded := weldedBy(p.Build, a.mov); welded != "" {
		return a, fmt.Errorf("%s does not move any more: the bracket of the %s is welded; leave it out, or take the weld off the map when it is cut out", name, welded)
	}
	say := func(v float64) string { return quantity.Format(a.mov.Kind(), v, p.Build.Units, 2) }
	switch {
	case math.IsNaN(m.From+m.To+m.Step) || math.IsInf(m.From+m.To+m.Step, 0):
		return a, fmt.Errorf("%s: its range or its step is not a number", name)
	case m.From > m.To:
		return a, fmt.Errorf("%s: its range runs backwards, from %s to %s; the smaller value comes first", name, say(m.From), say(m.To))
	case m.Step <= 0:
		return a, fmt.Errorf("%s: a step of nothing goes nowhere; give the step that you can make, such as 1 mm or 0.5 deg", name)
	case (m.To-m.From)/m.Step > mostSteps:
		return a, fmt.Errorf("%s: more than %d steps from %s to %s; take larger steps or a shorter range", name, mostSteps, say(m.From), say(m.To))
	}
	a.values, a.stay = stepsOf(a.now, m.From, m.To, m.Step)
	if a.Work == "" {
		a.Work = workOf(p.Build, a.mov)
	}
	a.takes = a.mov.MovesJoints() && a.stay >= 0 && len(p.Build.Readings) > 0
	return a, nil
}

// mountsOf are the mounts at the pads that a row of the placement moves.
func mountsOf(m project.Movable) []string {
	row, ok := m.Row()
	if !ok {
		return nil
	}
	switch row.Name {
	case "placement.left_front", "placement.right_front", "placement.rear":
		return []string{strings.TrimPrefix(row.Name, "placement.")}
	case "placement.tilt":
		return []string{"rear"}
	}
	return []string{"left_front", "right_front", "rear"}
}

// independent refuses things that move each other, or that are named twice: what one of
// them reads would not be what was asked for.
func (p *Problem) independent() error {
	for i, a := range p.moves {
		for _, b := range p.moves[:i] {
			if why := Together(b.Of, a.Of); why != "" {
				return errors.New(why)
			}
		}
	}
	return nil
}

// movedBy reports whether a finding is of something that moves can change: what was
// measured, what somebody else judges and what is read again after a move is not.
func movedBy(f *finding.Finding) bool {
	if f.By.Measured() {
		return false
	}
	switch f.By {
	case finding.ReadingTrade, finding.SteerTrade, finding.JobTrade, finding.ShopTrade, finding.Declared:
		return false
	}
	for _, end := range []string{".read", ".agree", ".agree.above", ".captive", ".solid", ".welded", ".weld_size"} {
		if strings.HasSuffix(f.ID, end) {
			return false
		}
	}
	return !strings.HasPrefix(f.ID, "match.") && f.Status != finding.Elsewhere
}

// demand takes what must hold.
func (p *Problem) demand() error {
	hold := p.want.Hold
	for _, pattern := range hold {
		if !slices.ContainsFunc(p.Now.Findings, func(f finding.Finding) bool { return f.Meets(pattern) }) {
			return p.unknownDemand(pattern)
		}
	}
	still, unknown := 0, 0
	for i := range p.Now.Findings {
		f := p.Now.Findings[i]
		named := slices.ContainsFunc(hold, func(pattern string) bool { return f.Meets(pattern) })
		exactly := slices.Contains(hold, f.ID)
		switch {
		case len(hold) > 0 && !named:
			continue
		case exactly && f.Status == finding.NotKnown:
			return fmt.Errorf("%s cannot be held, it is not known: %s", f.ID, f.Missing)
		case exactly && f.Status == finding.Elsewhere:
			return fmt.Errorf("%s cannot be held here: the file says that somebody else judges it", f.ID)
		case !exactly && !movedBy(&f):
			still++
		case f.Status == finding.NotKnown:
			unknown++
			p.Left = append(p.Left, fmt.Sprintf("%s is not known and is not held: %s", f.ID, f.Missing))
		default:
			p.number[f.ID] = len(p.demands)
			p.demands = append(p.demands, demand{Finding: f})
		}
	}
	if still > 0 {
		p.Left = append([]string{fmt.Sprintf("%d findings that a move does not change, or that are read again after it, are not held", still)}, p.Left...)
	}
	if len(p.demands) == 0 {
		return errors.New("there is nothing to hold: no finding that a move could change is known yet; `fitup check --missing` says what they lack")
	}
	for i := range p.demands {
		d := &p.demands[i]
		part := assess.For(d.ID)
		trade := finding.TradeOf(d.ID)
		if d.quick = trade == finding.LineTrade || trade == finding.ClearTrade && !finding.IsMoving(d.ID); d.quick {
			p.quick |= part
		} else {
			p.rest |= part
		}
	}
	return nil
}

func (p *Problem) unknownDemand(pattern string) error {
	ids := make([]string, len(p.Now.Findings))
	for i := range p.Now.Findings {
		ids[i] = p.Now.Findings[i].ID
	}
	near := ""
	if n, ok := project.Nearest(pattern, ids); ok {
		near = "; did you mean " + n + "?"
	}
	return fmt.Errorf("this build has no finding %s to hold%s", project.Printable(pattern), near)
}

// NotKnown is a finding that is held and is not known at some of the places that were tried.
type NotKnown struct{ ID, Title, Why string }

// NotKnownThere lists those, as the build has them; nothing is proposed there. Ask when the
// search has ended.
func (p *Problem) NotKnownThere() []NotKnown {
	var out []NotKnown
	for i := range p.demands {
		if why, ok := p.unknown[i]; ok {
			out = append(out, NotKnown{p.demands[i].ID, p.demands[i].Title, why})
		}
	}
	return out
}

// NotKnownWords says it in a sentence, with what to do; "" where all is known.
func (p *Problem) NotKnownWords() string {
	all := p.NotKnownThere()
	if len(all) == 0 {
		return ""
	}
	text := all[0].Title + " is"
	if n := len(all) - 1; n > 0 {
		text = fmt.Sprintf("%s and %d more are", all[0].Title, n)
	}
	return strings.ToUpper(text[:1]) + text[1:] + " not known in part of the range, and nothing is proposed there: " + strings.TrimRight(all[0].Why, ". ") + ". Shorten the range to where it is known, or put that right first."
}

// places is how many places there are to try.
func (p *Problem) places() float64 {
	n := 1.0
	for i := range p.moves {
		n *= float64(len(p.moves[i].values))
	}
	return n
}
