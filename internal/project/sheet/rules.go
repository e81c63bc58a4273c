package sheet

import (
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// rules makes the rows of the limits or of the load factors: a value and a source
// each.
func (m *maker) rules(path, title string, rules []project.Rule, inForce func(string) project.Rule) {
	n := m.f.Doc().Root().Child(path)
	sec := Section{ID: path, Path: path, Title: title, Begun: n != nil}
	for _, d := range rules {
		now := inForce(d.Key)
		value := Row{
			Path: path + "." + d.Key, Label: wordsOf(d.Key), Shape: Quantity, Kind: d.Kind, About: d.About,
			How: "Leave it as it is built in, or type your own and where it comes from.", From: "built in: " + d.Source,
			InForce: quantity.Format(d.Kind, d.Value, m.f.Build.Units, digits),
		}
		source := Row{
			Path: path + "." + d.Key + ".source", Label: "source of that", Shape: Text,
			About: "where the figure comes from", InForce: now.Source,
		}
		if n != nil {
			ruled(n.Child(d.Key), &value, &source)
		}
		sec.Rows = append(sec.Rows, value, source)
	}
	m.add(sec)
}

// digits that a built-in figure is shown with.
const digits = 2

func ruled(n *tomltext.Node, value, source *Row) {
	switch {
	case n == nil:
		return
	case n.Kind != tomltext.Table:
		value.Given, value.Text = true, Spelled(n, Text)
		return
	}
	if c := n.Child("value"); c != nil {
		value.Given, value.Text = true, Spelled(c, Text)
	}
	if c := n.Child("source"); c != nil {
		source.Given, source.Text = true, Spelled(c, Text)
	}
}

// units makes the rows of [units].
func (m *maker) units() {
	n := m.f.Doc().Root().Child("units")
	sec := Section{ID: "units", Path: "units", Title: "Units", Begun: n != nil}
	for _, key := range project.UnitKeys() {
		r := Row{
			Path: "units." + key, Label: wordsOf(key), Shape: Words,
			How: "Numbers without a unit keep what they are: each gets its old unit written behind it.",
		}
		if key == "system" {
			r.About, r.Choices, r.InForce = "what a number without a unit is in", []string{"metric", "inch"}, "metric"
		} else {
			k := project.UnitKind(key)
			r.About, r.Choices = "the unit of a "+k.String()+" written without one", quantity.UnitNames(k)
			r.InForce = quantity.UnitName(k, m.f.Build.Units)
		}
		if n != nil {
			if c := n.Child(key); c != nil {
				r.Given, r.Text = true, Spelled(c, Text)
			}
		}
		sec.Rows = append(sec.Rows, r)
	}
	m.add(sec)
}
