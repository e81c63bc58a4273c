package project

import (
	"slices"
	"strings"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// unitKeys are the keys of the [units] table. "system" sets all of them, the
// others one each.
var unitKeys = []struct {
	key  string
	kind quantity.Kind
}{
	{"length", quantity.Length},
	{"angle", quantity.Angle},
	{"mass", quantity.Mass},
	{"force", quantity.Force},
	{"torque", quantity.Torque},
	{"speed", quantity.Speed},
	{"road_speed", quantity.RoadSpeed},
	{"rate", quantity.Rate},
	{"stress", quantity.Stress},
}

// systems are the words people use for the two systems of units.
var systems = map[string][]string{
	"metric": {"metric", "mm", "millimetre", "millimetres", "millimeter", "millimeters", "si"},
	"inch":   {"inch", "inches", "in", "imperial", "us", "customary"},
}

// SystemNamed returns the system of units that a word means.
func SystemNamed(word string) (string, bool) {
	word = strings.ToLower(strings.TrimSpace(word))
	for name, words := range systems {
		if slices.Contains(words, word) {
			return name, true
		}
	}
	return "", false
}

// UnitsOf returns what a bare number in a text means. The error is Problems of
// the [units] table.
func UnitsOf(name string, doc *tomltext.Doc) (quantity.Units, error) {
	b := &binder{file: name}
	b.unitTable(doc.Root().Child("units"))
	if len(b.problems) > 0 {
		return quantity.Units{}, b.problems
	}
	return b.units, nil
}

// unitTable reads [units]: what a bare number in this file means.
func (b *binder) unitTable(n *tomltext.Node) {
	b.units = quantity.Metric()
	if n == nil {
		return
	}
	if n.Kind != tomltext.Table {
		text, _ := n.Value.(string)
		if meant, ok := SystemNamed(text); ok {
			b.fault(n.Pos, n.Path, "read %s; write it as units.system = %q", describe(n), meant)
			return
		}
		b.wrongType(n, "a table, like [units]")
		return
	}
	if s := n.Child("system"); s != nil {
		switch s.Value {
		case "metric":
		case "inch":
			b.units = quantity.Inch()
		default:
			text, _ := s.Value.(string)
			if meant, ok := SystemNamed(text); ok {
				b.fault(s.Pos, s.Path, "read %s; write it as system = %q", describe(s), meant)
				break
			}
			b.fault(s.Pos, s.Path, "read %s; want \"metric\" or \"inch\"", describe(s))
		}
	}
	known := []string{"system"}
	for _, u := range unitKeys {
		known = append(known, u.key)
	}
	for _, c := range n.Children {
		if c.Key != "system" {
			b.unit(c, known)
		}
	}
}

func (b *binder) unit(c *tomltext.Node, known []string) {
	for _, u := range unitKeys {
		if u.key != c.Key {
			continue
		}
		name, ok := c.Value.(string)
		if !ok {
			b.wrongType(c, "the name of a unit in quotes")
			return
		}
		unit, err := quantity.UnitFor(u.kind, name)
		if err != nil {
			b.fault(c.Pos, c.Path, "%v", err)
			return
		}
		b.units = b.units.With(u.kind, unit)
		return
	}
	b.unknownKey(c, "units", known)
}

// ruleTable reads [limits] or [loads]: a value each, or a table with value and
// source.
// Keys in skip are somebody else's.
func (b *binder) ruleTable(n *tomltext.Node, name string, defaults []Rule, skip ...string) map[string]Rule {
	rules := map[string]Rule{}
	var known []string
	for _, r := range defaults {
		rules[r.Key] = r
		known = append(known, r.Key)
	}
	if n == nil {
		return rules
	}
	if n.Kind != tomltext.Table {
		b.wrongType(n, "a table, like ["+name+"]")
		return rules
	}
	for _, c := range n.Children {
		r, ok := rules[c.Key]
		if slices.Contains(skip, c.Key) {
			continue
		}
		if !ok {
			b.unknownKey(c, name, append(known, skip...))
			continue
		}
		rules[c.Key] = b.limit(c, r)
	}
	return rules
}

func (b *binder) limit(c *tomltext.Node, r Rule) Rule {
	value, source := c, "changed in this build's file"
	if c.Kind == tomltext.Table {
		value = c.Child("value")
		for _, k := range c.Children {
			if k.Key != "value" && k.Key != "source" {
				b.unknownKey(k, c.Path, []string{"value", "source"})
			}
		}
		if s := c.Child("source"); s != nil {
			text, ok := s.Value.(string)
			if !ok {
				b.wrongType(s, "text in quotes")
				return r
			}
			source = text
		}
		if value == nil {
			b.fault(c.Pos, c.Path, "it has no value; want value = %q", quantity.Format(r.Kind, r.Value, b.units, 1))
			return r
		}
	}
	v, err := b.number(value, r.Kind)
	if err != nil {
		b.fault(value.Pos, value.Path, "%v", err)
		return r
	}
	if v < 0 {
		b.fault(value.Pos, value.Path, "a limit cannot be negative; read %s", describe(value))
		return r
	}
	if r.Part && (v == 0 || v > 1) {
		b.fault(value.Pos, value.Path, "%s is a part of a whole: above 0 and at most 1 is wanted, such as %g; read %s", r.Key, r.Value, describe(value))
		return r
	}
	if v != r.Value {
		r.Value, r.Changed, r.Source = v, true, source
	} else if c.Kind == tomltext.Table {
		r.Source = source
	}
	return r
}
