package main

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

// sheetWidth is that of a printed page.
const sheetWidth = 78

func (a *app) cutsCommand() *cobra.Command {
	glyphs := ""
	cmd := &cobra.Command{
		Use:   "cuts FILE",
		Short: "Print the cut list: saw settings, plates, and which bars to buy",
		Long: `Print how each leg of the mounts is cut, its plates, and how the pieces are
nested on the stock of the file, so that least is bought.

` + book.SawNote,
		Example:           "  fitup cuts truck.toml",
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.sheet(args[0], glyphs, book.Cuts)
		},
	}
	addGlyphs(cmd, &glyphs)
	return cmd
}

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
			return a.sheet(args[0], glyphs, func(r *assess.Assessment) (book.Sheet, error) { return book.Match(r, args[1], args[2]) })
		},
	}
	addGlyphs(cmd, &glyphs)
	return cmd
}

// sheet loads and assesses a build and prints the sheet that write makes of it.
func (a *app) sheet(path, glyphs string, write func(*assess.Assessment) (book.Sheet, error)) error {
	g, err := a.signs(glyphs)
	if err != nil {
		return err
	}
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	s, err := write(assess.Run(f.Build))
	if err != nil {
		return fail(exitFindings, err)
	}
	return a.print(g.Plain(headLine(path, f.Build) + "\n\n" + sheetText(s, g, 0)))
}

// sheetText sets a sheet in lines of at most width signs; 0 breaks none but
// where the text says so.
func sheetText(s book.Sheet, g theme.Glyphs, width int) string {
	var blocks []string
	if s.Title != "" {
		blocks = append(blocks, s.Title+"\n"+strings.Repeat("=", theme.Width(g.Plain(s.Title)))+"\n")
	}
	for _, sec := range s.Sections {
		var out strings.Builder
		if sec.Head != "" {
			out.WriteString(sec.Head + "\n")
		}
		for _, it := range sec.Items {
			in := strings.Repeat("  ", it.Depth)
			for _, l := range itemLines(it, g, width-len(in)) {
				out.WriteString(in + l + "\n")
			}
		}
		blocks = append(blocks, out.String())
	}
	return strings.Join(blocks, "\n")
}

func itemLines(it book.Item, g theme.Glyphs, width int) []string {
	switch {
	case it.Table != nil:
		return columns(it.Table.Rows, g, it.Table.First)
	case width > 0:
		return theme.Wrap(it.Text, width)
	}
	return strings.Split(it.Text, "\n")
}
