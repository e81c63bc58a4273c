package main

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/tomltext"
	"fitup/internal/ui/theme"
)

// want is a value or a reading that findings ask for.
type want struct {
	path  string // as a person writes it; of a reading what it is of
	about string // what it is, and how it is given
	asked int    // by so many findings
}

// wants are what the findings that are not known ask for, first what most of
// them do. A finding names what it lacks now; more can come behind it.
func wants(a *assess.Assessment, shown string) []want {
	var out []want
	at := map[string]int{}
	ask := func(w want) {
		i, ok := at[w.path]
		if !ok {
			i = len(out)
			at[w.path], out = i, append(out, w)
		}
		out[i].asked++
	}
	readings := readingsWanted(a)
	for _, f := range a.Findings {
		if f.Status != assess.NotKnown {
			continue
		}
		for _, r := range readings {
			if strings.Contains(f.Missing, r.says) {
				ask(want{path: "a reading of " + r.of, about: "`fitup read " + shown + " " + r.of + " SHOWN --lower END`, END is " + r.ends})
			}
		}
		for _, path := range f.Lacks() {
			ask(want{path: project.SpokenPath(path), about: aboutPath(path, shown)})
		}
	}
	slices.SortStableFunc(out, func(x, y want) int { return y.asked - x.asked })
	return out
}

// readingWanted is a reading that is not there: what it is of, and how findings
// say that they lack it.
type readingWanted struct{ of, ends, says string }

func readingsWanted(a *assess.Assessment) []readingWanted {
	var out []readingWanted
	for _, f := range a.Findings {
		of, ok := strings.CutSuffix(f.ID, ".read")
		if !ok || f.Status != assess.NotKnown || !strings.HasPrefix(f.Missing, "no reading of ") {
			continue
		}
		if strings.HasSuffix(of, ".powertrain") {
			of = project.TargetPowertrain
		}
		r := readingWanted{of: of, says: f.Missing, ends: strings.Join(a.Build.Ends(of), " or ")}
		if !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	return out
}

// aboutPath says what stands at a path and how it is given.
func aboutPath(path, shown string) string {
	k, _ := project.KeyAt(path)
	spoken := project.SpokenPath(path)
	about := k.About
	if about != "" {
		about += "; "
	}
	switch k.Shape {
	case project.TableShape, project.NamedTablesShape:
		return about + "`fitup help file " + spoken + "` says what it has"
	case project.TablesShape:
		return about + "`fitup add " + shown + " " + spoken + " KEY=VALUE...`"
	}
	return aboutKey(k)
}

// missingText lists what is not known, and what is asked for.
func missingText(path string, f *project.File, a *assess.Assessment, g theme.Glyphs) string {
	var out strings.Builder
	out.WriteString(headLine(path, a.Build) + "\n\n")
	shown := shellWord(path)
	n := a.Count()[assess.NotKnown]
	if n == 0 {
		out.WriteString("No finding is not known.\n")
	}
	rows := [][]string{{"asked for by", "what", "what it is, and how it is given"}}
	for _, w := range wants(a, shown) {
		rows = append(rows, []string{fmt.Sprintf("%12d", w.asked), project.Printable(w.path), project.Printable(w.about)})
	}
	if len(rows) > 1 {
		out.WriteString("What is missing, first what most findings ask for:\n\n")
		out.WriteString(strings.Join(columns(rows, g, 0), "\n") + "\n\n")
		fmt.Fprintf(&out, "`fitup set %s PATH=VALUE` gives a value, and `fitup help file PATH` says how it is\n"+
			"measured. When it is there a finding may ask for the next.\n\n", shown)
	}
	if n > 0 {
		fmt.Fprintf(&out, "What each of the %d findings lacks:\n", n)
		out.WriteString(lacks(a))
	}
	if empty := emptyTables(f); len(empty) > 0 {
		out.WriteString("\nBegun and still empty, so that no finding asks for what is in it yet:\n\n")
		for _, e := range empty {
			fmt.Fprintf(&out, "  %s: `fitup help file %s` says what it has\n", e, shellWord(e))
		}
	}
	return out.String()
}

// lacks is what the findings that are not known lack, those that lack the same
// together.
func lacks(a *assess.Assessment) string {
	var order []string
	by := map[string][]string{}
	for _, f := range a.Findings {
		if f.Status != assess.NotKnown {
			continue
		}
		if by[f.Missing] == nil {
			order = append(order, f.Missing)
		}
		by[f.Missing] = append(by[f.Missing], fmt.Sprintf("%s [%s]", project.Printable(f.Title), project.Printable(f.ID)))
	}
	var out strings.Builder
	for _, why := range order {
		fmt.Fprintf(&out, "\n%s\n    %s\n", strings.Join(by[why], "\n"), project.Printable(why))
	}
	return out.String()
}

// emptyTables are the tables of the file that nothing stands in, as fitup set names
// them. A joint without a word is a universal joint.
func emptyTables(f *project.File) []string {
	var out []string
	var walk func(n *tomltext.Node)
	walk = func(n *tomltext.Node) {
		for _, c := range n.Children {
			if c.Kind == tomltext.Table && len(c.Children) == 0 && !strings.Contains(c.Path, ".joint[") {
				out = append(out, project.SpokenPath(c.Path))
			}
			walk(c)
		}
	}
	walk(f.Doc().Root())
	return out
}

// plainCheck is the findings for scripts: id, status, value, limit and ±, parted
// by tabs.
func plainCheck(a *assess.Assessment) string {
	var out strings.Builder
	u := a.Build.Units
	for _, f := range a.Findings {
		cells := []string{project.Printable(f.ID), statusJSON(f.Status), "-", "-", "-"}
		if f.HasValue {
			cells[2] = plainNumber(f.Kind, f.Value, u)
		}
		if f.HasLimit {
			cells[3] = plainNumber(f.Kind, f.Limit, u)
		}
		if f.HasValue && f.Uncertainty > 0 {
			cells[4] = plainNumber(f.Kind, f.Uncertainty, u)
		}
		out.WriteString(strings.Join(cells, "\t") + "\n")
	}
	return out.String()
}
