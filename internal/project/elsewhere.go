package project

import (
	"strings"

	"fitup/internal/project/tomltext"
)

// Elsewhere says that a subject is judged by somebody else: a bought bracket
// by its maker. It is no ok: the program has judged nothing.
type Elsewhere struct {
	Of   string `toml:"of" doc:"what is judged elsewhere: bracket.rear, or the id of a finding; * for any part" need:"yes" offers:"findings"`
	By   string `toml:"by" doc:"who judges it" need:"yes"`
	Why  string `toml:"why" doc:"why, and where that is written down" lines:"yes" need:"yes"`
	Note string `toml:"note" doc:"anything worth knowing" lines:"yes"`
}

// checkElsewhere wants to know who and why: without them nothing was judged.
func (b *binder) checkElsewhere(build *Build, root *tomltext.Node) {
	list := root.Child("elsewhere")
	if list == nil {
		return
	}
	seen := map[string]bool{}
	for i, n := range list.Children {
		if i >= len(build.Elsewhere) {
			return
		}
		e := build.Elsewhere[i]
		switch {
		case strings.TrimSpace(e.Of) == "":
			b.fault(n.Pos, n.Path, "it does not say what is judged elsewhere; want of = such as \"bracket.rear\"")
		case strings.HasPrefix(strings.TrimSpace(e.Of), "*"):
			b.fault(n.Pos, n.Path, "%q would hand everything over at once; name one subject, such as \"bracket.rear\", and write one entry for each", Printable(e.Of))
		case strings.TrimSpace(e.By) == "":
			b.fault(n.Pos, n.Path, "it does not say who judges it; want by = such as \"the maker of the bracket\"")
		case strings.TrimSpace(e.Why) == "":
			b.fault(n.Pos, n.Path, "it does not say why it is judged elsewhere; want why = such as \"bought, with its test report\"")
		case seen[e.Of]:
			b.fault(n.Pos, n.Path, "%q is declared already; keep one of the two", Printable(e.Of))
		}
		seen[e.Of] = true
	}
}
