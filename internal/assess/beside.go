package assess

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"fitup/internal/assess/bracket"
	"fitup/internal/assess/clear"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/line"
	"fitup/internal/assess/mount"
	"fitup/internal/assess/rail"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// leftOpen is one thing that the file leaves open, independent of all others: a value
// with a ±, or an error of the survey, which moves all points that it is behind.
type leftOpen struct {
	finding.StatedSource        // of a value; zero but for Of of an error of the survey
	within               string // what its ± is called in a sentence
	to                   reach
	at                   [2]*beside // the build at the low and the high end of it
}

// beside is the build at an end of one thing that it leaves open.
type beside struct {
	vary func(*project.Build) (*project.Build, error)
	to   reach
	goes bool                      // the powertrain stands elsewhere in it
	made func() (*Prepared, error) // beside the build as it was prepared
}

// leftOpenIn is all that the file leaves open that p is of: narrowed says what a value
// has to do with, by its path, and reachOf what an error of the survey has.
func (p *Prepared) leftOpenIn(narrowed func(path string) reach, reachOf func(finding.Shift) (reach, bool)) []leftOpen {
	out := make([]leftOpen, 0, len(p.stated.Each)+len(p.places.shifts))
	add := func(o leftOpen, at func(end float64) func(*project.Build) (*project.Build, error)) {
		for i, end := range [2]float64{-1, 1} {
			s := &beside{vary: at(end), to: o.to, goes: strings.HasPrefix(o.Path, "placement.")}
			s.made = sync.OnceValues(func() (*Prepared, error) {
				varied, err := s.vary(p.Build)
				if err != nil {
					return nil, err
				}
				return p.prepareBeside(varied, o.to), nil
			})
			o.at[i] = s
		}
		out = append(out, o)
	}
	for _, v := range p.stated.Each {
		to, at := narrowed(v.Path), func(float64) map[string]r3.Vec { return nil }
		for _, s := range p.places.shifts {
			if s.Value != v.Path { // what the survey hangs on moves with its places
				continue
			}
			if places, moves := reachOf(s); moves {
				to = to.with(places)
			}
			at = func(end float64) map[string]r3.Vec { return p.places.moved(s, end*v.Half/v.Error().U()) }
		}
		add(leftOpen{StatedSource: v, within: "the ± of " + v.Path, to: to}, func(end float64) func(*project.Build) (*project.Build, error) {
			places := at(end)
			return func(b *project.Build) (*project.Build, error) {
				varied, err := b.Varied(v.Path, end*v.Half)
				if err != nil || places == nil {
					return varied, err
				}
				return varied.WithPlaces(places), nil
			}
		})
	}
	for _, s := range p.places.shifts {
		to, moves := reachOf(s)
		if !moves || s.Value != "" {
			continue
		}
		add(leftOpen{StatedSource: finding.StatedSource{Of: s.Of}, within: "the survey's ±", to: to}, func(end float64) func(*project.Build) (*project.Build, error) {
			at := p.places.moved(s, 2*end)
			return func(b *project.Build) (*project.Build, error) { return b.WithPlaces(at), nil }
		})
	}
	return out
}

// moved are the places that the survey finds with an error of it so many standard
// uncertainties up.
func (p *places) moved(s finding.Shift, by float64) map[string]r3.Vec {
	out := maps.Clone(p.at)
	for path, d := range s.At {
		out[path] = r3.Add(out[path], r3.Scale(by, d))
	}
	return out
}

// prepareBeside is what p is for a build that differs in what reaches so far: for
// values alone, and what does not follow from that is p's.
func (p *Prepared) prepareBeside(b *project.Build, to reach) *Prepared {
	q := *p
	q.Build, q.open, q.stated, q.sources = b, nil, new(finding.Stated), p.reads.Fork()
	if to.parts&OfPickups != 0 {
		q.pickups = pickupsOf(b, p.pickups)
	}
	if to.parts&OfLegs != 0 {
		q.loadCorners()
		q.legs = bracket.Prepare(b, madeWelds(b))
	}
	if to.parts&(OfRoom|OfMoving) != 0 {
		q.room = clear.Prepare(b, p.rates, nil, q.fixedBodies()...)
	}
	if to.parts&(OfStands|OfLoads|OfRide|OfShake) != 0 {
		q.mounts = mount.Prepare(b, roundTyres(b), q.sources, p.rates)
	}
	if to.parts&OfRails != 0 {
		q.rails = rail.Prepare(b, p.rails)
	}
	switch {
	case to.parts&OfLines == 0 || to.built:
		return &q
	case to.axes && to.hangs:
		q.readAnew(b)
	case to.axes:
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
	switch {
	case !b.end:
		return false
	case step == OfLines && b.to.built && a.taken == 0:
		a.Lines, a.Findings = slices.Clone(b.of.asBuilt.lines), append(a.Findings, b.of.asBuilt.findings...)
		a.Plans = append(a.Plans, b.of.asBuilt.plans...)
		return true
	case b.to.parts&step != 0, step == OfRoom && b.to.parts&OfMoving != 0:
		return false
	}
	switch step {
	case OfLines:
		a.Lines = b.of.Lines
	case OfLegs:
		a.legs, a.Brackets, a.Adapters = b.of.legs, b.of.Brackets, b.of.Adapters
	case OfStands:
		a.mounts, a.Statics, a.Isolators = b.of.mounts, b.of.Statics, b.of.Isolators
	}
	return true
}

// asBuilt are lines before the weight is on the mounts.
type asBuilt struct {
	lines           []Line
	findings, plans []Finding
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
	moved := *q.Build
	moved.Placement, moved.Readings = b.Placement, b.Readings
	asPrepared := sameLines(b, p.Build) && len(b.Readings) == len(p.Build.Readings)
	if asPrepared && !s.goes {
		return q.begin(&moved, which), nil
	}
	varied, err := s.vary(b)
	if err != nil {
		return nil, err
	}
	if !asPrepared {
		return p.prepareBeside(varied, reach{parts: judged, axes: true}).begin(varied, which), nil
	}
	moved.Placement, moved.Readings = varied.Placement, varied.Readings
	return q.begin(&moved, which), nil
}
