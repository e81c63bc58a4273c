package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"time"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/session"
	"fitup/internal/propose"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

// proposeForm is what may be moved, what must hold, and how it is printed.
type proposeForm struct {
	moves, hold []string
	tight       bool
	json        bool
	seconds     float64
	tolerances  bool
	keep        string // the name of the trial that the first proposal becomes
}

const proposeHelp = `Search the places that you allow for those where every finding that must hold is
ok, and print up to five that differ in kind: the least work first, the most margin,
the least cutting, the fewest things moved and the shortest way; with what each
finding is before and after, and how sure it is.

What may move stands in the file: [[find.move]] with of, range, step and work, the
smaller value of a range first. --move says it here instead, as often as needed:

  --move "placement.rear=-300 mm..-270 mm by 1 mm"
  --move "line.rear.pinion.slope=3 deg down to the rear..6 deg down to the rear by 0.5 deg"
  --move "placement.left_front=-116..-96 by 1 shim"
  --move placement.rear

The last of these lets it move as far as a shop would begin with, in the steps that it
would make: a mount 25 mm either way by 1 mm, a pinion 4° either way by half degrees.
The last word says what moving it takes: turn, shim, wedge, bolt or cut; a mount is
cut anew otherwise, or drilled where it is bolted. Steps count from where a thing
stands now. A mount whose bracket is welded does not move. A carrier bearing at a point
that was measured or surveyed is written as standing at a point of its own, so far from
that one, and keeps the ± of it.

What must hold is every finding that a move can change and that is known, or those
of find.hold in the file, or of --hold here, with * for any part of an id and ** for
the rest. They must be ok; with --tight, or find.accept in the file, tight will do.

Every place that is proposed was worked out like the bench works it out, and nothing
is proposed that rests on what is not known. Where none is left the program has ruled
out every place, and says which findings cannot hold together and how far each would
have to give way. Where time runs out first it says how far it got, and that this
proves nothing. Steps of a thing are what they are: between two of them nothing was
looked at.

With --tolerances it says how closely each mount, and the powertrain fore and aft and
aside, must be placed for all that is held to stay within its limits with 95 %, for
the first proposal: any place within them as likely as another, independent of each
other, and whatever ± the findings have by themselves counted as well.

The exit code is 0 when there is a proposal, else 1.`

func (a *app) proposeCommand() *cobra.Command {
	var as proposeForm
	glyphs := ""
	cmd := &cobra.Command{
		Use:   "propose FILE",
		Short: "Print what to move and by how much, or that nothing will do",
		Long:  proposeHelp,
		Example: `  fitup propose truck.toml
  fitup propose truck.toml --move "placement.rear=-300..-270 by 1" --hold "line.rear.**"
  fitup propose --json truck.toml`,
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			g, err := a.signs(glyphs)
			if err != nil {
				return err
			}
			return a.propose(cmd, args[0], as, g)
		},
	}
	cmd.Flags().StringArrayVar(&as.moves, "move", nil, "let a thing move: `PATH=FROM..TO by STEP`, and what it takes behind it; the path alone for the usual")
	cmd.Flags().StringArrayVar(&as.hold, "hold", nil, "hold the findings of this `ID`, * for any part")
	cmd.Flags().BoolVar(&as.tight, "tight", false, "let findings be tight")
	cmd.Flags().Float64Var(&as.seconds, "seconds", 20, "search for at most so many `SECONDS`")
	cmd.Flags().BoolVar(&as.json, "json", false, "print JSON for programs")
	cmd.Flags().BoolVar(&as.tolerances, "tolerances", false, "say how closely the mounts must be placed for the first proposal to hold with 95 %")
	cmd.Flags().StringVar(&as.keep, "keep", "", "write the first proposal into the file as the trial of this `NAME`")
	addGlyphs(cmd, &glyphs)
	return cmd
}

