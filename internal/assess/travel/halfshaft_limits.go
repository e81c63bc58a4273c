package travel

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Largest angles of a half shaft's joints when the file gives none: about 47° for
// a fixed ball joint and 23 to 26° for a plunging tripod are in circulation.
const (
	innerJointMax = 23 * geom.Deg
	outerJointMax = 47 * geom.Deg

	halfShaftPractice = "common practice, not a standard"
	shaftFigure       = "the shaft's own figure, in this build's file"
)

// The places of a half shaft's four numbers.
const (
	innerAngle = iota
	outerAngle
	plungeIn
	plungeOut
)

// shaftLimit is what one number of a half shaft is held against.
type shaftLimit struct {
	finding.Finding // without its number
	over, cure      string
	rule            project.Rule
	judged          bool    // there is a limit
	lacks           string  // what is missing for a verdict that it is within it
	end             float64 // length of the end that it counts to, mm, when ends says so
	sense           float64 // 1 to lengthen, -1 to shorten
	ends            bool
}

const (
	limitTravel = "limit the wheel's travel there, or fit a shaft that allows more"
	shaftLength = "a shaft of another length, or the powertrain elsewhere"
)

func (h *halfShaft) limitsOf(l project.Line, hung bool) [4]shaftLimit {
	file := h.file
	of := func(id func(line, shaft string) string, title, over string) shaftLimit {
		return shaftLimit{Finding: finding.Finding{ID: id(l.Name, h.id), Title: l.Name + " half shaft " + h.name + ", " + title},
			over: over, cure: limitTravel, judged: true}
	}
	var out [4]shaftLimit
	out[innerAngle] = of(finding.HalfShaftInner, "inner joint, largest angle", "The inner joint goes past its angle")
	out[innerAngle].rule = angleRule(file.InnerMax, innerJointMax)
	title := "outer joint, largest angle"
	if file.Lock.V() > 0 {
		title = "outer joint, largest angle at full lock"
	}
	out[outerAngle] = of(finding.HalfShaftOuter, title, "The outer joint goes past its angle")
	out[outerAngle].rule = angleRule(file.OuterMax, outerJointMax)
	if steers := l.Toward == project.TowardFront || l.Toward == "" && hung; steers && !file.Lock.Known() {
		out[outerAngle].lacks = h.key + "lock is not in the file yet: steering bends the outer joint most (0 deg for a wheel that does not steer)"
	}
	out[plungeIn] = of(finding.HalfShaftIn, "shortening from ride height", "The shaft has to shorten more than it can")
	out[plungeIn].plunge(hung, file.PlungeIn, file.Closed, h.key, [2]string{"plunge_in", "plunge_closed"}, -1)
	out[plungeOut] = of(finding.HalfShaftOut, "lengthening from ride height", "The shaft has to lengthen more than it can and may come apart")
	out[plungeOut].plunge(hung, file.PlungeOut, file.Open, h.key, [2]string{"plunge_out", "plunge_open"}, 1)
	return out
}

// plunge makes it the limit of how far a half shaft may change its length one
// way: sense 1 to lengthen. From the length of its end it is what is left from
// ride height. A room counted from ride height is one for the place that it was
// counted at, so it serves only where nothing moves the inner joint. keys are
// those of the room and of the end, below path.
func (m *shaftLimit) plunge(hung bool, room, end quantity.LengthQ, path string, keys [2]string, sense float64) {
	m.rule = project.Rule{Kind: quantity.Length, Value: room.V(), Source: shaftFigure}
	v, ok := end.Get()
	switch {
	case ok:
		m.end, m.sense, m.ends, m.cure = v, sense, true, shaftLength
	case hung:
		m.judged, m.lacks = false, path+keys[1]+" is not in the file yet"
		if room.Known() {
			m.lacks += " (" + keys[0] + " counts from ride height, which is another length once the powertrain moves)"
		}
	case !room.Known():
		m.judged, m.lacks = false, path+keys[0]+" is not in the file yet"
	}
}

// at is the limit for a shaft that was moved.
func (m *shaftLimit) at(s *HalfShaft) (rule project.Rule, judged bool) {
	rule = m.rule
	if m.ends {
		rule.Value = m.sense * (m.end - s.Ride)
		return rule, s.Why == ""
	}
	return rule, m.judged
}

// angleRule is a joint's own figure, or what is usual.
func angleRule(q quantity.AngleQ, usual geom.Angle) project.Rule {
	if v, ok := q.Get(); ok {
		return project.Rule{Kind: quantity.Angle, Value: v, Source: finding.MakersFigure}
	}
	return project.Rule{Kind: quantity.Angle, Value: usual.Rad(), Source: halfShaftPractice}
}

// findings holds the four numbers of a half shaft against what it allows.
func (h *halfShaft) findings(s *HalfShaft, u quantity.Units) []finding.Finding {
	out := make([]finding.Finding, 4)
	for e := range h.limits {
		out[e] = h.limits[e].judge(s, e, h.file.Lock.V() > 0, u)
	}
	return out
}

func (m *shaftLimit) judge(s *HalfShaft, e int, steers bool, u quantity.Units) finding.Finding {
	f, worst := m.Finding, *s.worst(e)
	n := s.rates.Spread(worst.Value, worst.Value+s.spread[e])
	if s.Why != "" {
		n = finding.Missing(s.Why)
	}
	rule, judged := m.at(s)
	f.Kind = rule.Kind
	switch {
	case judged:
		f.Judge(n, rule, false)
	case n.Known:
		f.Figure(n)
	}
	switch {
	case f.Status == finding.Over:
	case s.Why != "" && m.lacks != "":
		f.Unknown(s.Why + ", and " + m.lacks)
	case s.Why != "":
		f.Unknown(s.Why)
	case m.lacks != "":
		f.Unknown(m.lacks)
	}
	if s.Why == "" {
		f.Assumes = append(f.Assumes, s.Assumes...)
		if e == outerAngle && steers {
			f.Assumes = append(f.Assumes, "a wheel that steers about an upright line through the joint: kingpin inclination and caster are not in it")
		}
	}
	over, cure := m.over, m.cure
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		where := worst.Where(u)
		return map[finding.Status]string{
			finding.OK:    "It stays within what it allows over the wheel's travel; it is most " + where + ".",
			finding.Tight: "It is most " + where + "; the mounts' rates are estimates, and rubber softer than that would take it past what it allows.",
			finding.Over:  over + " " + where + "; " + cure + ".",
		}
	})
	return f
}

// noHalfShaft is the finding of a line of half shafts that has none in the file.
func noHalfShaft(l project.Line) finding.Finding {
	f := finding.Finding{ID: finding.HalfShafts(l.Name), Title: l.Name + " half shafts", Kind: quantity.Angle}
	f.Unknown("line." + l.Name + ".suspension.half_shaft is not in the file yet")
	f.Says = finding.Say(finding.NotYet(f.Missing))
	return f
}
