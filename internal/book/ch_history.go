package book

// history is the earlier states of the file, with what each save changed.
func (m *maker) history(s *Sheet) {
	if m.from.PastWhy != "" {
		s.add("", text(0, "Earlier states of the file cannot be told: "+sentence(m.from.PastWhy))...)
		return
	}
	if len(m.from.Past) == 0 {
		s.add("", text(0, "There is no earlier state of this file: they begin with its first save here.")...)
		return
	}
	s.add("", text(0, "What led from each state of the file to the one above it, the newest first. `fitup history FILE` brings one back.")...)
	var rows [][]string
	for _, p := range m.from.Past {
		when := p.When
		if p.Dropped {
			when += ", dropped unsaved"
		}
		rows = append(rows, []string{when, p.Led})
	}
	s.add("", grid([]string{"state of", "what has changed since"}, rows))
}
