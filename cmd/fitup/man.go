package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fitup/internal/project"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
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
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return fail(exitSave, fmt.Errorf("cannot make the folder: %w", err))
			}
			if err := a.writePages(cmd.Root(), args[0]); err != nil {
				return fail(exitSave, fmt.Errorf("cannot write the manual pages: %w", err))
			}
			return nil
		},
	}
}

// writePages writes the page of a command and of all below it.
func (a *app) writePages(cmd *cobra.Command, dir string) error {
	name := strings.ReplaceAll(cmd.CommandPath(), " ", "-")
	if err := os.WriteFile(filepath.Join(dir, name+".1"), []byte(a.manPage(cmd, name)), 0o644); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	for _, c := range cmd.Commands() {
		if !c.IsAvailableCommand() || c.IsAdditionalHelpTopicCommand() {
			continue
		}
		if err := a.writePages(c, dir); err != nil {
			return err
		}
	}
	return nil
}

// manPage is a page in the man macros of roff (man(7)). It is written here and not by
// cobra's doc package, which would bring two libraries more into the program.
func (a *app) manPage(cmd *cobra.Command, name string) string {
	var out strings.Builder
	cmd.InitDefaultHelpFlag()
	fmt.Fprintf(&out, ".TH \"%s\" \"1\" \"%s\" \"fitup %s\" \"fitup\"\n", strings.ToUpper(name), a.env.Now().Format(time.DateOnly), roff(a.version))
	fmt.Fprintf(&out, ".SH NAME\n%s \\- %s\n", roff(name), roff(cmd.Short))
	fmt.Fprintf(&out, ".SH SYNOPSIS\n\\fB%s\\fP\n", roff(cmd.UseLine()))
	long := cmd.Long
	if long == "" {
		long = cmd.Short
	}
	out.WriteString(".SH DESCRIPTION\n" + roffText(long))
	var flags []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { flags = append(flags, roffFlag(f)) })
	if len(flags) > 0 {
		out.WriteString(".SH OPTIONS\n" + strings.Join(flags, ""))
	}
	if cmd.Example != "" {
		out.WriteString(".SH EXAMPLES\n.EX\n" + roff(cmd.Example) + "\n.EE\n")
	}
	var also []string
	if p := cmd.Parent(); p != nil {
		also = append(also, p.CommandPath())
	}
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() && !c.IsAdditionalHelpTopicCommand() {
			also = append(also, c.CommandPath())
		}
	}
	for i, s := range also {
		also[i] = "\\fB" + roff(strings.ReplaceAll(s, " ", "-")) + "\\fP(1)"
	}
	if len(also) > 0 {
		out.WriteString(".SH SEE ALSO\n" + strings.Join(also, ",\n") + "\n")
	}
	return out.String()
}

// roffFlag is one option.
func roffFlag(f *pflag.Flag) string {
	name := "\\fB" + roff("--"+f.Name) + "\\fP"
	if f.Shorthand != "" && f.ShorthandDeprecated == "" {
		name = "\\fB" + roff("-"+f.Shorthand) + "\\fP, " + name
	}
	kind, usage := pflag.UnquoteUsage(f)
	if kind != "" {
		name += " \\fI" + roff(kind) + "\\fP"
	}
	if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "[]" && f.DefValue != "0" {
		usage += " (default " + f.DefValue + ")"
	}
	return ".TP\n" + name + "\n" + roff(usage) + "\n"
}

// roffText is running text: paragraphs, and as it stands what is set in.
func roffText(text string) string {
	var out strings.Builder
	as := false // it is as it stands
	for _, l := range strings.Split(text, "\n") {
		set := strings.HasPrefix(l, " ")
		switch {
		case set && !as:
			out.WriteString(".EX\n")
		case !set && as:
			out.WriteString(".EE\n")
		}
		if as = set; l == "" {
			out.WriteString(".PP\n")
			continue
		}
		out.WriteString(roff(l) + "\n")
	}
	if as {
		out.WriteString(".EE\n")
	}
	return out.String()
}

// roff is a text without anything that the formatter would act on.
func roff(text string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		l = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(project.Printable(l))
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			l = `\&` + l
		}
		lines[i] = l
	}
	return strings.Join(lines, "\n")
}
