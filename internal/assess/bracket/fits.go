package bracket

import (
	"math"
	"slices"

	"fitup/internal/assess/finding"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// fitsFinding says whether the leg can be cut, and how near the saw's limit.
func (r *Result) fitsFinding(b *Bracket) {
	f := finding.Finding{ID: finding.BracketFits(b.Name), Title: b.Label + " bracket, its leg", Kind: quantity.Angle, Source: finding.Practice}
	if r.ready.ownSaw {
		f.Source = "the saw, as entered in [shop]"
	}
	defer func() {
		b.noIsolator(&f)
		r.Findings = append(r.Findings, f)
	}()
	switch {
	case b.Members != nil:
		r.closes(b, &f)
		return
	case b.Plates != nil:
		r.folds(b, &f)
		return
	}
	if b.Assembled {
		f.Title = b.Label + " bracket, its members"
	}
	if b.ofPlate() {
		f.Title = b.Label + " bracket, its plate"
	}
	b.Match.rests(&f)
	switch {
	case !b.HasCut && b.Wrong:
		why := b.Why
		f.Status, f.Says = finding.Over, func() string { return finding.Sentence(why) }
		return
	case !b.HasCut:
		f.Unknown(b.Why)
		missing := f.Missing
		f.Says = func() string { return finding.NotYet(missing) }
		return
	}
	set, limit := b.steepest()
	f.Figure(finding.Exact(set))
	f.Title += ", steepest saw setting"
	f.Limit, f.HasLimit, f.Margin = limit, true, limit-set
	f.Says = finding.Say("The leg can be cut; fitup cuts FILE prints its saw settings.")
	switch {
	case b.steep():
		f.Status = finding.Over
		label := b.Label
		f.Says = func() string {
			return "The saw cannot make this cut with any side of the " + label + " leg down, nor with the tube rolled: turn its pad, or move its foot nearer to straight across."
		}
	case b.rolled():
		f.Says = finding.Say("The leg can be cut with the tube rolled on the saw's table and one swing; fitup cuts FILE prints how far.")
	}
}

func (b *Bracket) ends() []geombracket.End {
	if b.Saddle != nil {
		return []geombracket.End{b.Cut.Pad}
	}
	return []geombracket.End{b.Cut.Pad, b.Cut.Rail}
}

func (b *Bracket) steep() bool {
	return slices.ContainsFunc(b.ends(), func(e geombracket.End) bool { return e.Steep })
}

func (b *Bracket) rolled() bool {
	return slices.ContainsFunc(b.ends(), func(e geombracket.End) bool { return e.Rolled })
}

// steepest is the swing or tilt nearest to what the saw can do, and that. A
// setting of nothing needs nothing of the saw, so it counts only where there is
// no other.
func (b *Bracket) steepest() (set, limit float64) {
	worst := -1.0
	for _, e := range b.ends() {
		s := e.Saw[e.Best]
		swing, tilt := s.Mitre.Abs().Rad(), s.Tilt.Abs().Rad()
		if e.Rolled || e.Steep && e.Roll.Swing.Abs().Rad() > 0 && b.Leg.Saw.Tilt == 0 {
			swing, tilt = e.Roll.Swing.Abs().Rad(), 0
		}
		for _, x := range [][2]float64{{swing, b.Leg.Saw.Mitre.Rad()}, {tilt, b.Leg.Saw.Tilt.Rad()}} {
			part := 0.0
			switch {
			case x[1] > 0:
				part = x[0] / x[1]
			case x[0] > square:
				part = math.Inf(1)
			case worst >= 0:
				continue
			}
			if part > worst {
				worst, set, limit = part, x[0], x[1]
			}
		}
	}
	return set, limit
}

// square is the angle in rad below which a setting is none.
const square = 1e-9

// noIsolator says of a mount on rubber where nothing is taken to lie between its pad and the
// powertrain's.
func (b *Bracket) noIsolator(f *finding.Finding) {
	m := &b.ready.mount
	if b.Stands() && !b.Spec.Standing.Known() && !b.Spec.Pad.Known && m.Holds != project.SolidMount && !m.Support() {
		f.Assumes = append(f.Assumes, "its pad right at the powertrain's, without the height of an isolator: "+m.StandPath()+".standing is not in the file and counts as 0")
	}
}
