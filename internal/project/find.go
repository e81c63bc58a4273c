package project

import (
	"fmt"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// Find is what a search for a better place may move, and what must hold there.
type Find struct {
	Hold   []string   `toml:"hold" doc:"the findings that must hold, by their ids, * for any part; all that a move can change when left out" offers:"findings"`
	Accept Accept     `toml:"accept" doc:"what will do: ok, or tight; ok when left out"`
	Moves  []FindMove `toml:"move" doc:"a thing that may move"`
}

// FindMove is one thing that may move, how far and in which steps. Its numbers are texts:
// what they are measured in follows from what is moved.
type FindMove struct {
	Of    string   `toml:"of" doc:"what may move: placement.rear, line.rear.pinion.slope, line.rear.joint.2.at.height, line.rear.shaft.1.yoke_offset, line.rear.pinion.spacer, line.rear.shaft.1.slip_closed for the shaft's length, line.front.suspension.strap.1.length" need:"yes" offers:"movables"`
	Range []string `toml:"range" doc:"between which two values, the smaller first: -300 mm, -270 mm" need:"yes"`
	Step  string   `toml:"step" doc:"the step that can be made: 1 mm, 1/16 in, a wedge as sold, a tooth of a spline" need:"yes"`
	Work  MoveWork `toml:"work" doc:"what moving it takes: turn, shim, wedge, bolt or cut; by what it is when left out"`
}

// Accept is what will do of a finding, as the file spells it.
type Accept string

// The words the file uses.
const (
	AcceptOK    Accept = "ok"
	AcceptTight Accept = "tight"
)

// Words lists what will do.
func (Accept) Words() []string { return []string{string(AcceptOK), string(AcceptTight)} }

// MoveWork is what moving a thing takes, as the file spells it.
type MoveWork string

// The words the file uses, the least work first.
const (
	TurnWork  MoveWork = "turn"  // a yoke on its spline
	ShimWork  MoveWork = "shim"  // under an isolator or a bearing
	WedgeWork MoveWork = "wedge" // under a spring
	BoltWork  MoveWork = "bolt"  // a bracket that is bolted on, drilled anew
	CutWork   MoveWork = "cut"   // a bracket cut and welded anew
)

// Words lists what moving a thing can take.
func (MoveWork) Words() []string {
	return []string{string(TurnWork), string(ShimWork), string(WedgeWork), string(BoltWork), string(CutWork)}
}

// Span is how far a thing may move and in which steps, internal units.
type Span struct {
	Of             Movable
	From, To, Step float64
}

// SpanOf reads how far a thing may move. The error says what is wrong with it.
func (b *Build) SpanOf(m FindMove) (Span, error) {
	s := Span{}
	var err error
	if s.Of, err = b.MovableNamed(m.Of); err != nil {
		return s, err
	}
	if len(m.Range) != 2 {
		return s, fmt.Errorf("%s: want a range of two values, such as [\"-300 mm\", \"-270 mm\"]; read %d", m.Of, len(m.Range))
	}
	for i, to := range []*float64{&s.From, &s.To} {
		if *to, err = quantity.Parse(s.Of.Kind(), m.Range[i], b.Units); err != nil {
			return s, fmt.Errorf("%s: range: %w", m.Of, err)
		}
	}
	if s.From > s.To {
		return s, fmt.Errorf("%s: its range runs backwards, from %s to %s; the smaller value comes first", m.Of, Printable(m.Range[0]), Printable(m.Range[1]))
	}
	if s.From < 0 && s.Of.atLeastNothing() {
		return s, fmt.Errorf("%s: its range begins at %s, and it cannot be below 0; begin it at 0 at least", m.Of, Printable(m.Range[0]))
	}
	if s.Step, err = quantity.Parse(sizeOf(s.Of.Kind()), m.Step, b.Units); err != nil {
		return s, fmt.Errorf("%s: step: %w", m.Of, err)
	}
	if c := &b.Powertrain.Case; s.Of.Case() && s.Step > 0 && !(c.allows(s.Step) && c.allows(s.From)) {
		return s, fmt.Errorf("%s: its bolts let it turn in steps of %s; take steps and a range of whole ones", m.Of, quantity.Format(quantity.Angle, c.Step.V(), b.Units, 2))
	}
	if s.Step <= 0 {
		return s, fmt.Errorf("%s: a step of nothing goes nowhere; give the step that you can make, such as 1 mm or 0.5 deg", m.Of)
	}
	return s, nil
}

// sizeOf is the kind of how far something of kind k moves, whichever way.
func sizeOf(k quantity.Kind) quantity.Kind {
	switch k {
	case quantity.Slope, quantity.Heading:
		return quantity.Angle
	case quantity.Offset:
		return quantity.Length
	}
	return k
}

// Trial is a named alternative: the build with some of its values otherwise.
type Trial struct {
	Name    string   `toml:"*"`
	Note    string   `toml:"note" doc:"anything worth knowing" lines:"yes"`
	Changes []Change `toml:"change" doc:"a value that it has otherwise"`
}

// Change is one value that a trial has otherwise.
type Change struct {
	Of string `toml:"of" doc:"which value, as fitup set names it: placement.rear" need:"yes" offers:"movables"`
	To string `toml:"to" doc:"what it is in the trial, as fitup set takes it: -86 mm" need:"yes"`
}

// checkFind reads what may move, as far as it is said.
func (b *binder) checkFind(build *Build, root *tomltext.Node) {
	n := root.Child("find")
	if n == nil {
		return
	}
	list := n.Child("move")
	seen := map[string]bool{}
	for i, m := range build.Find.Moves {
		at := entryOf(list, i)
		if at == nil || m.Of == "" {
			continue
		}
		// What is not there to be moved may come back, as what a job waits for may: it is
		// said when it is searched.
		_, err := build.MovableNamed(m.Of)
		if err != nil || len(m.Range) == 0 || m.Step == "" {
			err = nil
		} else {
			_, err = build.SpanOf(m)
		}
		switch {
		case err != nil:
			b.fault(at.Pos, at.Path, "%v", err)
		case seen[m.Of]:
			b.fault(at.Pos, at.Path, "%s may move already; keep one of the two", Printable(m.Of))
		}
		seen[m.Of] = true
	}
}
