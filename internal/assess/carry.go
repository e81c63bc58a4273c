package assess

import (
	"cmp"
	"slices"
	"strings"

	"fitup/internal/abreast"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// All that the file leaves open reaches every finding: each value with a ±, and what
// the survey leaves open of the points that it places, as independent errors. Lines
// take what they are planned from along themselves, since they know directions by all
// their components. All else is worked out once more with each of them at either end
// of its ±, by the same calculation from the build on, and what that changes in a
// finding is what it leaves open of it.

// ends is what a build comes to with one thing that it leaves open at its two ends.
type ends struct {
	of  *leftOpen
	at  [2]*Assessment // nil where it is not asked for, or err says why not
	err error
}

// ends are those of all that the file leaves open, as far as they have to do with what
// is asked for and with the parts, through so many steps.
func (a *Assessment) ends(of Which, through int) []ends {
	if len(a.ready.open) == 0 {
		return nil
	}
	if a.atEnds == nil {
		a.atEnds = make([]ends, 0, len(a.ready.open))
		for i := range a.ready.open {
			if o := &a.ready.open[i]; o.Path == "" || a.states(o.Path) {
				a.atEnds = append(a.atEnds, ends{of: o})
			}
		}
	}
	var due []*ends
	for i := range a.atEnds {
		if e := &a.atEnds[i]; e.err == nil && a.asked&e.of.to.parts&of != 0 {
			due = append(due, e)
		}
	}
	errs := make([][2]error, len(due))
	var work []func()
	var alone []int // those that share what was followed, and so come one after the other
	for i, e := range due {
		if e.of.to.roomAlone() {
			alone = append(alone, i)
			continue
		}
		for end := range e.at {
			work = append(work, func() { errs[i][end] = e.goOn(a, end, through) })
		}
	}
	work = append(work, func() {
		for _, i := range alone {
			for end := range due[i].at {
				errs[i][end] = due[i].goOn(a, end, through)
			}
		}
	})
	slices.Reverse(work) // what takes longest first: those one after the other
	abreast.Do(work...)
	for i, e := range due {
		if e.err = cmp.Or(errs[i][0], errs[i][1]); e.err != nil {
			e.at = [2]*Assessment{}
		}
	}
	return a.atEnds
}

// goOn takes one end of it through so many steps. All that is asked of a is there.
func (e *ends) goOn(a *Assessment, end, through int) (err error) {
	to := e.of.to
	if e.at[end] == nil {
		if e.at[end], err = e.of.at[end].begin(a.ready, a.Build, (a.asked & to.parts).whole()); err != nil {
			return err
		}
		e.at[end].as = beyond{true, to, a}
	}
	e.at[end].goOn(through)
	return nil
}

// states reports whether its file states the ± of the value at path still.
func (a *Assessment) states(path string) bool {
	for i := range a.stated {
		if a.stated[i].Path == path {
			return true
		}
	}
	return false
}

// carry gives every finding what is left open of it.
func (a *Assessment) carry() {
	if a.as.end {
		return
	}
	all := a.ends(judged, throughValues)
	if len(all) == 0 {
		a.followed.Done()
		a.followed = nil
		return
	}
	defer func() { // they are large, and all that is asked of them is known
		a.followed.Done()
		a.atEnds, a.followed, a.asBuilt = nil, nil, asBuilt{}
	}()
	a.overRails = map[string]Number{}
	for _, mount := range frontPads() {
		a.overRails[mount] = a.overRail(mount, all)
	}
	for i := range all {
		for _, b := range all[i].at {
			if b != nil {
				b.index()
			}
		}
	}
	for _, list := range [][]Finding{a.Findings, a.Plans} {
		for i := range list {
			if f := &list[i]; f.HasValue && !f.By.Measured() && f.By != finding.ReadingTrade && f.By != finding.SteerTrade { // what was measured has its own ±
				open(f, all, a.Build)
			}
		}
	}
	a.openRoom()
	a.openShaking(all)
	a.openStraps(all)
}

// openShaking gives the ways in which the powertrain swings what leaves their frequencies
// open, and what it passes on what is open of its verdicts.
func (a *Assessment) openShaking(all []ends) {
	s := a.Shaking
	if s == nil {
		return
	}
	for _, e := range all {
		if e.at[0] == nil || e.of.to.parts&OfShake == 0 || e.at[0].Shaking == nil || e.at[1].Shaking == nil {
			continue
		}
		low, high := e.at[0].Shaking.Modes, e.at[1].Shaking.Modes
		for i := range s.Modes {
			if m := &s.Modes[i].Frequency; i < len(low) && i < len(high) {
				*m = finding.Of(m.Plus(e.of.Of.Within(0, e.of.Of.EndsOf(m.V, low[i].Frequency.V, high[i].Frequency.V).Off).Number))
			}
		}
	}
	for id, o := range map[string]*OrderPassed{finding.MountsShakeIdle: &s.Idle, finding.MountsShakeCruise: &s.Cruise} {
		if f := a.findingOf(id); f != nil && o.Worst.Known {
			o.Worst = finding.Of(o.Worst.Plus(f.LeftOpen()))
		}
	}
}

// openStraps gives the longest straps what leaves them open.
func (a *Assessment) openStraps(all []ends) {
	for i := range a.Lines {
		l := &a.Lines[i]
		if l.Travel == nil {
			continue
		}
		for k := range l.Travel.Straps {
			s := &l.Travel.Straps[k]
			for _, e := range all {
				if !s.Longest.Known || e.at[0] == nil || e.of.to.parts&OfTravel == 0 || e.at[0].as.leavesOut(l.Name) {
					continue
				}
				low, high := e.at[0].longestStrap(i, k), e.at[1].longestStrap(i, k)
				if !low.Known || !high.Known {
					s.Longest = finding.Missing("within " + e.of.within + " " + cmp.Or(low.Why, high.Why))
					break
				}
				s.Longest = finding.Of(s.Longest.Plus(e.of.Of.Within(0, e.of.Of.EndsOf(s.Longest.V, low.V, high.V).Off).Number))
			}
		}
	}
}

func (a *Assessment) longestStrap(line, strap int) Number {
	if line >= len(a.Lines) || a.Lines[line].Travel == nil || strap >= len(a.Lines[line].Travel.Straps) {
		return finding.Missing("the line's axle cannot be moved")
	}
	return a.Lines[line].Travel.Straps[strap].Longest
}

// openRoom gives the room that is found what is open of its verdicts.
func (a *Assessment) openRoom() {
	to := func(id string, gap *Number) {
		if f := a.findingOf(id); f != nil && gap.Known {
			*gap = finding.Of(gap.Plus(f.LeftOpen()))
		}
	}
	for i := range a.Clearances {
		c := &a.Clearances[i]
		to(c.ID, &c.Gap)
		if c.Rocked != nil {
			to(finding.Rocked(c.ID), &c.Rocked.Gap)
		}
		if c.Moving != nil {
			to(finding.Moving(c.ID), &c.Moving.Gap)
		}
	}
	for i := range a.Exhaust {
		x := &a.Exhaust[i]
		to(x.ID, &x.Built.Gap)
		if x.Rocked != nil {
			to(finding.Rocked(x.ID), &x.Rocked.Gap)
		}
		if x.Moving != nil {
			to(finding.Moving(x.ID), &x.Moving.Gap)
		}
	}
	if a.Moving != nil {
		to(finding.Moving(finding.Clearance("powertrain")), &a.Moving.Gap)
	}
}

// open gives a finding what is left open of it, and of what it is held to besides.
func open(f *Finding, all []ends, b *project.Build) {
	n, why := leftOpenOf(f, f, all, b, func(f *Finding) *Finding { return f })
	f.Open(n)
	if also := f.Second(); also != nil {
		n, second := leftOpenOf(f, also, all, b, (*Finding).Second)
		f.OpenSecond(n)
		if why == "" {
			why = second
		}
	}
	if why != "" {
		f.OpenBeyond(why)
	}
}

// leftOpenOf is what is left open of a number of a finding: of its own or of the second
// one, as number says. why says what cannot be told.
func leftOpenOf(f, of *Finding, all []ends, b *project.Build, number func(*Finding) *Finding) (n uncertain.Number, why string) {
	part := partOf(f.ID)
	var by []uncertain.Weighted
	for k := range all {
		e := &all[k]
		switch {
		case !e.of.to.has(f, part, b):
		case e.err != nil:
			if why == "" {
				why = "within " + e.of.within + ": " + e.err.Error()
			}
		case e.at[0] != nil:
			n, err := of.Opens(finding.Ends{Of: e.of.Of, Within: e.of.within, Low: number(e.at[0].findingOf(f.ID)), High: number(e.at[1].findingOf(f.ID))})
			if err != nil && why == "" {
				why = err.Error()
			}
			by = append(by, uncertain.Weighted{K: 1, N: n})
		}
	}
	return uncertain.Sum(by...), why
}

// findingOf is the finding with that id, nil where there is none.
func (a *Assessment) findingOf(id string) *Finding {
	if i, ok := a.byID[id]; ok {
		return &a.Findings[i]
	}
	for i := range a.Plans {
		if a.Plans[i].ID == id {
			return &a.Plans[i]
		}
	}
	for i := range a.Findings {
		if a.byID == nil && a.Findings[i].ID == id {
			return &a.Findings[i]
		}
	}
	return nil
}

// openLoaded gives the joint angles with the powertrain's weight on its mounts what
// the stated values leave open of them that the plan as built does not have.
func (a *Assessment) openLoaded() {
	loaded := a.mounts.Isolators.Loaded
	if len(loaded) == 0 {
		return
	}
	all := a.ends(OfLines, throughStands)
	for k := range loaded {
		var planned *Line
		for i := range a.Lines {
			if a.Lines[i].Name == loaded[k].Line {
				planned = &a.Lines[i]
			}
		}
		for i := range loaded[k].Joints {
			m := &loaded[k].Joints[i]
			for _, e := range all {
				if line := e.of.to.line; e.err != nil && (line == "" || line == loaded[k].Line) {
					*m = finding.Missing("within " + e.of.within + ": " + e.err.Error())
				}
				if !m.Known || e.at[0] == nil || e.at[0].as.leavesOut(loaded[k].Line) || planned == nil || i >= len(planned.Joints) || e.of.Of.In(planned.Joints[i].Planned.Number) {
					continue
				}
				low, ok := e.at[0].loadedAt(k, i)
				high, ok2 := e.at[1].loadedAt(k, i)
				if !ok || !ok2 {
					*m = finding.Missing("within " + e.of.within + " the powertrain does not come to rest on its mounts")
					break
				}
				*m = finding.Of(m.Plus(e.of.Of.Within(0, e.of.Of.EndsOf(m.V, low, high).Off).Number))
			}
		}
	}
}

func (a *Assessment) loadedAt(line, joint int) (float64, bool) {
	l := a.mounts.Isolators.Loaded
	if line >= len(l) || joint >= len(l[line].Joints) {
		return 0, false
	}
	return l[line].Joints[joint].V, l[line].Joints[joint].Known
}

// statedOf are the ± that the file of b states: those of the build that was
// prepared, but for values that were given anew.
func (p *Prepared) statedOf(b *project.Build) []finding.StatedSource {
	if b == p.Build || len(p.stated.Each) == 0 {
		return p.stated.Each
	}
	var out []finding.StatedSource
	now, in := map[string]float64{}, map[string]bool{}
	for _, v := range p.stated.Each {
		in[v.Path[:strings.IndexAny(v.Path+".", ".[")]] = true
	}
	for _, v := range b.StatedValuesIn(in) {
		now[v.Path] = v.Half
	}
	for _, v := range p.stated.Each {
		if half, ok := now[v.Path]; ok && half == v.Half {
			out = append(out, v)
		}
	}
	return out
}

// besideNothing is p without what is left open of findings beside what their trades
// take along.
func (p *Prepared) besideNothing() *Prepared {
	q := *p
	q.open = nil
	return &q
}
