package main

import (
	"fmt"

	"fitup/internal/project"
	"fitup/internal/project/keep"
	"fitup/internal/project/starter"

	"github.com/spf13/cobra"
)

func (a *app) newCommand() *cobra.Command {
	demo := false
	cmd := &cobra.Command{
		Use:   "new FILE",
		Short: "Write a commented build file to start from",
		Long: `Write a commented build file to start from.

Nothing is known in it yet; fitup check FILE lists what is wanted. A file that
is there already is left alone.`,
		Example: "  fitup new truck.toml",
		Args:    oneFile,
		RunE: func(_ *cobra.Command, args []string) error {
			text := starter.New()
			if demo {
				text = starter.Demo()
			}
			return a.create(args[0], text)
		},
	}
	cmd.Flags().BoolVar(&demo, "demo", false, "write the invented build of fitup demo instead")
	return cmd
}

func (a *app) create(path string, text []byte) error {
	if path == "" {
		return wrongUse("the name of the file is empty")
	}
	if err := keep.Save(path, text, keep.Options{New: true}); err != nil {
		return fail(exitSave, err)
	}
	shown := shellWord(path)
	return a.print(fmt.Sprintf("wrote %s; `fitup %s` opens it, `fitup check %s` lists what is wanted\n",
		project.Printable(path), shown, shown))
}

// print writes to standard output; a result that nobody gets is a failure.
func (a *app) print(s string) error {
	if _, err := fmt.Fprint(a.env.Stdout, s); err != nil {
		return fail(exitSave, fmt.Errorf("cannot write the result: %w", err))
	}
	return nil
}
