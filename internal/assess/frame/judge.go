package frame

import (
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Findings are the verdicts on the survey and on what it says of the frame.
func (r *Result) Findings() []finding.Finding {
	taped := r.tapedFindings()
	if !r.Given() {
		return taped
	}
	out := []finding.Finding{r.fitFinding(), r.hiddenFinding()}
	s := r.build.Survey
	if len(s.Left) > 0 || len(s.FrontAxle)+len(s.RearAxle) == 0 {
		out = append(out, r.railFindings()...)
	}
	for i, p := range r.Frame.Pairs {
		out = append(out, r.pairFindings(i+1, p)...)
	}
	out = append(out, r.axleFindings()...)
	return append(append(out, r.changeFindings()...), taped...)
}

func (r *Result) finding(id, title string) finding.Finding {
	f := finding.Finding{ID: id, Title: title, Basis: finding.Read, Assumes: r.Now.Assumes}
	if r.Now.After.Proves() {
		f.Basis = finding.Proved
	}
	for _, s := range r.Now.Suspects {
		if s.Out {
			f.Assumes = append(f.Assumes[:len(f.Assumes):len(f.Assumes)], s.Line.Name+" is left out, because it does not fit the others")
		}
	}
	return f
}

// fitFinding says whether the measurements fit each other.
func (r *Result) fitFinding() finding.Finding {
	f := r.finding(finding.SurveyFit, "survey, largest misfit")
	s := r.Now
	m := finding.Exact(0)
	switch {
	case s.Why != "":
		m = finding.Missing(s.Why)
	case len(s.Suspects) > 0:
		for _, p := range s.Suspects {
			m = finding.Exact(max(m.V, math.Abs(p.W)))
		}
	case s.DoF <= 0:
		m = finding.Missing(nothingChecks(s))
	default:
		for _, l := range s.Lines {
			m = finding.Exact(max(m.V, math.Abs(l.W)))
		}
	}
	f.Judge(m, r.build.Limit("survey_misfit"), false)
	if s.Why == "" && f.Status == finding.OK {
		if why := s.scattered(); why != "" {
			f.Unknown(why)
		} else if len(s.Mirrors) > 0 {
			f.Unknown(s.Mirrors[0])
		}
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The measurements fit each other as well as they were said to be good.",
			finding.Over: r.suspectText(),
		}
	})
	return f
}

// suspectText names what does not fit.
func (r *Result) suspectText() string {
	out := ""
	for i, s := range r.Now.Suspects {
		if i > 0 && !s.Out && !r.Now.Suspects[0].Out {
			break // the others stand in the first one's group
		}
		k := quantity.Length
		if s.Line.As == project.SquareLine {
			k = quantity.Angle
		}
		way := "more"
		if s.Off < 0 {
			way = "less"
		}
		out += fmt.Sprintf("%s reads %s %s than the others say.", s.Line.Name, text(r.build, k, math.Abs(s.Off)), way)
		if s.Likely != "" {
			out += " " + s.Likely
		}
		if s.Out {
			out += " It is left out until it is measured again. "
			continue
		}
		var names []string
		for _, other := range r.Now.Suspects {
			if other.Line.Name != s.Line.Name {
				names = append(names, other.Line.Name)
			}
		}
		for _, a := range s.Alike {
			if !slices.Contains(names, a) {
				names = append(names, a)
			}
		}
		out += fmt.Sprintf(" A slip in it cannot be told from one in %s: measure those again", listed(names))
		if r.Now.Next() != "" {
			out += ", or " + r.Now.Next() + ", which would tell"
		}
		out += "."
	}
	if out == "" {
		return "One of the measurements does not fit the others: take them again."
	}
	return out
}

