package finding

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Practice is the source of what is common practice.
const Practice = "common practice, no source"

// MakersFigure is the source of a joint's own largest angle.
const MakersFigure = "the joint maker's figure, in this build's file"

func advise(is Status, missing string, moved bool, by map[Status]string) string {
	if is == NotKnown {
		return NotYet(missing)
	}
	s := by[is]
	if moved {
		s += " The number is the old reading and what the model says the move changed; read again where it stands now."
	}
	return s
}

// Asked picks the sentence for a finding's status, once somebody asks: f is kept
// as it is now, and by is called then. What is missing is its own advice.
func Asked(f Finding, by func() map[Status]string) Text {
	is, missing, moved := f.Status, f.Missing, f.Moved // all that it rests on
	return func() string { return advise(is, missing, moved, by()) }
}

// NotYet is the advice on a finding that cannot be judged.
func NotYet(why string) string {
	if !strings.HasSuffix(why, "?") {
		why += "."
	}
	return "Cannot be judged yet: " + why
}

// Sentence writes an error as a sentence of advice.
func Sentence(s string) string {
	if s == "" {
		return s
	}
	if !strings.HasSuffix(s, "?") {
		s += "."
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// Clause is a sentence as it stands within another.
func Clause(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + strings.TrimSuffix(s[1:], ".")
}

// Slug is a name as a part of an id: lower case, with _ for all that is neither
// letter nor digit.
func Slug(s string) string {
	s = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '_'
	}, strings.ToLower(s))
	return strings.Trim(s, "_")
}

// SpokenPoint is the path of a point as it is said.
func SpokenPoint(path string) string { return Spoken(strings.TrimPrefix(path, "point.")) }

// Spoken is a name of the file as it is said.
func Spoken(name string) string { return strings.ReplaceAll(name, "_", " ") }

// NameOr is what part i (from 0) of the file is called: its own name, or what it
// is with its number.
func NameOr(name, what string, i int) string {
	if name == "" {
		return what + " " + strconv.Itoa(i+1)
	}
	return project.Printable(name)
}

// IDOf makes the name of part i (from 0) fit to stand between the dots of an id,
// and unlike those taken before; it takes it.
func IDOf(name string, i int, taken map[string]bool) string {
	id := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '_'
	}, strings.TrimSpace(name))
	if id == "" || taken[id] {
		id += strconv.Itoa(i + 1)
	}
	for taken[id] {
		id += "_"
	}
	taken[id] = true
	return id
}

// AtRise says at which rise (mm, bump positive) something is, and under which
// torque; under may be empty.
func AtRise(rise float64, under string, u quantity.Units) string {
	s := "at ride height"
	switch {
	case rise > 0:
		s = "at " + quantity.Format(quantity.Length, rise, u, 1) + " of bump"
	case rise < 0:
		s = "at " + quantity.Format(quantity.Length, -rise, u, 1) + " of droop"
	}
	if under != "" {
		s += ", " + under
	}
	return s
}

// Restate puts the lengths in what the geometry says into the file's unit: it
// knows mm only, and a builder who works in inches reads no mm.
func (f *Finding) Restate(u quantity.Units) {
	f.Missing = quantity.Restate(f.Missing, u)
	if says := f.Says; says != nil {
		f.Says = func() string { return quantity.Restate(says(), u) }
	}
	shared := true // what a trade prepared once, and other findings have as well
	for i, was := range f.Assumes {
		now := quantity.Restate(was, u)
		if now == was {
			continue
		}
		if shared {
			f.Assumes, shared = slices.Clone(f.Assumes), false
		}
		f.Assumes[i] = now
	}
}