func (a *app) propose(cmd *cobra.Command, path string, as proposeForm, g theme.Glyphs) error {
	if !(as.seconds > 0) || as.seconds > 86400 {
		return wrongUse("--seconds is above nothing and at most a day; read %g", as.seconds)
	}
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	if err := as.keepable(f.Build); err != nil {
		return err
	}
	w, err := as.wanted(f.Build)
	if err != nil {
		return fail(exitUsage, err)
	}
	p, err := propose.New(f.Build, w)
	if err != nil {
		return fail(exitUsage, err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Duration(as.seconds*float64(time.Second)))
	defer cancel()
	ctx, release := signal.NotifyContext(ctx, os.Interrupt)
	defer release()
	answer := p.Run(ctx, a.progress())
	var within *propose.Tolerances
	if as.tolerances && len(answer.Proposals) > 0 {
		t := p.Tolerances(ctx, answer.Proposals[0].After.Build)
		within = &t
	}
	text := ""
	if as.json {
		if text, err = proposeJSON(a.version, path, p, answer, within); err != nil {
			return err
		}
	} else {
		text = g.Plain(proposeText(path, p, answer, within, g))
	}
	if err := a.print(text); err != nil {
		return err
	}
	if len(answer.Proposals) == 0 {
		return failure{code: exitFindings} // the text says it all
	}
	if as.keep == "" {
		return nil
	}
	return a.keepTrial(path, as, &answer.Proposals[0])
}

// keepable refuses a name for a trial that cannot be one, before anything is searched.
func (as *proposeForm) keepable(b *project.Build) error {
	switch {
	case as.keep == "":
		return nil
	case as.json:
		return wrongUse("--keep writes the file, --json is for programs that read; take one of the two")
	}
	if err := edit.FreeTrial(b, as.keep); err != nil {
		return wrongUse("--keep: %v", err)
	}
	return nil
}

// keepTrial writes a proposal into the file as a trial.
func (a *app) keepTrial(path string, as proposeForm, x *propose.Proposal) error {
	if len(x.Moves) == 0 {
		fmt.Fprintln(a.env.Stderr, "fitup: proposal 1 moves nothing, so there is no trial to keep")
		return nil
	}
	edits := func(f *project.File) ([]edit.Edit, error) {
		return edit.KeepTrial(f, as.keep, strings.Join(x.Kinds, ", "), x.MovesTo()...)
	}
	at := "trial." + as.keep
	if _, err := session.Change(path, a.env.Now, "keep a proposal as "+at, edits); err != nil {
		return fail(exitSave, err)
	}
	return a.print("proposal 1 is kept as " + at + "; `fitup trials` shows it beside the build as it is\n")
}

// progress tells how far a search is on a terminal, and nothing elsewhere.
func (a *app) progress() func(propose.Progress) {
	if !isTerminal(a.env.Stderr) || !isTerminal(a.env.Stdout) {
		return nil
	}
	return func(p propose.Progress) {
		fmt.Fprintf(a.env.Stderr, "\rlooking for %s: %.0f %% ruled out, %d tried \x1b[K\r", p.What, 100*p.Settled, p.Judged)
	}
}

// wanted is what is asked for, by the flags or by the file.
func (as *proposeForm) wanted(b *project.Build) (propose.Wanted, error) {
	moves := b.Find.Moves
	if len(as.moves) > 0 {
		moves = nil
		var now *assess.Assessment
		for _, m := range as.moves {
			if !strings.Contains(m, "=") {
				if now == nil {
					now = assess.Run(b)
				}
				o, err := propose.OfferOf(now, strings.TrimSpace(m))
				if err != nil {
					return propose.Wanted{}, err
				}
				moves = append(moves, o.Move)
				continue
			}
			move, err := moveFlag(m)
			if err != nil {
				return propose.Wanted{}, err
			}
			moves = append(moves, move)
		}
	}
	w := propose.Wanted{Hold: b.Find.Hold, Tight: as.tight || b.Find.Accept == project.AcceptTight}
	if len(as.hold) > 0 {
		w.Hold = as.hold
	}
	if len(moves) == 0 {
		return w, errors.New("nothing may move; say what may, how far and in which steps: --move \"placement.rear=-300 mm..-270 mm by 1 mm\", or [[find.move]] with of, range and step in the file")
	}
	err := w.Let(b, moves...)
	return w, err
}

// moveFlag reads PATH=FROM..TO by STEP, with a kind of work behind it.
func moveFlag(s string) (project.FindMove, error) {
	m := project.FindMove{}
	want := fmt.Errorf("read %q; want a path alone or PATH=FROM..TO by STEP, such as \"placement.rear=-300 mm..-270 mm by 1 mm\"", project.Printable(s))
	of, rest, ok := strings.Cut(s, "=")
	if !ok {
		return m, want
	}
	from, rest, ok := strings.Cut(rest, "..")
	to, step, ok2 := strings.Cut(rest, " by ")
	if !ok || !ok2 {
		return m, want
	}
	m.Of, m.Range, m.Step = strings.TrimSpace(of), []string{strings.TrimSpace(from), strings.TrimSpace(to)}, strings.TrimSpace(step)
	for _, w := range propose.Works() {
		if first, ok := strings.CutSuffix(m.Step, " "+w); ok {
			m.Step, m.Work = strings.TrimSpace(first), project.MoveWork(w)
		}
	}
	return m, nil
}
