package main

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) matchCommand() *cobra.Command {
	glyphs := ""
	cmd := &cobra.Command{
		Use:   "match FILE FIRST OTHER",
		Short: "Print the mount of the other side, made after the finished one",
		Long: `Print the leg of the mount OTHER, made after that of the mount FIRST: mirrored,
and corrected for its own pad and rail. What was measured on FIRST, in
[mount.FIRST.built], counts; what was not is taken as planned. The table says
what differs from the plain mirror image and by how much. What was measured on
OTHER is held against what was wanted.`,
		Example: "  fitup match truck.toml left_front right_front",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 3 {
				return wrongUse("name a build file and two mounts: `%s FILE FIRST OTHER`", cmd.CommandPath())
			}
			return nil
		},
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.sheet(args[0], glyphs, func(r *assess.Assessment) (string, error) { return matchText(r, args[1], args[2]) })
		},
	}
	cmd.Flags().StringVar(&glyphs, "glyphs", glyphs, "signs of the text: unicode, or ascii; by the locale when left out")
	return cmd
}

func matchText(a *assess.Assessment, first, other string) (string, error) {
	b, err := a.MatchOf(first, other)
	if err != nil {
		return "", err
	}
	u, m := a.Build.Units, b.Match
	var out strings.Builder
	from := "as planned; nothing was measured on it"
	if m.AsBuilt {
		from = "as measured"
	}
	fmt.Fprintf(&out, "The %s leg after the %s one, %s.\n\n", b.Label, strings.ReplaceAll(first, "_", " "), from)
	rows := [][]string{{"", "mirror image", "this side", "differs by"}}
	for _, r := range b.MatchRows() {
		rows = append(rows, []string{"  " + r.Label, book.Magnitude(r.Kind, r.Mirror, u), book.Magnitude(r.Kind, r.Made, u), signed(r.Kind, r.By, u)})
	}
	out.WriteString(strings.Join(columns(rows, theme.Unicode(), 22), "\n") + "\n\n")
	fmt.Fprintf(&out, "The plain mirror image would stand off its pad by up to %s and off its rail by up to %s.\n",
		book.Magnitude(quantity.Length, m.Result.PadMiss, u), book.Magnitude(quantity.Length, m.Result.RailMiss, u))
	if !m.SameMark {
		fmt.Fprintf(&out, "Stations are taken to begin at the same place on both rails. To be sure, scribe a line on both rails square across from one to the other, "+
			"and enter it as mark of both legs: %s.\n", m.NoMark)
	}
	out.WriteString("\n" + legText(a, &b))
	if c, ok := builtText(&b, u); ok {
		out.WriteString("\n" + c)
	}
	return out.String(), nil
}

// signed writes a difference with its sign.
func signed(k quantity.Kind, v float64, u quantity.Units) string {
	s := book.Magnitude(k, v, u)
	if zero := book.Magnitude(k, 0, u); s == zero || s == "-"+zero {
		return zero
	}
	if v > 0 {
		s = "+" + s
	}
	return s
}

// builtText says how the built mount stands against the one that was wanted.
func builtText(b *assess.Bracket, u quantity.Units) (string, bool) {
	c, err := b.CheckOf()
	if err != nil || !c.Place.Known && !c.Lean.Known && !c.Foot.Known {
		return "", false
	}
	rows := [][]string{}
	for _, r := range []struct {
		label string
		kind  quantity.Kind
		m     assess.Measure
	}{
		{"pad off its place", quantity.Length, c.Place}, {"lean of the pad", quantity.Angle, c.Lean},
		{"a shim that makes up for it", quantity.Length, c.Wedge}, {"foot off its place", quantity.Length, c.Foot},
	} {
		text := "not measured"
		if r.m.Known {
			text = book.Magnitude(r.kind, r.m.V, u)
		}
		rows = append(rows, []string{"  " + r.label, text})
	}
	return "As built\n" + strings.Join(columns(rows, theme.Unicode(), 22), "\n") + "\n", true
}