// hiddenFinding says how large a slip the survey could hide.
func (r *Result) hiddenFinding() finding.Finding {
	f := r.finding(finding.SurveyHidden, "survey, slip that it could hide")
	m, where := finding.Exact(0), ""
	for _, l := range r.Now.Lines {
		if l.As == project.SquareLine || l.Out {
			continue
		}
		switch {
		case math.IsInf(l.Detectable, 1):
			if m.Known {
				m = finding.Missing("nothing checks " + l.Name + ", so a slip in it of any size is hidden: measure " + r.Now.Next() + " next")
			}
		case m.Known && l.Detectable > m.V:
			m, where = finding.Exact(l.Detectable), l.Name
		}
	}
	if r.Now.Why != "" {
		m = finding.Missing(r.Now.Why)
	}
	f.Judge(m, r.build.Limit("survey_hidden"), false)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		next := ""
		if r.Now.Next() != "" {
			next = " What helps most is to measure " + r.Now.Next() + "."
		}
		return map[finding.Status]string{
			finding.OK:   "A larger slip in any one measurement would be found four times in five; it could hide best in " + where + "." + next,
			finding.Over: "A slip in " + where + " could stay hidden." + next,
		}
	})
	return f
}

// railFindings are the verdicts on the rails as a whole.
func (r *Result) railFindings() []finding.Finding {
	fr := &r.Frame
	num := func(m finding.Number) string { return text(r.build, quantity.Length, m.V) }
	square := r.finding(finding.FrameSquare, "frame, one rail ahead of the other")
	worst, at := fr.stands()
	square.Judge(worst.Sized(), r.build.Limit("frame_square"), false)
	r.unchecked(&square)
	square.Says = finding.Asked(square, func() map[finding.Status]string {
		how := r.squareText(at)
		return verdicts("The frame is square."+how, r.pullText()+how, how)
	})
	d := &fr.Diagonals
	diagonals := r.finding(finding.FrameDiagonals, "frame, difference of the diagonals")
	diagonals.Judge(d.Difference.Sized(), r.build.Limit("frame_diagonals"), false)
	r.unchecked(&diagonals)
	diagonals.Says = finding.Asked(diagonals, func() map[finding.Status]string {
		how := fmt.Sprintf(" From the left front corner %s, from the right front %s. Equal diagonals prove a frame square only where its sides are equal: left %s, right %s, front %s, rear %s; of the difference, %s comes from unequal sides.",
			num(d.LeftFront), num(d.RightFront), num(d.Left), num(d.Right), num(d.Front), num(d.Rear), num(d.OfSides))
		return verdicts("The diagonals agree."+how, "The diagonals differ."+how, how)
	})
	twist := r.finding(finding.FrameTwist, "frame, twist")
	twist.Judge(fr.Twist.Sized(), r.build.Limit("frame_twist"), false)
	twist.Says = finding.Asked(twist, func() map[finding.Status]string {
		way := "higher"
		if fr.Twist.V < 0 {
			way = "lower"
		}
		how := fmt.Sprintf(" The right front corner stands %s %s than the other three say.", text(r.build, quantity.Length, math.Abs(fr.Twist.V)), way)
		return map[finding.Status]string{
			finding.OK:    "The four corners of the frame lie in one plane.",
			finding.Tight: "The uncertainty reaches past the limit: take the heights again." + how,
			finding.Over:  "The frame is twisted. Look whether it stands on four equal supports before it is pulled." + how,
		}
	})
	return []finding.Finding{square, diagonals, twist}
}

// unchecked takes back an ok that rests on measurements of which none is checked by
// another: a slip of any size in one of them would make it just as well.
func (r *Result) unchecked(f *finding.Finding) {
	if s := r.Now; s.net != nil && !s.checked() && (f.Status == finding.OK || f.Status == finding.Tight) {
		f.Unknown(nothingChecks(s))
	}
}

// checked reports whether any measurement of the plan is checked by others: heights that
// check each other say nothing of it.
func (s *Survey) checked() bool {
	const hardly = 1e-3
	return s.DoF > 0 && slices.ContainsFunc(s.Lines, func(l Taken) bool {
		return l.As != project.HeightLine && !l.Out && l.Redundancy > hardly
	})
}

