package sheet

import (
	"slices"
	"strconv"
	"strings"

	"fitup/internal/project"
)

// About returns the row or the section that the id of a finding, the name of a placement
// row, or the target of a reading is about: a mount's, a line's, a part's.
func (s *Sheet) About(id string) (path string, ok bool) {
	parts := strings.Split(id, ".")
	if len(parts) < 2 {
		if id == "powertrain" {
			return "powertrain", true
		}
		return "", false
	}
	switch parts[0] {
	case "placement":
		if _, _, ok := s.Row(id); !ok {
			return "placement", true
		}
		return id, true
	case "mount", "bracket", "match", "built":
		return s.under("mount." + parts[1])
	case "line":
		return s.lineOf(parts)
	case "clearance":
		return s.roomTo(parts[1])
	case "exhaust":
		if path, ok := s.entry("powertrain.exhaust", parts[1], "name"); ok {
			return path, true
		}
		return s.slugged("exhaust", parts[1])
	case "subframe":
		return s.subframeOf(parts)
	case "survey", "frame":
		return s.surveyed(parts)
	case "rail":
		return s.under("rails." + parts[1])
	case "steering":
		return s.numbered("steering", parts[1:])
	case "torque_link", "roll_stop":
		return s.under(parts[0] + "." + parts[1])
	case "pickup":
		return s.pickupOf("pickup."+parts[1], parts[2:])
	case "fastener", "fluid", "weld", "measure":
		return s.slugged(parts[0], parts[1])
	case "powertrain":
		return "powertrain", true
	}
	return "", false
}

// under is the section at path, if there is one.
func (s *Sheet) under(path string) (string, bool) {
	for _, sec := range s.Sections {
		if sec.ID == path {
			return path, true
		}
	}
	return "", false
}

// lineOf is the part of a line that the parts of an id name.
func (s *Sheet) lineOf(parts []string) (string, bool) {
	line := "line." + parts[1]
	if len(parts) > 3 {
		if n, err := strconv.Atoi(parts[3]); err == nil && n > 0 {
			at := line + "." + parts[2] + "[" + strconv.Itoa(n-1) + "]"
			for _, sec := range s.Sections {
				if sec.ID == at && sec.Begun {
					return at, true
				}
			}
		}
	}
	if len(parts) > 2 {
		key := parts[2]
		if key == "travel" || key == "half_shaft" || key == "strap" || key == "straps" {
			key = "suspension"
		}
		if path, ok := s.under(line + "." + key); ok {
			return path, true
		}
	}
	return s.under(line)
}

// roomTo is what room to a piece of the vehicle is about: the piece, or where another trade
// has it from.
func (s *Sheet) roomTo(piece string) (string, bool) {
	if piece == "powertrain" { // that name is its own
		return "powertrain", true
	}
	if path, ok := s.entry("chassis", piece, "name"); ok {
		return path, true
	}
	if piece == "steering" {
		if path, ok := s.under("steering"); ok {
			return path, true
		}
	}
	if mount, ok := strings.CutSuffix(piece, "_bracket"); ok {
		if path, ok := s.under("mount." + mount); ok {
			return path, true
		}
	}
	for _, sec := range s.Sections { // front_left_spring, front_bar, front_left_tension_rod
		axle, ok := strings.CutPrefix(sec.ID, "pickup.")
		if !ok || strings.Contains(axle, ".") {
			continue
		}
		rest, ok := strings.CutPrefix(piece, project.Slug(axle)+"_")
		if !ok {
			continue
		}
		side, what, _ := strings.Cut(rest, "_")
		if side == "bar" || strings.HasPrefix(rest, "anti") {
			return s.under(sec.ID + ".bar")
		}
		at := sec.ID + "." + side
		if path, ok := s.entry(at+".rod", what, "name"); ok {
			return path, true
		}
		if path, ok := s.under(at + "." + what); ok {
			return path, true
		}
		if path, ok := s.under(at); ok {
			return path, true
		}
	}
	return s.slugged("chassis", piece)
}

// slugged is the entry of a list whose name has that slug, or else the list.
func (s *Sheet) slugged(list, slug string) (string, bool) {
	if path, ok := s.entry(list, slug, "name", "bracket", "of"); ok {
		return path, true
	}
	for _, sec := range s.Sections {
		if sec.List == list {
			return sec.ID, true
		}
	}
	return "", false
}

