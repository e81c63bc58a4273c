package main

import (
	"fmt"
	"strings"
	"time"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
	"fitup/internal/project/session"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) jobsCommand() *cobra.Command {
	add, full, glyphs := false, false, ""
	cmd := &cobra.Command{
		Use:   "jobs FILE",
		Short: "Print the job list and what belongs to it",
		Long: `Print the job list stage by stage, with what holds a job and what has to be
proved again; then the engine-out list, the weld map, what was measured, and the
table of fasteners and fluids.

  [x]  done
  [ ]  can be done now
  [-]  held: the line below says by what
  [!]  was done, and what it relied on holds no more: prove it again
  [?]  done, and it rests on a job that has to be proved again

--add puts every job of the built-in list that suits the build into the file,
once; from then on the list is yours to change.`,
		Example: `  fitup jobs truck.toml
  fitup jobs --full truck.toml
  fitup jobs --add truck.toml`,
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			g, err := a.signs(glyphs)
			if err != nil {
				return err
			}
			if add {
				return a.addJobs(args[0])
			}
			return a.printAssessed(args[0], g, func(x *assess.Assessment) string { return jobsText(x, full) })
		},
	}
	cmd.Flags().BoolVar(&add, "add", false, "put the built-in list into the file")
	cmd.Flags().BoolVar(&full, "full", false, "print with each job what done means, its tools and its cautions")
	addGlyphs(cmd, &glyphs)
	return cmd
}

func (a *app) nextCommand() *cobra.Command {
	glyphs := ""
	cmd := &cobra.Command{
		Use:   "next FILE",
		Short: "Print what can be done now and what holds the rest",
		Long: `Print the jobs that can be done now, each with what done means, what it takes and
what to mind; what has to be proved again; with the powertrain out, what can only
be reached now; and what holds the rest.`,
		Example:           "  fitup next truck.toml",
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			g, err := a.signs(glyphs)
			if err != nil {
				return err
			}
			return a.printAssessed(args[0], g, nextText)
		},
	}
	addGlyphs(cmd, &glyphs)
	return cmd
}

// printAssessed prints a text about the assessed build file at path.
func (a *app) printAssessed(path string, g theme.Glyphs, text func(*assess.Assessment) string) error {
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	x, err := a.assessed(f.Build)
	if err != nil {
		return err
	}
	head := headLine(path, x.Build)
	return a.print(g.Plain(head + "\n\n" + text(x)))
}

// addJobs puts the built-in list into the file.
func (a *app) addJobs(path string) error {
	s, left, err := session.Open(path, a.env.Now)
	if err != nil {
		return fail(exitFile, err)
	}
	defer s.Close()
	if left != nil {
		return fail(exitFile, fmt.Errorf("%s has unsaved work from another time; open it with `fitup %s` first", project.Printable(path), shellWord(path)))
	}
	e, n, err := edit.AddJobs(s.Now())
	if err != nil {
		return fail(exitFile, err)
	}
	if n == 0 {
		return a.print("the jobs of the built-in list are in the file already\n")
	}
	if err := s.Do("built-in list added", e); err != nil {
		return fail(exitSave, err)
	}
	if err := s.Save(false); err != nil {
		return fail(exitSave, err)
	}
	return a.print(fmt.Sprintf("added %d jobs; `fitup next %s` says what can be done now\n", n, shellWord(path)))
}

var jobMarks = map[assess.JobState]string{assess.Done: "[x]", assess.Open: "[ ]", assess.Held: "[-]", assess.ProveAgain: "[!]", assess.InDoubt: "[?]"}

// jobsText is the job list and all that belongs to it.
func jobsText(x *assess.Assessment, full bool) string {
	var out strings.Builder
	count := x.Headcount()
	if count.Total == 0 {
		out.WriteString("No jobs yet: --add puts the built-in list in.\n")
	} else {
		fmt.Fprintf(&out, "%s; %d held, %d to prove again", count, len(x.JobsIn(assess.Held)), len(x.JobsIn(assess.ProveAgain)))
		if n := len(x.JobsIn(assess.InDoubt)); n > 0 {
			fmt.Fprintf(&out, ", %d in doubt", n)
		}
		out.WriteString("\n")
	}
	for _, s := range x.Stages() {
		fmt.Fprintf(&out, "\n%s (%d of %d)\n", project.Printable(s.Name), s.Done, s.Total)
		for _, j := range x.Jobs {
			if j.Stage == s.Name {
				writeJob(&out, x, j, full)
			}
		}
	}
	writeOut(&out, x)
	writeWelds(&out, x)
	writeMeasured(&out, x)
	writeFasteners(&out, x)
	return out.String()
}

