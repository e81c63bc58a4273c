package project

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"fitup/internal/project/quantity"
)

// StatedValue is a value of the file of which it says how sure it is.
type StatedValue struct {
	Path  string // in the text, such as line.rear.pinion.slope or line.rear.pinion.at[0]
	Kind  quantity.Kind
	Value float64 // internal unit
	Half  float64 // half-width: of its ±, or of what its tool may be off by where it has none
	// Tool is what the half-width is of where the value has no ± of its own:
	// what the tool is good for is then shared with all else it measured.
	Tool string
}

// StatedValues lists what the file says a ± of, in the order of the schema. A point
// that is given by name is not in it, what that point rests on is. Neither are
// readings, whose ± is in their PlusMinus, and measurements.
func (b *Build) StatedValues() []StatedValue {
	w := &stater{build: b}
	w.table(reflect.ValueOf(b).Elem())
	return w.out
}

// StatedValuesIn are those of them whose path begins with one of these keys of the
// file, such as line: only there is looked.
func (b *Build) StatedValuesIn(keys map[string]bool) []StatedValue {
	w := &stater{build: b, only: keys}
	w.table(reflect.ValueOf(b).Elem())
	return w.out
}

type stater struct {
	build *Build
	only  map[string]bool // keys of the file to look in; all when nil
	path  []step          // to where it looks; most of the file has no ±, and is never named
	out   []StatedValue
}

// step leads on in a path: to the entry of a list by its number, or where that is
// below 0 to a key or an entry by its name.
type step struct {
	name string
	at   int
}

// here spells the path to where it looks.
func (w *stater) here() string {
	var out strings.Builder
	for i, s := range w.path {
		switch {
		case s.at >= 0:
			out.WriteString("[" + strconv.Itoa(s.at) + "]")
			continue
		case i > 0:
			out.WriteByte('.')
		}
		out.WriteString(s.name)
	}
	return out.String()
}

func (w *stater) table(v reflect.Value) {
	for _, f := range layoutOf(v.Type()).deep {
		if len(w.path) == 0 && (f.key == "reading" || f.key == "measure" || f.key == "job" || w.only != nil && !w.only[f.key]) {
			continue
		}
		w.value(v.FieldByIndex(f.Index), step{f.key, -1})
	}
}

func (w *stater) value(v reflect.Value, s step) {
	w.path = append(w.path, s)
	defer func() { w.path = w.path[:len(w.path)-1] }()
	switch x := v.Addr().Interface().(type) {
	case quantity.Gettable:
		if half, stated := x.HalfWidth(); stated {
			value, _ := x.Get()
			w.out = append(w.out, StatedValue{Path: w.here(), Kind: x.Kind(), Value: value, Half: half})
		}
		return
	case *Point:
		half := coordinates(x.Half)
		for i, value := range coordinates(x.At) {
			if half[i] > 0 && x.Ref == "" {
				w.out = append(w.out, StatedValue{Path: fmt.Sprintf("%s[%d]", w.here(), i), Value: value, Half: half[i]})
			}
		}
		return
	case *MeasuredPoint:
		w.point(x)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		w.table(v)
	case reflect.Slice:
		name, named := nameField(v.Type().Elem())
		for i := range v.Len() {
			at := step{"", i}
			if named {
				at = step{v.Index(i).Field(name).String(), -1}
			}
			w.value(v.Index(i), at)
		}
	}
}

func (w *stater) point(m *MeasuredPoint) {
	for _, c := range []struct {
		key  string
		kind quantity.Kind
		Coordinate
	}{{"station", quantity.Length, m.Station}, {"offset", quantity.Offset, m.Offset.Coordinate}, {"height", quantity.Length, m.Height}} {
		mean, known := c.Get()
		half, stated := w.build.TermError(Term{Value: mean, Repeats: c.Repeats, Half: c.half, Tool: m.With})
		if !known || !stated {
			continue
		}
		s := StatedValue{Path: m.Path() + "." + c.key, Kind: c.kind, Value: mean, Half: half}
		if c.half == 0 {
			s.Tool = m.With
		}
		w.out = append(w.out, s)
	}
}

