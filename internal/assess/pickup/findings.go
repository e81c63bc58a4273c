package pickup

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// judge makes the findings of an axle.
func (a *Axle) judge() []finding.Finding {
	var out []finding.Finding
	add := func(f finding.Finding) { out = append(out, f) }
	add(a.wheelsFinding())
	steers := a.steers()
	for _, s := range a.Sides {
		if steers {
			add(a.casterFinding(s))
		}
	}
	if steers {
		add(a.casterSides())
	}
	for _, s := range a.Sides {
		if s.Spring != nil {
			out = append(out, a.springFindings(s)...)
		}
		if s.Damper != nil {
			out = append(out, a.damperFindings(s)...)
		}
		if s.Tower != nil {
			add(a.towerFinding(s))
		}
		for k := range s.Rods {
			out = append(out, a.rodFindings(s, k)...)
		}
	}
	if a.springs {
		add(a.towersFinding())
	}
	for i := range a.Rods {
		if !a.Rods[i].Alone {
			out = append(out, a.pairFindings(i)...)
		}
	}
	if a.Bar != nil {
		out = append(out, a.barFindings()...)
	}
	return out
}

// finding judges a number. What is done about it ends with the caution.
func (a *Axle) finding(id, title string, m finding.Number, rule project.Rule, atLeast bool, assumes []string, ok, over string) finding.Finding {
	f := finding.Finding{ID: id, Title: "pick-ups " + a.Name + ", " + title, Assumes: assumes}
	f.Judge(m, rule, atLeast)
	text := finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{finding.OK: ok, finding.Over: over,
			finding.Tight: "It keeps its limit by less than its ±; measure the points that it rests on more closely before the weld."}
	})
	f.Says = func() string { return strings.TrimSpace(text() + " " + Caution) }
	return f
}

// length is a length in a sentence.
func (a *Axle) length(v float64) string {
	return quantity.Format(quantity.Length, v, a.build.Units, quantity.UsualDigits)
}

// turn is an angle in a sentence.
func (a *Axle) turn(v float64) string { return quantity.Format(quantity.Angle, v, a.build.Units, 1) }

// towards says how far and which way something is to be moved.
func (a *Axle) towards(d r3.Vec) string {
	var out []string
	for _, x := range []struct {
		v        float64
		pos, neg string
	}{{d.X, "to the rear", "to the front"}, {d.Y, "to the right", "to the left"}, {d.Z, "up", "down"}} {
		if math.Abs(x.v) < 0.05 {
			continue
		}
		way := x.pos
		if x.v < 0 {
			way = x.neg
		}
		out = append(out, a.length(math.Abs(x.v))+" "+way)
	}
	if len(out) == 0 {
		return "nowhere"
	}
	return strings.Join(out, ", ")
}

// mirror says that sides are compared about the centre line.
const mirror = "the centre line where offsets are 0"

func (a *Axle) wheelsFinding() finding.Finding {
	return a.finding(finding.PickupWheels(a.Name), "wheel centres, left against right", a.Wheels, a.build.Limit("pickup_sides"), false, []string{mirror},
		"The wheel centres are each other's mirror image.",
		"The wheel centres are not each other's mirror image: one stands ahead, aside or higher. Find out which before a bracket is welded.")
}

func (a *Axle) casterFinding(s *Side) finding.Finding {
	rule := a.build.Limit("caster")
	m := finding.Missing(s.Axis.Why)
	says := ""
	wanted, ok := a.in.Caster.Get()
	switch {
	case s.Axis.Known && !ok:
		m = finding.Missing("pickup." + a.Name + ".caster is not in the file yet")
	case s.Axis.Known:
		is := s.Axis.V.Caster.Rad()
		m = finding.Exact(math.Abs(is - wanted))
		way := "to the rear"
		if is < wanted {
			way = "to the front"
		}
		says = fmt.Sprintf("The upper end of the steering axis leans %s more %s than wanted; move the arm's or the axle's brackets, or turn the axle in its seats, before the weld.", a.turn(math.Abs(is-wanted)), way)
	}
	return a.finding(finding.PickupCaster(a.Name, s.Name), s.Name+", caster off the one wanted", m, rule, false, nil, "The caster is as wanted; an alignment bench sets the rest.", says)
}

func (a *Axle) casterSides() finding.Finding {
	return a.finding(finding.PickupCasters(a.Name), "caster, left against right", a.Caster, a.build.Limit("caster"), false, nil,
		"Both sides have the same caster.", "The vehicle would pull to the side of less caster; bring the two sides together before the weld.")
}

