package main

import (
	"fmt"
	"html"
	"strconv"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) templateCommand() *cobra.Command {
	glyphs, places, svg := "", 24, ""
	cmd := &cobra.Command{
		Use:   "template FILE MOUNT",
		Short: "Print the wrap-around template of a round leg as a table",
		Long: `Print the template that is wrapped around the ends of a round leg: for a flat
cut that is not square, and for the saddle on a round crossmember.

Draw a line square around the tube at the distance given, and divide it into the
places of the table, clockwise as seen from the pad. From each, measure along the
tube toward the end, and join the marks.

With --svg pad or --svg rail it prints that end's template as a drawing of true
size instead: send it to a file, print it at 100 %, measure the line at its foot,
cut it out and wrap it.`,
		Example: "  fitup template truck.toml left_front\n  fitup template --svg rail truck.toml left_front > rail.svg",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 {
				return wrongUse("name a build file and a mount: `%s FILE MOUNT`", cmd.CommandPath())
			}
			return nil
		},
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			if svg != "" {
				return a.drawTemplate(args[0], args[1], svg)
			}
			return a.sheet(args[0], glyphs, func(r *assess.Assessment) (string, error) { return templateText(r, args[1], places) })
		},
	}
	cmd.Flags().IntVar(&places, "places", places, "places around the tube, 12 to 360")
	cmd.Flags().StringVar(&svg, "svg", svg, "draw one end in true size: pad, or rail")
	cmd.Flags().StringVar(&glyphs, "glyphs", glyphs, "signs of the text: unicode, or ascii; by the locale when left out")
	return cmd
}

// smooth is how many places a drawn template has.
const smooth = 180

// drawTemplate prints the template of one end as an SVG drawing in mm.
func (a *app) drawTemplate(path, mount, end string) error {
	if end != "pad" && end != "rail" {
		return wrongUse("--svg draws the pad or the rail end; read %q", end)
	}
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	b, ok := assess.Run(f.Build).Bracket(mount)
	if !ok {
		return fail(exitFindings, fmt.Errorf("there is no leg [mount.%s.leg] in the file", mount))
	}
	wraps, err := b.Wraps(smooth)
	if err != nil {
		return fail(exitFindings, err)
	}
	for _, w := range wraps {
		if w.End == end {
			return a.print(svgOf(b.Label, w, f.Build.Units))
		}
	}
	return fail(exitFindings, fmt.Errorf("the %s end of the %s leg is cut square: there is nothing to wrap", end, b.Label))
}

// svgOf draws a template as it is wrapped, print outside: the square line at
// the top, the cut below it, and a line of 100 mm to see that the print is of
// true size. With the pad's end upward, clockwise as seen from the pad runs to
// the left on the side that faces you; with it downward, to the right.
func svgOf(label string, w assess.Wrap, u quantity.Units) string {
	const edge, foot = 10.0, 25.0
	width, height := w.Around+2*edge, w.Deepest+2*edge+foot
	width = max(width, 130) // room for the line to measure
	begin, way, side := edge, 1.0, "left"
	if w.End == "rail" {
		begin, way, side = edge+w.Around, -1, "right"
	}
	var cut strings.Builder
	fmt.Fprintf(&cut, "M%.3f %.3f", begin, edge)
	for _, p := range w.Points {
		fmt.Fprintf(&cut, " L%.3f %.3f", begin+way*p.Around, edge+p.Toward)
	}
	fmt.Fprintf(&cut, " L%.3f %.3f Z", begin+way*w.Around, edge)
	base := w.Deepest + edge + foot - 6
	var out strings.Builder
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" width="%.3fmm" height="%.3fmm" viewBox="0 0 %.3f %.3f">`+"\n", width, height, width, height)
	out.WriteString(`<g fill="none" stroke="black" stroke-width="0.2">` + "\n")
	fmt.Fprintf(&out, "<path d=\"%s\"/>\n<path d=\"M%.0f %.3f h100 m0 -2 v4 m-100 0 v-4\"/>\n</g>\n", cut.String(), edge, base)
	out.WriteString(`<g font-family="sans-serif" font-size="3">` + "\n")
	fmt.Fprintf(&out, "<text x=\"%.0f\" y=\"4\">%s leg, %s end, print outside; top edge square round the tube, %s from the pad's end of the axis</text>\n",
		edge, html.EscapeString(project.Printable(label)), w.End, book.Magnitude(quantity.Length, w.Ring, u))
	fmt.Fprintf(&out, "<text x=\"%.0f\" y=\"8\">%s edge %s clockwise from the tube's top, seen from the pad</text>\n", edge, side, book.Magnitude(quantity.Angle, w.Zero, u))
	fmt.Fprintf(&out, "<text x=\"%.0f\" y=\"%.3f\">print at 100 %%: this line is 100 mm long</text>\n</g>\n</svg>\n", edge, base+5)
	return out.String()
}

func templateText(a *assess.Assessment, mount string, places int) (string, error) {
	b, ok := a.Bracket(mount)
	if !ok {
		return "", fmt.Errorf("there is no leg [mount.%s.leg] in the file", mount)
	}
	wraps, err := b.Wraps(places)
	if err != nil {
		return "", err
	}
	u := a.Build.Units
	var out strings.Builder
	if len(wraps) == 0 {
		fmt.Fprintf(&out, "Both ends of the %s leg are cut square: there is nothing to wrap.\n", b.Label)
	}
	for i, w := range wraps {
		if i > 0 {
			out.WriteString("\n")
		}
		fmt.Fprintf(&out, "%s leg, %s end\n", b.Label, w.End)
		fmt.Fprintf(&out, "  square line: %s from the pad's end of the axis; once around: %s\n",
			book.Magnitude(quantity.Length, w.Ring, u), book.Magnitude(quantity.Length, w.Around, u))
		fmt.Fprintf(&out, "  place 0: %s clockwise from the top of the tube, seen from the pad\n", book.Magnitude(quantity.Angle, w.Zero, u))
		if w.Fitted != "" {
			fmt.Fprintf(&out, "  fitted: %s\n", w.Fitted)
		}
		rows := [][]string{{"  place", "angle", "around", "toward the " + w.End + " end"}}
		for j, p := range w.Points {
			rows = append(rows, []string{"  " + strconv.Itoa(j), book.Magnitude(quantity.Angle, p.Angle, u),
				book.Magnitude(quantity.Length, p.Around, u), book.Magnitude(quantity.Length, p.Toward, u)})
		}
		out.WriteString(strings.Join(columns(rows, theme.Unicode(), 7), "\n") + "\n")
	}
	return out.String(), nil
}
