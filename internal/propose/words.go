package propose

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
)

// Amount is a size as a person says it: no more digits than it has, sixteenths where
// the file is in inches.
func Amount(k quantity.Kind, v float64, u quantity.Units) string {
	k = finding.Unsigned(k)
	v = math.Abs(v)
	if s, ok := quantity.Fraction(k, v, u); ok {
		return s
	}
	for digits := range 2 {
		tens := math.Pow(10, float64(digits))
		if x := quantity.InUnit(k, v, u) * tens; math.Abs(x-math.Round(x)) < 1e-6 {
			return quantity.Format(k, v, u, digits)
		}
	}
	return quantity.Format(k, v, u, 2)
}

// In says in the words of the trade what is done for a step, of the build as it is.
func (s Step) In(b *project.Build) string {
	by := s.To - s.From
	amount := Amount(s.Of.Kind(), by, b.Units)
	of := ""
	if len(b.Lines) > 1 && s.Of.Line() != "" {
		of = " of the " + project.Printable(finding.Spoken(s.Of.Line())) + " line"
	}
	way := func(more, less string) string {
		if by > 0 {
			return more
		}
		return less
	}
	joint, aside := s.Of.Bearing()
	spacer, pinion := s.Of.Spacer()
	switch {
	case spacer:
		return spacerWords(b, s, of, pinion)
	case s.Of.Case():
		return fmt.Sprintf("turn the transfer case on the gearbox by %s, %s as one looks along the gearbox to the rear (oil level and breather looked after)", amount, way("clockwise", "anticlockwise"))
	case s.Of.ShaftLength() > 0:
		return fmt.Sprintf("have shaft %d%s made %s %s (%s joint to joint with its slip joint home; balanced again)", s.Of.ShaftLength(), of, amount, way("longer", "shorter"),
			Amount(quantity.Length, s.To, b.Units))
	case s.Of.Strap() > 0:
		return fmt.Sprintf("fit a %s%s of %s between its eyes, %s %s (it lifts and lashes nothing; brake hoses longer than it lets the axle drop)", StrapName(b, s.Of), of,
			Amount(quantity.Length, s.To, b.Units), amount, way("longer", "shorter"))
	case s.Of.Pinion():
		return pinionWords(b, s, amount, of)
	case s.Of.Yokes() > 0:
		return fmt.Sprintf("turn the rear yoke of shaft %d%s by %s to the %s, %s as one looks along the shaft from its driving end",
			s.Of.Yokes(), of, amount, way("right", "left"), way("clockwise", "anticlockwise"))
	case joint > 0 && aside:
		return fmt.Sprintf("move the carrier bearing at joint %d%s %s to the %s", joint, of, amount, way("right", "left"))
	case joint > 0:
		return fmt.Sprintf("%s the carrier bearing at joint %d%s %s", way("raise", "lower"), joint, of, amount)
	}
	row, _ := s.Of.Row()
	switch row.Name {
	case "placement.lift":
		return fmt.Sprintf("%s the whole powertrain %s", way("raise", "lower"), amount)
	case "placement.tilt":
		return fmt.Sprintf("tilt the powertrain about its front mounts by %s, its rear %s", amount, way("down", "up"))
	case "placement.setback":
		return fmt.Sprintf("move the powertrain %s %s", amount, way("to the rear", "forward"))
	case "placement.offset":
		return fmt.Sprintf("move the powertrain %s to the %s", amount, way("right", "left"))
	case "placement.heading":
		return fmt.Sprintf("turn the powertrain in plan by %s, its rear to the %s", amount, way("right", "left"))
	}
	return fmt.Sprintf("%s the %s %s", way("raise", "lower"), row.Label, amount)
}

// spacerWords says what is done with a spacer at a flange.
func spacerWords(b *project.Build, s Step, of string, pinion bool) string {
	where := "output"
	if pinion {
		where = "pinion"
	}
	to := Amount(quantity.Length, s.To, b.Units)
	switch {
	case s.To == 0:
		return fmt.Sprintf("take out the spacer at the %s flange%s", where, of)
	case s.From == 0:
		return fmt.Sprintf("a spacer of %s at the %s flange%s (longer bolts, its rim in the flange's)", to, where, of)
	}
	return fmt.Sprintf("a spacer of %s instead of %s at the %s flange%s", to, Amount(quantity.Length, s.From, b.Units), where, of)
}

