package propose

import (
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Offer is a thing that could be let move, as far and in the steps that a shop would
// begin with: common practice, no source.
type Offer struct {
	Of  project.Movable
	Now float64 // where it stands; internal units
	// Cannot says why it cannot move, "" where it can.
	Cannot string
	Move   project.FindMove // as a file has it, without its work
	Steps  []string         // that can be made, what is offered first
	Work   Work             // what moving it takes where nothing else is said
	Works  []Work           // what it can take, the least first
}

// Label names it as the panes do, or by its line.
func (o *Offer) Label(b *project.Build) string {
	of := ""
	if len(b.Lines) > 1 && o.Of.Line() != "" {
		of = ", " + finding.Spoken(o.Of.Line()) + " line"
	}
	joint, aside := o.Of.Bearing()
	spacer, pinion := o.Of.Spacer()
	bearing := "carrier bearing at joint " + quantity.Format(quantity.Number, float64(joint), b.Units, 0)
	switch row, is := o.Of.Row(); {
	case is:
		return row.Label
	case o.Of.Pinion():
		return "pinion slope" + of
	case o.Of.Yokes() > 0:
		return "yokes of shaft " + quantity.Format(quantity.Number, float64(o.Of.Yokes()), b.Units, 0) + of
	case o.Of.Case():
		return "transfer case, turned"
	case o.Of.ShaftLength() > 0:
		return "length of shaft " + quantity.Format(quantity.Number, float64(o.Of.ShaftLength()), b.Units, 0) + of
	case o.Of.Strap() > 0:
		return StrapName(b, o.Of) + of
	case spacer && pinion:
		return "spacer at the pinion" + of
	case spacer:
		return "spacer at the output" + of
	case aside:
		return bearing + ", aside" + of
	}
	return bearing + ", height" + of
}

// Offers lists all that a build has to be moved.
func Offers(a *assess.Assessment) []Offer {
	all := a.Build.Movables()
	out := make([]Offer, len(all))
	for i, m := range all {
		out[i] = offerOf(a, m)
	}
	if m, why, ok := a.Build.CaseApart(); ok {
		out = append(out, Offer{Of: m, Cannot: why})
	}
	return out
}

// OfferOf is how the thing of that path would be let move. The error says that there is
// no such thing, or why it does not move.
func OfferOf(a *assess.Assessment, path string) (Offer, error) {
	m, err := a.Build.MovableNamed(path)
	if err != nil {
		return Offer{}, err
	}
	o := offerOf(a, m)
	if o.Cannot != "" {
		return o, cannotMove{path, o.Cannot}
	}
	return o, nil
}

type cannotMove struct{ path, why string }

func (c cannotMove) Error() string { return project.Printable(c.path) + " cannot be moved: " + c.why }

func offerOf(a *assess.Assessment, m project.Movable) Offer {
	b := a.Build
	o := Offer{Of: m, Work: workOf(b, m), Works: worksOf(m), Move: project.FindMove{Of: m.Path()}}
	var err error
	if o.Now, err = b.Reads(m); err != nil {
		o.Cannot = err.Error()
	}
	if read, ok := readSlope(a, m); ok {
		o.Now = read
	}
	if mount := weldedBy(b, m); mount != "" {
		o.Cannot = "the bracket of the " + mount + " is welded"
	}
	half, steps := reachOf(m, b.Units)
	if step, ok := b.Powertrain.Case.Step.Get(); m.Case() && ok && step > 0 { // what its bolts allow
		half, steps = 2*step, []string{Spelled(quantity.Angle, step, b.Units)}
	}
	o.Steps, o.Move.Step = steps, steps[0]
	if o.Cannot == "" {
		low := o.Now - half
		if spacer, _ := m.Spacer(); spacer {
			low = max(low, 0)
		}
		o.Move.Range = []string{Spelled(m.Kind(), low, b.Units), Spelled(m.Kind(), o.Now+half, b.Units)}
	}
	return o
}

// reachOf is how far a thing is looked at either way, and in which steps it is made: the
// first is offered.
func reachOf(m project.Movable, u quantity.Units) (half float64, steps []string) {
	if spacer, _ := m.Spacer(); spacer || m.Strap() > 0 { // as they are sold, or made to measure
		if quantity.UnitName(quantity.Length, u) == "in" {
			return 25.4, []string{"1/4 in", "1/8 in", "1/16 in"}
		}
		return 30, []string{"5 mm", "10 mm", "1 mm"}
	}
	switch m.Kind() {
	case quantity.Length, quantity.Offset:
		if quantity.UnitName(quantity.Length, u) == "in" {
			return 25.4, []string{"1/16 in", "1/32 in", "1/8 in", "1/4 in"}
		}
		return 25, []string{"1 mm", "0.5 mm", "2 mm", "3 mm", "5 mm"}
	case quantity.Heading:
		return degrees(1), []string{"0.1 deg", "0.25 deg", "0.5 deg"}
	case quantity.Angle: // teeth of a spline of 16, 20, 24, 30, 32 and 36
		return degrees(45), []string{"22.5 deg", "18 deg", "15 deg", "12 deg", "11.25 deg", "10 deg"}
	}
	if m.Pinion() { // wedges are sold by the degree and the half
		return degrees(4), []string{"0.5 deg", "1 deg", "2 deg"}
	}
	return degrees(3), []string{"0.25 deg", "0.1 deg", "0.5 deg", "1 deg"}
}

func degrees(d float64) float64 { return d * math.Pi / 180 }

// Spelled writes a value as a file has it, with no more digits than it needs.
func Spelled(k quantity.Kind, v float64, u quantity.Units) string {
	const digits = 3
	for d := range digits {
		tens := math.Pow(10, float64(d))
		if x := quantity.InUnit(k, v, u) * tens; math.Abs(x-math.Round(x)) < 1e-6 {
			return quantity.Plain(k, v, u, d)
		}
	}
	return quantity.Plain(k, v, u, digits)
}

// PlacesOf is how many places there are on the steps of all that a file lets move: 0
// where nothing is, or where one of them cannot be read.
func PlacesOf(a *assess.Assessment) float64 {
	n := 0.0
	for i, m := range a.Build.Find.Moves {
		s, err := a.Build.SpanOf(m)
		if err != nil || (s.To-s.From)/s.Step > mostSteps {
			return 0
		}
		if i == 0 {
			n = 1
		}
		values, _ := stepsOf(standsAt(a, s.Of), s.From, s.To, s.Step)
		n *= float64(len(values))
	}
	return n
}

// standsAt is where a thing is now, or where it was read to be; 0 where the file lacks it.
func standsAt(a *assess.Assessment, m project.Movable) float64 {
	now, _ := a.Build.Reads(m)
	if read, ok := readSlope(a, m); ok {
		return read
	}
	return now
}

// stepsOf are the places of a thing on its steps, and which of them is where it is now, -1
// for none: then steps count from the smaller end.
func stepsOf(now, from, to, step float64) (values []float64, stay int) {
	const slack = 1e-6 // of a step, for ends that are steps but for rounding
	lo, hi := from-slack*step, to+slack*step
	if stay = -1; now < lo || now > hi {
		for k := 0.0; from+k*step <= hi; k++ {
			values = append(values, from+k*step)
		}
		return values, stay
	}
	for k := math.Ceil((lo - now) / step); now+k*step <= hi; k++ {
		if k == 0 {
			stay = len(values)
		}
		values = append(values, now+k*step)
	}
	return values, stay
}

// Together reports why two things cannot both be let move, "" where they can.
func Together(a, b string) string {
	whole := map[string]bool{"placement.lift": true, "placement.tilt": true}
	heights := map[string]bool{"placement.left_front": true, "placement.right_front": true, "placement.rear": true, "placement.lift": true, "placement.tilt": true}
	switch {
	case a == b:
		return project.Printable(a) + " may move twice over; name it once"
	case whole[a] && heights[b] || whole[b] && heights[a]:
		return a + " and " + b + " move each other; let the heights of the three mounts move instead"
	}
	return ""
}

// Group is findings that can be held by one pattern.
type Group struct {
	Pattern, Title string
	Known, Not     int // how many that a move can change are known and ok or tight, and are not
}

// Groups are the findings that a move can change and that are known, by what they are
// about, as the assessment has them.
func Groups(a *assess.Assessment) []Group {
	var out []Group
	for i := range a.Findings {
		f := &a.Findings[i]
		if !movedBy(f) || f.Status == finding.NotKnown {
			continue
		}
		pattern, title := groupOf(f.ID)
		k := slices.IndexFunc(out, func(g Group) bool { return g.Pattern == pattern })
		if k < 0 {
			k = len(out)
			out = append(out, Group{Pattern: pattern, Title: title})
		}
		if f.Status == finding.OK || f.Status == finding.Tight {
			out[k].Known++
		} else {
			out[k].Not++
		}
	}
	return out
}

// groupOf is the pattern that holds a finding with its like, and what they are.
func groupOf(id string) (pattern, title string) {
	parts := strings.Split(id, ".")
	title, known := map[string]string{
		"line": "driveline", "clearance": "room to the vehicle", "exhaust": "room to the exhaust", "mount": "what the mounts carry",
		"mounts": "how it sits on its mounts", "bracket": "brackets", "axle": "ride height", "rail": "frame rails",
	}[parts[0]]
	if !known {
		title = finding.Spoken(parts[0])
	}
	if parts[0] == "line" && len(parts) > 2 {
		return "line." + parts[1] + ".**", finding.Spoken(parts[1]) + " driveline"
	}
	return parts[0] + ".**", title
}

// readSlope is how a pinion was read to stand, where it was: a wedge turns it from
// there and not from where it was planned.
func readSlope(a *assess.Assessment, m project.Movable) (float64, bool) {
	for i := range a.Lines {
		if l := &a.Lines[i]; m.Pinion() && l.Name == m.Line() && len(l.Axes) > 0 {
			x := &l.Axes[len(l.Axes)-1]
			return x.Read.V, x.Read.Known
		}
	}
	return 0, false
}

// workOf is what moving a thing takes where nobody said: a carrier bearing is shimmed,
// a pinion wedged, a yoke turned; a mount is cut anew, or drilled where it is bolted.
func workOf(b *project.Build, m project.Movable) Work {
	bearing, _ := m.Bearing()
	spacer, _ := m.Spacer()
	switch {
	case spacer || m.Strap() > 0:
		return Bolt
	case m.Case():
		return Bolt
	case m.ShaftLength() > 0: // its tube is cut and welded, by who balances it
		return Cut
	case m.Pinion():
		return Wedge
	case m.Yokes() > 0:
		return Turn
	case bearing > 0:
		return Shim
	case b.Powertrain.Fixing == project.BoltedOn:
		return Bolt
	}
	return Cut
}

// worksOf is what moving a thing can take.
func worksOf(m project.Movable) []Work {
	spacer, _ := m.Spacer()
	switch {
	case spacer || m.Strap() > 0:
		return []Work{Bolt, Cut}
	case m.Case():
		return []Work{Bolt, Cut}
	case m.ShaftLength() > 0:
		return []Work{Cut, Bolt}
	case m.Pinion():
		return []Work{Wedge, Bolt, Cut}
	case m.Yokes() > 0:
		return []Work{Turn, Cut}
	}
	return []Work{Shim, Bolt, Cut}
}

// weldedBy names a mount that is finish-welded and that the movable would move.
func weldedBy(b *project.Build, m project.Movable) string {
	mounts := mountsOf(m)
	if m.Case() {
		mounts = b.Powertrain.Case.Mounts
	}
	for _, mount := range mounts {
		for _, w := range b.Welds {
			if project.Slug(w.Bracket) != project.Slug(mount) {
				continue
			}
			for _, s := range w.Sides {
				if s.Carries() {
					return finding.Spoken(mount) + " mount"
				}
			}
		}
	}
	return ""
}

// StrapName is what a limiting strap is called.
func StrapName(b *project.Build, m project.Movable) string {
	n := m.Strap() - 1
	for i := range b.Lines {
		if s := b.Lines[i].Suspension.Strap; b.Lines[i].Name == m.Line() && n < len(s) {
			return finding.NameOr(s[n].Name, "strap", n) + " strap"
		}
	}
	return "strap"
}
