package bracket

import (
	"math"

	"fitup/internal/geom"
)

// Bolt is a bolt to be tightened.
type Bolt struct {
	Name   string
	Thread Thread
	Class  string  // see Thread.Class
	K      float64 // torque factor, zero for 0.20 (dry, plain steel; ±25 %)
	Share  float64 // of the proof load, zero for 0.75
}

// Tightening says how a bolt is tightened and what it then holds.
type Tightening struct {
	Class   Class
	Area    float64 // tensile stress area, mm²
	Proof   float64 // proof load, N
	Preload float64 // N
	Torque  float64 // N·mm; the factor K alone makes it uncertain by a quarter
}

// Tighten returns preload and torque: F = share × proof load, T = K D F
// (Shigley's Mechanical Engineering Design, ch. 8, from memory). The makers'
// torque figures come first where there are any. A screening figure.
func (b Bolt) Tighten() (Tightening, error) {
	area, err := b.Thread.StressArea(b.Name)
	if err != nil {
		return Tightening{}, err
	}
	class, err := b.Thread.Class(b.Name, b.Class)
	if err != nil {
		return Tightening{}, err
	}
	k, share := b.K, b.Share
	if k == 0 {
		k = 0.20
	}
	if share == 0 {
		share = 0.75
	}
	if !(k >= 0.05 && k <= 0.5) {
		return Tightening{}, bad("bolt", b.Name, "a torque factor of %g is none; dry steel has 0.20, oiled 0.15", k)
	}
	if !(share >= 0.05 && share <= 1) {
		return Tightening{}, bad("bolt", b.Name, "a preload of %g of the proof load cannot be; 0.75 is usual", share)
	}
	t := Tightening{Class: class, Area: area, Proof: area * class.Proof}
	t.Preload = share * t.Proof
	t.Torque = k * b.Thread.Diameter * t.Preload
	return t, nil
}

// GammaM2 is the partial factor on bolts, welds and net sections (EN 1993-1-8,
// table 2.1).
const GammaM2 = 1.25

// BoltJoint is what one bolt of a joint carries and what it bears on.
type BoltJoint struct {
	Shear, Tension float64 // N on this bolt, signs do not matter; factored loads
	Planes         int     // shear planes, zero for 1
	PlainShank     bool    // the shear plane is in the plain shank, not the thread
	Plate          float64 // thickness of the thinner plate it bears on, mm
	Fu             float64 // tensile strength of that plate, MPa
	Hole           float64 // hole diameter, mm; zero for no bearing check
	End, Side      float64 // hole centre to the edge along and across the shear, mm
	Friction       float64 // of the faces, to see whether preload alone holds the shear
}

// BoltCheck is the screening of one bolt. A utilisation above 1 is too much.
type BoltCheck struct {
	ShearLimit, TensionLimit, BearingLimit float64 // N; bearing 0 if not checked
	Shear, Tension, Bearing                float64 // utilisations
	Together                               float64 // shear and tension: Fv/FvRd + Ft/(1.4 FtRd)
	Parting                                float64 // tension over preload: above 1 the joint opens
	Slips                                  bool    // friction of the preload that is left does not hold the shear
	Governs                                float64 // the largest utilisation; Slips left out
}

// Check screens a tightened bolt after EN 1993-1-8, table 3.4 (from memory;
// the partial factor is in). A licensed engineer and the local rules decide.
func (b Bolt) Check(j BoltJoint) (BoltCheck, error) {
	r, err := b.Ready(j)
	if err != nil {
		return BoltCheck{}, err
	}
	return r.Check(j.Shear, j.Tension)
}

// ReadyBolt is a bolt in its joint with its limits worked out, for one load after
// another.
type ReadyBolt struct {
	Tightening
	bolt   Bolt
	joint  BoltJoint
	limits BoltCheck // the limits alone
}

// Ready works out what the bolt may carry in a joint; what it carries there does
// not matter.
func (b Bolt) Ready(j BoltJoint) (ReadyBolt, error) {
	t, err := b.Tighten()
	if err != nil {
		return ReadyBolt{}, err
	}
	if j.Planes < 0 || j.Planes > 4 || !(j.Friction >= 0 && j.Friction <= 1) {
		return ReadyBolt{}, bad("bolt", b.Name, "shear planes or friction is not usable")
	}
	area, by := t.Area, t.Class.ShearBy
	if j.PlainShank {
		area, by = math.Pi/4*b.Thread.Diameter*b.Thread.Diameter, 0.6
	}
	r := ReadyBolt{Tightening: t, bolt: b, joint: j}
	r.limits.ShearLimit = float64(max(1, j.Planes)) * by * t.Class.Nominal * area / GammaM2
	r.limits.TensionLimit = 0.9 * t.Class.Nominal * t.Area / GammaM2
	if j.Hole != 0 {
		if r.limits.BearingLimit, err = b.bearing(j, t.Class.Nominal); err != nil {
			return ReadyBolt{}, err
		}
	}
	return r, nil
}

// Check screens the bolt under a shear and a tension, N, whose signs do not
// matter.
func (r *ReadyBolt) Check(shear, tension float64) (BoltCheck, error) {
	if !geom.LoadOK(shear, tension) {
		return BoltCheck{}, bad("bolt", r.bolt.Name, "shear or tension is not usable")
	}
	c, v, f := r.limits, math.Abs(shear), math.Abs(tension)
	c.Shear, c.Tension = v/c.ShearLimit, f/c.TensionLimit
	c.Together = c.Shear + c.Tension/1.4
	c.Parting = f / r.Preload
	c.Slips = r.joint.Friction > 0 && v > r.joint.Friction*float64(max(1, r.joint.Planes))*math.Max(0, r.Preload-f)
	if c.BearingLimit > 0 {
		c.Bearing = v / c.BearingLimit
	}
	c.Governs = max(c.Shear, c.Tension, c.Together, c.Bearing, c.Parting)
	return c, nil
}

// bearing returns k1 αb fu d t/γM2.
func (b Bolt) bearing(j BoltJoint, fub float64) (float64, error) {
	d := b.Thread.Diameter
	if !(j.Hole >= d && j.Hole <= 3*d) || !geom.LengthOK(j.Plate) || !(j.Fu >= 10) || !geom.LoadOK(j.Fu) ||
		!geom.LengthOK(j.End) || !geom.LengthOK(j.Side) {
		return 0, bad("bolt", b.Name, "bearing needs a hole not under the bolt's diameter, the plate's thickness and strength, and the two edge distances")
	}
	alpha := math.Min(1, math.Min(j.End/(3*j.Hole), fub/j.Fu))
	k1 := math.Min(2.5, 2.8*j.Side/j.Hole-1.7)
	if k1 <= 0 {
		return 0, bad("bolt", b.Name, "the hole is too near the side of the plate: %g mm to its centre", j.Side)
	}
	return k1 * alpha * j.Fu * d * j.Plate / GammaM2, nil
}
