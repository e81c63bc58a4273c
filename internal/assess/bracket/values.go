package bracket

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project/quantity"
)

// Row is one number of a bracket as a screen or a sheet shows it.
type Row struct {
	Label string
	Name  string // dotted name of its value
	Kind  quantity.Kind
	V     float64
	Words string // how it is held on the saw, or where it lies
}

// Rows lists what is needed to cut the leg, in the order of the work.
func (b *Bracket) Rows() []Row {
	if !b.HasCut {
		return nil
	}
	var rows []Row
	add := func(label, name string, k quantity.Kind, v float64, words string) {
		rows = append(rows, Row{label, "bracket." + b.Name + "." + name, k, v, words})
	}
	add("overall, tip to tip", "overall", quantity.Length, b.Overall(), "")
	add("long point", "long_point", quantity.Length, b.LongPoint(), "")
	add("short point", "short_point", quantity.Length, b.ShortPoint(), "")
	add("on the axis", "length", quantity.Length, b.Cut.Length, b.onAxis())
	for i, e := range b.ends() {
		end, s := [2]string{"pad", "rail"}[i], e.Saw[e.Best]
		if r := e.Roll; e.Rolled {
			add(end+" mitre", end+".mitre", quantity.Angle, r.Swing.Rad(), r.Long.String())
			add(end+" tilt", end+".tilt", quantity.Angle, 0, "blade upright")
			add(end+" roll of the tube", end+".roll", quantity.Angle, r.Roll.Abs().Rad(), rollWords(r))
		} else {
			add(end+" mitre", end+".mitre", quantity.Angle, s.Mitre.Abs().Rad(), s.LongMitre.String())
			add(end+" tilt", end+".tilt", quantity.Angle, s.Tilt.Abs().Rad(), s.Down.String()+" side down, "+s.LongTilt.String())
		}
		add(end+" from square", end+".from_square", quantity.Angle, e.Angle.Rad(), "")
	}
	if s := b.Saddle; s != nil {
		add("saddle angle", "saddle.angle", quantity.Angle, s.Saddle.Angle.Rad(), "between the two tubes")
		add("saddle offset", "saddle.offset", quantity.Length, math.Abs(s.Saddle.Offset), "between the two axes")
		add("saddle depth", "saddle.depth", quantity.Length, s.Template.Depth, s.Template.Fitted)
	} else {
		add("twist of the cuts", "twist", quantity.Angle, b.Cut.Twist.Abs().Rad(), "long points around the tube")
	}
	if b.FootDrop.Known {
		add("foot below its rail's edge", "foot_drop", quantity.Length, b.FootDrop.V, "from this rail's own top edge, at the foot's station")
	}
	way := "falls to its foot"
	if b.Cut.Axis.Z > 0 {
		way = "rises to its foot"
	}
	add("axis from level", "from_level", quantity.Angle, math.Asin(min(1, math.Abs(b.Cut.Axis.Z))), way)
	if b.Mass.Known {
		add("mass with plates", "mass", quantity.Mass, b.Mass.V, "")
	}
	return rows
}

// rollWords says how the tube is turned on the table: which side lies down
// first, which way it is turned and which corner stays on the table.
func rollWords(r geombracket.RollCut) string {
	way := "clockwise"
	if r.Roll < 0 {
		way = "anticlockwise"
	}
	if r.Corner == geombracket.NoCorner {
		return r.Down.String() + " side down, not turned"
	}
	return fmt.Sprintf("%s side down, then %s seen from the pad onto its %s corner", r.Down, way, r.Corner)
}

// SawRows are a single leg's four sides by name, each end in one swing, what the nearest
// half degree costs there and where the leg lands on its plates: what the person at the
// saw wants beside Rows. An end that is a saddle has
// none, and neither has a round tube any sides.
func (b *Bracket) SawRows() (rows []Row) {
	if !b.HasCut {
		return nil
	}
	id := "bracket." + b.Name + "."
	for _, side := range []geombracket.Side{geombracket.Top, geombracket.Bottom, geombracket.Left, geombracket.Right} {
		if b.Saddle != nil || b.round() || !b.Cut.HasSide(side) {
			continue
		}
		words := ""
		if side == geombracket.Top {
			words = "the side that looks up; each along its middle"
		}
		rows = append(rows, Row{side.String() + " side", id + "side." + side.String(), quantity.Length, b.Cut.Sides[side], words})
	}
	add := func(label, name string, k quantity.Kind, v float64, words string) {
		rows = append(rows, Row{label, id + name, k, v, words})
	}
	for i, end := range []string{"pad", "rail"}[:len(b.ends())] {
		onceRows(&b.Cut, i == 1, end, end, "the pad", add)
		half := b.Cut.HalfDegree(i == 1)
		words := fmt.Sprintf("to the nearest half degree: mitre %.1f°, tilt %.1f°", half.Mitre.Degrees(), half.Tilt.Degrees())
		if b.ends()[i].Rolled {
			words = fmt.Sprintf("to the nearest half degree: swing %.1f°", half.Mitre.Degrees())
		}
		add(end+" off at its tip", end+".half_miss", quantity.Length, half.Miss, words)
	}
	b.landsOn(add)
	return rows
}

func (b *Bracket) onAxis() string {
	if b.Saddle != nil {
		return "to the crossmember's axis"
	}
	return ""
}

