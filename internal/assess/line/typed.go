package line

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// typed is a ± that was typed of something a line is planned from: by is its
// error, and shift moves what the line is planned from by so much.
type typed struct {
	what  string // behind the line's name: pinion.slope
	by    uncertain.Number
	shift func(f *frame, by float64)
}

// typedOf are the ± that the file states of what a line is planned from.
func (p *Prepared) typedOf() (out []typed) {
	l, n, name := p.file, p.file.JointCount(), "line."+p.file.Name
	add := func(path string, shift func(f *frame, by float64)) {
		if by, ok := p.Stated.By(path); ok {
			out = append(out, typed{strings.TrimPrefix(path, name+"."), by, shift})
		}
	}
	point := func(path string, at project.Point, of func(f *frame) *r3.Vec) {
		for _, t := range p.Build.TermsOf(path, at) {
			add(t.Path, func(f *frame, by float64) { *of(f) = r3.Add(*of(f), r3.Scale(by, t.Dir)) })
		}
	}
	if p.frame.hangs {
		if l.Output.Known {
			turned := project.Turning{By: l.Turned}.Pose()
			for _, t := range p.Build.TermsOf(name+".output", l.Output) {
				add(t.Path, func(f *frame, by float64) { f.output = r3.Add(f.output, r3.Scale(by, turned.Dir(t.Dir))) })
			}
		} else {
			point("powertrain.output", p.Build.Powertrain.Output, func(f *frame) *r3.Vec { return &f.output })
		}
		add(name+".output_slope", func(f *frame, by float64) {
			f.dir = l.OutputDirAt(l.OutputSlope.Or(0) + by)
		})
	}
	add(name+".output_spacer", func(f *frame, by float64) { f.spacer[0] += by })
	add(name+".pinion.spacer", func(f *frame, by float64) { f.spacer[1] += by })
	for i := range n {
		if last := i == n-1; i == 0 && p.frame.hangs || last && l.Pinion.At.Known {
			continue
		}
		point(fmt.Sprintf("%s.joint[%d].at", name, i), l.Joint(i).At, func(f *frame) *r3.Vec { return &f.chain.Joints[i].At })
	}
	for _, s := range p.Survey {
		if p.moves(s) {
			out = append(out, typed{"survey", s.By, func(f *frame, by float64) { p.shift(f, s, by) }})
		}
	}
	if l.Pinion.At.Known {
		point(name+".pinion.at", l.Pinion.At, func(f *frame) *r3.Vec { return &f.chain.Joints[n-1].At })
	}
	axis := func(path string, slope, heading float64, set func(f *frame, d r3.Vec)) {
		add(path+".slope", func(f *frame, by float64) { set(f, geom.Direction(geom.Angle(slope+by), geom.Angle(heading))) })
		add(path+".heading", func(f *frame, by float64) { set(f, geom.Direction(geom.Angle(slope), geom.Angle(heading+by))) })
	}
	axis(name+".pinion", l.Pinion.Slope.Or(0), l.Pinion.Heading.Or(0), func(f *frame, d r3.Vec) { f.chain.Out = f.ahead(d) })
	if !p.frame.hangs {
		axis(name+".first", l.First.Slope.Or(0), l.First.Heading.Or(0), func(f *frame, d r3.Vec) { f.chain.In = f.ahead(d) })
	}
	return out
}

// moves reports whether an error of the survey moves a joint of the line.
func (p *Prepared) moves(s finding.Shift) bool {
	for i := range p.file.JointCount() {
		if s.Moves(p.joint(i)) != (r3.Vec{}) {
			return true
		}
	}
	return false
}

// shift moves the joints that the survey places by so much of an error of it.
func (p *Prepared) shift(f *frame, s finding.Shift, by float64) {
	for i := range f.chain.Joints {
		f.chain.Joints[i].At = r3.Add(f.chain.Joints[i].At, r3.Scale(by, s.Moves(p.joint(i))))
	}
}

