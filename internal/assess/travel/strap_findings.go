package travel

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// strapAssumes is what all that is said of straps takes for granted.
var strapAssumes = []string{"the axle hangs level, both wheels alike: with one wheel up its middle, and the pinion there, hangs higher than with both at the end of their straps", "bolts and brackets of a strap do not give"}

// findings judge the straps of a line.
func (s *straps) findings(t *Travel, lim *limits) []finding.Finding {
	if len(s.of) == 0 {
		return nil
	}
	var out []finding.Finding
	for i := range s.of {
		x := &s.of[i]
		at := &Strap{Longest: finding.Missing(t.Why), Ride: finding.Missing(t.Why)}
		if i < len(t.Straps) {
			at = &t.Straps[i]
		}
		out = append(out, s.length(x, at, t, lim), s.slack(x))
	}
	out = append(out, s.even(t)...)
	if s.line.Suspension.LeastDroop.Known() {
		out = append(out, s.leaves(t))
	}
	return out
}

// unknownOf is why a strap's length says nothing; "" where it does.
func (x *strap) unknownOf(t *Travel) string {
	switch {
	case x.lacks != nil:
		return x.lacks.Error()
	case t.Why != "":
		return t.Why
	case x.unknown != nil:
		return x.unknown.Error()
	}
	return ""
}

// length holds how far a strap lets its eyes apart against the longest that does.
func (s *straps) length(x *strap, at *Strap, t *Travel, lim *limits) finding.Finding {
	f, u := x.length.Finding, s.build.Units
	n := at.Longest
	if why := x.unknownOf(t); why != "" {
		n = finding.Missing(why)
	}
	if n.Known { // one that is longer than its eyes get apart hangs slack, and does not count further
		is := x.file.Length.V()
		if at.Free {
			is = min(is, n.V)
		}
		f.JudgeAt(finding.Exact(is), at.Longest.V, x.length.rule, false)
	} else {
		f.Kind = quantity.Length
		f.Unknown(n.Why)
	}
	f.Assumes = append(f.Assumes, strapAssumes...)
	if !x.file.Stretch.Known() {
		f.Assumes = append(f.Assumes, "it does not stretch: "+x.key+"stretch is not in the file")
	}
	length := func(v float64) string { return quantity.Format(quantity.Length, v, u, 1) }
	would := func() string {
		switch {
		case !at.Longest.Known:
			return ""
		case at.Free:
			return fmt.Sprintf("The shaft holds to full droop, where its eyes are %s apart: no strap is needed for it. ", length(at.Longest.V))
		}
		return fmt.Sprintf("%s between its eyes or less holds the axle %s below ride height, where %s. ", at.LongestWords(u), length(at.Droop.V), at.By)
	}
	if missing := f.Missing; !n.Known {
		f.Says = func() string { return would() + finding.NotYet(missing) + " " + StrapCaution }
		return f
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   s.holdsWords(x, at, t, lim, length) + StrapCaution,
			finding.Over: "The strap lets the axle too far down. " + would() + StrapCaution,
		}
	})
	return f
}

// LongestWords are the longest strap that does, with its ± where it has one.
func (s *Strap) LongestWords(u quantity.Units) string {
	out := quantity.Format(quantity.Length, s.Longest.V, u, 1)
	if e := s.Longest.Expanded(); e > 0 {
		out += " ± " + quantity.Format(quantity.Length, e, u, 1)
	}
	return out
}

// holdsWords say where a strap holds the axle and how the shaft stands there.
func (s *straps) holdsWords(x *strap, at *Strap, t *Travel, lim *limits, length func(float64) string) string {
	says := fmt.Sprintf("Strap %s between its eyes: ", length(x.file.Length.V()))
	switch {
	case s.level != nil:
		says += s.level.Error() + ". "
	case at.Taut.Known && len(t.Points) > 0:
		says += fmt.Sprintf("taut %s below ride height; at droop %s. ", length(at.Taut.V), s.atDroop(t, lim))
	default:
		says += "it hangs slack at full droop. "
	}
	if at.Free {
		return says + "The shaft holds to full droop without it. "
	}
	return says + fmt.Sprintf("%s would do, where %s. ", at.LongestWords(s.build.Units), at.By)
}

