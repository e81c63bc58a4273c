package assess

import (
	"slices"
	"sync"

	"fitup/internal/abreast"
	"fitup/internal/assess/bracket"
	"fitup/internal/assess/clear"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/frame"
	"fitup/internal/assess/hung"
	"fitup/internal/assess/line"
	"fitup/internal/assess/mount"
	"fitup/internal/assess/pickup"
	"fitup/internal/assess/rail"
	"fitup/internal/assess/reading"
	"fitup/internal/assess/steer"
	"fitup/internal/assess/subframe"
	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// The way from a build to its assessment. Each trade is a folder here; none knows
// another. What one needs of another is handed over as a value, in feed_TRADE.go:
// it calls that trade with what went before, and keeps what the trade found.

// Prepared is a build with all that does not depend on where things that can be
// moved stand. It is not changed once it is made, so any number of goroutines
// may ask it.
type Prepared struct {
	Build *project.Build

	given     *project.Build // before the survey gave points their places
	beside    bool           // a large survey is adjusted beside
	between   func()         // called before each step, by who lets others go first; nil for none
	waits     *Fitting       // the adjustment that it waits for; nil for none
	stated    *finding.Stated
	open      []leftOpen         // all that the file leaves open
	sources   *uncertain.Sources // of what does not depend on readings; those fork from it
	reads     *uncertain.Sources // of readings
	rates     finding.Estimate   // of the mounts, all of them together
	readings  *reading.Readings
	across    line.Input // what the lines follow from, and a crankshaft across
	lines     []*line.Prepared
	axles     []axle // of the lines
	mounts    *mount.Prepared
	room      *clear.Prepared
	legs      *bracket.Prepared
	measured  *reading.Measured
	frame     *frame.Result
	surveyed  func() []Finding // of the frame, made once
	places    places           // that the survey finds for other trades
	rails     *rail.Prepared
	subframes *subframe.Result
	hung      func() []Finding // of the subframes, made once
	// Where points are, those of subframes too; nil where there are none.
	subframePlaces *placer
	hangs          *hung.Powertrain // where it hangs by what was measured of it
	// What is said of the pads of mounts at the corners of subframes, and what those put on
	// them; by the mounts' names.
	cornerSays map[string]string
	corners    map[string]bracket.MountLoad

	steering *steer.Result // nil where the file has none
	pickups  *pickup.Result
}

// Prepare makes a build ready to be assessed in many states.
func Prepare(b *project.Build) *Prepared { return prepare(b, false, &Prepared{}) }

// prepare leaves a large survey to be adjusted beside where that is wanted. The rails and
// the pick-ups of before, which may be empty, serve where they are the same.
func prepare(b *project.Build, beside bool, before *Prepared) *Prepared {
	return prepareYielding(b, beside, before, func() {})
}

// prepareYielding is prepare that calls yield before each of its longer steps.
func prepareYielding(b *project.Build, beside bool, before *Prepared, yield func()) *Prepared {
	p := &Prepared{Build: b, given: b, beside: beside, sources: new(uncertain.Sources)}
	yield()
	p.prepareFrame()
	yield()
	if p.waitsForSubframes() {
		p.hangSubframes()
	}
	p.placePoints()
	surveyed := p.Build // no subframe changes anything else of its rails and pick-ups
	abreast.Do(p.prepareSubframes, func() {
		p.rails = rail.Prepare(surveyed, before.rails)
		p.pickups = pickupsOf(surveyed, before.pickups)
	})
	yield()
	b = p.Build
	p.rates = finding.EstimateIn(p.sources, "the estimated rates of the mounts")
	p.stated = finding.StatedIn(b, p.sources)
	p.placesByTyped()
	p.mounts = mount.Prepare(b, roundTyres(b), p.sources, p.rates)
	p.loadCorners()
	p.placeSupports()
	b = p.Build
	yield()
	p.legs = bracket.Prepare(b, madeWelds(b))
	yield()
	p.room = clear.Prepare(b, p.rates, before.room, p.fixedBodies()...)
	yield()
	p.prepareSteering(b)
	// The sources of readings fork from those of all else, which are then complete.
	p.prepareLines(b)
	p.axles = before.axles
	yield()
	p.prepareTravel(b)
	p.open = p.leftOpenIn(p.narrowed(), p.reachOf)
	return p
}

// Run assesses a build.
func Run(b *project.Build) *Assessment {
	p := Prepare(b)
	return p.run(p.Build)
}

// RunAside is Run for who works while something more urgent may come: on one processor,
// and calling yield before each step, which may wait. It says what Run says.
func RunAside(b *project.Build, yield func()) *Assessment {
	return runAside(prepareYielding(b, false, &Prepared{}, yield), yield)
}

// AgainAside is RunAside of a build that is much like one that was assessed: what was
// prepared of that serves where it is the same.
func AgainAside(before *Assessment, b *project.Build, yield func()) *Assessment {
	return runAside(prepareYielding(b, false, before.ready, yield), yield)
}

func runAside(p *Prepared, yield func()) *Assessment {
	a := p.Yielding(yield).runBy(p.Build, (*Assessment).goOnAlone)
	a.ready = p // whoever asks it for more waits for nobody
	return a
}

// Yielding is p for the same: what it assesses calls yield before each step.
func (p *Prepared) Yielding(yield func()) *Prepared {
	q := *p
	q.between = yield
	return &q
}

// Again assesses a build that is probably much like the one before: where nothing
// differs but where the powertrain stands, what was prepared of that serves this one
// too. It says what Run says.
func Again(before *Assessment, b *project.Build) *Assessment {
	p := before.ready
	if b == p.given || p.waits != nil || !p.given.AlikeButPlaced(b) {
		q := prepare(b, p.beside, p)
		return q.run(q.Build)
	}
	moved := *p.Build
	moved.Placement = b.Placement
	return p.run(&moved)
}

// run assesses the build that was prepared, or one that differs from it in where the
// powertrain stands alone.
func (p *Prepared) run(b *project.Build) *Assessment { return p.runBy(b, (*Assessment).goOnAbreast) }

func (p *Prepared) runBy(b *project.Build, all func(*Assessment)) *Assessment {
	a := p.begin(b, Everything)
	a.mends = new(sync.Map)
	all(a)
	a.index()
	a.restate() // for people; a state among many is only counted
	a.welds()   // whether each was proved rests on all findings
	a.jobs()    // hold on findings and facts, those about welds too
	return a
}

// At assesses the build as it is after moves, as far as which asks. The error
// says why it cannot be moved so. Jobs and the weld map are what Run makes, and
// lengths in texts are in mm.
func (p *Prepared) At(moves []project.Move, which Which) (*Assessment, error) {
	b, err := p.Build.With(moves...)
	if err != nil {
		return nil, err
	}
	return p.with(b, moves).at(b, which.whole()), nil
}

// with is p for a build that differs from the one it was prepared for by moves:
// lines with parts of their own that were moved, or with readings that those
// took away, are prepared anew. The axle of any other line goes as before.
func (p *Prepared) with(b *project.Build, moves []project.Move) *Prepared {
	if len(b.Readings) == len(p.Build.Readings) && sameLines(b, p.Build) {
		return p
	}
	if slices.ContainsFunc(moves, func(m project.Move) bool { return m.Of.Case() }) { // all that hangs on the powertrain goes round
		q := p.prepareBeside(b, reach{parts: judged, axes: true})
		q.Build, q.open, q.stated = p.Build, p.open, p.stated
		return q
	}
	q := *p
	q.prepareLines(b)
	for i := range b.Lines {
		if l := b.Lines[i].Name; slices.ContainsFunc(moves, func(m project.Move) bool { return m.Of.Line() == l }) {
			q.prepareTravelOf(b, l)
		}
	}
	if otherStraps(b, p.Build) && len(b.Pickups) > 0 {
		q.pickups = pickupsOf(b, p.pickups)
		q.loadCorners()
		q.room = clear.Prepare(b, p.rates, nil, q.fixedBodies()...)
	}
	return &q
}

// otherStraps reports whether a line has other straps, which end the droop of its axle.
func otherStraps(b, c *project.Build) bool {
	return slices.ContainsFunc(b.Lines, func(l project.Line) bool {
		return !slices.ContainsFunc(c.Lines, func(m project.Line) bool {
			return l.Name == m.Name && slices.EqualFunc(l.Suspension.Strap, m.Suspension.Strap, func(x, y project.Strap) bool { return x.Length.V() == y.Length.V() })
		})
	})
}

func sameLines(b, c *project.Build) bool {
	return len(b.Lines) == 0 || &b.Lines[0] == &c.Lines[0]
}

// at is the pipeline.
func (p *Prepared) at(b *project.Build, which Which) *Assessment {
	a := p.begin(b, which)
	a.goOnAlone()
	if which == Everything {
		a.index()
	}
	return a
}

// begin is an assessment with nothing but where the powertrain stands.
func (p *Prepared) begin(b *project.Build, which Which) *Assessment {
	return p.beginAt(b, which, aim{})
}

// beginAt is begin of one that is asked for what it is aimed at.
func (p *Prepared) beginAt(b *project.Build, which Which, to aim) *Assessment {
	a := &Assessment{Build: b, ready: p, asked: which, stated: p.statedOf(b), aim: to}
	a.Findings, a.Plans = p.expected(which, to)
	a.place()  // the pose, which nearly all rests on
	a.across() // belongs to no line, and costs nothing
	return a
}

// step is a step of the pipeline. It may rest on those before it, and brings nothing
// about in them, but for sunkLines, carry and elsewhere, which change verdicts that
// stand.
type step struct {
	of  Which
	run func(*Assessment)
}

// How many steps it takes to know where the lines run, where the powertrain stands, what
// follows from both, the room round it, and all values; and all.
const (
	throughLines  = 1
	throughStands = 2
	throughShafts = 4
	throughRoom   = 5
	throughValues = 14
	throughAll    = throughValues + 2
)

func steps() [throughAll]step {
	return [...]step{
		{OfLines, (*Assessment).lines},          // angles and motion as built; their axles over the travel
		{OfStands, (*Assessment).standOnMounts}, // loads, and where the powertrain can stand
		{OfLines, (*Assessment).sunkLines},      // the lines' verdicts once more where it has sunk to
		{OfTravel, (*Assessment).hungShafts},    // half shafts move with the axle and with those stands
		{OfRoom, (*Assessment).findRoom},        // at each stand, to what stands still and what travels
		{OfRide, (*Assessment).rideLevel},       // axle loads, old powertrain and new
		{OfShake, (*Assessment).shaking},        // the powertrain where it stands, on its mounts
		{OfLegs, (*Assessment).brackets},        // under the loads of the mounts
		{OfCuts, (*Assessment).cuts},            // the legs on the stock
		{OfFrame, (*Assessment).frame},          // by its survey, which nothing moves
		{OfRails, (*Assessment).rails},          // bent by what the mounts and the rest weigh
		{OfSteering, (*Assessment).steering},    // which nothing that is fitted moves
		{OfPickups, (*Assessment).pickups},      // arms, springs and rods, which nothing that is fitted moves
		{OfLists, (*Assessment).workshop},       // what was read and measured, fasteners, who has which bracket
		{Everything, (*Assessment).carry},       // what the file leaves open of all of them
		{Everything, (*Assessment).elsewhere},   // last: it speaks about findings of any of them
	}
}

// goOn takes the steps that are not taken yet, as many as said in all.
func (a *Assessment) goOn(to int) {
	all := steps()
	for ; a.taken < to; a.taken++ {
		if step := all[a.taken]; a.asked&step.of != 0 && !a.as.same(a, step.of) {
			if a.ready.between != nil {
				a.ready.between()
			}
			step.run(a)
		}
	}
}

// goOnAlone takes all steps, one after the other.
func (a *Assessment) goOnAlone() { a.goOn(throughAll) }

// goOnAbreast takes all steps, those side by side that do not rest on each other: where
// somebody waits for the one assessment. It says what goOn(throughAll) says.
func (a *Assessment) goOnAbreast() {
	a.abreast = true
	stands := a.apart(throughLines)
	abreast.Do(func() { a.goOn(throughLines) }, func() { stands.goOn(throughStands) })
	a.mounts, a.Statics, a.Isolators = stands.mounts, stands.Statics, stands.Isolators
	a.Findings, a.taken = append(a.Findings, stands.Findings...), throughStands
	a.goOn(throughShafts)

	room, before := a.apart(throughShafts), len(a.Findings)
	a.taken = throughRoom
	abreast.Do(func() { a.goOn(throughValues) }, func() { room.goOn(throughRoom) })
	a.Clearances, a.Moving, a.Exhaust, a.followed, a.others = room.Clearances, room.Moving, room.Exhaust, room.followed, room.others
	a.Findings = slices.Insert(a.Findings, before, room.Findings...)
	a.goOn(throughAll)
}

// apart is a as far as it is worked out, without what was found, for a step that is taken
// beside others.
func (a *Assessment) apart(taken int) *Assessment {
	b := *a
	b.Findings, b.Plans, b.taken = nil, nil, taken
	return &b
}

// index makes the findings ready to be asked for by id.
func (a *Assessment) index() {
	a.byID = make(map[string]int, len(a.Findings))
	for i := range a.Findings {
		a.byID[a.Findings[i].ID] = i
	}
}

// expected is room for the findings that are likely to come of what is asked, so
// that they are hardly ever copied to more of it.
func (p *Prepared) expected(which Which, to aim) (findings, plans []Finding) {
	n, planned := 4, 0
	if which&OfLines != 0 && !to.angles {
		for i, l := range p.lines {
			if to.line != "" && to.line != p.Build.Lines[i].Name {
				continue
			}
			found, read := l.MostFindings()
			n, planned = n+found+read, planned+found
		}
	}
	if which&OfLoads != 0 && to == (aim{}) {
		n += 2 * len(p.Build.Mounts)
	}
	if which&OfRoom != 0 && to.piece == "" {
		n += 3*len(p.Build.Chassis) + 2
	}
	if which&OfLegs != 0 && to.mount == "" {
		n += 12 * len(p.Build.Mounts)
	}
	return make([]Finding, 0, n), make([]Finding, 0, planned)
}

// Which is what of a build is asked for. A part brings what it rests on with
// it.
type Which uint16

// The parts, finer than trades: where lines run rests on how the mounts give, which
// is quick, and not on what they carry, which is not. Mounts do not rest on lines.
const (
	OfLines    Which = 1 << iota // at ride height
	OfTravel                     // axles between bump and droop, order sheets
	OfStands                     // where the powertrain can stand on its mounts
	OfLoads                      // what the mounts carry
	OfRoom                       // to pieces of the vehicle
	OfMoving                     // to what moves with axles
	OfRide                       // height at the axles
	OfLegs                       // of the mounts, and their strength
	OfCuts                       // the legs nested on the stock
	OfFrame                      // the frame's survey
	OfRails                      // what rails are made of, and their strength
	OfSteering                   // the steering shaft
	OfPickups                    // what holds wheels to the frame
	OfShake                      // how the powertrain shakes on its mounts
	OfLists                      // drift, measurements, lists that jobs wait for

	Everything Which = 1<<iota - 1
)

// rests has for each part what it rests on.
var rests = []struct{ of, on Which }{
	{OfLists, OfLines},
	{OfMoving, OfRoom | OfTravel},
	{OfTravel, OfLines | OfStands},
	{OfCuts, OfLegs},
	{OfLegs | OfRails, OfLoads},
	{OfLines | OfLoads | OfRoom | OfRide, OfStands},
}

// whole is w with what its parts rest on.
func (w Which) whole() Which {
	for _, r := range rests { // each is named before what it rests on
		if w&r.of != 0 {
			w |= r.on
		}
	}
	return w
}

// For is what the findings with those ids need.
func For(ids ...string) Which {
	var w Which
	for _, id := range ids {
		w |= partOf(id)
	}
	return w.whole()
}

// partOf is the part that judges the finding with that id.
func partOf(id string) Which {
	if finding.IsMoving(id) {
		return OfMoving
	}
	switch finding.TradeOf(id) {
	case finding.LineTrade:
		return OfLines
	case finding.TravelTrade:
		return OfTravel
	case finding.MountTrade:
		if finding.Matches(finding.AxleHeight("*"), id) {
			return OfRide
		}
		if id == finding.MountsShakeIdle || id == finding.MountsShakeCruise {
			return OfShake
		}
		return OfLoads
	case finding.ClearTrade:
		return OfRoom
	case finding.BracketTrade:
		return OfLegs
	case finding.ShopTrade:
		return OfCuts | OfLists
	case finding.ReadingTrade, finding.HungTrade:
		return OfLists
	case finding.FrameTrade, finding.SubframeTrade:
		return OfFrame
	case finding.RailTrade:
		return OfRails
	case finding.SteerTrade:
		return OfSteering
	case finding.PickupTrade:
		return OfPickups
	}
	return Everything
}

// asks reports whether any of the parts is asked for.
func (a *Assessment) asks(w Which) bool { return a.asked&w != 0 }
