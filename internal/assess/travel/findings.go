package travel

import (
	"fmt"
	"strconv"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// limits are what a live axle's travel is held against, and the findings to be,
// without their numbers.
type limits struct {
	joints       []limit
	bottom, pull limit
	reach        limit
	strain       *limit // of links whose bushes' give is in the file
	slip         slipEnds
}

// limit is a finding to be and the rule that it is judged by.
type limit struct {
	finding.Finding
	rule project.Rule
}

func limitsOf(b *project.Build, l project.Line) limits {
	s := l.Suspension
	of := func(id, title string, r project.Rule) limit {
		return limit{finding.Finding{ID: id, Title: l.Name + title}, r}
	}
	var out limits
	for i := range l.JointCount() {
		n := strconv.Itoa(i + 1)
		out.joints = append(out.joints, of(finding.TravelJoint(l.Name, i+1), " joint "+n+", largest angle over the travel", jointRule(b, l.Joint(i))))
	}
	out.bottom = of(finding.SlipBottom(l.Name), " slip joint, room left before it bottoms", b.Limit("slip_room"))
	out.pull = of(finding.SlipPull(l.Name), " slip joint, room left before it pulls out", b.Limit("slip_room"))
	out.reach = of(finding.TravelReach(l.Name), " axle, travel before it binds", project.Rule{Kind: quantity.Length, Value: s.Bump.V() + s.Droop.V(),
		Source: "the bump and droop wanted, in this build's file"})
	if s.Kind == project.LinkAxle && s.Give.V() > 0 {
		strain := of(finding.TravelStrain(l.Name), " links, most a bush has to give", project.Rule{Kind: quantity.Length, Value: s.Give.V(),
			Source: "the bushes' give, in this build's file"})
		out.strain = &strain
	}
	out.slip = slipOf(l)
	return out
}

func jointRule(b *project.Build, j project.LineJoint) project.Rule {
	if v, ok := j.MaxAngle.Get(); ok {
		return project.Rule{Kind: quantity.Angle, Value: v, Source: finding.MakersFigure}
	}
	if j.OfKind() != project.Cardan {
		return b.Limit("even_joint_travel")
	}
	return b.Limit("joint_travel")
}

// axleFindings judges a live axle between bump and droop: its joints, its slip
// joint, how far it gets, and what its links have to give.
func (p *Prepared) axleFindings(t *Travel) []finding.Finding {
	out := make([]finding.Finding, 0, len(p.limits.joints)+4)
	for i, m := range p.limits.joints {
		out = append(out, m.joint(i, t, p.build.Units))
	}
	out = append(out, p.slip(t)...)
	out = append(out, p.reach(t))
	if p.limits.strain != nil {
		out = append(out, p.limits.strain.strain(t, p.build.Units))
	}
	return append(out, p.straps.findings(t, &p.limits)...)
}

// held judges a number of the travel, unknown when the axle is not moved.
func (m limit) held(v float64, t *Travel) finding.Finding {
	f := m.Finding
	n := finding.Exact(v)
	if t.Why != "" {
		n = finding.Missing(t.Why)
	}
	f.Judge(n, m.rule, false)
	return f
}

func (m limit) joint(i int, t *Travel, u quantity.Units) finding.Finding {
	var worst Extreme
	if t.Why == "" {
		worst = t.Worst[i].Extreme
	}
	f := m.held(worst.Value, t)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The joint stays within its angle between bump and droop; it is largest " + worst.Where(u) + ".",
			finding.Over: "The joint goes past its angle " + worst.Where(u) + "; limit the travel there with a stop or a strap, or fit a joint that allows more.",
		}
	})
	return f
}

func (p *Prepared) slip(t *Travel) []finding.Finding {
	s, u := Slip{Bottom: finding.Missing(t.Why), Pull: finding.Missing(t.Why)}, p.build.Units
	if t.Slip != nil {
		s = *t.Slip
	}
	bottom, pull := p.limits.bottom.Finding, p.limits.pull.Finding
	bottom.Judge(s.Bottom, p.limits.bottom.rule, true)
	pull.Judge(s.Pull, p.limits.pull.rule, true)
	bottom.Says = finding.Asked(bottom, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The slip joint does not come near its end; it has least room " + s.Shortest.Where(u) + ".",
			finding.Over: "The slip joint comes too near its closed end " + s.Shortest.Where(u) + ", where it can push on the gearbox and the axle; shorten the shaft.",
		}
	})
	pull.Says = finding.Asked(pull, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The slip joint stays engaged; it has least room " + s.Longest.Where(u) + ".",
			finding.Over: "The slip joint comes too near pulling out " + s.Longest.Where(u) + "; lengthen the shaft, or limit the travel there.",
		}
	})
	return []finding.Finding{bottom, pull}
}

// reach holds the travel that the axle reaches against the travel that is
// wanted, from droop to bump.
func (p *Prepared) reach(t *Travel) finding.Finding {
	f, rule := p.limits.reach.Finding, p.limits.reach.rule
	s, u := p.line.Suspension, p.build.Units
	switch {
	case t.Reach != nil:
		f.Judge(finding.Exact(t.Reach.Bump+t.Reach.Droop), rule, true)
	case s.Bump.Known() && s.Droop.Known():
		f.Judge(finding.Missing(t.Why), rule, true)
	default:
		f.Kind = quantity.Length
		f.Unknown(t.Why)
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		var over strings.Builder
		if t.Reach != nil {
			for _, b := range t.Reach.Binds {
				fmt.Fprintf(&over, "The axle binds %s: %s. ", Extreme{Rise: b.Rise, Under: b.Under}.Where(u), b.Why)
			}
		}
		return map[finding.Status]string{
			finding.OK:   "The axle moves from full droop to full bump without binding.",
			finding.Over: over.String() + "Check the points of the suspension, or give it less travel with stops.",
		}
	})
	return f
}

func (m limit) strain(t *Travel, u quantity.Units) finding.Finding {
	f, most := m.held(t.Strain.Value, t), t.Strain
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The bushes can take what the links ask of them; it is most " + most.Where(u) + ".",
			finding.Over: "The links work against each other more than their bushes can give " + most.Where(u) + "; change a link's points.",
		}
	})
	return f
}
