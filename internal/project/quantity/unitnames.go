package quantity

// UnitNames lists the names of the units in which a kind can be written, in the
// order of the table of units; none for a pure number.
func UnitNames(k Kind) []string {
	family := k.info().family
	var names []string
	for i := range rows {
		if r := &rows[i]; r.kind == family && !r.part && r.name != "" {
			names = append(names, r.name)
		}
	}
	return names
}
