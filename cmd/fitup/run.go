package main

import (
	"fmt"
	"io"
	"regexp"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"fitup/internal/project"
	"fitup/internal/ui"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Env is what a run of the program sees of the outside.
type Env struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
	Getenv         func(string) string
	Now            func() time.Time
}

// run does what the arguments ask for and returns the exit code.
func run(args []string, env Env) int {
	return (&app{env: env, bench: openScreen, version: version()}).run(args)
}

// app is one run of the program.
type app struct {
	env     Env
	bench   func(Env, benchOptions) error
	version string
}

func (a *app) run(args []string) (code int) {
	defer func() {
		if r := recover(); r != nil {
			reportBug(a.env.Stderr, ui.FailureOf(r))
			code = exitBug
		}
	}()
	root := a.root()
	root.SetArgs(append([]string{}, args...)) // never nil: cobra would take the process's own
	root.SetIn(a.env.Stdin)
	root.SetOut(a.env.Stdout)
	root.SetErr(a.env.Stderr)
	err := root.Execute()
	printError(a.env.Stderr, err)
	return exitCode(err)
}

func (a *app) root() *cobra.Command {
	var look lookFlags
	root := &cobra.Command{
		Use:   "fitup [FILE]",
		Short: "A workbench for fitting a different engine and gearbox into a vehicle",
		Long: `A workbench for fitting a different engine and gearbox into a vehicle.

fitup FILE opens the build file on the bench screen. Everything is in that one
file; fitup new FILE writes one to start from, fitup demo shows an invented one.
A file that has the name of a command is opened as ./NAME.`,
		Example: `  fitup new truck.toml      write a commented build file to fill in
  fitup truck.toml          open it on the bench
  fitup check truck.toml    print what is ok and what is not
  fitup demo                look round in an invented build`,
		Args:              a.rootArgs,
		ValidArgsFunction: completeBuildFile,
		Version:           a.version,
		SilenceUsage:      true,
		SilenceErrors:     true,
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.openFile(cmd, args[0], look)
		},
	}
	look.add(root)
	root.SuggestionsMinimumDistance = 2
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(a.checkCommand(), a.orderCommand(), a.cutsCommand(), a.matchCommand(), a.templateCommand(), a.bookCommand(), a.drawingCommand(),
		a.newCommand(), a.demoCommand(), a.keysCommand(), a.limitsCommand(), a.manCommand())
	root.AddCommand(helpTopics()...)
	root.AddCommand(a.jobsCommand(), a.nextCommand(), a.surveyCommand(), a.vibrationCommand(), a.proposeCommand(), a.trialsCommand(), a.nextReadingCommand())
	root.SetHelpCommand(a.helpCommand(root))
	root.AddCommand(a.setCommand(), a.addCommand(), a.removeCommand(), a.getCommand(), a.readCommand(), a.renameCommand(), a.historyCommand())
	return root
}

// rootArgs wants one build file. Without arguments the way in is shown.
func (a *app) rootArgs(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return wrongUse("name a build file: `fitup FILE` opens it; `fitup new FILE` writes one to start from, " +
			"`fitup demo` shows an invented one, `fitup --help` lists everything")
	case len(args) == 1:
		return nil
	}
	if near := near(cmd, args[0]); near != "" {
		return wrongUse("there is no command %q; did you mean `fitup %s`?", args[0], near)
	}
	return wrongUse("one build file at a time; read %d names", len(args))
}

// near returns the command whose name a person may have meant by word.
func near(cmd *cobra.Command, word string) string {
	if word == "" || strings.ContainsAny(word, `./\`) {
		return ""
	}
	if s := cmd.Root().SuggestionsFor(word); len(s) > 0 {
		return s[0]
	}
	return ""
}

// oneFile is the check of arguments for commands that take one file.
func oneFile(cmd *cobra.Command, args []string) error {
	switch len(args) {
	case 1:
		return nil
	case 0:
		return wrongUse("name a build file: `%s FILE`", cmd.CommandPath())
	}
	return wrongUse("one build file at a time; read %d names", len(args))
}

// shortNumber finds a number below zero that was taken for flags.
var shortNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(` -[0-9.].*$`) })

// flagError puts an error of a flag into plain words and adds the nearest flag.
func flagError(cmd *cobra.Command, err error) error {
	msg := err.Error()
	if name, ok := strings.CutPrefix(msg, "unknown flag: --"); ok {
		var known []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
		if n, ok := project.Nearest(name, known); ok {
			msg += fmt.Sprintf("; did you mean --%s?", n)
		}
	}
	if number := shortNumber().FindString(msg); number != "" && strings.Contains(msg, "shorthand") {
		return wrongUse("read%s as a flag; a value stands behind its = without a space, such as placement.rear=-288", number)
	}
	return wrongUse("%s; `%s --help` lists the flags", msg, cmd.CommandPath())
}

func completeBuildFile(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return []cobra.Completion{"toml"}, cobra.ShellCompDirectiveFilterFileExt
}

// version is what the Go toolchain wrote into the program.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		return info.Main.Version
	}
	return "devel"
}
