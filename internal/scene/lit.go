package scene

import (
	"slices"
	"strconv"
	"strings"
)

// under reports whether a thing is a subject, a part of it, or that of which it is a part.
func under(thing, subject string) bool {
	return thing != "" && subject != "" && (thing == subject || strings.HasPrefix(subject, thing+".") || strings.HasPrefix(thing, subject+"."))
}

// Subject is the thing on the drawing that an id is about: that of a row, of a finding,
// of what a reading is of, or the pattern of findings that a job waits for, of which it
// is what they have in common. "" for what has no place there.
func Subject(id string) string {
	id = strings.TrimSuffix(strings.TrimPrefix(id, "drift."), "?")
	if i := strings.IndexByte(id, '*'); i >= 0 {
		id = strings.TrimSuffix(id[:i], ".")
	}
	first, rest, _ := strings.Cut(id, ".")
	switch first {
	case "placement":
		return placed(rest)
	case "match":
		return "bracket." + rest
	case "mounts", "welds":
		if strings.HasPrefix(rest, "mode.") || strings.HasPrefix(rest, "roll_axis") {
			return id
		}
		return map[string]string{"mounts": "mount", "welds": "bracket"}[first]
	case "weld":
		return weldOf(rest)
	case "line":
		return ofLine(id)
	case "frame":
		return ofFrame(rest)
	case "powertrain":
		return first
	case "steering":
		return ofSteering(id)
	case "pickup":
		return ofPickup(id)
	case "rail":
		side, _, _ := strings.Cut(rest, ".")
		return "rails." + side
	case "subframe":
		return ofSubframe(id)
	case "clearance":
		if rest == "steering" || strings.HasPrefix(rest, "steering.") {
			return "steering"
		}
	}
	return id
}

// placed is what a row of the placement moves; the rows that move all of it have a
// dimension and no thing.
func placed(row string) string {
	switch row {
	case "left_front", "right_front", "rear":
		return "mount." + row
	}
	return ""
}

// weldOf is the bracket that a weld holds: its name in words, behind it those of the
// weld and of its side.
func weldOf(rest string) string {
	name, _, _ := strings.Cut(rest, ".")
	return "bracket." + strings.ReplaceAll(name, "-", "_")
}

// ofLine is the part of a line that is meant: all of it by what its joints leave over and
// by how far its axle gets, the powertrain by a reading of that.
func ofLine(id string) string {
	id = strings.Replace(id, ".travel.joint.", ".joint.", 1)
	parts := strings.SplitN(id, ".", 4)
	if len(parts) < 3 {
		return id
	}
	switch line := parts[0] + "." + parts[1]; parts[2] {
	case "powertrain":
		return "powertrain"
	case "travel", "strap", "straps":
		if len(parts) > 3 && strings.HasPrefix(parts[3], "slip") {
			return line + ".shaft"
		}
		return line
	case "residual", "equivalent":
		return line
	case "half_shafts":
		return line + ".half_shaft"
	}
	return id
}

// ofSteering is the part of the steering shaft that is meant: a joint, a shaft, a
// bearing, or all of it.
func ofSteering(id string) string {
	parts := strings.SplitN(strings.NewReplacer("[", ".", "]", "").Replace(id), ".", 4)
	if len(parts) >= 3 && (parts[1] == "joint" || parts[1] == "shaft" || parts[1] == "bearing") {
		return strings.Join(parts[:3], ".")
	}
	return "steering"
}

// ofSubframe is a corner of what hangs in the frame, or all of it.
func ofSubframe(id string) string {
	parts := strings.Split(id, ".")
	if len(parts) < 3 || parts[2] == "corner" {
		return id
	}
	return strings.Join(parts[:2], ".")
}

// ofPickup is the part of an axle's pick-ups that is meant: a spring, a damper, a tower,
// a rod, the bar, or all of a side or of the axle.
func ofPickup(id string) string {
	parts := strings.Split(strings.NewReplacer("[", ".", "]", "").Replace(id), ".")
	if len(parts) < 3 {
		return id
	}
	axle := strings.Join(parts[:2], ".")
	switch side := parts[2]; {
	case side == "bar" || len(parts) > 3 && parts[3] == "bar":
		return axle + ".bar"
	case side != "left" && side != "right":
		return axle
	case len(parts) == 3:
		return axle + "." + side
	case parts[3] == "rod" && len(parts) > 4:
		n := parts[4]
		if strings.Contains(id, "[") { // the file counts from 0
			if i, err := strconv.Atoi(n); err == nil {
				n = strconv.Itoa(i + 1)
			}
		}
		return axle + "." + side + ".rod." + n
	case parts[3] == "spring" || parts[3] == "damper" || parts[3] == "tower":
		return axle + "." + side + "." + parts[3]
	case parts[3] == "stop":
		return axle + "." + side + ".damper"
	default:
		return axle + "." + side + ".arms"
	}
}

// ofFrame is what a finding about the frame is about: an axle, or the rails.
func ofFrame(rest string) string {
	if axle, ok := strings.CutPrefix(rest, "axle."); ok {
		return "axle." + axle
	}
	if rest == "wheelbase" {
		return "axle"
	}
	return "rails"
}

// meant is the id that stands for one whose own thing is not drawn: a mount for the
// bracket that it has not yet, the pieces of a powertrain that has no axis to show.
func (s *Scene) meant(id string) string {
	subject := Subject(id)
	mount, ofBracket := strings.CutPrefix(subject, "bracket.")
	if !ofBracket && subject != "powertrain" || s.lights(subject) {
		return id
	}
	if ofBracket {
		mount, _, _ = strings.Cut(mount, ".")
		return "mount." + mount
	}
	return "part"
}

// lights reports whether an id lights any thing.
func (s *Scene) lights(id string) bool {
	subject := Subject(id)
	for i := range s.Parts {
		if under(s.Parts[i].ID, subject) {
			return true
		}
	}
	return slices.ContainsFunc(s.Marks, func(m Mark) bool { return under(m.ID, subject) })
}
