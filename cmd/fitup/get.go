package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/format"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) getCommand() *cobra.Command {
	bare := false
	cmd := &cobra.Command{
		Use:   "get FILE [PATH...]",
		Short: "Print values of a build file, and what follows from them",
		Long: `Print values of a build file, one a line: as the file spells them, without
quotes. What fitup works out from them can be asked for by the names that
fitup check --json gives, such as line.rear.joint.1.angle.planned, with its unit.

Without a path, every value the file has is printed with its path. A path that ends
in a dot, such as line.rear. or line.rear.joint.1., lists what the file has below it
and what is worked out there, each with its path and its unit.

With --plain-numbers a number is printed for a script: in the file's own unit, with
all its digits and without unit or words. A slope is positive down to the rear then,
a heading rear to the right, an offset to the right.

The exit code is 1 when a value that is named is not known.`,
		Example: `  fitup get truck.toml placement.rear
  fitup get truck.toml line.rear.joint.1.
  fitup get --plain-numbers truck.toml line.rear.joint.1.angle.planned`,
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
		RunE: func(_ *cobra.Command, args []string) error { return a.get(args[0], args[1:], bare) },
	}
	cmd.Flags().BoolVar(&bare, "plain-numbers", false, "print numbers for scripts: all digits, no unit, no words")
	return cmd
}

func (a *app) get(path string, names []string, bare bool) error {
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	l := &lookup{file: f, bare: bare, signs: a.glyphs()}
	if len(names) == 0 {
		return a.print(l.listing(""))
	}
	unknown := false
	for _, name := range names {
		text, ok, err := l.text(name)
		if err != nil {
			return fail(exitUsage, err)
		}
		if !ok {
			unknown = true
			fmt.Fprintf(a.env.Stderr, "fitup: %s is not known\n", project.Printable(name))
			continue
		}
		if err := a.print(text); err != nil {
			return err
		}
	}
	if unknown {
		return failure{code: exitFindings}
	}
	return nil
}

// lookup finds values of a file, and those that follow from it.
type lookup struct {
	file  *project.File
	bare  bool // numbers for scripts
	signs theme.Glyphs
	found *assess.Assessment
}

func (l *lookup) assessment() *assess.Assessment {
	if l.found == nil {
		l.found = assess.Run(l.file.Build)
	}
	return l.found
}

// text is what is printed for a name; false when it is not known.
func (l *lookup) text(name string) (string, bool, error) {
	if strings.HasSuffix(name, ".") {
		text := l.listing(name)
		if text == "" {
			return "", false, fmt.Errorf("nothing stands below %q; `fitup get FILE` lists what the file has", project.Printable(name))
		}
		return text, true, nil
	}
	at := l.file.Resolve(name)
	text, ok := l.said(at, false)
	if !ok && !project.IsPath(at) {
		var err error
		if text, ok, err = worked(l.assessment(), name, l.bare); err != nil {
			return "", false, err
		}
	}
	return l.signs.Plain(project.Printable(text)) + "\n", ok, nil
}

// said is a value as the file spells it, with the file's unit behind a bare number
// when it is wanted.
func (l *lookup) said(at string, unit bool) (string, bool) {
	text, ok := l.file.Text(at)
	if !ok {
		return "", false
	}
	if of, isList := project.KindAt(at + "[0]"); isList {
		return l.several(at, of, text, unit), true
	}
	k, isQuantity := project.KindAt(at)
	if !isQuantity {
		return text, true
	}
	v, known := l.file.QuantityAt(at, k)
	switch {
	case !known:
		return text, true
	case l.bare:
		return plainNumber(k, v, l.file.Build.Units), true
	case unit && !edit.HasUnit(text) && quantity.UnitName(k, l.file.Build.Units) != "":
		return text + " " + quantity.UnitName(k, l.file.Build.Units), true
	}
	return text, true
}

// several is a point or a list of numbers as said has one.
func (l *lookup) several(at string, k quantity.Kind, text string, unit bool) string {
	name := quantity.UnitName(k, l.file.Build.Units)
	if !l.bare {
		if unit && name != "" && !strings.Contains(text, `"`) {
			text += " " + name
		}
		return text
	}
	var out []string
	for i := 0; ; i++ {
		v, ok := l.file.QuantityAt(fmt.Sprintf("%s[%d]", at, i), k)
		if !ok {
			return strings.Join(out, " ")
		}
		out = append(out, plainNumber(k, v, l.file.Build.Units))
	}
}

// listing is every value that the file has, with its path; below a prefix also
// what is worked out there, and all of it with units.
func (l *lookup) listing(prefix string) string {
	var out strings.Builder
	seen := map[string]bool{}
	put := func(name, text string) {
		if seen[name] {
			return
		}
		seen[name] = true
		fmt.Fprintf(&out, "%s = %s\n", project.Printable(name), l.signs.Plain(project.Printable(text)))
	}
	for _, p := range l.file.Paths() {
		if !strings.HasPrefix(p, prefix) {
			continue
		}
		if text, ok := l.said(l.file.Resolve(p), prefix != ""); ok {
			put(p, text)
		}
	}
	if prefix == "" {
		return out.String()
	}
	for _, v := range l.assessment().Values() {
		if !strings.HasPrefix(v.Name, prefix) {
			continue
		}
		put(v.Name, l.number(v.Kind, v.V, v.Known))
	}
	return out.String()
}

func (l *lookup) number(k quantity.Kind, v float64, known bool) string {
	switch {
	case !known:
		return "not known"
	case l.bare:
		return plainNumber(k, v, l.file.Build.Units)
	}
	return said(k, v, l.file.Build.Units)
}

// said is a number for people; one without a unit that is whole is a count.
func said(k quantity.Kind, v float64, u quantity.Units) string {
	digits := quantity.UsualDigits
	if k == quantity.Number && v == math.Trunc(v) {
		digits = 0
	}
	return quantity.Format(k, v, u, digits)
}

// plainNumber is a number for a script: in the file's unit, with all its digits.
func plainNumber(k quantity.Kind, v float64, u quantity.Units) string {
	x := number(k, v, u, true)
	if x == nil {
		return "not known"
	}
	return strconv.FormatFloat(*x, 'f', -1, 64)
}

// worked is a number that was worked out; false when it is not known.
func worked(a *assess.Assessment, name string, bare bool) (string, bool, error) {
	text := func(k quantity.Kind, v float64) string {
		if bare {
			return plainNumber(k, v, a.Build.Units)
		}
		return said(k, v, a.Build.Units)
	}
	names := make([]string, 0, len(a.Values()))
	for _, v := range a.Values() {
		if v.Name == name {
			return text(v.Kind, v.V), v.Known, nil
		}
		names = append(names, v.Name)
	}
	for _, r := range a.Rows {
		if r.Name == name {
			return text(r.Kind, r.Now.V), r.Now.Known, nil
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
