package assembly

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"

	"gonum.org/v1/gonum/spatial/r3"
)

// gape is how far the edges of two mitred members may stand apart, mm: what a weld
// bridges without being built up.
const gape = 0.5

// mitred is which way the cut looks of an end that is mitred to another member: half
// way between the two, to this one. in is the way from the end into this member.
func (s *Solved) mitred(p *Part, k int, in r3.Vec) (r3.Vec, error) {
	at, host := p.Ends[k].At, &s.Members[p.Host[k]]
	for i := range host.Ends {
		e, far := &host.Ends[i], &host.Ends[1-i]
		if e.Kind != Mitre || e.Host != p.Name || r3.Norm(r3.Sub(e.At, at)) > gape {
			continue
		}
		if far.Kind == OnMember {
			return in, s.bad(host, "it is mitred at one end and stands on a member with the other; end that one at a point, on the rail or at the pad")
		}
		out, err := geom.Unit(r3.Sub(far.At, e.At))
		if err != nil {
			return in, s.bad(host, "both its ends are at the same place, so it has no length; move one of them")
		}
		n, err := geom.Unit(r3.Sub(in, out))
		if err != nil || geom.Between(n, in) > bracket.Steepest {
			return in, s.bad(&p.Member, "it doubles back on %s; a mitre needs an angle between the two", host.Name)
		}
		return n, nil
	}
	return in, s.bad(&p.Member, "it is mitred to %s, and that one is not mitred to it there; bring both ends to one place", host.Name)
}

// meet refuses mitres whose two edges do not lie on each other.
func (s *Solved) meet() error {
	const around = 3
	for i := range s.Parts {
		p := &s.Parts[i]
		for k := range p.Ends {
			if p.Ends[k].Kind != Mitre || p.Host[k] < i {
				continue
			}
			q := &s.Parts[p.Host[k]]
			end := 0
			if q.Ends[1].Kind == Mitre && q.Ends[1].Host == p.Name {
				end = 1
			}
			ours, theirs := p.Cut.Outline(k == 1, around), q.Cut.Outline(end == 1, around)
			worst := 0.0
			for _, a := range ours {
				near := math.Inf(1)
				for j := range theirs {
					near = min(near, toLine(a, theirs[j], theirs[(j+1)%len(theirs)]))
				}
				worst = max(worst, near)
			}
			if worst > gape {
				return s.bad(&p.Member, "its mitre does not meet that of %s: their edges lie %.1f mm apart; give both one section, and turn them alike", q.Name, worst)
			}
		}
	}
	return nil
}

// toLine is how far a point is from a stretch of a line, mm.
func toLine(p, a, b r3.Vec) float64 {
	d := r3.Sub(b, a)
	l := r3.Dot(d, d)
	if l == 0 {
		return r3.Norm(r3.Sub(p, a))
	}
	t := max(0, min(1, r3.Dot(r3.Sub(p, a), d)/l))
	return r3.Norm(r3.Sub(p, r3.Add(a, r3.Scale(t, d))))
}

// The most that is packed between a plate and a member that lies on it, mm, and the
// most that the two may lean against each other: what shims make up for. Common
// practice, no source.
const (
	mostPacking = 30
	mostLean    = 1 * geom.Deg
)

// packs finds what is wanted between a rail and a foot's plate with a member that lies
// on it.
func (s *Solved) packs(p *Part, k int) error {
	e := &p.Ends[k]
	n, err := geom.Unit(e.Face.Normal)
	if err != nil {
		return s.bad(&p.Member, "the face of %s does not say which way it looks", e.On)
	}
	side, looks := p.Looking(r3.Scale(-1, n))
	p.Side[k] = side
	if !p.Cut.HasSide(side) {
		return s.bad(&p.Member, "it would lie on %s with its open %s side; turn it by its roll", e.On, side)
	}
	if lean := geom.Between(looks, r3.Scale(-1, n)); lean > mostLean {
		return s.bad(&p.Member, "its %s side leans %.1f° on %s; a crossmember that lies on its rails lies flat: turn the pad's face, or take one with legs", side, lean.Degrees(), e.On)
	}
	gap := r3.Dot(n, r3.Sub(e.At, e.Face.Point)) - p.Half(side) - e.Plate
	switch {
	case gap < -0.5:
		return s.bad(&p.Member, "it would lie %.1f mm inside %s; move the pad, or take a dropped crossmember", -gap, e.On)
	case gap > mostPacking:
		return s.bad(&p.Member, "it lies %.1f mm clear of %s with its plate; move the pad, or take a dropped crossmember, whose legs reach down or up", gap, e.On)
	}
	p.Packing[k] = max(0, gap)
	return nil
}