// joint is the point of the file that a joint's place is from; none for the first
// joint of a line that hangs on the powertrain.
func (p *Prepared) joint(i int) project.Point {
	switch n := p.file.JointCount(); {
	case i == 0 && p.frame.hangs:
		return project.Point{}
	case i == n-1 && p.file.Pinion.At.Known:
		return p.file.Pinion.At
	}
	return p.file.Joint(i).At
}

// besidePlan is the planned line with one typed value a standard uncertainty up.
type besidePlan = finding.Beside[shaft.Chain]

// chainsBeside are the planned line with one typed value after the other a
// standard uncertainty up.
func (a *judge) chainsBeside() ([]besidePlan, error) {
	var out []besidePlan
	for _, t := range a.typed {
		f := a.frame
		f.chain.Joints = slices.Clone(f.chain.Joints)
		t.shift(&f, t.by.U())
		c, err := f.at(a.Pose)
		if err != nil {
			return nil, err
		}
		out = append(out, besidePlan{V: c, By: t.by})
	}
	if !a.frame.hangs {
		return out, nil
	}
	for _, b := range a.Beside {
		c, err := a.frame.at(finding.Maybe[geom.Pose]{V: b.V, Known: true})
		if err != nil {
			return nil, err
		}
		out = append(out, besidePlan{V: c, By: b.By})
	}
	return out, nil
}

// openPlan gives what is planned the ± of what was typed with one.
func (a *judge) openPlan() error {
	beside, err := a.chainsBeside()
	if err != nil || len(beside) == 0 {
		return err
	}
	a.opened = true
	out := a.out
	slopes, headings := make([][]uncertain.Weighted, len(out.Axes)), make([][]uncertain.Weighted, len(out.Axes))
	lengths := make([][]uncertain.Weighted, len(out.Shafts))
	for _, b := range beside {
		axes, err := b.V.Line().Axes()
		if err != nil {
			return fmt.Errorf("within the ± that were typed: %w", err)
		}
		for i, d := range axes {
			d = a.frame.ahead(d)
			was := a.frame.ahead(a.axes[i])
			slopes[i] = append(slopes[i], b.Slope(0, turnFrom(geom.Slope(was), geom.Slope(d))))
			headings[i] = append(headings[i], b.Slope(0, turnFrom(geom.Heading(was), geom.Heading(d))))
		}
		for i := range lengths {
			lengths[i] = append(lengths[i], b.Slope(out.Shafts[i].Length.V, lengthOf(b.V, i)))
		}
	}
	for i := range out.Axes {
		x := &out.Axes[i]
		x.Planned = finding.Of(uncertain.Smooth(x.Planned.V, slopes[i]...))
		x.Heading = finding.Of(uncertain.Smooth(x.Heading.V, headings[i]...))
	}
	for i := range out.Shafts {
		out.Shafts[i].Length = finding.Of(uncertain.Smooth(out.Shafts[i].Length.V, lengths[i]...))
	}
	for i := range out.Joints {
		out.Joints[i].Planned = angleBetween(out.Axes[i].asPlanned(), out.Axes[i+1].asPlanned())
	}
	for i := range out.Shafts {
		out.Shafts[i].MismatchPlanned = out.Joints[i].Planned.Apart(out.Joints[i+1].Planned)
	}
	return nil
}

func lengthOf(c shaft.Chain, i int) float64 { return r3.Norm(r3.Sub(c.Joints[i+1].At, c.Joints[i].At)) }

// openedAssumes says on what rests on the plan that only some of it has a ±.
func (a *judge) openedAssumes() {
	if !a.opened || a.Light {
		return
	}
	own := a.own()
	for i := range own {
		if f := &own[i]; f.Basis == finding.Planned && !f.Moved && f.HasValue && f.Uncertainty > 0 {
			f.Assumes = append(f.Assumes[:len(f.Assumes):len(f.Assumes)], "of the plan only the ± typed in the file")
		}
	}
}