// entry is the entry of a list of which one of the keys has that slug.
func (s *Sheet) entry(list, slug string, keys ...string) (string, bool) {
	for _, sec := range s.Sections {
		if sec.List != list || !sec.Begun {
			continue
		}
		for _, r := range sec.Rows {
			key := lastKey(r.Path)
			if slices.Contains(keys, key) && r.Given && project.Slug(r.Text) == project.Slug(slug) {
				return sec.ID, true
			}
		}
	}
	return "", false
}

// Lacking returns the row that a sentence such as "sump: its other end is not in the file
// yet: to" says is missing: of the entry that goes by the name before the first colon, the
// value that the last words begin with.
func (s *Sheet) Lacking(missing string) (path string, ok bool) {
	name, rest, ok := strings.Cut(missing, ": ")
	if !ok {
		return "", false
	}
	last := rest[strings.LastIndex(rest, ": ")+1:]
	keys := strings.Fields(strings.ReplaceAll(last, ",", " "))
	for _, sec := range s.Sections {
		if !sec.Begun || sec.List == "" || !strings.HasSuffix(name, s.nameIn(sec.Path)) || s.nameIn(sec.Path) == "" {
			continue
		}
		for _, key := range keys {
			if _, r, ok := s.Row(sec.Path + "." + key); ok && !r.Given {
				return r.Path, true
			}
		}
	}
	return "", false
}

// HalfRead returns the row that the first reading which was not written down whole
// lacks, where a sentence is about a reading.
func (s *Sheet) HalfRead(missing string) (path string, ok bool) {
	if !strings.Contains(missing, "reading") {
		return "", false
	}
	for _, sec := range s.Sections {
		if sec.List != "reading" || !sec.Begun {
			continue
		}
		if _, shown, _ := s.Row(sec.Path + ".shown"); !shown.Given {
			continue
		}
		for _, key := range []string{"on", "lower"} {
			if _, r, ok := s.Row(sec.Path + "." + key); ok && !r.Given {
				return r.Path, true
			}
		}
	}
	return "", false
}

// subframeOf is what was measured to a subframe, or the subframe.
func (s *Sheet) subframeOf(parts []string) (string, bool) {
	if len(parts) > 3 && parts[2] == "measure" {
		if path, ok := s.measured(parts[3]); ok {
			return path, true
		}
	}
	return s.under("subframe." + parts[1])
}

// surveyed is what an id of the survey is about: what was measured, by its number, a
// point, or the survey itself.
func (s *Sheet) surveyed(parts []string) (string, bool) {
	if len(parts) > 2 {
		switch parts[1] {
		case "measure":
			if path, ok := s.measured(parts[2]); ok {
				return path, true
			}
		case "point":
			if path, ok := s.under("point." + parts[2]); ok {
				return path, true
			}
		}
	}
	return s.under("survey")
}

// measured is the row of what a measurement read, by its number from 1.
func (s *Sheet) measured(number string) (string, bool) {
	n, err := strconv.Atoi(number)
	if err != nil {
		return "", false
	}
	for _, key := range []string{"lengths", "angles"} {
		path := "measure[" + strconv.Itoa(n-1) + "]." + key
		if _, r, ok := s.Row(path); ok && r.Given {
			return path, true
		}
	}
	return "", false
}

// numbered is the entry of a list of the table at path that the parts of an id name by
// its number, or that table.
func (s *Sheet) numbered(path string, parts []string) (string, bool) {
	if len(parts) > 1 {
		if n, err := strconv.Atoi(parts[1]); err == nil && n > 0 {
			if at, ok := s.under(path + "." + parts[0] + "[" + strconv.Itoa(n-1) + "]"); ok {
				return at, true
			}
		}
	}
	return s.under(path)
}

// pickupOf is the part of an axle's pick-ups that the rest of an id names; of what both
// sides are compared by, the left one.
func (s *Sheet) pickupOf(axle string, rest []string) (string, bool) {
	side := "left"
	if len(rest) > 0 && (rest[0] == "left" || rest[0] == "right") {
		side, rest = rest[0], rest[1:]
	} else if len(rest) > 0 && rest[0] == "bar" {
		return s.under(axle + ".bar")
	}
	at := axle + "." + side
	if len(rest) == 0 {
		return s.under(at)
	}
	switch rest[0] {
	case "rod":
		return s.numbered(at, rest)
	case "stop":
		return s.under(at + ".damper")
	case "bar":
		return s.under(axle + ".bar." + side)
	}
	if path, ok := s.under(at + "." + rest[0]); ok {
		return path, true
	}
	return s.under(at)
}
