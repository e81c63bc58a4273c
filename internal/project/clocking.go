package project

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// ClockedCase is a transfer case bolted to the gearbox, which can be turned on it about its
// input: its outputs, its pieces and the mounts on it go round with it. Powertrain's own
// frame; the axis runs along it.
type ClockedCase struct {
	About  Point           `toml:"about" doc:"a point on the axis that it is turned about, own frame: the middle of its input" need:"yes"`
	Lines  []string        `toml:"lines" doc:"the lines that begin at it, each with an output of its own" offers:"lines"`
	Parts  []string        `toml:"parts" doc:"the pieces of the powertrain that turn with it, by their names" offers:"parts"`
	Mounts []string        `toml:"mounts" doc:"the mounts whose pads are on it" offers:"mounts"`
	Step   quantity.AngleQ `toml:"step" doc:"from one place that its bolts allow to the next" min:"0" exact:"yes" how:"A full turn over the number of its bolts, or what a ring between is drilled for." from:"one place to the next"`
	Mass   quantity.MassQ  `toml:"mass" doc:"of the case with its oil and its flanges, as a part of the powertrain's mass: with its centre of mass it takes the powertrain's round with it" min:"0" how:"Crane scale, filled, off the gearbox." from:"an empty hook"`
	Centre Point           `toml:"centre_of_mass" doc:"of the case alone, own frame, as its outputs and pieces are given" how:"Hang it level on one hook: the centre lies plumb below; measure that place from its input." from:"as its outputs and pieces are given"`
	Turned quantity.AngleQ `toml:"turned" doc:"how far it is turned from how its outputs, pieces and pads are given, clockwise as one looks along the gearbox to the rear; the powertrain's centre of mass goes with it where the case's mass and centre_of_mass are given" how:"Gauge across its lower face, before it is turned and after." from:"as its outputs and pieces are given"`
}

// Turning is how far a piece is turned with the case that it is of, rad about an axis along
// the powertrain through a point; own frame. The zero value turns nothing.
type Turning struct {
	About r3.Vec
	By    float64
}

// Pose is that as a motion of the piece.
func (t Turning) Pose() geom.Pose {
	if p, err := geom.Turn(t.About, r3.Vec{X: 1}, geom.Angle(t.By)); err == nil {
		return p
	}
	return geom.Identity()
}

// Turns reports whether it has anything that goes round with it.
func (c *ClockedCase) Turns() bool {
	return c.About.Known && len(c.Lines)+len(c.Parts)+len(c.Mounts) > 0
}

// Weighed reports whether the case's own mass and where it is are known, so that the
// powertrain's centre of mass goes with it as it is turned.
func (c *ClockedCase) Weighed() bool { return c.Mass.Known() && c.Centre.Known }

// Shifted is how far its centre of mass goes as it is turned, mm, own frame: its part by mass
// of that is how far the powertrain's goes.
func (c *ClockedCase) Shifted() r3.Vec {
	t := Turning{c.About.At, c.Turned.Or(0)}
	return r3.Sub(t.Pose().Point(c.Centre.At), c.Centre.At)
}

// clock turns what is on the case from how the file has it: outputs, pieces and pads, and the
// powertrain's centre of mass by as much as the case takes it along; sense is 1, or -1 to take
// it back. Lists are copied first.
func (b *Build) clock(sense float64) {
	c := &b.Powertrain.Case
	by := sense * c.Turned.Or(0)
	if by == 0 || !c.Turns() {
		return
	}
	t := Turning{c.About.At, by}
	pose := t.Pose()
	b.Lines, b.Mounts, b.Powertrain.Parts = slices.Clone(b.Lines), slices.Clone(b.Mounts), slices.Clone(b.Powertrain.Parts)
	for i := range b.Lines {
		if l := &b.Lines[i]; slices.Contains(c.Lines, l.Name) {
			l.Output.At = pose.Point(l.Output.At)
			l.Turned += by
		}
	}
	for i := range b.Powertrain.Parts {
		if p := &b.Powertrain.Parts[i]; slices.Contains(c.Parts, p.Name) {
			p.Turned = Turning{}
			if sense > 0 {
				p.Turned = t
			}
		}
	}
	if of := b.Powertrain.Mass.Or(0); c.Weighed() && of > 0 {
		at := &b.Powertrain.CentreOfMass.At
		*at = r3.Add(*at, r3.Scale(sense*c.Mass.V()/of, c.Shifted()))
	}
	for _, pad := range PadNames() {
		if slices.Contains(c.Mounts, pad) {
			at := b.padOf(&Mount{Name: pad})
			at.At = pose.Point(at.At)
		}
	}
	for i := range b.Mounts {
		if m := &b.Mounts[i]; slices.Contains(c.Mounts, m.Name) && !slices.Contains(PadNames(), m.Name) {
			m.At.At = pose.Point(m.At.At)
		}
	}
}