const jobIndent = "        "

func writeJob(out *strings.Builder, x *assess.Assessment, j assess.Job, full bool) {
	fmt.Fprintf(out, "  %s %s  (%s)\n", jobMarks[j.State], project.Printable(j.Title), project.Printable(j.ID))
	line := func(head, text string) {
		if text != "" {
			wrapped(out, jobIndent, head+project.Printable(text))
		}
	}
	for _, b := range j.Broken {
		line("prove again: ", b)
	}
	for _, d := range j.Doubts {
		line("in doubt: ", d)
	}
	if b, ok := x.Before(j); ok {
		line("", b.Text)
	}
	if j.State == assess.Held {
		for _, h := range j.Holds {
			if h.Holds() {
				line("held: ", h.Text)
			}
		}
	}
	for _, h := range j.Holds {
		if h.Status == assess.Elsewhere {
			line("", h.Text)
		}
	}
	line("overridden: ", j.Override)
	for _, c := range x.Changed(j) {
		line("changed: ", c)
	}
	if j.State == assess.Done && !j.DoneOn.IsZero() {
		line("", doneText(x, j))
	}
	if full {
		writeHow(out, j)
	}
}

// doneText is when a job was ticked, and where the powertrain stood when
// something was proved by it.
func doneText(x *assess.Assessment, j assess.Job) string {
	text := "done on " + j.DoneOn.Format(time.DateOnly)
	if p, ok := j.Placed.Seat(); ok {
		at := func(v float64) string { return book.Magnitude(quantity.Length, v, x.Build.Units) }
		text += fmt.Sprintf(", proved with the mounts at %s, %s and %s", at(p.LeftFront), at(p.RightFront), at(p.Rear))
	}
	return text
}

// writeHow is what done means, what it takes and what to mind.
func writeHow(out *strings.Builder, j assess.Job) {
	if j.Means != "" {
		wrapped(out, jobIndent, "done when "+project.Printable(j.Means))
	}
	if j.Tools != "" {
		wrapped(out, jobIndent, "tools: "+project.Printable(j.Tools))
	}
	for _, c := range j.Cautions {
		wrapped(out, jobIndent, "mind: "+project.Printable(c))
	}
	if j.Note != "" {
		wrapped(out, jobIndent, "note: "+project.Printable(j.Note))
	}
}

// wrapped writes a text in lines of at most 100 signs, each behind the indent;
// what follows the first line hangs two further in.
func wrapped(out *strings.Builder, indent, text string) {
	for i, l := range theme.Wrap(text, 100-len(indent)) {
		if i > 0 && indent != "" {
			l = "  " + l
		}
		out.WriteString(indent + l + "\n")
	}
}

func writeOut(out *strings.Builder, x *assess.Assessment) {
	if len(x.EngineOut) == 0 {
		return
	}
	where := "not said where the powertrain is"
	if s := x.Build.Powertrain.Standing; s != "" {
		where = "the powertrain is " + string(s)
	}
	fmt.Fprintf(out, "\nengine-out list, %d open (%s)\n", len(x.EngineOut), where)
	for _, it := range x.EngineOut {
		fmt.Fprintf(out, "  [ ] %s\n", project.Printable(it.Text))
	}
}

func writeWelds(out *strings.Builder, x *assess.Assessment) {
	if len(x.Welds) == 0 {
		return
	}
	out.WriteString("\nweld map (only finished sides carry)\n")
	for _, w := range x.Welds {
		line := w.Bracket + ", " + w.At + ": "
		switch {
		case w.State == project.NoWeld && len(w.Open) > 0:
			line += strings.Join(w.Open, ", ")
		case len(w.Open) > 0:
			line += string(w.State) + "; open: " + strings.Join(w.Open, ", ")
		default:
			line += string(w.State)
		}
		if len(w.Bare) > 0 {
			line += "; finished, and proof is missing: " + strings.Join(w.Bare, ", ")
		}
		if w.Carries.Known && w.AllSides.Known && w.AllSides.V > 0 {
			line += fmt.Sprintf("; %s of %s carry", book.Magnitude(quantity.Length, w.Carries.V, x.Build.Units), book.Magnitude(quantity.Length, w.AllSides.V, x.Build.Units))
		}
		wrapped(out, "  ", project.Printable(line))
		for _, s := range w.Sides {
			if s.Override != "" {
				wrapped(out, jobIndent, project.Printable("overridden, "+s.Name+": "+s.Override))
			}
		}
	}
}

