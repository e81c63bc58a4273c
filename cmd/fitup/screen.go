package main

import (
	"os"

	"fitup/internal/ui"
	_ "fitup/internal/ui/termbg" // keeps a start from asking the terminal for its colours
)

// openScreen hands over to the bench screen. The streams are terminals:
// noTerminal has looked.
func openScreen(env Env, o benchOptions) error {
	in, _ := env.Stdin.(*os.File)
	out, _ := env.Stdout.(*os.File)
	return ui.Run(ui.Options{
		Path: o.Path, Scratch: o.Scratch, Walk: o.Walk,
		Theme: o.Look.theme, Ask: o.Look.ask, Mouse: o.Look.mouse, Glyphs: o.Look.glyphs, Keys: o.Look.keys,
		Stdin: in, Stdout: out, Now: env.Now,
	})
}