// atDroop says how the joint that is nearest its angle stands at droop.
func (s *straps) atDroop(t *Travel, lim *limits) string {
	worst, room := 0, math.Inf(1)
	for i, v := range t.Points[0].Angles {
		if r := lim.joints[i].rule.Value - v; r < room {
			worst, room = i, r
		}
	}
	return lim.says(worst, t.Points[0].Angles[worst], s.build.Units)
}

// slack is what a strap has over at ride height.
func (s *straps) slack(x *strap) finding.Finding {
	f, n := x.slack.Finding, finding.Exact(x.file.Length.V()-x.ride)
	switch {
	case x.lacks != nil:
		n = finding.Missing(x.lacks.Error())
	case !x.file.Length.Known():
		n = finding.Missing(x.key + "length is not in the file yet")
	}
	f.Judge(n, x.slack.rule, true)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The strap hangs slack in driving and holds only a wheel that drops.",
			finding.Over: "The strap holds the axle nearly at ride height and jerks at every bump; a longer one, or eyes that are farther apart at ride height.",
		}
	})
	return f
}

// even holds how far apart the straps of the two sides come taut; nothing of one strap at
// the middle.
func (s *straps) even(t *Travel) []finding.Finding {
	f := finding.Finding{ID: finding.StrapsEven(s.line.Name), Title: s.line.Name + " straps, one taut before the other"}
	middle := s.line.Suspension.Axle.At.Y
	var down [2][]float64
	beside := false
	for i := range s.of {
		x := &s.of[i]
		off := x.is.Axle.Y - middle
		if math.Abs(off) <= besideMiddle && x.lacks == nil {
			continue
		}
		beside = true
		is := s.droop
		if x.holds {
			is = x.taut
		}
		side := 0
		if off > 0 {
			side = 1
		}
		down[side] = append(down[side], is)
	}
	if !beside {
		return nil
	}
	n := finding.Missing(t.Why)
	switch {
	case t.Why != "":
	case s.level != nil:
		n = finding.Missing(s.level.Error())
	case len(down[0]) == 0 || len(down[1]) == 0: // one at the middle holds the axle, and one beside it
		return nil
	default:
		most := 0.0
		for _, l := range down[0] {
			for _, r := range down[1] {
				most = max(most, math.Abs(l-r))
			}
		}
		n = finding.Exact(most)
	}
	f.Judge(n, s.build.Limit("strap_even"), false)
	f.Assumes = append(f.Assumes, strapAssumes...)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "Left and right come taut together.",
			finding.Over: "One strap holds before the other: the axle hangs askew on it, and all of the blow goes into one bracket. Make both alike, or move a bracket; the droop counts to where the longer one holds.",
		}
	})
	return []finding.Finding{f}
}

// leaves holds the droop that straps leave against that which is wanted.
func (s *straps) leaves(t *Travel) finding.Finding {
	f := finding.Finding{ID: finding.StrapsDroop(s.line.Name), Title: s.line.Name + " axle, droop that its straps leave"}
	n := finding.Exact(s.left)
	if t.Why != "" {
		n = finding.Missing(t.Why)
	} else if s.level != nil {
		n = finding.Missing(s.level.Error())
	}
	f.Judge(n, project.Rule{Kind: quantity.Length, Value: s.line.Suspension.LeastDroop.V(), Source: "the least droop wanted, in this build's file"}, true)
	f.Assumes = append(f.Assumes, strapAssumes...)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The wheels drop as far as is wanted.",
			finding.Over: "The straps hold the axle before it has dropped as far as is wanted; longer straps, where the shaft's joints and its slip joint allow it.",
		}
	})
	return f
}
