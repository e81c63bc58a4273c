package project

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

var (
	coordinateType = reflect.TypeFor[Coordinate]()
	sideType       = reflect.TypeFor[SideCoordinate]()
)

// isCoordinate reports whether a type of the schema is a coordinate of a measured
// point: one value, or a list of repeats.
func isCoordinate(t reflect.Type) bool { return t == coordinateType || t == sideType }

// IsCoordinate reports whether the value at path may be a list of repeats of one
// length.
func IsCoordinate(path string) bool {
	t, ok := typeAt(path)
	return ok && isCoordinate(t)
}

// coordinate reads one value, perhaps with a ±, or a list of repeats without.
func (b *binder) coordinate(n *tomltext.Node, c repeated) {
	if n.Kind != tomltext.Array {
		s, err := b.stated(n, c.Kind())
		if err != nil {
			b.fault(n.Pos, n.Path, "%v", err)
			return
		}
		c.set([]float64{s.V}, s.Half)
		return
	}
	if len(n.Children) == 0 {
		b.fault(n.Pos, n.Path, "the list has no value; want each repeat in it, or the line left out")
		return
	}
	var out []float64
	for _, e := range n.Children {
		v, err := b.stated(e, c.Kind())
		if err == nil && v.Half > 0 {
			err = fmt.Errorf("each repeat stands in the list alone; a ± goes behind a single value, or with the tool; read %s", describe(e))
		}
		if err != nil {
			b.fault(e.Pos, e.Path, "%v", err)
			return
		}
		out = append(out, v.V)
	}
	c.set(out, 0)
}

// pointName takes a text that stands where a point is wanted.
func (b *binder) pointName(n *tomltext.Node, p *Point, f *field) {
	name, _ := n.Value.(string)
	is := strings.HasPrefix(name, pointPrefix)
	switch from := f.describe().From; {
	case !is && (from == FromPowertrain || from == FromBench || from == FromAxle || from == FromNowhere):
		b.wrongType(n, "a point of three lengths: [station, offset, height]")
		return
	case from == FromPowertrain:
		b.fault(n.Pos, n.Path, "a named point is in the vehicle's axes, and this one is in the powertrain's own frame; want three numbers")
		return
	case from == FromBench:
		b.fault(n.Pos, n.Path, "a named point is in the vehicle's axes, and this one is in the subframe's own, as on the bench; want three numbers")
		return
	case from == FromAxle:
		b.fault(n.Pos, n.Path, "a named point is in the vehicle's axes, and this one is in the axle's own, from the joint at its pinion; want three numbers")
		return
	case from == FromNowhere:
		b.fault(n.Pos, n.Path, "a direction is three numbers in proportion, and no point; read %s", describe(n))
		return
	case !is:
		b.fault(n.Pos, n.Path, "read %s; want a point of three lengths, [station, offset, height], or the name of one in quotes such as \"point.pinion\"", describe(n))
		return
	}
	*p = Point{Ref: name}
	b.byName = true
}

// placePoints works out where the measured points of a build lie, and gives what
// is named by one its place. The build's own lists are copied where they change.
func (b *binder) placePoints(build *Build, doc *tomltext.Doc) {
	if len(build.Points) == 0 && !b.byName {
		return
	}
	r := &placer{b: build, done: map[string]PlacedPoint{}}
	build.placed, build.unplaced = make([]PlacedPoint, len(build.Points)), nil
	for i, m := range build.Points {
		build.placed[i] = r.place(m.Path())
	}
	list := doc.Root().Child("point")
	for _, m := range build.Points {
		b.checkPoint(build, list.Child(m.Name), m)
	}
	if r.loop != nil {
		n := doc.Find(r.loop[0])
		if n == nil {
			n = list
		}
		b.fault(n.Pos, r.loop[0], "these are measured from each other in a circle: %s; measure one of them from something else", Printable(strings.Join(r.loop, ", ")))
		return
	}
	at := &placing{binder: b, placer: r, doc: doc}
	at.fill(reflect.ValueOf(build).Elem(), "")
}

func (b *binder) checkPoint(build *Build, n *tomltext.Node, m MeasuredPoint) {
	if from := n.Child("from"); from != nil && m.From != "" {
		datums := build.Datums()
		switch _, _, face := build.faceNamed(m.From); {
		case m.From == m.Path():
			b.fault(from.Pos, from.Path, "a point is not measured from itself")
		case !face && !slices.Contains(datums, m.From):
			hint := meant(m.From, datums)
			if hint == "" {
				hint = "; want a point of the file, rails.left.top, rails.right.top, floor, or a face such as chassis.bonnet"
			}
			b.fault(from.Pos, from.Path, "there is no %q to measure from%s", Printable(m.From), hint)
		}
	}
	if with := n.Child("with"); with != nil {
		b.checkTool(build, with)
	}
}

