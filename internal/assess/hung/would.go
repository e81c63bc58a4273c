package hung

import (
	"slices"

	"fitup/internal/geom"
	"fitup/internal/project"
)

// Would is what a line would read, mm, by all that was measured; false where that does not
// say, or it is no line to a mark.
func (p *Powertrain) Would(l Line) (float64, bool) {
	if p.would == nil {
		return 0, false
	}
	return p.would(l)
}

// expects makes Would of what was found.
func (h *hanging) expects() {
	h.would = func(l Line) (float64, bool) {
		all := *h.Powertrain // what is asked says nothing of what was measured
		own := *h
		own.Powertrain, own.bodies = &all, slices.Clone(h.bodies)
		o, why := own.measured(l)
		if why != "" {
			return 0, false
		}
		m := own.bound(&o, h.fit.freed)
		if _, ok := own.partials(func(poses []geom.Pose) float64 { return m.Shown(poses...) }); !ok {
			return 0, false
		}
		return m.Shown(h.fit.poses...), true
	}
}

// Untaken is a line to a mark that was not measured.
type Untaken struct {
	As       project.SurveyLine
	From, To string
	With     project.Instrument // the tool that the others were measured with
	Would    float64            // what it would read, mm
}

// Free are the lines to marks that could be measured and were not: from the points that any
// was measured from to the marks of the same body, tapes and heights, each with what it
// would read.
func (p *Powertrain) Free(b *project.Build) []Untaken {
	from, with := map[int][]string{}, map[int]project.Instrument{}
	type line struct {
		as       project.SurveyLine
		from, to string
	}
	was := map[line]bool{}
	body := func(path string) int {
		if b.Marks(path) {
			return PowertrainBody
		}
		if l, ok := b.AxleMarked(path); ok {
			return 1 + l // of the file's lines
		}
		return -1
	}
	for i := range b.Measurements {
		m := &b.Measurements[i]
		k := body(m.To)
		if !m.Surveys() || k < 0 || b.Marks(m.From) || body(m.From) > 0 {
			continue
		}
		if !slices.Contains(from[k], m.From) {
			from[k] = append(from[k], m.From)
		}
		with[k] = m.With
		was[line{m.Line(), m.From, m.To}] = true
	}
	var out []Untaken
	add := func(k int, marks []project.Mark) {
		for _, mark := range marks {
			for _, at := range from[k] {
				for _, as := range []project.SurveyLine{project.HeightLine, project.DistanceLine} {
					l := Line{As: as, From: at, To: mark.At}
					if was[line{as, at, mark.At}] || mark.At == "" {
						continue
					}
					if v, ok := p.Would(l); ok {
						out = append(out, Untaken{as, at, mark.At, with[k], v})
					}
				}
			}
		}
	}
	add(PowertrainBody, b.MarksOnPowertrain())
	for i := range b.Lines {
		add(1+i, b.Lines[i].MarksOnAxle())
	}
	return out
}
