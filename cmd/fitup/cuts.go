package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

const sawHelp = `The tube lies along the fence, the named side on the table, its rail end to the
right of you as you face the fence. The mitre is the swing of the saw from
square, the tilt the lean of the blade from upright, taken after the swing. The
words behind each say which side of the piece comes out longer: that settles
which way to swing. Sides are as seen from the pad, the side that looks up at
the top. Where the saw does not tilt ([shop] tilt = "0 deg"), the tube is rolled
instead: lay the named side down, lift the other lower corner until an angle
gauge across the tube shows the roll, pack it there, and swing once. Cut a piece
of scrap first.`

func (a *app) cutsCommand() *cobra.Command {
	glyphs := ""
	cmd := &cobra.Command{
		Use:   "cuts FILE",
		Short: "Print the cut list: saw settings, plates, and which bars to buy",
		Long: `Print how each leg of the mounts is cut, its plates, and how the pieces are
nested on the stock of the file, so that least is bought.

` + sawHelp,
		Example:           "  fitup cuts truck.toml",
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.sheet(args[0], glyphs, cutsText)
		},
	}
	cmd.Flags().StringVar(&glyphs, "glyphs", glyphs, "signs of the text: unicode, or ascii; by the locale when left out")
	return cmd
}

// sheet loads and assesses a build and prints what write makes of it.
func (a *app) sheet(path, glyphs string, write func(*assess.Assessment) (string, error)) error {
	g, err := a.signs(glyphs)
	if err != nil {
		return fail(exitUsage, err)
	}
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	text, err := write(assess.Run(f.Build))
	if err != nil {
		return fail(exitFindings, err)
	}
	head := project.Printable(path)
	if f.Build.Name != "" {
		head += ": " + project.Printable(f.Build.Name)
	}
	return a.print(g.Plain(head + "\n\n" + printableLines(text)))
}

// printableLines makes each line fit for a terminal: names come from the file.
func printableLines(text string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		lines[i] = project.Printable(l)
	}
	return strings.Join(lines, "\n")
}

func cutsText(a *assess.Assessment) (string, error) {
	if len(a.Brackets) == 0 {
		return "", errors.New("no leg is in the file yet: [mount.left_front.leg] with a section begins one")
	}
	var out strings.Builder
	out.WriteString(sawHelp + "\n")
	for i := range a.Brackets {
		out.WriteString("\n" + legText(a, &a.Brackets[i]))
	}
	for _, g := range a.CutPlans(assess.SearchAtEase) {
		out.WriteString("\n" + planText(g, a.Build.Units))
	}
	return out.String(), nil
}

// legText is one leg for the person at the saw.
func legText(a *assess.Assessment, b *assess.Bracket) string {
	u := a.Build.Units
	if !b.HasCut {
		return strings.ToUpper(b.Label[:1]) + b.Label[1:] + " leg: no cut. " + b.Why + "\n"
	}
	var rows [][]string
	for _, r := range b.Rows() {
		rows = append(rows, []string{"  " + r.Label, book.Magnitude(r.Kind, r.V, u), strings.TrimSpace(book.Sense(r.Kind, r.V, u) + " " + r.Words)})
	}
	var out strings.Builder
	fmt.Fprintf(&out, "%s leg, %s\n", strings.ToUpper(b.Label[:1])+b.Label[1:], b.Section)
	out.WriteString(strings.Join(columns(rows, theme.Unicode(), 22), "\n") + "\n")
	for _, w := range []*assess.PlateWork{b.PadPlate, b.RailPlate} {
		if w != nil {
			out.WriteString(plateText(w, u))
		}
	}
	if t := b.Strength.Bolts.Tighten; t.Torque > 0 {
		fmt.Fprintf(&out, "  bolts %s %s: %s gives a preload of about %s, give or take a quarter; their maker's torque comes first\n",
			b.Spec.Bolts.Thread, b.Spec.Bolts.Class, book.Magnitude(quantity.Torque, t.Torque, u), book.Magnitude(quantity.Force, twoFigures(t.Preload), u))
	}
	return out.String()
}

func plateText(w *assess.PlateWork, u quantity.Units) string {
	mm := func(v float64) string { return book.Magnitude(quantity.Length, v, u) }
	var out strings.Builder
	flat := "plate"
	if w.Folded {
		flat = "plate, laid flat,"
	}
	fmt.Fprintf(&out, "  %s %s %s by %s by %s, %s", w.End, flat, mm(w.Figures.Width), mm(w.Figures.Height), mm(w.Spec.Thickness.V()),
		book.Magnitude(quantity.Mass, w.Figures.Mass, u))
	if n := len(w.Plate.Holes); n > 0 {
		holes := fmt.Sprintf("%d holes of %s, their middle", n, mm(w.Spec.Hole.V()))
		if n == 1 {
			holes = fmt.Sprintf("a hole of %s,", mm(w.Spec.Hole.V()))
		}
		fmt.Fprintf(&out, ", %s %s above the lower edge", holes, mm(w.Middle))
	}
	out.WriteString("\n")
	if w.Folded {
		fmt.Fprintf(&out, "    bend square between %s and %s from the lower edge, middle line at %s; the bend takes %s\n",
			mm(w.Blank.Bends[0].From), mm(w.Blank.Bends[0].To), mm(w.Blank.Bends[0].Middle), mm(w.Deduct))
	}
	return out.String()
}

// planText says which bars are bought and how each is cut.
func planText(g assess.CutGroup, u quantity.Units) string {
	mm := func(v float64) string { return book.Magnitude(quantity.Length, v, u) }
	var out strings.Builder
	fmt.Fprintf(&out, "Stock of %s\n", g.Section)
	switch {
	case len(g.Stock) == 0:
		out.WriteString("  no [[stock]] of it is in the file; give one and the pieces are nested on it\n")
		return out.String()
	case !g.HasPlan:
		out.WriteString("  " + g.Why + "\n")
		return out.String()
	}
	for i, bar := range g.Plan.Bars {
		s := g.List.Stock[bar.Stock]
		from := "bought"
		if s.OnHand {
			from = "on hand"
		}
		fmt.Fprintf(&out, "  bar %d, %s, %s:", i+1, mm(s.Length), from)
		for j, c := range bar.Cuts {
			sep := ""
			if j > 0 {
				sep = ";"
			}
			fmt.Fprintf(&out, "%s %s from %s to %s", sep, g.List.Pieces[c.Piece].Name, mm(c.From), mm(c.To))
		}
		fmt.Fprintf(&out, "; %s left\n", mm(bar.Offcut))
	}
	why := "proved to be the least"
	if !g.Plan.Optimal {
		why = "not proved to be the least"
	}
	if g.Plan.Cost > 0 && g.Plan.Cost != g.Plan.Bought {
		why = fmt.Sprintf("which costs %.2f, %s", g.Plan.Cost, why)
	}
	fmt.Fprintf(&out, "  bought %s, %s; kerf %s, trim %s at one end of each bar, %s lost to both\n",
		mm(g.Plan.Bought), why, mm(g.List.Kerf), mm(g.List.Trim), mm(g.Plan.Waste))
	return out.String()
}

// twoFigures is a positive x to two figures, for what is only good to a quarter.
func twoFigures(x float64) float64 {
	if x <= 0 {
		return x
	}
	step := math.Pow(10, math.Floor(math.Log10(x))-1)
	return math.Round(x/step) * step
}