// pinionWords says how a pinion is turned: by a wedge where its axle hangs on leaf
// springs. The end of a wedge that is thick pushes the axle's perch down where the
// spring lies on top of it, so the thick end lies where the axle is to go down.
func pinionWords(b *project.Build, s Step, amount, of string) string {
	down := s.To > s.From // the pinion's axis falls more to the rear
	front, leaf := false, false
	for i := range b.Lines {
		if l := &b.Lines[i]; l.Name == s.Of.Line() {
			front, leaf = l.Toward == project.TowardFront, l.Suspension.Kind == project.LeafSprings || l.Suspension.Kind == ""
		}
	}
	nose := "down"
	if down != front {
		nose = "up"
	}
	if !leaf || s.Work != Wedge {
		return fmt.Sprintf("turn the pinion%s by %s, nose %s", of, amount, nose)
	}
	end := "front"
	if down {
		end = "rear"
	}
	return fmt.Sprintf("%s wedge under the spring%s, thick end to the %s (nose %s; the other way round where the spring lies under the axle)", amount, of, end, nose)
}

// Words are the moves of a proposal in one sentence, without a full stop.
func (x *Proposal) Words(b *project.Build) string {
	if len(x.Moves) == 0 {
		return "leave everything where it is"
	}
	parts := make([]string, len(x.Moves))
	for i, s := range x.Moves {
		parts[i] = s.In(b)
	}
	return strings.Join(parts, "; ")
}

// Jobs are the moves of a proposal as jobs of the builder's own: one for each move, and
// one for what is to be read again after them.
func (x *Proposal) Jobs(b *project.Build) []edit.Step {
	var out []edit.Step
	for _, s := range x.Moves {
		words := s.In(b)
		title, _, _ := strings.Cut(words, " (")
		at := quantity.Format(s.Of.Kind(), s.To, b.Units, 2)
		out = append(out, edit.Step{Title: strings.ToUpper(title[:1]) + title[1:],
			Means: fmt.Sprintf("%s: it stands at %s, from %s, and is %s", words, at, quantity.Format(s.Of.Kind(), s.From, b.Units, 2), WorkWords(s.Work))})
	}
	if len(x.Again) > 0 {
		out = append(out, edit.Step{Title: "Read again: " + b.TargetWords(x.Again...),
			Means: "each of them is read after the moves: what rests on them is planned until then"})
	}
	return out
}

// WorkWords says what a kind of work is.
func WorkWords(w Work) string {
	switch w {
	case Turn:
		return "turned on its spline"
	case Shim:
		return "shimmed"
	case Wedge:
		return "wedged"
	case Bolt:
		return "drilled anew"
	}
	return "cut anew"
}

// ShortWords says by how much a demand of a conflict would have to give way; alone that
// it conflicts with no other.
func (c *Conflict) ShortWords(u quantity.Units, alone bool) string {
	k := c.Finding.Kind
	switch {
	case !c.Known:
		return "no place was found at which the others hold"
	case math.IsInf(c.Short, 1):
		where := "wherever the others hold"
		if alone {
			where = "anywhere in these ranges"
		}
		if c.Why == "" {
			return "it is not known, or has no number, " + where
		}
		return "it is not known " + where + ": " + strings.TrimRight(c.Why, ". ") + "; put that right first, or do not hold it"
	}
	most := "at most "
	if c.Least {
		most = ""
	}
	by := quantity.Format(finding.Unsigned(k), c.Short, u, quantity.UsualDigits+1)
	if finding.Unsigned(k) == quantity.Angle {
		by = quantity.Format(quantity.Angle, c.Short, u, 2)
	}
	if alone {
		return most + by + " short at its best place"
	}
	return most + by + " short where all the others hold"
}