// Varied returns the build as it would be with the value at path larger by that much
// (internal unit), and all that was measured from it where it would be then. The
// build shares with this one what is not changed. It fails where the build has no
// known number at path.
func (b *Build) Varied(path string, by float64) (*Build, error) {
	c := *b
	c.clock(-1) // the file has what is on the case as it is without that
	steps := strings.Split(strings.NewReplacer("[", ".", "]", "").Replace(path), ".")
	if !vary(reflect.ValueOf(&c).Elem(), steps, by) {
		return nil, fmt.Errorf("there is no number at %s to be varied", Printable(path))
	}
	c.unstack()
	if err := c.replace(); err != nil {
		return nil, err
	}
	c.stack()
	c.clock(1)
	return &c, nil
}

// vary adds to the number that steps lead to. Lists on the way are copied first.
func vary(v reflect.Value, steps []string, by float64) bool {
	if v.CanAddr() {
		switch x := v.Addr().Interface().(type) {
		case quantity.Settable:
			value, known := x.Get()
			half, _ := x.HalfWidth()
			x.SetStated(quantity.Stated{V: value + by, Half: half})
			return known && len(steps) == 0
		case *Point:
			return x.vary(steps, by)
		case *Coordinate:
			x.vary(by)
			return len(x.Repeats) > 0 && len(steps) == 0
		case *SideCoordinate:
			x.vary(by)
			return len(x.Repeats) > 0 && len(steps) == 0
		}
	}
	if len(steps) == 0 {
		return false
	}
	switch v.Kind() {
	case reflect.Struct:
		f, ok := fieldFor(v.Type(), steps[0])
		return ok && vary(v.FieldByIndex(f.Index), steps[1:], by)
	case reflect.Slice:
		i := placeIn(v, steps[0])
		if i < 0 {
			return false
		}
		own := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(own, v)
		v.Set(own)
		return vary(own.Index(i), steps[1:], by)
	}
	return false
}

// placeIn is the place of the entry that a step names, by its name or number, or -1.
func placeIn(list reflect.Value, step string) int {
	if name, ok := nameField(list.Type().Elem()); ok {
		for i := range list.Len() {
			if list.Index(i).Field(name).String() == step {
				return i
			}
		}
		return -1
	}
	if i, err := strconv.Atoi(step); err == nil && i >= 0 && i < list.Len() {
		return i
	}
	return -1
}

func (p *Point) vary(steps []string, by float64) bool {
	if len(steps) != 1 || !p.Known || p.Ref != "" {
		return false
	}
	switch steps[0] {
	case "0":
		p.At.X += by
	case "1":
		p.At.Y += by
	case "2":
		p.At.Z += by
	default:
		return false
	}
	return true
}

func (c *Coordinate) vary(by float64) {
	own := make([]float64, len(c.Repeats))
	for i, v := range c.Repeats {
		own[i] = v + by
	}
	c.Repeats = own
}

// replace works out anew where the measured points lie, and what is given by one. It
// fails where one lies nowhere any more, as one past the end of a rail.
func (b *Build) replace() error {
	if len(b.Points) == 0 {
		return nil
	}
	r := &placer{b: b, done: map[string]PlacedPoint{}}
	b.placed, b.unplaced, b.bySurvey = make([]PlacedPoint, len(b.Points)), nil, map[string]Point{}
	for i, m := range b.Points {
		b.placed[i] = r.place(m.Path())
	}
	at := &placing{binder: &binder{}, placer: r}
	at.fill(reflect.ValueOf(b).Elem(), "")
	if len(at.problems) > 0 {
		return errors.New(at.problems[0].Msg)
	}
	return nil
}