func (a *Axle) springFindings(s *Side) []finding.Finding {
	x := s.Spring
	about := func(what string) string { return s.Name + " spring, " + what }
	rested := s.says
	if x.coilWhy {
		rested = append(rested[:len(rested):len(rested)], "the coil as long at ride height as its load makes it: "+s.at+".spring.coil is not in the file yet")
	}
	ride, says := x.Ride, ""
	if ride.Known {
		way := "lower"
		if ride.V < 0 {
			way = "higher"
		}
		says = fmt.Sprintf("The vehicle would stand %s %s here than its points are given for; another spring, another perch, or the tower moved by that much times the spring's ratio.", a.length(math.Abs(ride.V)), way)
		ride = finding.Exact(math.Abs(ride.V))
	}
	return []finding.Finding{
		a.finding(finding.PickupSpringLean(a.Name, s.Name), about("lean to the way its end moves"), x.Lean, a.build.Limit("spring_lean"), false, s.says,
			"The spring stands well to the way its end moves.", "A spring that leans so far gives little at the wheel and more so over the travel; stand it up, or move its lower end out."),
		a.finding(finding.PickupSpringRide(a.Name, s.Name), about("where the wheel settles off ride height"), ride, a.build.Limit("spring_ride"), false, rested,
			"The spring carries its load where the points are given.", says),
		a.finding(finding.PickupSpringBind(a.Name, s.Name), about("left before its turns touch at full bump"), x.Bind, a.build.Limit("spring_bind"), true, rested,
			"The turns do not touch at full bump.", "The turns would touch at full bump and carry the blow into tower and frame; a spring with fewer turns or more length, or a bump stop that comes sooner."),
		a.finding(finding.PickupSpringSeated(a.Name, s.Name), about("pressed by at full droop"), x.Seated, a.build.Limit("spring_seated"), true, rested,
			"The spring stays on its seats at full droop.", "The spring would come off its seats at full droop and can fall out; a longer spring, a shorter damper, or a strap."),
	}
}

func (a *Axle) damperFindings(s *Side) []finding.Finding {
	d := s.Damper
	about := func(what string) string { return s.Name + " damper, " + what }
	over := "The bump stop touches too late: coil or damper would be home before it has given way. A longer stop, or one that sits nearer."
	if d.loose {
		over = "The bump stop does not touch within the bump travel that the file gives: something else ends the travel. A longer stop, or less bump travel in the file when it is so."
	}
	return []finding.Finding{
		a.finding(finding.PickupDamperBump(a.Name, s.Name), about("left before it is home at full bump"), d.Bump, a.build.Limit("damper_room"), true, s.says,
			"The damper is not home at full bump.", "The damper would be pushed home and break itself or its bracket; mount its ends farther apart, or take a shorter one."),
		a.finding(finding.PickupDamperDroop(a.Name, s.Name), about("left before it is drawn out at full droop"), d.Droop, a.build.Limit("damper_room"), true, s.says,
			"The damper is not what ends the droop.", "The wheel would hang on its damper; mount its ends nearer, take a longer one, or fit a strap."),
		a.finding(finding.PickupStop(a.Name, s.Name), s.Name+" bump stop, wheel travel from its touch to metal", d.Stop, a.build.Limit("stop_room"), true, s.says,
			"The bump stop comes first.", over),
	}
}

func (a *Axle) towerFinding(s *Side) finding.Finding {
	t := s.Tower
	says := ""
	if t.AwayKnown {
		says = "The middle of its cut is to be moved " + a.towards(r3.Scale(-1, t.Away)) + "."
	}
	f := a.finding(finding.PickupTower(a.Name, s.Name), s.Name+" tower, top off where it is to be", t.Off, a.build.Limit("tower_place"), false, nil, "The tower stands where the spring wants it.", says)
	if t.Off.Known {
		f.Basis = finding.Read
	}
	return f
}

func (a *Axle) towersFinding() finding.Finding {
	return a.finding(finding.PickupTowers(a.Name), "upper ends of the springs, left against right", a.Towers, a.build.Limit("pickup_sides"), false, []string{mirror},
		"The springs' upper ends are each other's mirror image.", "The springs' upper ends are not each other's mirror image; the vehicle would stand and roll unevenly. Find out which is off before the weld.")
}

