package bracket

import (
	"fmt"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// MadeWeld is one weld of the weld map as it is.
type MadeWeld struct {
	Bracket string // the bracket that it holds
	At      string // which weld of it
	Part    string // the same, as WeldParts calls it; "" where the file does not say
	Path    string // of that in the file
	Begun   bool   // some side of it is tacked at least

	Sides, Carrying int            // how many sides it has, and how many of them carry
	Open            []string       // sides that carry nothing yet
	Carries         finding.Number // length that carries, mm
	AllSides        finding.Number // length that it is meant to have, mm
	Lacks           []string       // paths of the lengths that are not in the file
	Each            []MadeSide     // its sides
}

// MadeSide is one side of a weld of the map: what of it carries, mm.
type MadeSide struct {
	Name    string
	Carries float64
}

// welded is the weld of a bracket as it is.
type welded struct {
	begun   bool
	welds   []MadeWeld // those that hold the bracket
	carries string     // what of them carries, in words
	open    []string   // which sides do not
}

// weldedOf is what of the welds of a map holds a bracket.
func weldedOf(bracket string, welds []MadeWeld, units quantity.Units) (out welded) {
	for _, w := range welds {
		if project.Slug(w.Bracket) == project.Slug(bracket) {
			out.welds = append(out.welds, w)
			out.begun = out.begun || w.Begun
		}
	}
	out.carries, out.open = whatCarries(out.welds, units)
	return out
}

// weldedFinding holds the weld as it is against the limit: only finished sides
// of the map carry. It is a finding beside the one of the planned weld, which
// is wanted before there is any weld; it begins with the first tack.
func (r *Result) weldedFinding(b *Bracket) {
	made := &b.ready.welded
	if !b.Strength.Weld.Begun || !made.begun {
		return
	}
	u := b.Strength.Weld.Use
	f := finding.Finding{ID: finding.BracketWelded(b.Name), Title: b.Label + " bracket, screening use of strength: weld as it is", OfFinished: true}
	switch {
	case len(made.open) > 0:
		u.Of = finding.Missing("only finished sides carry; " + made.carries)
	case u.Of.Known:
		missing, told, together := b.mapped(r.ready.units)
		f.Assumes = append(f.Assumes, together...)
		switch {
		case missing != "":
			u.Of = finding.Missing(missing)
		case !told && len(made.welds) > 1:
			f.Assumes = append(f.Assumes, "one of its welds on the map being that at its foot")
		}
		for _, x := range []Use{b.Strength.Seams.Use, b.Strength.Gusset.Use} { // of a box, and of gussets
			if missing == "" && x.Begun && u.Of.Known && (!x.Of.Known || x.Of.V > u.Of.V) {
				u = x
			}
		}
	}
	f.Assumes = append(append(f.Assumes, b.standsOn()), u.rests...)
	f.Judge(u.Of, r.ready.use, false)
	if f.Status != finding.Over && f.HasValue && b.Strength.Why != "" {
		f.Unknown(b.Strength.Why)
	}
	if planned := r.last(finding.BracketWeld(b.Name)); f.Status != finding.Over && f.HasValue && planned.Status == finding.NotKnown {
		f.Unknown(planned.Missing) // what it carries in some case is open
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   u.governs() + engineers,
			finding.Over: u.governs() + "Too weak: it does not carry what it has to. " + engineers,
		}
	})
	r.Findings = append(r.Findings, f)
}

// whatCarries says in words what part of the welds carries, and which sides do
// not.
func whatCarries(welds []MadeWeld, units quantity.Units) (words string, open []string) {
	var parts []string
	for _, w := range welds {
		sides := w.Open
		if w.Sides == 0 {
			sides = []string{"no sides in the file yet"}
		}
		open = append(open, sides...)
		part := w.At + ": "
		switch length := func(m finding.Number) string { return quantity.Format(quantity.Length, m.V, units, 1) }; {
		case w.Carries.Known && w.AllSides.Known:
			part += length(w.Carries) + " of " + length(w.AllSides) + " carry"
		case w.Carrying == 0:
			part += "nothing carries yet"
		default:
			part += fmt.Sprintf("%d of %d sides carry, and not all have a length in the file", w.Carrying, w.Sides)
			if len(w.Lacks) > 0 {
				part += " yet: " + strings.Join(w.Lacks, ", ")
			}
		}
		if len(sides) > 0 {
			part += " (" + strings.Join(sides, ", ") + ")"
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, "; "), open
}