// checkCase finds a case that turns nothing, or what there is not, or to where its bolts do
// not let it.
func (b *binder) checkCase(build *Build, root *tomltext.Node) {
	const path = "powertrain.transfer_case"
	n := root.Child("powertrain").Child("transfer_case")
	if n == nil {
		return
	}
	c := &build.Powertrain.Case
	var lines, parts []string
	for _, l := range build.Lines {
		lines = append(lines, l.Name)
	}
	for _, p := range build.Powertrain.Parts {
		parts = append(parts, p.Name)
	}
	mounts := append(PadNames(), build.CarryingNames()...)
	for _, of := range []struct {
		key, what  string
		named, all []string
	}{{"lines", "line", c.Lines, lines}, {"parts", "piece of the powertrain", c.Parts, parts}, {"mounts", "mount of the powertrain", c.Mounts, mounts}} {
		for i, name := range of.named {
			if slices.Contains(of.all, name) {
				continue
			}
			b.fault(n.Child(of.key).Children[i].Pos, path+"."+of.key, "there is no %s %q%s; this build has %s", of.what, Printable(name), meant(name, of.all), Printable(strings.Join(of.all, ", ")))
		}
	}
	if of, ok := build.Powertrain.Mass.Get(); ok && c.Mass.Or(0) >= of && c.Mass.Known() {
		b.fault(at(root, path+".mass"), path+".mass", "a case of %s is as heavy as all of the powertrain, of whose mass it is a part; powertrain.mass is weighed with it", quantity.Format(quantity.Mass, c.Mass.V(), build.Units, 0))
	}
	turned := c.Turned.Or(0)
	if turned == 0 {
		return
	}
	where := at(root, path+".turned")
	switch {
	case !c.About.Known:
		b.fault(where, path+".turned", "there is no case to turn: give about = [station, offset, height], a point on the axis that it is turned about, in the powertrain's own frame")
	case !c.Turns():
		b.fault(where, path+".turned", "nothing turns with the case: give lines, parts or mounts that are on it")
	case !c.allows(turned):
		b.fault(where, path+".turned", "its bolts let it turn in steps of %s, and %s is none of them", quantity.Format(quantity.Angle, c.Step.V(), build.Units, 2), quantity.Format(quantity.Angle, turned, build.Units, 2))
	}
	for _, l := range build.Lines {
		switch {
		case !slices.Contains(c.Lines, l.Name):
		case l.DrivingTarget() != TargetPowertrain:
			b.fault(where, path+".turned", "line.%s does not begin at the powertrain, so no case on it turns its output", l.Name)
		case !l.Output.Known && l.Output.Ref == "":
			b.fault(where, path+".turned", "line.%s begins at powertrain.output, which the case does not turn; give it an output of its own, line.%s.output", l.Name, l.Name)
		}
	}
}

// allows reports whether the bolts of the case let it stand there, rad.
func (c *ClockedCase) allows(turned float64) bool {
	step := c.Step.Or(0)
	const slack = 1e-4
	return step == 0 || math.Abs(math.Remainder(turned, step)) <= slack
}

// moveCase turns the case of a build that is this one's own.
func (b *Build) moveCase(m Move) error {
	c := &b.Powertrain.Case
	if !c.allows(m.To) {
		return fmt.Errorf("%s: its bolts do not let it turn there", m.Of.path)
	}
	b.clock(-1)
	assured(&c.Turned, m.To)
	b.clock(1)
	for i := range b.Lines {
		if slices.Contains(c.Lines, b.Lines[i].Name) {
			b.withoutReadings(b.Lines[i].ShaftTarget(1))
		}
	}
	return nil
}
