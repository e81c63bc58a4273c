package rail

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	geomrail "fitup/internal/geom/rail"
	"fitup/internal/geom/section"
	"fitup/internal/project"
)

// Twist is the frame with one wheel up.
type Twist struct {
	Why       string
	From, To  float64 // the axles' stations
	Lift      float64 // mm
	Track     float64
	Now, Was  float64 // stiffness of both rails between the axles, N·mm per rad
	Angle     float64 // rad
	Sprung    bool    // the axles' springs take their part
	Rails     []RailTwist
	Of        []project.Side
	assumesOf []string
}

// RailTwist is what one rail takes of it.
type RailTwist struct {
	Side   project.Side
	Now    float64 // its stiffness, N·mm per rad
	Was    float64
	Torque float64 // N·mm
	Shear  float64 // largest in a wall, MPa
	Use    finding.Number
	At     float64 // where the piece begins that has it
	Open   bool    // that piece is open
	// Uncounted is a joint between the axles of which torsion is not worked out: one in
	// which the plates alone carry, or of which they are not known; "" without one.
	Uncounted string
}

// twistFrame twists the rails between the axles: one wheel of the front axle up.
func (p *Prepared) twistFrame() (out Twist) {
	if len(p.rails) == 0 {
		return out
	}
	for _, r := range p.rails {
		out.Of = append(out.Of, r.Side)
		out.Rails = append(out.Rails, RailTwist{Side: r.Side})
	}
	if err := p.twistBetween(&out); err != nil {
		out.Why = err.Error()
	}
	for i := range out.Rails {
		if out.Why != "" {
			out.Rails[i].Use = finding.Missing(out.Why)
		}
	}
	return out
}

func (p *Prepared) twistBetween(out *Twist) error {
	v := p.build.Vehicle
	for _, r := range p.rails {
		if r.Why != "" {
			return errors.New(r.Why)
		}
	}
	if len(p.rails) < 2 {
		other := project.RightSide
		if p.rails[0].Side == project.RightSide {
			other = project.LeftSide
		}
		return lacking("rails." + string(other) + ".length, or like = \"" + string(p.rails[0].Side) + "\" where both are the same")
	}
	var ok1, ok2 bool
	out.From, ok1 = axleStation(p.build, project.FrontAxle)
	out.To, ok2 = axleStation(p.build, project.RearAxle)
	track, known := v.FrontTrack.Get()
	switch {
	case !ok1:
		return lacking("vehicle.front_axle")
	case !ok2:
		return lacking("vehicle.wheelbase")
	case !known || track <= 0:
		return lacking("vehicle.front_track")
	}
	out.Track, out.Lift = track, p.build.Load("wheel_up").Value
	var now []float64
	for i, r := range p.rails {
		of := func(j func(*Piece) float64) (float64, error) {
			var pieces []geomrail.Twisted
			for k := range r.Pieces {
				q := &r.Pieces[k]
				pieces = append(pieces, geomrail.Twisted{From: q.From, To: q.To, J: j(q)})
			}
			return geomrail.Torsion(string(r.Side), pieces, out.From, out.To, section.SteelG)
		}
		is, err := of(func(q *Piece) float64 { return q.Now.J })
		if err != nil {
			return err
		}
		was, err := of(func(q *Piece) float64 { return q.Was.J })
		if err != nil {
			return err
		}
		out.Rails[i].Now, out.Rails[i].Was = is, was
		out.Now, out.Was = out.Now+is, out.Was+was
		now = append(now, is)
	}
	up, err := geomrail.OneWheelUp(out.Lift, track, now, p.rolls(out))
	if err != nil {
		return err
	}
	out.Angle = up.Angle
	for i, r := range p.rails {
		out.Rails[i].Uncounted = r.untwisted(out.From, out.To)
	}
	for i, r := range p.rails {
		t := &out.Rails[i]
		t.Torque = up.Rails[i]
		for k := range r.Pieces {
			q := &r.Pieces[k]
			if q.To <= out.From || q.From >= out.To {
				continue
			}
			if q.Now.Wt <= 0 {
				return fmt.Errorf("of length %d of the %s the shear in torsion is not worked out", q.Length+1, r.label())
			}
			shear := math.Abs(t.Torque) / q.Now.Wt
			if use := shear * math.Sqrt(3) / q.Yield; !t.Use.Known || use > t.Use.V { // von Mises
				t.Use, t.Shear, t.At, t.Open = finding.Exact(use), shear, max(q.From, out.From), !q.Now.Closed
			}
		}
	}
	return nil
}

// untwisted names a joint between two stations of which torsion is not worked out.
func (r *Rail) untwisted(from, to float64) string {
	for i := range r.Splices {
		s := &r.Splices[i]
		x, known := s.Spec.At.Get()
		switch {
		case known && (x < from || x > to):
		case s.Why != "":
			return s.Why
		case s.Spec.Kind == project.FishPlate, s.Spec.Kind == project.Sleeve:
			return fmt.Sprintf("in %s at %s the plates alone carry, and this screening has no verdict on how they take the torsion: have it worked out", s.Words, r.station(x))
		}
	}
	return ""
}

// rolls are the roll stiffnesses of the axles on their springs, where both are known:
// two springs at half the track.
func (p *Prepared) rolls(out *Twist) []float64 {
	v := p.build.Vehicle
	rear, known := v.RearTrack.Get()
	f, kf := v.FrontRate.Get()
	r, kr := v.RearRate.Get()
	if !known || !kf || !kr || f <= 0 || r <= 0 || rear <= 0 {
		out.assumesOf = append(out.assumesOf, "all of the lift goes into the frame, for the springs' rates are not in the file")
		return nil
	}
	out.Sprung = true
	out.assumesOf = append(out.assumesOf, "the springs take their part of the lift at half the track, without an anti-roll bar")
	return []float64{f * out.Track * out.Track / 2, r * rear * rear / 2}
}
