package main

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/format"
	"fitup/internal/project/quantity"

	"github.com/spf13/cobra"
)

func (a *app) getCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "get FILE [PATH...]",
		Short: "Print values of a build file, and what follows from them",
		Long: `Print values of a build file, one a line: as the file spells them, without
quotes. What fitup works out from them can be asked for by the names that
fitup check --json gives, such as line.rear.joint.1.angle.planned, with its unit.

Without a path, every value the file has is printed with its path. The exit code
is 1 when a value is not known.`,
		Example: `  fitup get truck.toml placement.rear
  fitup get truck.toml`,
		Args: atLeastFile(0, "FILE [PATH...]"),
		ValidArgsFunction: completeFrom(func(f *project.File, _ []string, word string) []cobra.Completion {
			out := settable(f)
			for _, v := range assess.Run(f.Build).Values() {
				out = append(out, v.Name)
			}
			var fits []cobra.Completion
			for _, p := range out {
				if strings.HasPrefix(p, word) {
					fits = append(fits, project.Printable(p))
				}
			}
			return fits
		}, cobra.ShellCompDirectiveDefault),
		RunE: func(_ *cobra.Command, args []string) error { return a.get(args[0], args[1:]) },
	}
}

func (a *app) get(path string, names []string) error {
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	if len(names) == 0 {
		return a.print(listing(f))
	}
	var found *assess.Assessment
	unknown := false
	for _, name := range names {
		text, ok := f.Text(f.Resolve(name))
		if !ok && !project.IsPath(f.Resolve(name)) {
			if found == nil {
				found = assess.Run(f.Build)
			}
			if text, ok, err = worked(found, name); err != nil {
				return fail(exitUsage, err)
			}
		}
		if !ok {
			unknown = true
			fmt.Fprintf(a.env.Stderr, "fitup: %s is not known\n", project.Printable(name))
			continue
		}
		if err := a.print(a.glyphs().Plain(project.Printable(text)) + "\n"); err != nil {
			return err
		}
	}
	if unknown {
		return failure{code: exitFindings}
	}
	return nil
}

// listing is every value that the file has, with its path.
func listing(f *project.File) string {
	var out strings.Builder
	for _, p := range f.Paths() {
		if text, ok := f.Text(f.Resolve(p)); ok {
			fmt.Fprintf(&out, "%s = %s\n", project.Printable(p), project.Printable(text))
		}
	}
	return out.String()
}

// worked is a number that was worked out; false when it is not known.
func worked(a *assess.Assessment, name string) (string, bool, error) {
	names := make([]string, 0, len(a.Values()))
	for _, v := range a.Values() {
		if v.Name == name {
			return quantity.Format(v.Kind, v.V, a.Build.Units, quantity.UsualDigits), v.Known, nil
		}
		names = append(names, v.Name)
	}
	for _, r := range a.Rows {
		if r.Name == name {
			return quantity.Format(r.Kind, r.Now.V, a.Build.Units, quantity.UsualDigits), r.Now.Known, nil
		}
	}
	if now, since := format.RenamedPath(name); since > 0 {
		return "", false, fmt.Errorf("%s is called %s since format %d", project.Printable(name), now, since)
	}
	if near, ok := project.Nearest(name, append(names, project.SchemaPaths()...)); ok {
		return "", false, fmt.Errorf("there is no value called %q; did you mean %s?", project.Printable(name), project.Printable(near))
	}
	return "", false, fmt.Errorf("there is no value called %q; `fitup get FILE` lists what the file has", project.Printable(name))
}
