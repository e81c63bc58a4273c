package frame

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// lowerFinding is the verdict on how evenly the rails hang at a pair.
func (r *Result) lowerFinding(number int, names string, p Pair) finding.Finding {
	f := r.finding(finding.RailsSag(number), "sag at "+names+", left less right")
	f.Judge(p.Lower.Sized(), r.build.Limit("frame_sag"), false)
	r.unchecked(&f)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		side := "left"
		if p.Lower.V < 0 {
			side = "right"
		}
		how := fmt.Sprintf(" The %s rail hangs %s further below the line of its ends than the other.", side, text(r.build, quantity.Length, math.Abs(p.Lower.V)))
		return verdicts("Both rails run at the same height there, measured from the line of their ends.", "One rail is bent down there, or the other up."+how, how)
	})
	return f
}

// toeFindings are the verdicts on where the wheels of an axle look.
func (r *Result) toeFindings(a Axle) []finding.Finding {
	if !a.Rims {
		return nil
	}
	toe := r.finding(finding.AxleToe(a.Name), a.Name+" axle, toe of both wheels together")
	toe.Judge(a.ToeIn.Sized(), r.build.Limit("axle_toe"), false)
	r.unchecked(&toe)
	toe.Says = finding.Asked(toe, func() map[finding.Status]string {
		way := "in"
		if a.ToeIn.V < 0 {
			way = "out"
		}
		how := fmt.Sprintf(" The wheels toe %s by %s together.", way, text(r.build, quantity.Angle, math.Abs(a.ToeIn.V)))
		return verdicts("The wheels of the axle run alongside each other."+how, "A solid axle has no toe but what its housing is bent by, or a rim."+how+" Turn the wheels by half a turn and measure again: what follows the rims is theirs.", how)
	})
	thrust := r.finding(finding.AxleThrust(a.Name), a.Name+" axle, thrust angle by its rims")
	thrust.Judge(a.Thrust.Sized(), r.build.Limit("axle_square"), false)
	r.unchecked(&thrust)
	thrust.Says = finding.Asked(thrust, func() map[finding.Status]string {
		side := "left"
		if a.Thrust.V < 0 {
			side = "right"
		}
		how := fmt.Sprintf(" In the mean its wheels look %s to the %s.", text(r.build, quantity.Angle, math.Abs(a.Thrust.V)), side)
		return verdicts("The axle pushes along the centre line."+how, "The axle pushes to one side."+how, how)
	})
	return []finding.Finding{toe, thrust}
}