// placing gives the points of a build that are named their places.
type placing struct {
	*binder
	placer *placer
	doc    *tomltext.Doc
}

func (p *placing) fill(v reflect.Value, path string) {
	t := v.Type()
	switch {
	case t == pointType:
		p.point(v.Addr().Interface().(*Point), path)
	case t.Kind() == reflect.Slice:
		if !named(v) {
			return
		}
		c := reflect.MakeSlice(t, v.Len(), v.Len())
		reflect.Copy(c, v)
		v.Set(c)
		name, byName := nameField(t.Elem())
		for i := range c.Len() {
			at := fmt.Sprintf("%s[%d]", path, i)
			if byName {
				at = path + "." + c.Index(i).Field(name).String()
			}
			p.fill(c.Index(i), at)
		}
	case t.Kind() == reflect.Struct:
		for _, f := range pointsIn(t).fields {
			p.fill(v.FieldByIndex(f.Index), strings.TrimPrefix(path+"."+f.key, "."))
		}
	}
}

// find is what stands at a path of the text, where there is a text.
func (p *placing) find(path string) *tomltext.Node {
	if p.doc == nil {
		return nil
	}
	return p.doc.Find(path)
}

// point gives a named point its place. One that has none yet is refused where it is
// named: left out, many a point has a meaning of its own, and a rail without one of
// its points is another rail.
func (p *placing) point(at *Point, path string) {
	if at.Ref == "" {
		return
	}
	build := p.placer.b
	if _, ok := build.PointNamed(at.Ref); !ok {
		if n := p.find(path); n != nil {
			hint := meant(at.Ref, build.PointPaths())
			if hint == "" {
				hint = "; add it, with what it was measured from, or give three numbers"
			}
			p.fault(n.Pos, n.Path, "there is no [%s] in this file%s", Printable(at.Ref), hint)
		}
		return
	}
	placed := p.placer.found(*at)
	if waits := p.placer.waits(*at); waits != "" {
		at.Known, at.By = false, nil
		build.unplaced = append(build.unplaced, Unplaced{Path: path, Ref: at.Ref, Waits: waits})
		return
	}
	if !placed.Known && p.doc == nil {
		at.Known, at.By = false, nil
		build.unplaced = append(build.unplaced, Unplaced{Path: path, Ref: at.Ref, Waits: at.Ref, Why: p.placer.place(at.Ref).Why})
	}
	if !placed.Known {
		pos := tomltext.Position{}
		if n := p.find(path); n != nil {
			pos = n.Pos
		}
		p.fault(pos, path, "%s has no place yet: %s; measure it first, or give three numbers here", Printable(at.Ref), Printable(p.placer.place(at.Ref).Why))
		return
	}
	*at = placed
	if len(placed.By) > 0 {
		build.bySurvey[path] = placed
	}
}

// pointed is whether a type of the schema has points in it, and of a struct in which of
// its fields.
type pointed struct {
	holds  bool
	fields []*field
}

// pointHolders holds a *pointed for each type that was asked for.
var pointHolders sync.Map

func pointsIn(t reflect.Type) *pointed {
	if is, ok := pointHolders.Load(t); ok {
		return is.(*pointed)
	}
	is := &pointed{}
	switch {
	case t == pointType:
		is.holds = true
	case t.Kind() == reflect.Slice:
		is.holds = pointsIn(t.Elem()).holds
	case t.Kind() == reflect.Struct && !isQuantity(t) && t != timeType:
		l := layoutOf(t)
		for _, key := range l.keys {
			if f := l.fields[key]; pointsIn(f.Type).holds {
				is.fields = append(is.fields, f)
			}
		}
		is.holds = len(is.fields) > 0
	}
	pointHolders.Store(t, is)
	return is
}

// readSchema looks all structs of the schema up, which is otherwise done when the first
// value of each is read.
var readSchema = sync.OnceFunc(func() { pointsIn(buildType) })

// named reports whether some point in v is given by name.
func named(v reflect.Value) bool {
	t := v.Type()
	in := pointsIn(t)
	switch {
	case t == pointType:
		return v.Addr().Interface().(*Point).Ref != ""
	case !in.holds:
		return false
	case t.Kind() == reflect.Slice:
		for i := range v.Len() {
			if named(v.Index(i)) {
				return true
			}
		}
	case t.Kind() == reflect.Struct:
		for _, f := range in.fields {
			if named(v.FieldByIndex(f.Index)) {
				return true
			}
		}
	}
	return false
}

// kindOfCoordinate is what a coordinate type measures.
func kindOfCoordinate(t reflect.Type) quantity.Kind {
	return reflect.New(t).Interface().(repeated).Kind()
}
