package project

import (
	"reflect"
	"slices"
	"strings"

	"fitup/internal/project/quantity"
)

// Field is one value that a table of the file can hold, as the schema's tags
// describe it.
type Field struct {
	Key   string
	About string // what it is
	How   string // how one gets at it, in one sentence; "" where its words say it
	From  string // what it is measured from
	In    string // what it is measured with, where that is not the rest of its table
	Need  bool   // its table is of no use without it
	// Unless are the keys of the same table that stand for it, with " or " between them; "" for none.
	Unless   string
	Positive bool // below zero makes no sense
	// Offers is the table that its value is commonly picked from: sections, threads,
	// classes, targets, lines or mounts; "" for none.
	Offers string
	// Own says that it was found on this one alone, so that it is never carried over
	// to another entry or the other side.
	Own bool
	// Ticked says that it is written by doing what it says, through the one door for
	// ticks and welds.
	Ticked bool
	// Lines says that it is a text that may have several lines.
	Lines bool
	// Written says that the program writes it, and no person.
	Written bool
}

// Where points and directions are measured from.
const (
	FromVehicle    = "the vehicle's zero, as vehicle.origin says: station to the rear, offset to the right, height up"
	FromPowertrain = "the powertrain's own zero: along the crankshaft to the rear, to the right, up"
	FromAxle       = "the joint at the pinion: along the pinion axis to the rear, square to that to the right, up square to both"
	FromBench      = "the subframe's own zero, as it lay level on the bench: to the rear, to the right, up"
	FromNowhere    = "nowhere: a direction has no place, and its length does not matter"
)

// FieldsOf lists the values that the table at path can hold, in the order of the
// schema; of the file as a whole where path is empty.
func FieldsOf(path string) []Field {
	t, ok := tableAt(path)
	if !ok {
		return nil
	}
	var out []Field
	l := layoutOf(t)
	for _, key := range l.keys {
		if f := l.fields[key]; isValue(f.Type) {
			out = append(out, f.describe())
		}
	}
	return out
}

// TablesOf lists the keys of the tables, and of the lists of tables, that the table
// at path can hold, in the order of the schema. Those that only the program
// writes are left out.
func TablesOf(path string) []string {
	t, ok := tableAt(path)
	if !ok {
		return nil
	}
	var out []string
	l := layoutOf(t)
	for _, key := range l.keys {
		if f := l.fields[key]; !isValue(f.Type) && f.Type.Kind() != reflect.Int64 && !f.describe().Written {
			out = append(out, key)
		}
	}
	if path == "" {
		out = append(out, apart()...)
	}
	if path == "loads" {
		out = append(out, layoutOf(reflect.TypeFor[loadTable]()).keys...)
	}
	return out
}

func tableAt(path string) (reflect.Type, bool) {
	if path == "" {
		return reflect.TypeFor[Build](), true
	}
	t, ok := typeAt(path)
	return t, ok && t.Kind() == reflect.Struct && !isValue(t)
}

// writtenWords end the description of what the program writes.
const writtenWords = "written by the program"

func (f *field) describe() Field {
	tag := f.Tag
	out := Field{
		Key: f.key, About: tag.Get("doc"), How: tag.Get("how"), From: tag.Get("from"), In: tag.Get("in"),
		Positive: f.positive, Offers: tag.Get("offers"), Need: tag.Get("need") != "", Own: tag.Get("own") == "yes", Ticked: tag.Get("ticked") == "yes",
		Lines:   tag.Get("lines") == "yes",
		Written: strings.HasSuffix(tag.Get("doc"), writtenWords),
	}
	if key, ok := strings.CutPrefix(tag.Get("need"), "unless "); ok {
		out.Unless = key
	}
	t := f.Type
	if t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t == pointType {
		out.describePoint()
	}
	return out
}

// describePoint says how any point or direction is measured, where its tags do not.
func (f *Field) describePoint() {
	const (
		place     = "Level, plumb line and tape: how far behind, beside and above zero it lies."
		stand     = "With the powertrain level on its stand, from its own zero along, across and up."
		onBench   = "With the subframe level on the bench, from a zero of its own along, across and up."
		onAxle    = "With the pinion axis level, from the joint at the pinion: tape along the axis, aside of it, and its height over it."
		direction = "Three numbers in proportion: how far it goes to the rear, to the right and up."
	)
	how, from := place, FromVehicle
	switch {
	case strings.Contains(f.About, "own frame"):
		how, from = stand, FromPowertrain
	case strings.Contains(f.About, "bench axes"):
		how, from = onBench, FromBench
	case strings.Contains(f.About, "axle's own"):
		how, from = onAxle, FromAxle
	case strings.Contains(f.About, "direction"):
		how, from = direction, FromNowhere
	}
	if f.How == "" {
		f.How = how
	}
	if f.From == "" {
		f.From = from
	}
	if f.From == FromVehicle && f.Offers == "" {
		f.Offers = "points"
	}
}

// IsPoint reports whether the value at path is a point or a direction: three
// numbers.
func IsPoint(path string) bool {
	t, ok := typeAt(path)
	return ok && t == pointType
}

// InOwnFrame reports whether a point is measured from the powertrain's own zero.
func (f Field) InOwnFrame() bool { return f.From == FromPowertrain }

// UnitKeys lists the keys of [units].
func UnitKeys() []string {
	out := []string{"system"}
	for _, u := range unitKeys {
		out = append(out, u.key)
	}
	return out
}

// UnitKind is what a key of [units] other than system gives the unit of.
func UnitKind(key string) quantity.Kind {
	for _, u := range unitKeys {
		if u.key == key {
			return u.kind
		}
	}
	return quantity.Number
}

// FieldAt returns what the schema says of the value at path.
func FieldAt(path string) (Field, bool) {
	table, key := "", path
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		table, key = path[:i], path[i+1:]
	}
	fields := FieldsOf(table)
	i := slices.IndexFunc(fields, func(f Field) bool { return f.Key == key })
	if i < 0 {
		return Field{}, false
	}
	return fields[i], true
}
