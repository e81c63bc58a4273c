package assess

import (
	"slices"
	"strconv"
	"strings"
	"sync"

	"fitup/internal/assess/bracket"
	"fitup/internal/assess/clear"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/line"
	"fitup/internal/assess/mount"
	"fitup/internal/assess/rail"
	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// Every ± that the file states reaches every finding. Lines and the room round the
// powertrain as built take those of places along themselves, since they know
// directions by all their components. All else is worked out once more with each
// value at either end of its ±, by the same calculation from the build on, and what
// that changes in a finding is what the value leaves open of it.

// beside is the build with one value of which the file states a ± at an end of it.
type beside struct {
	path string
	by   float64
	made func() (*Prepared, error) // beside the build as it was prepared
}

// besidesOf are the builds beside that of p, two for each value: low and high.
func (p *Prepared) besidesOf() map[string][2]*beside {
	out := make(map[string][2]*beside, len(p.stated.Each))
	narrow := sync.OnceValue(p.narrowed)
	for _, v := range p.stated.Each {
		var pair [2]*beside
		for end, by := range [2]float64{-v.Half, v.Half} {
			pair[end] = &beside{path: v.Path, by: by, made: sync.OnceValues(func() (*Prepared, error) {
				varied, err := p.Build.Varied(v.Path, by)
				if err != nil {
					return nil, err
				}
				return p.prepareBeside(varied, v.Path, narrow()(v.Path)), nil
			})}
		}
		out[v.Path] = pair
	}
	return out
}

// prepareBeside is what p is for a build that differs in the value at a path, which
// reaches so far: for values alone, and what does not follow from that one is p's.
func (p *Prepared) prepareBeside(b *project.Build, path string, to reach) *Prepared {
	q := *p
	q.Build, q.besides, q.stated, q.sources = b, nil, new(finding.Stated), p.reads.Fork()
	table, _, _ := strings.Cut(path, ".")
	table, _, _ = strings.Cut(table, "[")
	q.places.shifts = nil
	q.room = clear.Prepare(b, nil, p.rates, nil)
	if to.parts&(OfStands|OfLoads|OfRide) != 0 {
		q.mounts = mount.Prepare(b, roundTyres(b), q.sources, p.rates)
	}
	if to.parts&OfLegs != 0 {
		q.legs = bracket.Prepare(b, madeWelds(b))
	}
	if to.parts&OfRails != 0 {
		q.rails = rail.Prepare(b)
	}
	switch {
	case to.parts&OfLines == 0:
		return &q
	case table == "placement" || table == "powertrain" || table == "point":
		q.prepareLines(b)
	default:
		q.across.Build, q.across.Stated, q.across.Survey = b, nil, nil
		q.lines = slices.Clone(p.lines)
		for i, l := range b.Lines {
			if to.line == "" || to.line == l.Name {
				q.lines[i] = line.Prepare(q.across, l)
			}
		}
	}
	q.prepareTravelOf(b, to.line)
	return &q
}

// beyond says that an assessment is of the build at an end of a ±, and how much of it
// is worked out.
type beyond struct {
	end bool
	to  reach
	of  *Assessment // the one in the middle
}

// same takes over what the value does not reach, and reports whether that was a step.
func (b beyond) same(a *Assessment, step Which) bool {
	if !b.end || b.to.parts&step != 0 || step == OfRoom && b.to.parts&OfMoving != 0 {
		return false
	}
	switch step {
	case OfLines:
		a.Lines = b.of.Lines
	case OfStands:
		a.mounts, a.Statics, a.Isolators = b.of.mounts, b.of.Statics, b.of.Isolators
	}
	return true
}

// leavesOut reports whether a line is not worked out.
func (b beyond) leavesOut(line string) bool { return b.to.line != "" && b.to.line != line }

// begin begins to assess the build beside b, which is what was prepared in p with
// other places at most.
func (s *beside) begin(p *Prepared, b *project.Build, which Which) (*Assessment, error) {
	q, err := s.made()
	if err != nil || b == p.Build {
		if err != nil {
			return nil, err
		}
		return q.begin(q.Build, which), nil
	}
	varied, err := b.Varied(s.path, s.by)
	if err != nil {
		return nil, err
	}
	if !sameLines(b, p.Build) || len(b.Readings) != len(p.Build.Readings) {
		return p.prepareBeside(varied, s.path, reach{parts: judged}).begin(varied, which), nil
	}
	moved := *q.Build
	moved.Placement, moved.Readings = varied.Placement, varied.Readings
	return q.begin(&moved, which), nil
}

// ends is what a build comes to with one value at the two ends of its ±.
type ends struct {
	of    finding.StatedSource
	reach reach
	at    [2]*Assessment // nil where it is not asked for, or err says why not
	err   error
}

// ends are those of every value of which the file states a ±, as far as they have to
// do with what is asked for and with the parts, through so many steps.
func (a *Assessment) ends(of Which, through int) []ends {
	if a.ready.besides == nil {
		return nil
	}
	if a.atEnds == nil {
		narrow := a.ready.narrowed()
		a.atEnds = make([]ends, len(a.stated))
		for i, v := range a.stated {
			a.atEnds[i] = ends{of: v, reach: narrow(v.Path)}
		}
	}
	for i := range a.atEnds {
		e := &a.atEnds[i]
		which := a.asked & e.reach.parts
		if which&of == 0 {
			continue
		}
		for end, s := range a.ready.besides[e.of.Path] {
			if e.err == nil && e.at[end] == nil {
				if e.at[end], e.err = s.begin(a.ready, a.Build, which.whole()); e.err != nil {
					e.at = [2]*Assessment{}
					break
				}
				e.at[end].as = beyond{true, e.reach, a}
			}
			if e.err == nil {
				e.at[end].goOn(through)
			}
		}
	}
	return a.atEnds
}

// reach is what a value of the file has to do with: parts, and one line only where it
// is named, or one piece of the vehicle.
type reach struct {
	parts Which
	line  string
	piece string // the id of the room to a piece of the vehicle, where it is of that one; else ""
}

// What is judged is judged by more than it was measured by.
const judged = Everything &^ (OfFrame | OfLists)

// narrowed returns what values of its build have to do with, by their paths. Where nothing
// narrower is known that is all.
func (p *Prepared) narrowed() func(path string) reach {
	b := p.Build
	places := map[string]bool{} // what measured points rest on, and so anything
	for _, p := range b.Points {
		placed, _ := b.PointNamed(p.Path())
		for _, t := range placed.Terms {
			places[t.Path] = true
		}
	}
	return func(path string) reach {
		table, rest, _ := strings.Cut(path, ".")
		name, key, _ := strings.Cut(rest, ".")
		key, _, _ = strings.Cut(key, ".")
		key, _, _ = strings.Cut(key, "[")
		switch {
		case places[path]:
		case table == "line" && slices.Contains([]string{"suspension", "pinion", "joint", "shaft", "first", "output", "output_slope"}, key):
			return reach{parts: OfLines | OfTravel | OfMoving, line: name}
		case strings.HasPrefix(path, "chassis["):
			return reach{parts: OfRoom | OfMoving, piece: p.room.PieceAt(path)}
		case strings.HasPrefix(path, "powertrain.part["):
			return reach{parts: OfRoom | OfMoving}
		case table == "rails":
			return reach{parts: OfLegs | OfCuts | OfRails}
		case table == "stock" || table == "shop" || table == "mount" && key == "leg":
			return reach{parts: OfLegs | OfCuts}
		case table == "old_powertrain":
			return reach{parts: OfStands | OfLoads | OfRide}
		}
		return reach{parts: judged}
	}
}

// carry gives every finding what the stated values leave open of it.
func (a *Assessment) carry() {
	if a.as.end {
		return
	}
	all := a.ends(judged, throughValues)
	if len(all) > 0 || len(a.ready.places.shifts) > 0 {
		a.overRails = map[string]Number{}
		for _, mount := range frontPads() {
			a.overRails[mount] = a.overRail(mount, all)
		}
	}
	if len(all) == 0 {
		return
	}
	defer func() { a.atEnds = nil }() // they are large, and all that is asked of them is known
	for i := range all {
		for _, b := range all[i].at {
			if b != nil {
				b.index()
			}
		}
	}
	room := a.takenByRoom()
	for _, list := range [][]Finding{a.Findings, a.Plans} {
		for i := range list {
			f := &list[i]
			if !f.HasValue || f.By == finding.FrameTrade || f.By == finding.ReadingTrade {
				continue // what was measured has its own ±
			}
			still := finding.Matches(finding.Clearance("*"), f.ID)
			part := partOf(f.ID)
			var by []uncertain.Weighted
			why := ""
			for k := range all {
				e := &all[k]
				switch {
				case still && room[e.of.Path]:
				case !e.reach.to(f, part):
				case e.err != nil:
					if why == "" {
						why = "within the ± of " + e.of.Path + ": " + e.err.Error()
					}
				case e.at[0] != nil:
					n, err := f.Opens(finding.Ends{Of: e.of, Low: e.at[0].findingOf(f.ID), High: e.at[1].findingOf(f.ID)})
					if err != nil && why == "" {
						why = err.Error()
					}
					by = append(by, uncertain.Weighted{K: 1, N: n})
				}
			}
			f.Open(uncertain.Sum(by...))
			if why != "" {
				f.OpenBeyond(why)
			}
		}
	}
}

// to reports whether the value has to do with a finding of that part.
func (r reach) to(f *Finding, part Which) bool {
	if r.piece != "" && f.ID != r.piece && !strings.HasPrefix(f.ID, r.piece+".") {
		return false
	}
	if r.line != "" && part != OfMoving && !strings.HasPrefix(f.ID, "line."+r.line+".") {
		return false
	}
	return r.parts&part != 0
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
	return nil
}

// takenByRoom are the stated values that the room to what stands still, as built, takes
// along itself: where the pieces are.
func (a *Assessment) takenByRoom() map[string]bool {
	b, out := a.Build, map[string]bool{}
	take := func(path string, p project.Point) {
		for _, t := range b.TermsOf(path, p) {
			out[t.Path] = true
		}
	}
	for i, c := range b.Chassis {
		at := "chassis[" + strconv.Itoa(i) + "]."
		take(at+"from", c.From)
		take(at+"to", c.To)
		take(at+"at", c.At)
		take(at+"on", c.On)
	}
	for i, c := range b.Powertrain.Parts {
		at := "powertrain.part[" + strconv.Itoa(i) + "]."
		take(at+"from", c.From)
		take(at+"to", c.To)
		take(at+"at", c.At)
	}
	return out
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
				if !m.Known || e.at[0] == nil || e.reach.line != "" || planned == nil || i >= len(planned.Joints) || e.of.In(planned.Joints[i].Planned.Number) {
					continue
				}
				low, ok := e.at[0].loadedAt(k, i)
				high, ok2 := e.at[1].loadedAt(k, i)
				if !ok || !ok2 {
					*m = finding.Missing("within the ± of " + e.of.Path + " the powertrain does not come to rest on its mounts")
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
	now := map[string]float64{}
	for _, v := range b.StatedValues() {
		now[v.Path] = v.Half
	}
	for _, v := range p.stated.Each {
		if half, ok := now[v.Path]; ok && half == v.Half {
			out = append(out, v)
		}
	}
	return out
}

// besideNothing is p without what the stated values leave open of findings beside
// what their trades take along.
func (p *Prepared) besideNothing() *Prepared {
	q := *p
	q.besides, q.places.shifts = nil, nil
	return &q
}