// Values lists every number of the brackets.
func (r *Result) Values(l *finding.List) {
	for i := range r.Brackets {
		r.Brackets[i].values(l)
	}
	for _, a := range r.Adapters {
		for _, row := range a.Rows() {
			l.Add(row.Name, row.Kind, row.V)
		}
		if a.Bend.Of.Known {
			l.Add(finding.Adapter(a.Name)+".bends_at", quantity.Length, a.Bends.At)
		}
		if a.Bolt.Of.Known {
			l.Add(finding.Adapter(a.Name)+".bolts.shear", quantity.Force, a.Bolt.Shear)
			l.Add(finding.Adapter(a.Name)+".bolts.tension", quantity.Force, a.Bolt.Tension)
		}
	}
}

// values lists every number of a bracket.
func (b *Bracket) values(l *finding.List) {
	id := "bracket." + b.Name
	for _, r := range b.Rows() {
		l.Add(r.Name, r.Kind, r.V)
	}
	b.sectionValues(l)
	b.memberValues(l)
	b.plateValues(l)
	if b.HasCut {
		l.Point(id+".pad", b.Leg.Pad.Point)
		l.Point(id+".foot", b.Cut.Foot)
		l.Add(id+".tube_mass", quantity.Mass, b.Cut.Mass)
		for side := geombracket.Bottom; side <= geombracket.Right; side++ {
			if b.Cut.HasSide(side) {
				l.Add(id+".side."+side.String(), quantity.Length, b.Cut.Sides[side])
			}
		}
		for _, r := range b.SawRows() {
			if !strings.Contains(r.Name, ".side.") {
				l.Add(r.Name, r.Kind, r.V)
			}
		}
	}
	if s := b.Saddle; s != nil {
		l.Add(id+".saddle.around", quantity.Length, s.Template.Around)
		l.Add(id+".saddle.gap", quantity.Length, s.Template.Gap)
		l.Add(id+".saddle.proud", quantity.Length, s.Template.Proud)
		l.Add(id+".saddle.acute", quantity.Angle, s.Acute.Rad())
	}
	for _, w := range []*PlateWork{b.PadPlate, b.RailPlate} {
		if w != nil {
			w.values(id+"."+w.End+"_plate", l)
		}
	}
	b.Strength.values(id, l)
	if b.Match != nil {
		for _, r := range b.MatchRows() {
			l.Add(r.Name+".mirror", r.Kind, r.Mirror)
			l.Add(r.Name+".made", r.Kind, r.Made)
			l.Add(r.Name+".by", r.Kind, r.By)
		}
		l.Add("match."+b.Name+".pad_miss", quantity.Length, b.Match.Result.PadMiss)
		l.Add("match."+b.Name+".rail_miss", quantity.Length, b.Match.Result.RailMiss)
	}
	if c := b.Built; c != nil {
		l.Number(b.builtID()+".off", quantity.Length, c.Off)
		l.Number(b.builtID()+".wedge", quantity.Length, c.Wedge)
	}
}

func (w *PlateWork) values(id string, l *finding.List) {
	l.Add(id+".width", quantity.Length, w.Figures.Width)
	l.Add(id+".height", quantity.Length, w.Figures.Height)
	l.Add(id+".mass", quantity.Mass, w.Figures.Mass)
	l.Add(id+".middle", quantity.Length, w.Middle)
	if len(w.Plate.Holes) > 0 {
		across, high := float64(int(w.Spec.Across.Or(2))-1), float64(int(w.Spec.High.Or(2))-1)
		l.Add(id+".hole.side", quantity.Length, (w.Figures.Width-across*w.Spec.PitchAcross.V())/2)
		l.Add(id+".hole.low", quantity.Length, w.Middle-high*w.Spec.PitchHigh.V()/2)
	}
	if w.Folded {
		l.Add(id+".blank", quantity.Length, w.Blank.Length)
		l.Add(id+".bend_from", quantity.Length, w.Blank.Bends[0].From)
		l.Add(id+".bend_at", quantity.Length, w.Blank.Bends[0].Middle)
		l.Add(id+".bend_to", quantity.Length, w.Blank.Bends[0].To)
		l.Add(id+".deduction", quantity.Length, w.Deduct)
	}
}

// MatchRow is one line of the table that holds a leg made after the other
// side's against the plain mirror image of that one.
type MatchRow struct {
	Label, Name      string
	Kind             quantity.Kind
	Mirror, Made, By float64
}

// MatchRows lists what differs between the leg and the plain mirror image of the
// one it mirrors. Heights are given twice: in the vehicle's axes, and down from
// each side's own rail, which is what a square shows.
func (b *Bracket) MatchRows() []MatchRow {
	m := b.Match
	if m == nil {
		return nil
	}
	var out []MatchRow
	for _, d := range m.Result.Differences {
		k := quantity.Length
		if d.IsAngle {
			k = quantity.Angle
		}
		out = append(out, MatchRow{d.Name, "match." + b.Name + "." + finding.Slug(strings.ReplaceAll(d.Name, ",", "")), k, d.Mirror, d.Other, d.By()})
	}
	if m.First.Known && b.FootDrop.Known {
		out = append(out, MatchRow{"foot below its rail's edge", "match." + b.Name + ".foot_drop", quantity.Length,
			m.First.V, b.FootDrop.V, b.FootDrop.V - m.First.V})
	}
	return out
}
