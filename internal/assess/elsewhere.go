package assess

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
)

// elsewhere marks what the file says is judged by somebody else. Such a
// subject is never ok: nothing was judged here. What is over here stays over,
// since a word does not outvote a number. A bracket without a leg in the file
// gets a finding of its own, so that it is counted and can be waited for.
func (a *Assessment) elsewhere() {
	for _, e := range a.Build.Elsewhere {
		who := project.Printable(strings.TrimSpace(e.By)) + ": " + project.Printable(strings.TrimSpace(e.Why))
		met, of := false, subjectOf(e.Of)
		for i := range a.Findings {
			f := &a.Findings[i]
			if !of.covers(f.ID) {
				continue
			}
			met = true
			f.Elsewhere = who
			if f.Status != Over {
				f.Status, f.Missing = Elsewhere, ""
				f.Says = finding.Say("Judged by " + who + ". Nothing is said about it here.")
			}
		}
		if met || !a.asks(OfLegs) {
			continue
		}
		f := Finding{ID: e.Of, By: finding.Declared, Title: strings.ReplaceAll(project.Printable(e.Of), ".", ", "), Source: finding.Practice}
		if name, ok := strings.CutPrefix(e.Of, bracketPrefix); ok && slices.Contains(bracketNames(a.Build), name) {
			f.Title = finding.Spoken(name) + " bracket"
			f.Status, f.Elsewhere = Elsewhere, who
			f.Says = finding.Say("Judged by " + who + ". Nothing is said about it here.")
		} else if a.asked == Everything {
			f.Unknown("the file says that " + project.Printable(e.Of) + " is judged elsewhere, and nothing is called so" + a.meant(e.Of))
			f.Says = finding.Say("Take the declaration out, or name a bracket such as bracket.rear, or a finding.")
		} else {
			continue
		}
		a.Findings = append(a.Findings, f)
	}
}

const bracketPrefix = "bracket."

// subject is what a declaration is of: a finding, a pattern for some, or what findings
// are about.
type subject struct{ itself, about finding.Pattern }

func subjectOf(of string) subject {
	return subject{finding.PatternOf(of), finding.PatternOf(of + ".**")}
}

// covers reports whether a finding belongs to the subject.
func (s *subject) covers(id string) bool { return s.itself.Matches(id) || s.about.Matches(id) }

// declared returns who judges a subject elsewhere, if somebody does.
func (a *Assessment) declared(id string) (string, bool) {
	for _, e := range a.Build.Elsewhere {
		if s := subjectOf(e.Of); s.covers(id) {
			return project.Printable(strings.TrimSpace(e.By)) + ": " + project.Printable(strings.TrimSpace(e.Why)), true
		}
	}
	return "", false
}

// bracketNames are the mounts that want a bracket: those that carry the powertrain, and
// those of the corners of subframes, of a transfer case and of carrier bearings.
func bracketNames(b *project.Build) []string {
	return slices.Concat(b.CarryingNames(), b.CornerNames(), b.SupportNames())
}

// bracketFacts says of every mount whether its bracket is in the file or
// declared judged elsewhere. One of which nothing is said was never looked at.
func (a *Assessment) bracketFacts() {
	begun := map[string]bool{}
	for _, b := range a.Brackets {
		begun[b.Name] = true
	}
	for _, n := range bracketNames(a.Build) {
		f := Fact{ID: finding.BracketGiven(n), Title: finding.Spoken(n) + " bracket", Status: OK}
		f.Text = f.Title + " is in the file"
		if who, ok := a.declared(finding.Bracket(n)); ok {
			f.Status, f.Text = Elsewhere, f.Title+" is judged by "+who
		} else if !begun[n] {
			f.Status, f.Text = NotKnown, f.Title+" was never entered, so nobody has judged it"
			f.Why = fmt.Sprintf("Give its leg in [mount.%s.leg], or its kind in [mount.%s.bracket], or say in [[elsewhere]] who judges it and why.", n, n)
		}
		a.note(finding.Declared, f)
	}
}
