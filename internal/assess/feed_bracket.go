package assess

import (
	"fmt"
	"slices"

	"fitup/internal/abreast"
	"fitup/internal/assess/bracket"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/shop"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// To the bracket trade: the pose, what each mount carries in every load case and in
// a reverse gear that is not in the file, and the welds of the map. From it: legs to
// be cut.

// What is known about brackets goes by the same names here.
type (
	// Bracket is the leg of one mount: how it stands, how it is cut and what it
	// carries.
	Bracket = bracket.Bracket
	// BracketRow is one number of a bracket as a screen or a sheet shows it.
	BracketRow = bracket.Row
	// Adapter is the plate between the bosses of the block and a mount's isolator.
	Adapter = bracket.Adapter
	// MatchRow is one line of the table that holds a leg against the mirror image
	// of the other side's.
	MatchRow = bracket.MatchRow
	// PlateWork is a plate at an end of a leg, ready to be cut out.
	PlateWork = bracket.PlateWork
	// SheetWork is another flat plate of a mount of several members.
	SheetWork = bracket.SheetWork
	// FootDrill is what has to be drilled under the foot of a mount.
	FootDrill = bracket.FootDrill
	// SaddleEnd is the rail end of a round leg that stands on a round crossmember.
	SaddleEnd = bracket.SaddleEnd
	// Wrap is a paper template wrapped around one end of a round leg.
	Wrap = bracket.Wrap
	// MemberCut is one member of a mount of several, to be cut.
	MemberCut = bracket.MemberCut
	// Strength is what a bracket uses of its strength.
	Strength = bracket.Strength
)

// brackets works out the legs of the mounts and what they use of their strength.
func (a *Assessment) brackets() {
	a.legs = a.ready.legs.At(a.Pose, a.bracketLoads())
	a.Brackets, a.Adapters = a.legs.Brackets, a.legs.Adapters
	if only := a.as.to.brackets(a.Build); a.as.end && only != nil {
		for i := range a.Brackets {
			if !slices.Contains(only, a.Brackets[i].Name) {
				a.Brackets[i] = a.as.of.Brackets[i] // the same
			}
		}
	}
	for _, name := range a.Build.CornerNames() { // where the pad is taken to be goes with all that is said of it
		says := a.ready.cornerSays[name]
		for i := range a.legs.Findings {
			f := &a.legs.Findings[i]
			if !finding.AboutBracket(f.ID, name) {
				continue
			}
			if f.Group = finding.SubframeBrackets; says != "" && !slices.Contains(f.Assumes, says) {
				f.Assumes = append(f.Assumes[:len(f.Assumes):len(f.Assumes)], says)
			}
		}
	}
	a.take(finding.BracketTrade, a.legs.Findings)
}

// onlyBrackets are the mounts whose brackets are asked for; nil for all.
func (a *Assessment) onlyBrackets() []string {
	if a.aim.mount != "" {
		return []string{a.aim.mount}
	}
	return a.as.to.brackets(a.Build)
}

// Bracket returns the leg of a mount.
func (a *Assessment) Bracket(name string) (Bracket, bool) { return a.legs.Bracket(name) }

// MatchOf returns the leg of the mount other made after that of the mount
// first, whatever the file says about other's own leg.
func (a *Assessment) MatchOf(first, other string) (Bracket, error) {
	return a.legs.MatchOf(first, other)
}

// bracketLoads are what the mounts that have a leg put on it.
func (a *Assessment) bracketLoads() bracket.Loads {
	out := bracket.Loads{Only: a.onlyBrackets(), Open: a.Statics.TorqueWhy, Assumes: a.mounts.LoadAssumes(), InReverse: a.inReverse, WithoutReverse: a.mounts.WithoutReverse}
	if a.abreast && a.Statics.ReverseWhy == "" { // else the mounts are asked for what reverse makes of it
		out.Each = abreast.Each
	}
	for _, m := range a.Build.Mounts {
		if !m.HasBracket() && !m.Adapter.Begun() || out.Only != nil && !slices.Contains(out.Only, m.Name) {
			continue
		}
		if l, ok := a.mountLoad(m.Name); ok {
			out.Mounts = append(out.Mounts, l)
		}
	}
	return out
}

// mountLoad returns what the mount of that name puts on its bracket in each
// load case, the powertrain at rest on its springs, or why that is not known;
// false where nothing carries there.
func (a *Assessment) mountLoad(name string) (out bracket.MountLoad, ok bool) {
	if load, ok := a.ready.corners[name]; ok {
		return load, true
	}
	if m := a.Build.Mount(name); m.Support() {
		return a.supportLoad(&m), true
	}
	s := &a.Statics
	out.Mount = name
	i := s.Index(name)
	switch {
	case s.Why != "":
		out.Why = s.Why
	case s.Partial != "":
		out.Why = s.Partial
	case i >= 0 && len(s.Mounts[i].Force) > 0:
		out.At = s.Mounts[i].At.V
		of := func(force func(c int) r3.Vec) []bracket.Case {
			cases := make([]bracket.Case, len(s.Cases))
			for c := range cases {
				cases[c] = bracket.Case{Name: s.Cases[c].Name, Force: r3.Scale(-1, force(c))}
			}
			return cases
		}
		out.Cases = of(func(c int) r3.Vec { return s.Mounts[i].Force[c] })
		out.Rates = a.ready.rates
		if a.as.end { // what estimated rates leave open of a number there is not asked
			return out, true
		}
		for _, w := range s.Swings {
			out.Swings = append(out.Swings, [2][]bracket.Case{
				of(func(c int) r3.Vec { return w.Low[c][i] }), of(func(c int) r3.Vec { return w.High[c][i] }),
			})
		}
	case !s.Body.Known:
		out.Why = s.Body.Why
	default:
		return out, false
	}
	return out, true
}

// inReverse is what a reverse gear of that ratio puts on the bracket of a mount;
// false where the powertrain does not stay up.
func (a *Assessment) inReverse(mount string, ratio float64, open bool) (bracket.MountLoad, bool) {
	i := a.Statics.Index(mount)
	if i < 0 {
		return bracket.MountLoad{}, false
	}
	loads, force, swings, err := a.mounts.ReverseForces(i, ratio, open)
	if err != nil {
		return bracket.MountLoad{}, false
	}
	of := func(force []r3.Vec) []bracket.Case {
		cases := make([]bracket.Case, len(loads))
		for c := range cases {
			cases[c] = bracket.Case{Name: loads[c].Name, Force: r3.Scale(-1, force[c])}
		}
		return cases
	}
	out := bracket.MountLoad{Mount: mount, Cases: of(force), Rates: a.ready.rates}
	for _, s := range swings {
		out.Swings = append(out.Swings, [2][]bracket.Case{of(s[0]), of(s[1])})
	}
	return out, true
}

// madeWelds are the welds of the map as the brackets that they hold take them.
func madeWelds(b *project.Build) []bracket.MadeWeld {
	out := make([]bracket.MadeWeld, len(b.Welds))
	for i, w := range b.Welds {
		s := shop.WeldOf(i, w)
		out[i] = bracket.MadeWeld{
			Bracket: w.Bracket, At: w.At, Part: w.Part, Path: fmt.Sprintf("weld.%d.part", i+1), Begun: s.State != project.NoWeld, Sides: len(w.Sides), Carrying: len(w.Carrying()),
			Open: s.Open, Carries: s.Carries, AllSides: s.AllSides,
		}
		for _, side := range w.Sides {
			made := bracket.MadeSide{Name: side.Name}
			if side.Carries() {
				made.Carries = side.Length.Or(0)
			}
			out[i].Each = append(out[i].Each, made)
			if !side.Length.Known() {
				out[i].Lacks = append(out[i].Lacks, fmt.Sprintf("weld.%d.side.%s.length", i+1, side.Name))
			}
		}
	}
	return out
}
