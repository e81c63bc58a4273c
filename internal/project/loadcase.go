package project

import (
	"reflect"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// LoadCase is what the mounts carry all at once: one row of [[loads.case]].
type LoadCase struct {
	Name      string           `toml:"name" doc:"what happens, such as braking over a bump" need:"yes"`
	Drive     quantity.NumberQ `toml:"drive" doc:"part of the largest torque, forward and reverse; not together with braking" min:"0" exact:"yes" how:"Decide: 1 is full torque." from:"no torque"`
	Braking   quantity.NumberQ `toml:"braking" doc:"times the weight" min:"0" exact:"yes" how:"Decide: 1 stops it as hard as its own weight pulls." from:"coasting"`
	Cornering quantity.NumberQ `toml:"cornering" doc:"times the weight, to either side" min:"0" exact:"yes" how:"Decide: 1 pushes it aside as hard as its own weight pulls." from:"straight ahead"`
	Bump      quantity.NumberQ `toml:"bump" doc:"how many times everything weighs its weight; 1 when left out" min:"0" exact:"yes" how:"Decide: 3 is a pothole at speed." from:"standing still, which is 1"`
	Source    string           `toml:"source" doc:"where the figures come from" need:"yes"`
}

// loadTable is what [loads] holds beside its factors.
type loadTable struct {
	Cases []LoadCase `toml:"case" doc:"loads that come together; in place of those built in"`
}

// DefaultLoadCases returns the combined cases that the mounts are held against
// when a file lists none. Full torque and full braking do not come together:
// the brakes hold the wheels that the torque would turn.
func DefaultLoadCases() []LoadCase {
	const source = "set by fitup, a rule of thumb"
	n := quantity.Ratio
	return []LoadCase{
		{Name: "full torque over a bump", Drive: n(1), Bump: n(2), Source: source},
		{Name: "braking over a bump", Braking: n(0.8), Bump: n(2), Source: source},
		{Name: "cornering over a bump", Cornering: n(0.7), Bump: n(2), Source: source},
	}
}

// loadCases reads the combined cases of [loads].
func (b *binder) loadCases(loads *tomltext.Node, rules map[string]Rule) []LoadCase {
	if loads == nil || loads.Child("case") == nil {
		return DefaultLoadCases()
	}
	list := loads.Child("case")
	var t loadTable
	v := reflect.ValueOf(&t).Elem()
	f, _ := fieldFor(v.Type(), "case")
	b.value(nil, list, v.FieldByIndex(f.Index), f)
	seen := map[string]bool{}
	for i, c := range t.Cases {
		n := entry(list, i)
		path := list.Path
		drive, brake := c.Drive.Or(0), c.Braking.Or(0)
		switch who := "the load case \"" + Printable(c.Name) + "\""; {
		case c.Name == "":
			b.fault(n, path, "a load case has no name; want name = what happens, such as \"braking over a bump\"")
		case seen[c.Name]:
			b.fault(n, path, "%s stands here twice; each needs its own name", who)
		case c.Source == "":
			b.fault(n, path, "%s does not say where its figures come from; want source = \"...\"", who)
		case drive > 1:
			b.fault(n, path, "%s takes %g times the largest torque; drive is a part of it, at most 1", who, drive)
		case drive > 0 && brake > 0:
			b.fault(n, path, "%s has both drive and braking; the brakes hold the wheels that the torque would turn, so make two cases of it", who)
		case drive == 0 && brake == 0 && c.Cornering.Or(0) == 0 && c.Bump.Or(1) == 1:
			b.fault(n, path, "%s loads nothing; want one or more of drive, braking, cornering and bump", who)
		}
		seen[c.Name] = true
	}
	return t.Cases
}
