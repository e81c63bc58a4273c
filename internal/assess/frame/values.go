package frame

import (
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Values lists the survey's numbers.
func (r *Result) Values(l *finding.List) { //nolint:funlen // a list: one line a number
	put := func(name string, k quantity.Kind, m finding.Number) {
		l.Number(name, k, m)
		if m.Known {
			l.Uncertainty(name, k, m)
		}
	}
	if r != nil {
		r.Plain.values(put)
		r.Wheels.values(put)
	}
	if !r.Given() {
		return
	}
	for _, p := range r.Now.Points() {
		for k, of := range []string{"station", "offset", "height"} {
			kind := quantity.Length
			if k == 1 {
				kind = quantity.Offset
			}
			put("survey."+p.Path+"."+of, kind, p.Place[k])
		}
		put("survey."+p.Path+".right", quantity.Length, p.Place[1]) // as a table has it, with a sign
	}
	for _, t := range r.Now.Lines {
		id, k := "survey.measure."+strconv.Itoa(t.Index+1), quantity.Length
		if t.As == project.SquareLine {
			k = quantity.Angle
		}
		l.Add(id+".residual", k, t.V)
		l.Add(id+".redundancy", quantity.Number, t.Redundancy)
		l.Add(id+".w", quantity.Number, t.W)
		l.Put(id+".detectable", k, t.Detectable, t.Redundancy > 0)
	}
	for _, s := range r.Now.Suspects {
		k := quantity.Length
		if s.Line.As == project.SquareLine {
			k = quantity.Angle
		}
		for i, v := range s.Meant {
			l.Add("survey.measure."+strconv.Itoa(s.Line.Index+1)+".meant."+strconv.Itoa(i+1), k, v)
		}
	}
	if _, half := r.Now.supposed(); half > 0 {
		l.Add("survey.taken_as_good_to.uncertainty", quantity.Length, half) // where no ± is in the file, a half-width
	}
	f := &r.Frame
	put("frame.square.ahead", quantity.Length, f.Square)
	put("frame.square.skew", quantity.Angle, f.Skew)
	put("frame.square.alone", quantity.Length, f.Alone)
	put("frame.square.swing", quantity.Length, f.Swing)
	put("frame.diagonals.left_front", quantity.Length, f.Diagonals.LeftFront)
	put("frame.diagonals.right_front", quantity.Length, f.Diagonals.RightFront)
	put("frame.diagonals.left", quantity.Length, f.Diagonals.Left)
	put("frame.diagonals.right", quantity.Length, f.Diagonals.Right)
	put("frame.diagonals.front", quantity.Length, f.Diagonals.Front)
	put("frame.diagonals.rear", quantity.Length, f.Diagonals.Rear)
	put("frame.diagonals.of_sides", quantity.Length, f.Diagonals.OfSides)
	for i, p := range f.Pairs {
		id := "frame.rails." + strconv.Itoa(i+1)
		put(id+".width.now", quantity.Length, p.Width)
		put(id+".width.wanted", quantity.Length, p.Wanted)
		put(id+".ahead", quantity.Length, p.Ahead)
		if p.Between {
			put(id+".lower", quantity.Length, p.Lower)
		}
		if i < len(r.Then.Pairs) {
			put(id+".width.before", quantity.Length, r.Then.Pairs[i].Width)
		}
	}
	for _, s := range []struct {
		name string
		rail Rail
	}{{"left", f.Left}, {"right", f.Right}} {
		put("frame.rail."+s.name+".sag", quantity.Length, s.rail.Sag)
		put("frame.rail."+s.name+".sweep", quantity.Length, s.rail.Sweep)
		put("frame.rail."+s.name+".kick", quantity.Length, s.rail.Kick)
	}
	for i, c := range r.Changes() {
		id := "frame.changed." + strconv.Itoa(i+1)
		put(id+".before", c.Kind, c.Before)
		put(id+".now", c.Kind, c.Now)
		put(id+".by", c.Kind, c.By)
	}
	for _, a := range f.Axles {
		if a.Rims {
			put("frame.axle."+a.Name+".toe.left", quantity.Angle, a.Toe[0])
			put("frame.axle."+a.Name+".toe.right", quantity.Angle, a.Toe[1])
		}
	}
	put("frame.wheelbase.left", quantity.Length, f.Wheelbase[0])
	put("frame.wheelbase.right", quantity.Length, f.Wheelbase[1])
}

// values are the numbers of the tapes in plain words.
func (t *Taped) values(put func(name string, k quantity.Kind, m finding.Number)) {
	if t == nil {
		return
	}
	const id = "frame.taped."
	for k, name := range []string{"diagonal.left_front", "diagonal.right_front", "side.left", "side.right", "across.front", "across.rear", "wheelbase.left", "wheelbase.right"} {
		if t.Lengths[k].Known {
			put(id+name, quantity.Length, t.Lengths[k])
		}
	}
	if t.Square.Known {
		put(id+"square.ahead", quantity.Length, t.Square)
		put(id+"square.front", quantity.Length, t.Front)
		put(id+"square.rear", quantity.Length, t.Rear)
		put(id+"square.skew", quantity.Angle, t.Skew)
		put(id+"square.swing", quantity.Length, t.Swing)
	}
	if t.Gap.Known {
		put(id+"gap", quantity.Length, t.Gap)
	}
}
