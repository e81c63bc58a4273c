package main

import (
	"strings"

	"fitup/internal/ui"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) keysCommand() *cobra.Command {
	markdown := false
	cmd := &cobra.Command{
		Use:   "keys",
		Short: "Print what every key of the bench does",
		Long: `Print what every key of the bench does, with the name of each action.

To change keys, write them by those names into fitup/keys.toml in your
settings folder ($XDG_CONFIG_HOME, or ~/.config), or into a file given with
--keys, one line each:

  "file.save" = ["ctrl+s"]`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return wrongUse("keys takes no file; read %q", args[0])
			}
			return nil
		},
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(*cobra.Command, []string) error {
			table, err := ui.Actions()
			if err != nil {
				return fail(exitBug, err)
			}
			if markdown {
				return a.print(table.Markdown())
			}
			var rows [][]string
			for _, x := range table.All() {
				rows = append(rows, []string{x.KeyText(), string(x.ID), string(x.Scope), x.Help})
			}
			return a.print(strings.Join(columns(rows, theme.Unicode(), 0), "\n") + "\n")
		},
	}
	cmd.Flags().BoolVar(&markdown, "markdown", false, "print a Markdown table")
	return cmd
}