func nothingChecks(s *Survey) string {
	if s.DoF > 0 {
		return "nothing checks the measurements seen from above, and only heights check each other: measure " + s.Next() + " next"
	}
	return "nothing checks the measurements, for there are no more of them than it takes: measure " + s.Next() + " next"
}

// ahead says which rail stands ahead, and by how much.
func (r *Result) ahead(behind finding.Number) string {
	side := "left"
	if behind.V < 0 {
		side = "right"
	}
	return fmt.Sprintf("the %s rail stands %s", side, text(r.build, quantity.Length, math.Abs(behind.V)))
}

// stands is by how much one rail stands ahead: by the mean of all pairs, or as one pair
// says or the rails' own direction where that is more; at is the pair. Rails of unequal
// length can agree in the mean with both their ends out, and axles that sit askew under
// rails can hide or feign what is wrong with those.
func (f *Frame) stands() (worst finding.Number, at *Pair) {
	worst = f.Square
	more := func(m finding.Number) bool {
		return m.Known && worst.Known && math.Abs(m.V) > math.Abs(worst.V)+least
	}
	if more(f.Alone) {
		worst = f.Alone
	}
	for i := range f.Pairs {
		if p := &f.Pairs[i]; more(p.Ahead) {
			worst, at = p.Ahead, p
		}
	}
	return worst, at
}

// squareText says which rail stands ahead, by how much and by what.
func (r *Result) squareText(at *Pair) string {
	fr, out := &r.Frame, ""
	if at != nil {
		out = fmt.Sprintf(" At %s and %s %s ahead of the other.", finding.SpokenPoint(at.Left), finding.SpokenPoint(at.Right), r.ahead(at.Ahead))
	}
	out += fmt.Sprintf(" By all pairs %s ahead: %s out of square, or %s aside at the rail's end.",
		r.ahead(fr.Square), text(r.build, quantity.Angle, math.Abs(fr.Skew.V)), text(r.build, quantity.Length, math.Abs(fr.Swing.V)))
	if r.byAxles() {
		out += fmt.Sprintf(" That is by the line from axle to axle; by the rails alone %s ahead.", r.ahead(fr.Alone))
	}
	return out
}

// pullText is what to do about rails of which one stands ahead.
func (r *Result) pullText() string {
	limit := r.build.Limit("frame_square").Value
	if r.byAxles() && math.Abs(r.Frame.Alone.V) <= limit {
		return "By the line from axle to axle the frame is not square, and by the rails alone it is nearly so: look whether an axle sits to one side before the frame is pulled."
	}
	return "Pull the frame square before anything is welded to it."
}

func (r *Result) byAxles() bool { return r.Now.net != nil && r.Now.net.byAxles() }

// least is a difference that nobody measures, mm.
const least = 1e-3

// pairFindings are the verdicts on a pair of rail points, by its number from 1.
func (r *Result) pairFindings(number int, p Pair) []finding.Finding {
	names := finding.SpokenPoint(p.Left) + " and " + finding.SpokenPoint(p.Right)
	var out []finding.Finding
	if !p.OnLine {
		out = append(out, r.offsetFinding(number, names, p))
	}
	if p.Between && p.Levels {
		out = append(out, r.lowerFinding(number, names, p))
	}
	if len(r.build.Survey.Widths) == 0 {
		return out
	}
	width := r.finding(finding.RailsWidth(number), "width from "+names)
	width.Judge(p.Width.LessOf(p.Wanted).Sized(), r.build.Limit("frame_width"), false)
	width.Says = finding.Asked(width, func() map[finding.Status]string {
		how := fmt.Sprintf(" It is %s there, and is to be %s.", text(r.build, quantity.Length, p.Width.V), text(r.build, quantity.Length, p.Wanted.V))
		return verdicts("The rails are as far apart as they are to be."+how, "The rails are not as far apart as they are to be."+how, how)
	})
	r.unchecked(&width)
	return append(out, width)
}

