package subframe

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Findings are the verdicts on all subframes.
func (r *Result) Findings() []finding.Finding {
	var out []finding.Finding
	for _, s := range r.Each {
		out = append(out, s.fitFinding(), s.hiddenFinding())
		out = append(out, s.placeFindings()...)
		for _, p := range s.Points {
			if p.Corner {
				out = append(out, s.cornerFinding(p))
			}
		}
	}
	return out
}

func (s *Subframe) finding(id, title string) finding.Finding {
	f := finding.Finding{ID: id, Title: title, Basis: finding.Read, Assumes: s.Assumes}
	if s.After.Proves() {
		f.Basis = finding.Proved
	}
	for _, x := range s.Suspects {
		if x.Out {
			f.Assumes = append(f.Assumes[:len(f.Assumes):len(f.Assumes)], x.Line.Name+" is left out, because it does not fit the others")
		}
	}
	return f
}

func (s *Subframe) called() string { return finding.Spoken(s.Name) + " subframe" }

// fitFinding says whether its measurements fit each other.
func (s *Subframe) fitFinding() finding.Finding {
	f := s.finding(finding.SubframeFit(s.Name), s.called()+", largest misfit")
	var suspects, all []float64
	for _, x := range s.Suspects {
		suspects = append(suspects, x.W)
	}
	for _, l := range s.Lines {
		all = append(all, l.W)
	}
	unchecked := ""
	if s.DoF <= 0 {
		unchecked = "nothing checks what was measured to the subframe, for there is no more than it takes: measure one tape or height more"
	}
	f.Misfit(suspects, all, s.build.Limit("survey_misfit"), s.Why, unchecked)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "What was measured to it fits together as well as it was said to be good.",
			finding.Over: s.suspectText(),
		}
	})
	return f
}

func (s *Subframe) suspectText() string {
	var out []string
	for _, x := range s.Suspects {
		k, way := quantity.Length, "more"
		if x.Angle {
			k = quantity.Angle
		}
		if x.Off < 0 {
			way = "less"
		}
		text := fmt.Sprintf("%s reads %s %s than the others say.", x.Line.Name, s.text(k, math.Abs(x.Off)), way)
		if x.Likely != "" {
			text += " " + x.Likely
		}
		switch {
		case x.Out:
			text += " It is left out until it is taken again."
		case len(x.Alike) > 0:
			text += " A slip in it cannot be told from one in " + listed(x.Alike) + ": take those again."
		default:
			text += " Take it again."
		}
		out = append(out, text)
	}
	if len(out) == 0 {
		return "One of the measurements does not fit the others: take them again."
	}
	return strings.Join(out, " ")
}

func (s *Subframe) text(k quantity.Kind, v float64) string {
	digits := 1
	if k == quantity.Angle {
		digits = 2
	}
	return quantity.Format(k, v, s.build.Units, digits)
}

// hiddenFinding says how large a slip its measurements could hide.
func (s *Subframe) hiddenFinding() finding.Finding {
	f := s.finding(finding.SubframeHidden(s.Name), s.called()+", slip that could hide")
	m, where := finding.Exact(0), ""
	for _, l := range s.Lines {
		if l.Out || !m.Known {
			continue
		}
		if l.Angle {
			if math.IsInf(l.Detectable, 1) {
				m = finding.Missing("nothing checks the " + l.Name + ", so a slip in it of any size is hidden: measure the heights of two of its points that lie apart that way")
			} else if far := l.Detectable * s.reach(); far > m.V { // what the slip does to the farthest of its points
				m, where = finding.Exact(far), "the "+l.Name+", as what that angle makes of the farthest two of its points"
			}
			continue
		}
		if math.IsInf(l.Detectable, 1) {
			m = finding.Missing("nothing checks " + l.Name + ", so a slip in it of any size is hidden: measure to the same point from somewhere else")
		} else if l.Detectable > m.V {
			m, where = finding.Exact(l.Detectable), l.Name
		}
	}
	if s.Why != "" {
		m = finding.Missing(s.Why)
	}
	f.Judge(m, s.build.Limit("survey_hidden"), false)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		most := "It would be in " + where + "."
		return map[finding.Status]string{
			finding.OK:   "A larger slip would be found four times in five. " + most,
			finding.Over: "A slip of that size could stand unseen: measure more to the same point. " + most,
		}
	})
	return f
}