func writeMeasured(out *strings.Builder, x *assess.Assessment) {
	drifts := false
	for i, m := range x.Measurements {
		if i == 0 {
			out.WriteString("\nmeasurements\n")
		}
		u := x.Build.Units
		line := fmt.Sprintf("%s: %s ± %s, %s, %d read, spread %s", m.Of, book.Magnitude(m.Kind, m.Mean.V, u), book.Magnitude(m.Kind, m.Mean.Expanded(), u),
			m.With, m.Count, book.Magnitude(m.Kind, m.Spread, u))
		if m.On != "" {
			line += ", " + m.On
		}
		if m.After != "" {
			line += ", " + string(m.After)
		}
		wrapped(out, "  ", project.Printable(line))
	}
	for _, f := range x.Findings {
		if !finding.IsDrift(f.ID) {
			continue
		}
		if !drifts {
			out.WriteString("\ndrift in welding\n")
			drifts = true
		}
		wrapped(out, "  ", project.Printable(fmt.Sprintf("%s: %s. %s", f.Title, f.Status, f.Advice())))
	}
}

func writeFasteners(out *strings.Builder, x *assess.Assessment) {
	u := x.Build.Units
	for i, f := range x.Fasteners {
		if i == 0 {
			out.WriteString("\nfasteners (the maker's figure comes first; a torque that is worked out is uncertain by 25 % either way)\n")
		}
		mark := "[ ]"
		if f.Marked {
			mark = "[x]"
		}
		line := mark + " " + f.Name
		if n, ok := f.Count.Get(); ok {
			line += fmt.Sprintf(", %g", n)
		}
		line += ", " + strings.TrimSpace(f.Thread+" "+f.Class) + ": "
		switch {
		case !f.Torque.Known:
			line += f.Torque.Why
		case f.Maker && f.Computed.Known:
			line += fmt.Sprintf("%s, the maker's figure (worked out: %s)", book.Magnitude(quantity.Torque, f.Torque.V, u), book.Magnitude(quantity.Torque, f.Computed.V, u))
		case f.Maker:
			line += book.Magnitude(quantity.Torque, f.Torque.V, u) + ", the maker's figure"
		default:
			line += book.Magnitude(quantity.Torque, f.Torque.V, u) + ", worked out"
		}
		if len(f.Due) > 0 {
			line += fmt.Sprintf("; check again, due at %g km", f.Due[len(f.Due)-1])
		}
		wrapped(out, "  ", project.Printable(line))
	}
	for i, f := range x.Build.Fluids {
		if i == 0 {
			out.WriteString("\nfluids\n")
		}
		mark := "[ ]"
		if f.Filled {
			mark = "[x]"
		}
		wrapped(out, "  ", project.Printable(strings.TrimRight(fmt.Sprintf("%s %s: %s", mark, f.Name, strings.Trim(f.Amount+", "+f.Spec, ", ")), ": ")))
	}
}

// nextText is what can be done now, and what holds the rest.
func nextText(x *assess.Assessment) string {
	var out strings.Builder
	count := x.Headcount()
	if count.Total == 0 {
		return "No jobs yet: `fitup jobs --add FILE` puts the built-in list in.\n"
	}
	fmt.Fprintf(&out, "%s\n", count)
	if x.Out() && len(x.EngineOut) > 0 {
		fmt.Fprintf(&out, "\nthe powertrain is out, and this can only be reached now:\n")
		for _, it := range x.EngineOut {
			fmt.Fprintf(&out, "  [ ] %s\n", project.Printable(it.Text))
		}
	}
	list := func(head string, jobs []assess.Job, full bool) {
		if len(jobs) == 0 {
			return
		}
		fmt.Fprintf(&out, "\n%s\n", head)
		for _, j := range jobs {
			writeJob(&out, x, j, full)
		}
	}
	list("prove again first:", x.JobsIn(assess.ProveAgain), true)
	list("in doubt until then:", x.JobsIn(assess.InDoubt), false)
	list("can be done now:", x.JobsIn(assess.Open), true)
	var held, toRead []assess.Job
	for _, j := range x.JobsIn(assess.Held) {
		if j.WaitsForItself() {
			toRead = append(toRead, j)
		} else {
			held = append(held, j)
		}
	}
	list("can be done now, and ticked once what comes of it is in the file:", toRead, true)
	list("held:", held, false)
	return out.String()
}
