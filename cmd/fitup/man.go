package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// manCommand is for whoever packages the program, so the help does not list it.
func (a *app) manCommand() *cobra.Command {
	return &cobra.Command{
		Use:    "man DIR",
		Short:  "Write the manual pages into a folder",
		Hidden: true,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return wrongUse("name one folder: `fitup man DIR`")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			now := a.env.Now()
			header := &doc.GenManHeader{Section: "1", Source: "fitup " + a.version, Manual: "fitup", Date: &now}
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return fail(exitSave, fmt.Errorf("cannot make the folder: %w", err))
			}
			if err := doc.GenManTree(cmd.Root(), header, args[0]); err != nil {
				return fail(exitSave, fmt.Errorf("cannot write the manual pages: %w", err))
			}
			return nil
		},
	}
}