// offsetFinding is the verdict on the middle of a pair.
func (r *Result) offsetFinding(number int, names string, p Pair) finding.Finding {
	offset := r.finding(finding.RailsOffset(number), "middle of "+names+" beside the centre line")
	offset.Judge(p.Offset.Sized(), r.build.Limit("frame_offset"), false)
	r.unchecked(&offset)
	offset.Says = finding.Asked(offset, func() map[finding.Status]string {
		side := "right"
		if p.Offset.V < 0 {
			side = "left"
		}
		how := fmt.Sprintf(" Their middle lies %s to the %s.", text(r.build, quantity.Length, math.Abs(p.Offset.V)), side)
		return verdicts("The rails stand evenly about the centre line there.", "The rails were moved out by unequal amounts there, or one is bent"+r.orAxle()+"."+how, how)
	})
	return offset
}

// orAxle is what else puts rails beside a centre line that goes by the axles.
func (r *Result) orAxle() string {
	if r.byAxles() {
		return ", or an axle sits to one side under them: the centre line goes through the middle of both axles"
	}
	return ""
}

// axleFindings are the verdicts on the axles, where the survey has any.
func (r *Result) axleFindings() []finding.Finding {
	var out []finding.Finding
	for _, a := range r.Frame.Axles {
		title := a.Name + " axle, out of square to the centre line"
		if a.Name == "rear" {
			title = "rear axle, thrust angle"
		}
		f := r.finding(finding.AxleSquare(a.Name), title)
		f.Judge(a.Turn.Sized(), r.build.Limit("axle_square"), false)
		r.unchecked(&f)
		f.Says = finding.Asked(f, func() map[finding.Status]string {
			end := "right"
			if a.Turn.V < 0 {
				end = "left"
			}
			how := fmt.Sprintf(" Its %s end stands behind by %s.", end, text(r.build, quantity.Angle, math.Abs(a.Turn.V)))
			return verdicts("The axle stands square to the centre line."+how, "The axle stands out of square: look at its perches, centre bolts and links before the frame is blamed."+how, how)
		})
		out = append(out, f)
		if !a.OnLine {
			out = append(out, r.axleOffset(a))
		}
		out = append(out, r.toeFindings(a)...)
	}
	if len(r.Frame.Axles) == 0 {
		return out
	}
	f := r.finding(finding.FrameWheelbase, "wheelbase, left less right")
	f.Judge(r.Frame.Between.Sized(), r.build.Limit("frame_wheelbase"), false)
	r.unchecked(&f)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		how := fmt.Sprintf(" Left %s, right %s.", text(r.build, quantity.Length, r.Frame.Wheelbase[0].V), text(r.build, quantity.Length, r.Frame.Wheelbase[1].V))
		return verdicts("The wheelbase is the same on both sides."+how, "The wheelbase differs from side to side."+how, how)
	})
	return append(out, f)
}

func (r *Result) axleOffset(a Axle) finding.Finding {
	f := r.finding(finding.AxleOffset(a.Name), a.Name+" axle, middle beside the centre line")
	f.Judge(a.Offset.Sized(), r.build.Limit("frame_offset"), false)
	r.unchecked(&f)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    "The axle is centred.",
			finding.Tight: "The uncertainty reaches past the limit: measure it again.",
			finding.Over:  "The axle sits to one side of the frame: centre it before tubs, shafts or mounts are made to it.",
		}
	})
	return f
}

// verdicts are what a finding says where it is ok and where it is over; where it is tight
// it says why, and how it stands.
func verdicts(ok, over, how string) map[finding.Status]string {
	return map[finding.Status]string{
		finding.OK: ok, finding.Tight: "The uncertainty reaches past the limit." + how, finding.Over: over,
	}
}