// reach is how far the farthest two of its points are apart, mm.
func (s *Subframe) reach() (far float64) {
	at := func(p *Point) r3.Vec { return r3.Vec{X: p.Now[0].V, Y: p.Now[1].V, Z: p.Now[2].V} }
	for i := range s.Points {
		for k := range s.Points[:i] {
			if p, q := &s.Points[i], &s.Points[k]; p.Now[0].Known && q.Now[0].Known {
				far = max(far, r3.Norm(r3.Sub(at(p), at(q))))
			}
		}
	}
	return far
}

// placeFindings are the verdicts on where it hangs against where it is to.
func (s *Subframe) placeFindings() []finding.Finding {
	var out []finding.Finding
	judge := func(id, title, limit string, m finding.Number, above, below string) {
		f := s.finding(id, s.called()+", "+title)
		f.Judge(m.Sized(), s.build.Limit(limit), false)
		f.Says = finding.Asked(f, func() map[finding.Status]string {
			way := above
			if m.V < 0 {
				way = below
			}
			is := fmt.Sprintf(" It %s by %s.", way, s.text(f.Kind, math.Abs(m.V)))
			return map[finding.Status]string{
				finding.OK:    "It hangs as it is to." + is,
				finding.Tight: "The uncertainty reaches past the limit: measure more, or move it nearer." + is,
				finding.Over:  "Move its corners as said, and take again what was measured to each that moved." + is,
			}
		})
		out = append(out, f)
	}
	o := s.Out
	judge(finding.SubframeSquare(s.Name), "out of square to the centre line", "subframe_square", o.Heading, "stands with its rear to the right", "stands with its rear to the left")
	judge(finding.SubframeWheelbase(s.Name), "along the vehicle", "subframe_place", o.Station, "stands too far back", "stands too far forward")
	judge(finding.SubframeCentre(s.Name), "beside the centre line", "subframe_place", o.Right, "stands to the right", "stands to the left")
	judge(finding.SubframeHeight(s.Name), "in height", "subframe_place", o.Height, "hangs too high", "hangs too low")
	judge(finding.SubframeLevel(s.Name), "leaning to one side", "subframe_level", o.Roll, "leans with its left side low", "leans with its right side low")
	judge(finding.SubframeRake(s.Name), "leaning from its rake", "subframe_level", o.Slope, "leans with its rear low", "leans with its rear high")
	return out
}

// cornerFinding says which way and how far a corner has to move.
func (s *Subframe) cornerFinding(p Point) finding.Finding {
	f := s.finding(finding.SubframeCorner(s.Name, p.Path), s.called()+", "+p.Name+" to move")
	f.Judge(p.Far, s.build.Limit("subframe_corner"), false)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		way := p.Name + ": " + s.Moves(p) + "."
		return map[finding.Status]string{
			finding.OK:    "This corner is where it is to be. " + way,
			finding.Tight: "The uncertainty reaches past the limit: measure more, or move it. " + way,
			finding.Over:  "Move it, and take again what was measured to it. " + way,
		}
	})
	return f
}

// Moves says which way and how far a point has to move, largest first: 4.0 mm back,
// 2.1 mm up. What is below half a tenth of a millimetre is left out.
func (s *Subframe) Moves(p Point) string {
	return Moves(p, s.build.Units)
}

// Moves is the same in given units.
func Moves(p Point, u quantity.Units) string {
	words := [3][2]string{{"back", "forward"}, {"to the right", "to the left"}, {"up", "down"}}
	type part struct {
		size float64
		text string
	}
	var parts []part
	for axis, m := range p.Move {
		if !m.Known {
			return m.Why
		}
		size, word := math.Abs(m.V), words[axis][0]
		if m.V < 0 {
			word = words[axis][1]
		}
		if size < 0.05 {
			continue
		}
		at := len(parts)
		for at > 0 && parts[at-1].size < size {
			at--
		}
		parts = append(parts, part{})
		copy(parts[at+1:], parts[at:])
		parts[at] = part{size, quantity.Format(quantity.Length, size, u, 1) + " " + word}
	}
	if len(parts) == 0 {
		return "stays where it is"
	}
	var texts []string
	for _, q := range parts {
		texts = append(texts, q.text)
	}
	return strings.Join(texts, ", ")
}
