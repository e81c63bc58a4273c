package main

import (
	"fmt"
	"strconv"
	"strings"

	"fitup/internal/project"

	"github.com/spf13/cobra"
)

const jsonHelp = `fitup check --json FILE prints one object:

  fitup      version of the program
  file       the build file
  findings   list, in the order of the file:
    id          stable dotted name, such as line.rear.joint.1.max
    title       what it is about
    status      ok, tight, judged_elsewhere, over or not_known
    basis       planned, read or proved
    moved       true: the powertrain has moved since it was read
    value       number in unit, or null
    sense       what the sign of value means, in words, or null
    unit        the file's own unit, such as deg or mm
    limit       number, or null when there is no limit
    limit_is    "at most" or "at least", or null
    margin      distance to the limit, positive inside it, or null
    uncertainty expanded uncertainty of value, or null when none is claimed
    coverage    the factor k of that uncertainty, or null
    probability that of keeping the limit, or null where it cannot be stated
    from        the two sources that have most in the uncertainty: what, share (of
                the variance); empty when no uncertainty is claimed
    source      where the limit or the value comes from
    changed     true: the limit was changed in the file
    missing     what is missing, when not known, else null
    assumes     what the number rests on that nobody has measured; empty when nothing
    elsewhere   who judges it and why, where the file says that somebody else does,
                else null
    advice      one sentence
  values     list of every number: name, value, sense, unit
  jobs       list: id, stage, title, done, held, state (open, held, done,
             prove_again, in_doubt), why (list: what has to be proved again), holds
             (id, title, status, why)

A slope is positive down to the rear, a heading positive rear to the right, an
offset positive to the right; sense says the same in words. A number that is
not known is null. Problems of the file go to standard error as text, and
nothing is printed on standard output.`

// helpTopics are pages of help that are no commands.
func helpTopics() []*cobra.Command {
	return []*cobra.Command{
		{Use: "exit-codes", Short: "What the exit codes mean", Long: exitCodesHelp},
		{Use: "json", Short: "What fitup check --json prints", Long: jsonHelp},
		{Use: "tools", Short: "The tools that shops have for lengths, with their usual figures", Long: toolsHelp()},
		{Use: fileTopic, Short: "What a build file can say; fitup help file PATH explains one part", Long: fileHead},
	}
}

// fileTopic is the page of help about the build file, which takes a path.
const fileTopic = "file"

// helpCommand is like cobra's own, but an unknown topic is an error.
func (a *app) helpCommand(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND or TOPIC]",
		Short: "Help about a command or a topic",
		Args:  func(*cobra.Command, []string) error { return nil },
		ValidArgsFunction: func(_ *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
			if len(args) == 1 && args[0] == fileTopic {
				return completeKeys(word), cobra.ShellCompDirectiveNoFileComp
			}
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			var out []cobra.Completion
			for _, c := range root.Commands() {
				if !c.Hidden {
					out = append(out, cobra.CompletionWithDesc(c.Name(), c.Short))
				}
			}
			return out, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 && args[0] == fileTopic {
				return a.printFileHelp(args[1:])
			}
			found, rest, err := root.Find(args)
			if err != nil || found == nil || len(rest) > 0 {
				word := strings.Join(args, " ")
				if n := near(root, word); n != "" {
					return wrongUse("there is no help about %q; did you mean `fitup help %s`?", word, n)
				}
				return wrongUse("there is no help about %q; `fitup help` lists what there is", word)
			}
			found.InitDefaultHelpFlag()
			found.InitDefaultVersionFlag()
			return found.Help()
		},
	}
}

// toolsHelp is the table of common tools that the bench offers, in mm.
func toolsHelp() string {
	var b strings.Builder
	b.WriteString("Tools as shops have them, to be named by readings, measurements and points:\n\n")
	fmt.Fprintf(&b, "  %-14s %-34s %-9s %-10s %s\n", "name", "what it is", "± mm", "and per m", "repeats")
	figure := func(q interface{ Get() (float64, bool) }) string {
		v, ok := q.Get()
		if !ok {
			return "-"
		}
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	for _, t := range project.CommonTools() {
		fmt.Fprintf(&b, "  %-14s %-34s %-9s %-10s %s\n", t.Path(), t.Words, figure(t.Accuracy), figure(t.PerMetre), figure(t.Repeat))
	}
	b.WriteString("\nThese figures are assumed (" + project.CommonToolSource + "): ± is how far a length may be\n" +
		"off however often it is taken, repeats how far two of them lie apart. None is in\n" +
		"a build until its file says so: the bench, or fitup read --with, puts one in as\n" +
		"[tool.NAME], to be changed there to what your own is good for.\n")
	return b.String()
}
