package line

import (
	"cmp"
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// OrderRow is one line of what a shaft maker asks: a measure, or words.
type OrderRow struct {
	Label    string
	Name     string // dotted name of its value, "" for words
	Kind     quantity.Kind
	Value    finding.Number
	Words    string
	JudgedBy []string // ids of the findings that judge it
}

// Order is the shaft order sheet of a line, at ride height, with rows on its
// half shafts.
func Order(l project.Line, out *Line, halfShafts []OrderRow) []OrderRow {
	var rows []OrderRow
	num := func(label, name string, k quantity.Kind, m finding.Number, judgedBy ...string) {
		rows = append(rows, OrderRow{Label: label, Name: "line." + l.Name + ".order." + name, Kind: k, Value: m, JudgedBy: judgedBy})
	}
	words := func(label, text string) { rows = append(rows, OrderRow{Label: label, Words: text}) }
	for i, s := range out.Shafts {
		spec := l.Shaft(i)
		n := fmt.Sprintf("shaft.%d.", i+1)
		who := "shaft"
		if len(out.Shafts) > 1 {
			who = fmt.Sprintf("shaft %d", i+1)
		}
		num(who+", joint centre to joint centre", n+"length", quantity.Length, s.Length)
		slip := func(of finding.Number, says, key string) {
			if v, ok := spec.SlipClosed.Get(); ok {
				num("  slip joint, drawn out of home by"+says, n+"slip_from_closed"+key, quantity.Length, of.Less(v))
			}
			if v, ok := spec.SlipOpen.Get(); ok {
				num("  slip joint, left to least engagement"+says, n+"slip_to_open"+key, quantity.Length, finding.Exact(v).LessOf(of))
			}
		}
		slip(s.Length, "", "")
		if s.LengthRead.Known {
			num("  as measured, joint centre to joint centre", n+"length_read", quantity.Length, s.LengthRead)
			slip(s.LengthRead, ", as measured", "_read")
		}
		if spec.Outside.Known() {
			num("  tube, outside", n+"outside", quantity.Length, finding.Given(spec.Outside.Get()))
			num("  tube, wall", n+"wall", quantity.Length, finding.Given(spec.Wall.Get()))
			words("  tube, material", orTaken(spec.Material, materialOf(spec)))
			num("  tube, mass", n+"mass", quantity.Mass, s.Tube.Mass)
			num("  residual unbalance at most, both planes (ISO 21940-11 G 16)", n+"unbalance", quantity.Unbalance, s.Tube.Unbalance)
			num("  whirling speed", n+"whirl", quantity.Speed, s.Tube.Whirl, finding.ShaftWhirl(l.Name, i+1))
		}
		if v, ok := spec.YokeOffset.Get(); ok {
			num("  yokes, rear against front", n+"yoke_offset", quantity.Angle, finding.Exact(v))
		} else {
			words("  yokes", phaseOf(spec))
		}
	}
	for _, j := range out.Joints {
		num(fmt.Sprintf("joint %d, %s, angle", j.Number, j.Kind), fmt.Sprintf("joint.%d.angle", j.Number), quantity.Angle, out.Angle(j),
			finding.JointMax(l.Name, j.Number), finding.JointMin(l.Name, j.Number), finding.JointSpeed(l.Name, j.Number))
	}
	rows = append(rows, halfShafts...)
	if out.ByRedline.Known && out.ByRoad.Known {
		num("speed at the redline in top gear", "speed.redline", quantity.Speed, out.ByRedline.Number)
		num("speed at the top speed", "speed.top_speed", quantity.Speed, out.ByRoad.Number)
	}
	num("largest speed", "speed", quantity.Speed, out.Speed.orWhy("vehicle or engine speeds are not in the file yet"))
	num("largest torque", "torque", quantity.Torque, out.Torque.orWhy("powertrain.torque is not in the file yet"))
	return rows
}

// orTaken is a word of the sheet, which says so where it is not the file's.
func orTaken[T ~string](given T, word string) string {
	if given == "" {
		return word + " (assumed)"
	}
	return word
}

func materialOf(s project.LineShaft) string {
	if s.Material == "" {
		return string(project.SteelTube)
	}
	return string(s.Material)
}

func phaseOf(s project.LineShaft) string {
	return orTaken(s.Phase, cmp.Or(string(s.Phase), string(project.InPhase)))
}

func (r Rate) orWhy(why string) finding.Number {
	if !r.Known && r.Why == "" {
		return finding.Missing(why)
	}
	return r.Number
}

// jointsAssume is what the joint angles of a line take for granted, each clause
// once.
func (a *judge) jointsAssume() []string {
	var out []string
	own := a.own()
	for i := range a.out.Joints {
		j := &a.out.Joints[i]
		for k := range own {
			f := &own[k]
			if f.ID != a.names.joints[i].most.id {
				continue
			}
			for _, s := range f.Assumes {
				if s = fmt.Sprintf("joint %d: %s", j.Number, s); !slices.Contains(out, s) {
					out = append(out, s)
				}
			}
		}
	}
	return out
}
