package frame

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// tapedFindings are the verdicts on what was taped in plain words.
func (r *Result) tapedFindings() []finding.Finding {
	var out []finding.Finding
	if r.Plain != nil {
		out = append(out, r.tapedFit(), r.tapedDiagonals(), r.tapedSquare())
	}
	if r.Wheels != nil {
		out = append(out, r.tapedWheelbase())
	}
	return out
}

func (t *Taped) finding(id, title string) finding.Finding {
	f := finding.Finding{ID: id, Title: title, Basis: finding.Read, Assumes: t.Assumes}
	if t.After.Proves() {
		f.Basis = finding.Proved
	}
	return f
}

// fits is a number of the tapes, not known where they do not fit each other.
func (r *Result) fits(m finding.Number) finding.Number {
	t := r.Plain
	if t.Misfit.Known && t.Misfit.V > r.build.Limit("survey_misfit").Value {
		return finding.Missing(fmt.Sprintf("the six tapes do not fit each other: the right side reads %s off what the five others say; one of them was misread, and six cannot tell which: measure each again", text(r.build, quantity.Length, math.Abs(t.Gap.V))))
	}
	return m
}

// uncheckedTapes takes back an ok that rests on tapes that no other checks: a slip of
// any size in one of them would make it just as well.
func (r *Result) uncheckedTapes(f *finding.Finding) {
	if !r.Plain.Misfit.Known && (f.Status == finding.OK || f.Status == finding.Tight) {
		f.Unknown("nothing checks these tapes until all six are there: " + r.Plain.Misfit.Why)
	}
}

// tapedFit says whether the six tapes fit each other.
func (r *Result) tapedFit() finding.Finding {
	f := r.Plain.finding(finding.TapedFit, "tapes of the frame, misfit")
	m := r.Plain.Misfit
	if !m.Known {
		m = finding.Missing("nothing checks the tapes of the frame until all six are there, and a slip in one would be hidden: " + m.Why)
	}
	f.Judge(m, r.build.Limit("survey_misfit"), false)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "Diagonals, sides and widths fit each other as well as they were said to be good.",
			finding.Over: finding.Sentence(r.fits(m).Why),
		}
	})
	return f
}

func (r *Result) tapedDiagonals() finding.Finding {
	f := r.Plain.finding(finding.TapedDiagonals, "frame, difference of the diagonals as taped")
	m := r.Plain.Apart
	if !m.Known && len(r.Plain.Unread) > 0 {
		m.Why += "; " + r.Plain.Unread[0] + " is not taken for it: say its corners and nothing else, such as " + tapedAs[diagonalLF]
	}
	f.Judge(r.fits(m).Sized(), r.build.Limit("frame_diagonals"), false)
	if !r.Plain.twice[diagonalLF] || !r.Plain.twice[diagonalRF] {
		r.uncheckedTapes(&f)
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		how := fmt.Sprintf(" Left front to right rear %s, right front to left rear %s. ", r.length(diagonalLF), r.length(diagonalRF)) + r.proves()
		return verdicts("The diagonals agree."+how, "The diagonals differ."+how, how)
	})
	return f
}

// proves is what the diagonals prove of the frame, by what else was taped.
func (r *Result) proves() string {
	t := r.Plain
	if why, lacks := t.lacking(sideLeft, sideRight); lacks {
		return "Alone they prove nothing: equal diagonals prove a frame square only where left and right side are equal, and " + why + "."
	}
	sides := t.Lengths[sideRight].LessOf(t.Lengths[sideLeft])
	if math.Abs(sides.V) > sides.Expanded() {
		side := "right"
		if sides.V < 0 {
			side = "left"
		}
		return fmt.Sprintf("They say nothing of either cross line alone, for the sides are not equal: the %s one is %s longer.", side, text(r.build, quantity.Length, math.Abs(sides.V)))
	}
	out := "The sides are equal within their ±, so the diagonals say how far the frame is out of square."
	across := t.Lengths[acrossRear].LessOf(t.Lengths[acrossFront])
	switch {
	case !across.Known:
		out += " Whether it is as wide in front as at the rear they do not say."
	case math.Abs(across.V) > across.Expanded():
		out += fmt.Sprintf(" It is %s wider at the %s.", text(r.build, quantity.Length, math.Abs(across.V)), map[bool]string{true: "rear", false: "front"}[across.V > 0])
	}
	return out
}

func (r *Result) tapedSquare() finding.Finding {
	t := r.Plain
	f := r.Plain.finding(finding.TapedSquare, "frame, one rail ahead of the other as taped")
	worse, where := t.Front, "front"
	if t.Rear.Known && math.Abs(t.Rear.V) > math.Abs(t.Front.V) {
		worse, where = t.Rear, "rear"
	}
	f.Judge(r.fits(worse).Sized(), r.build.Limit("frame_square"), false)
	r.uncheckedTapes(&f)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		how := fmt.Sprintf(" At the %s marks the %s one stands %s ahead. In the mean the %s rail is %s ahead: %s out of square, or %s aside at the rail's end. ",
			where, ahead(worse), r.apart(quantity.Length, worse), ahead(t.Square), r.apart(quantity.Length, t.Square), r.apart(quantity.Angle, t.Skew), r.apart(quantity.Length, t.Swing)) + r.proves()
		return verdicts("The frame is square."+how, "The frame is out of square."+how, how)
	})
	return f
}

func (r *Result) tapedWheelbase() finding.Finding {
	f := r.Wheels.finding(finding.TapedWheelbase, "wheelbase as taped, left less right")
	m := r.Wheels.Between
	if !m.Known && len(r.Wheels.Unread) > 0 {
		m.Why += "; " + r.Wheels.Unread[0] + " is not taken for it: say its side, such as " + tapedAs[wheelbaseLeft]
	}
	f.Judge(m.Sized(), r.build.Limit("frame_wheelbase"), false)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		how := fmt.Sprintf(" Left %s, right %s. It says nothing of which axle stands askew.",
			text(r.build, quantity.Length, r.Wheels.Lengths[wheelbaseLeft].V), text(r.build, quantity.Length, r.Wheels.Lengths[wheelbaseRight].V))
		return verdicts("The wheelbase is the same on both sides."+how, "The wheelbase differs from side to side."+how, how)
	})
	return f
}

// ahead is the side that stands ahead, by how far the right one stands behind.
func ahead(m finding.Number) string {
	if m.V < 0 {
		return "right"
	}
	return "left"
}

// apart is a number without its sign and with its ±.
func (r *Result) apart(k quantity.Kind, m finding.Number) string {
	return text(r.build, k, math.Abs(m.V)) + " ± " + text(r.build, k, m.Expanded())
}

func (r *Result) length(k taped) string {
	return text(r.build, quantity.Length, r.Plain.Lengths[k].V)
}