func (a *Axle) rodFindings(s *Side, k int) []finding.Finding {
	x := s.Rods[k]
	name := called(&s.in.Rods[k], map[bool]int{true: 1}[s.right])
	change := ""
	if x.Longer[0].Known {
		change = fmt.Sprintf("Its ends are %s apart at full bump and %s at full droop, against %s at ride height. ",
			a.length(x.Length.V+x.Longer[0].V), a.length(x.Length.V+x.Longer[1].V), a.length(x.Length.V))
	}
	return []finding.Finding{
		a.finding(finding.PickupRodGive(a.Name, s.Name, k+1), name+", longer or shorter over the travel", x.Give, x.GiveLimit, false, s.says,
			change+"The travel hardly changes its length.", change+"Its bushes would have to take that, or it binds: move its bracket nearer to the line that the arm turns about, or to where the axle's end swings about."),
		a.finding(finding.PickupRodAngle(a.Name, s.Name, k+1), name+", turned in its joint on the frame over the travel", x.Angle, x.AngleLimit, false, s.says,
			"Its joint on the frame turns within what it may.", "Its joint on the frame turns farther than it may and would bind or tear its bracket; a longer rod, or a joint that turns farther."),
	}
}

func (a *Axle) pairFindings(i int) []finding.Finding {
	p := &a.Rods[i]
	name := p.Name
	if name == "" {
		name = fmt.Sprintf("rod %d", i+1)
	}
	return []finding.Finding{
		a.finding(finding.PickupRodLength(a.Name, i+1), name+", length left against right", p.Length, a.build.Limit("rod_sides"), false, nil,
			"Both are of one length.", "One is longer than the other, so the wheels would not stand alike; make both of one length before a bracket is welded."),
		a.finding(finding.PickupRodPlace(a.Name, i+1), name+", brackets on the frame left against right", p.Place, a.build.Limit("pickup_sides"), false, []string{mirror},
			"Their brackets are each other's mirror image.", "Their brackets are not each other's mirror image, so the two rods swing differently; find out which is off before the weld."),
	}
}

func (a *Axle) barFindings() []finding.Finding {
	b := a.Bar
	const what = "anti-roll bar, "
	out := []finding.Finding{
		a.finding(finding.PickupBarSquare(a.Name), what+"axis off straight across", b.Square, a.build.Limit("bar_square"), false, nil,
			"The bar lies straight across and level.", "The bar's bushes do not stand alike, so it would bind in them; bring them into one line straight across."),
		a.finding(finding.PickupBarArms(a.Name), what+"arms left against right", b.Arms, a.build.Limit("bar_sides"), false, nil,
			"Both arms are of one length.", "One arm is longer, so the bar would work on one wheel more than on the other; measure arms and bushes again."),
		a.finding(finding.PickupBarLinks(a.Name), what+"drop links left against right", b.Links, a.build.Limit("bar_sides"), false, nil,
			"Both drop links are of one length.", "One drop link is longer; the bar would be twisted at rest."),
		a.finding(finding.PickupBarTwist(a.Name), what+"twist at ride height", b.Twist, a.build.Limit("bar_twist"), false, []string{"a bar that is straight with its arms in one plane"},
			"The bar is not twisted at ride height.", "The bar is twisted at ride height and would lift one wheel; set one drop link's length, or move its bracket."),
		a.finding(finding.PickupBarShear(a.Name), what+"screening use of strength: shear at its surface in full roll", a.sheared(), a.build.Limit("bar_shear"), false,
			append([]string{"a solid round bar of steel, all of the turn taken between its bushes: arms and bushes that give leave it less"}, a.barSays()...),
			"In full roll the bar stays below what its steel bears.", "Full roll twists the bar farther than its steel bears: a thinner bar, longer arms, or bushes farther apart."),
	}
	for i, s := range a.Sides {
		h := &b.Halves[i]
		out = append(out, a.finding(finding.PickupBarLink(a.Name, s.Name), s.Name+" drop link, least angle to its arm over the travel", h.Off, a.build.Limit("bar_link"), true, s.says,
			"The drop link cannot fold over.", "The drop link comes near to standing in line with the bar's arm and can fold over or hold the wheel; a longer arm or link, or brackets that let them stand square at ride height."))
	}
	return out
}

// sheared is the shear of the bar, or what that lacks.
func (a *Axle) sheared() finding.Number {
	b := a.Bar
	switch {
	case b.Shear.Known || !b.Twist.Known && b.Twist.Why == "":
	case !b.Twist.Known:
		return b.Twist
	case a.Sides[0].Why != "":
		return finding.Missing(a.Sides[0].Why)
	case a.Sides[1].Why != "":
		return finding.Missing(a.Sides[1].Why)
	}
	return b.Shear
}

// barSays is what the motion of both its ends takes for granted.
func (a *Axle) barSays() (out []string) {
	for _, s := range a.Sides {
		for _, x := range s.says {
			if !slices.Contains(out, x) {
				out = append(out, x)
			}
		}
	}
	return out
}
