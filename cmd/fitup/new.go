package main

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/keep"
	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) newCommand() *cobra.Command {
	demo, quiet := false, false
	given := map[string]*string{}
	cmd := &cobra.Command{
		Use:   "new FILE",
		Short: "Write a commented build file to start from",
		Long: `Write a commented build file to start from.

On a terminal a few questions are asked in plain words, and the file begins just
those parts that the answers name. Enter leaves a part for later; Ctrl-C leaves
everything as it was. Each question has a flag: what a flag answers is not asked,
and without a terminal nothing is. The same answers give the same file.

Nothing is known in it yet; fitup check --missing FILE lists what is wanted first.
A file that is there already is left alone.`,
		Example: `  fitup new truck.toml
  fitup new truck.toml --units inch --axle leaf --shaft two --fixing welded
  fitup new truck.toml --layout across --drives front --mounts left_front,right_front,rear`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			answers, err := flagAnswers(cmd, given)
			switch {
			case err != nil:
				return err
			case demo && len(answers) > 0:
				return wrongUse("the invented build of --demo is what it is; the other flags are for a build of your own")
			case demo:
				return a.create(args[0], starter.Demo())
			case !quiet && isTerminal(a.env.Stdin) && isTerminal(a.env.Stdout) && free(args[0]):
				if err := a.ask(answers); err != nil {
					return err
				}
			}
			return a.create(args[0], starter.Compose(answers))
		},
	}
	cmd.Flags().BoolVar(&demo, "demo", false, "write the invented build of fitup demo instead")
	cmd.Flags().BoolVar(&quiet, "no-questions", false, "ask nothing on a terminal either")
	for _, q := range starter.Questions() {
		given[q.Name] = cmd.Flags().String(q.Name, "", strings.TrimSuffix(strings.ToLower(q.Ask[:1])+q.Ask[1:], "?")+": "+strings.Join(q.Words(), ", "))
		_ = cmd.RegisterFlagCompletionFunc(q.Name, cobra.FixedCompletions(q.Words(), cobra.ShellCompDirectiveNoFileComp))
	}
	return cmd
}

// flagAnswers are the answers that flags give.
func flagAnswers(cmd *cobra.Command, given map[string]*string) (starter.Answers, error) {
	out := starter.Answers{}
	for _, q := range starter.Questions() {
		if !cmd.Flags().Changed(q.Name) {
			continue
		}
		word, err := q.Read(*given[q.Name])
		if err != nil {
			return nil, wrongUse("--%s: %w", q.Name, err)
		}
		if !q.Asked(out) {
			return nil, wrongUse("--%s: with the other answers there is nothing of that; leave it out", q.Name)
		}
		out[q.Name] = word
	}
	return out, nil
}

// free reports whether a file could be made at path, so that nobody is asked in
// vain.
func free(path string) bool {
	_, err := os.Lstat(path)
	dir, dirErr := os.Stat(filepath.Dir(path))
	return path != "" && os.IsNotExist(err) && dirErr == nil && dir.IsDir()
}

// ask asks what no flag has answered. Nothing is written meanwhile.
func (a *app) ask(answers starter.Answers) error {
	in := bufio.NewScanner(a.env.Stdin)
	if err := a.print(folded("", "A few questions, then the file is written. Answer by number or by word; Enter takes the first.")); err != nil {
		return err
	}
	for _, q := range starter.Questions() {
		if _, ok := answers[q.Name]; ok || !q.Asked(answers) {
			continue
		}
		text := "\n" + folded("", q.Ask)
		for i, c := range q.Choices {
			text += folded(fmt.Sprintf("  %d  %-12s ", q.Number(i), c.Word), c.Means)
		}
		for {
			if err := a.print(text + "> "); err != nil {
				return err
			}
			if !in.Scan() {
				return wrongUse("no answer came; nothing was written")
			}
			word, err := q.Read(in.Text())
			if err == nil {
				answers[q.Name] = word
				break
			}
			text = folded("", project.Printable(err.Error()))
		}
	}
	return a.print("\n")
}

// folded is a text behind a head in lines that a terminal of 80 columns holds.
func folded(head, text string) string {
	out := ""
	for _, l := range theme.Wrap(text, 78-theme.Width(head)) {
		out += head + l + "\n"
		head = strings.Repeat(" ", theme.Width(head))
	}
	return out
}

func (a *app) create(path string, text []byte) error {
	if path == "" {
		return wrongUse("the name of the file is empty")
	}
	if err := keep.Save(path, text, keep.Options{New: true}); err != nil {
		return fail(exitSave, err)
	}
	shown := shellWord(path)
	return a.print(fmt.Sprintf("wrote %s; `fitup %s` opens it,\n`fitup check --missing %s` lists what is wanted first\n",
		project.Printable(path), shown, shown))
}

// print writes to standard output; a result that nobody gets is a failure.
func (a *app) print(s string) error {
	if _, err := fmt.Fprint(a.env.Stdout, s); err != nil {
		return fail(exitSave, fmt.Errorf("cannot write the result: %w", err))
	}
	return nil
}
