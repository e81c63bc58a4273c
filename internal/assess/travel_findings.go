package assess

import (
	"fmt"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// travelFindings judges a live axle between bump and droop: its joints, its
// slip joint, how far it gets, and what its links have to give.
func (a *Assessment) travelFindings(l project.Line, joints int, t *Travel) {
	for i := range joints {
		a.jointTravel(l, i, t)
	}
	a.slipTravel(l, t)
	a.reachFinding(l, t)
	if l.Suspension.Kind == project.LinkAxle && l.Suspension.Give.V() > 0 {
		a.strainFinding(l, t)
	}
}

// where says at which rise something is, and under which torque.
func (a *Assessment) where(e TravelExtreme) string {
	return finding.AtRise(e.Rise, e.Under, a.Build.Units)
}

func (a *Assessment) jointTravel(l project.Line, i int, t *Travel) {
	n := strconv.Itoa(i + 1)
	f := Finding{ID: "line." + l.Name + ".travel.joint." + n + ".max", Title: l.Name + " joint " + n + ", largest angle over the travel"}
	rule := a.Build.Limit("joint_travel")
	if kindOf(l.Joint(i)) != project.Cardan {
		rule = a.Build.Limit("even_joint_travel")
	}
	if v, ok := l.Joint(i).MaxAngle.Get(); ok {
		rule = project.Rule{Kind: quantity.Angle, Value: v, Source: makersFigure}
	}
	if t.Why != "" {
		f.Judge(finding.Missing(t.Why), rule, false)
		f.Says = finding.Say(finding.Advise(f, nil))
	} else {
		worst := t.Worst[i].TravelExtreme
		f.Judge(finding.Known(worst.Value, 0), rule, false)
		f.Says = finding.Say(finding.Advise(f, map[Status]string{
			OK:   "The joint stays within its angle between bump and droop; it is largest " + a.where(worst) + ".",
			Over: "The joint goes past its angle " + a.where(worst) + "; limit the travel there with a stop or a strap, or fit a joint that allows more.",
		}))
	}
	a.Findings = append(a.Findings, f)
}

func (a *Assessment) slipTravel(l project.Line, t *Travel) {
	id, title := "line."+l.Name+".travel.slip.", l.Name+" slip joint, room left "
	s := SlipTravel{Bottom: finding.Missing(t.Why), Pull: finding.Missing(t.Why)}
	if t.Slip != nil {
		s = *t.Slip
	}
	bottom := Finding{ID: id + "bottom", Title: title + "before it bottoms"}
	bottom.Judge(s.Bottom, a.Build.Limit("slip_room"), true)
	pull := Finding{ID: id + "pull", Title: title + "before it pulls out"}
	pull.Judge(s.Pull, a.Build.Limit("slip_room"), true)
	if t.Slip != nil {
		bottom.Says = finding.Say(finding.Advise(bottom, map[Status]string{
			OK:   "The slip joint does not come near its end; it has least room " + a.where(s.Shortest) + ".",
			Over: "The slip joint comes too near its closed end " + a.where(s.Shortest) + ", where it can push on the gearbox and the axle; shorten the shaft.",
		}))
		pull.Says = finding.Say(finding.Advise(pull, map[Status]string{
			OK:   "The slip joint stays engaged; it has least room " + a.where(s.Longest) + ".",
			Over: "The slip joint comes too near pulling out " + a.where(s.Longest) + "; lengthen the shaft, or limit the travel there.",
		}))
	} else {
		bottom.Says, pull.Says = finding.Say(finding.Advise(bottom, nil)), finding.Say(finding.Advise(pull, nil))
	}
	a.Findings = append(a.Findings, bottom, pull)
}

// reachFinding holds the travel that the axle reaches against the travel that
// is wanted, from droop to bump.
func (a *Assessment) reachFinding(l project.Line, t *Travel) {
	f := Finding{ID: "line." + l.Name + ".travel.reach", Title: l.Name + " axle, travel before it binds"}
	bump, droop := l.Suspension.Bump, l.Suspension.Droop
	rule := project.Rule{Kind: quantity.Length, Value: bump.V() + droop.V(), Source: "the bump and droop wanted, in this build's file"}
	switch {
	case t.Reach != nil:
		f.Judge(finding.Known(t.Reach.Bump+t.Reach.Droop, 0), rule, true)
	case bump.Known() && droop.Known():
		f.Judge(finding.Missing(t.Why), rule, true)
	default:
		f.Kind = quantity.Length
		f.Unknown(t.Why)
	}
	over := ""
	if t.Reach != nil {
		for _, b := range t.Reach.Binds {
			over += fmt.Sprintf("The axle binds %s: %s. ", a.where(TravelExtreme{Rise: b.Rise, Under: b.Under}), b.Why)
		}
	}
	f.Says = finding.Say(finding.Advise(f, map[Status]string{
		OK:   "The axle moves from full droop to full bump without binding.",
		Over: over + "Check the points of the suspension, or give it less travel with stops.",
	}))
	a.Findings = append(a.Findings, f)
}

func (a *Assessment) strainFinding(l project.Line, t *Travel) {
	f := Finding{ID: "line." + l.Name + ".travel.strain", Title: l.Name + " links, most a bush has to give"}
	rule := project.Rule{Kind: quantity.Length, Value: l.Suspension.Give.V(), Source: "the bushes' give, in this build's file"}
	m := finding.Known(t.Strain.Value, 0)
	if t.Why != "" {
		m = finding.Missing(t.Why)
	}
	f.Judge(m, rule, false)
	f.Says = finding.Say(finding.Advise(f, map[Status]string{
		OK:   "The bushes can take what the links ask of them; it is most " + a.where(t.Strain) + ".",
		Over: "The links work against each other more than their bushes can give " + a.where(t.Strain) + "; change a link's points.",
	}))
	a.Findings = append(a.Findings, f)
}
