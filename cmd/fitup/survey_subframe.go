package main

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/book"
	"fitup/internal/project"
)

// writeSubframes says where what hangs in the frame hangs, and which way and how far
// each of its points has to move.
func writeSubframes(out *strings.Builder, x *assess.Assessment) {
	for _, s := range x.Subframes {
		fmt.Fprintf(out, "\n%s subframe", project.Printable(finding.Spoken(s.Name)))
		if s.After != "" {
			out.WriteString(", " + string(s.After))
		}
		out.WriteString("\n")
		if s.Why != "" {
			wrapped(out, "  ", project.Printable("Where it hangs is not known: "+s.Why+"."))
		}
		for _, p := range s.Points {
			wrapped(out, "  ", project.Printable(p.Name+" has to move: "+assess.SubframeMoves(p, x.Build.Units)+"."))
		}
		for _, f := range x.Findings {
			if f.By != finding.SubframeTrade || !strings.HasPrefix(f.ID, "subframe."+s.Name+".") {
				continue
			}
			value := ""
			if f.HasValue {
				value = ", " + book.Magnitude(f.Kind, f.Value, x.Build.Units)
				if f.Uncertainty > 0 {
					value += " ± " + book.Magnitude(f.Kind, f.Uncertainty, x.Build.Units)
				}
			}
			wrapped(out, "  ", project.Printable(fmt.Sprintf("%s: %s%s. %s", f.Title, f.Status, value, f.Advice())))
		}
		for _, a := range s.Assumes {
			wrapped(out, "  ", project.Printable("Assumed: "+a+"."))
		}
	}
}
