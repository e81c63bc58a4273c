package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/book/press"
	"fitup/internal/project"

	"github.com/spf13/cobra"
)

func (a *app) bookCommand() *cobra.Command {
	dir, sheet, bench := "", "a4", false
	var only []string
	cmd := &cobra.Command{
		Use:   "book FILE -o DIR",
		Short: "Write the build book: all of the build on paper",
		Long: `Write the build book into the folder DIR: book.pdf on A4 or Letter, the same
tables in book.md and as CSV in tables, and the drawings as SVG in drawings.

It has the side, plan and front views with their scale, placement and mount
heights, readings with room to write the next, each driveline with its plots and
its shaft order sheet, each mount as a drawing with its cuts and plates, the cut
list with its nesting, loads and strength by place, clearances and exhaust, the
survey of the frame with its plan, the rails, the subframe with how far its corners
have to move, the steering shaft, the pick-ups, the job list with boxes, the
engine-out list, the weld map, fasteners and fluids, the findings with limits and
sources, the earlier states of the file, and what was assumed and what is not known. What the file does not hold
is said to be missing. Each page has the build's name, the date and the file's
hash; the same file with the same earlier states makes the same bytes on one day.

--only prints single chapters: ` + strings.Join(book.ChapterKeys(), ", ") + `.
--sheet writes sheet.pdf instead: one page for under the vehicle with what the
step in hand wants. Templates of true size are ` + "`fitup template FILE -o DIR`" + `.

Files of these names in DIR are replaced, other files there are left alone. A
failed write leaves nothing half-made.`,
		Example: `  fitup book truck.toml -o book
  fitup book truck.toml -o book --only cuts,weld --paper letter
  fitup book truck.toml -o book --sheet`,
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			if dir == "" {
				return wrongUse("name the folder that the book is written into: -o DIR")
			}
			if bench && len(only) > 0 {
				return wrongUse("--sheet is one page of its own and --only picks chapters of the book: give one of the two")
			}
			for i, k := range only {
				only[i] = strings.ToLower(strings.TrimSpace(k))
				if !slices.Contains(book.ChapterKeys(), only[i]) {
					return wrongUse("the book has no chapter %q; it has %s", k, strings.Join(book.ChapterKeys(), ", "))
				}
			}
			return a.writeBook(args[0], dir, sheet, bench, only)
		},
	}
	cmd.Flags().StringVarP(&dir, "output", "o", dir, "folder that it is written into; made where it is not there")
	cmd.Flags().StringVar(&sheet, "paper", sheet, "a4 or letter")
	cmd.Flags().StringSliceVar(&only, "only", only, "chapters, parted by commas")
	cmd.Flags().BoolVar(&bench, "sheet", bench, "write the one-page bench sheet")
	return cmd
}

func (a *app) writeBook(path, dir, sheet string, bench bool, only []string) error {
	job := press.Job{What: press.Book, Dir: dir, Only: only}
	if bench {
		job.What = press.Bench
	}
	done, err := a.pressed(job, path, sheet)
	if err != nil {
		return err
	}
	n := done.Of.Count()
	say := fmt.Sprintf("Written into %s: %s", project.Printable(dir), done.First)
	if done.More > 0 {
		say += fmt.Sprintf(" and %d tables and drawings", done.More)
	}
	return a.print(fmt.Sprintf("%s. %d over, %d not known: it says which.\n", say, n[assess.Over], n[assess.NotKnown]))
}

// pressed prints a job of the file at path on a sheet that a person named.
func (a *app) pressed(job press.Job, path, sheet string) (press.Done, error) {
	size, err := paperSize(sheet)
	if err != nil {
		return press.Done{}, err
	}
	f, err := project.Load(path)
	if err != nil {
		return press.Done{}, fail(exitFile, err)
	}
	job.File, job.Path, job.Size, job.Date = f, path, size, a.env.Now().Format(time.DateOnly)
	done, err := job.Do(context.Background(), func(press.Progress) {})
	var made press.MadeError
	switch {
	case err == nil:
		return done, nil
	case errors.As(err, &made) && job.What == press.Templates:
		return done, fail(exitFindings, err)
	case errors.As(err, &made):
		return done, fail(exitBug, err)
	}
	return done, fail(exitSave, err)
}

// paperSize finds the sheet that a person named.
func paperSize(name string) (book.PaperSize, error) {
	var names []string
	for _, s := range book.PaperSizes() {
		if strings.EqualFold(s.Name, name) {
			return s, nil
		}
		names = append(names, s.Name)
	}
	return book.PaperSize{}, wrongUse("--paper is %s; read %q", strings.Join(names, " or "), name)
}
