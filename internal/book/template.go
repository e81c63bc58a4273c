package book

import (
	"fmt"
	"html"
	"strconv"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// wraps are the templates of a mount's leg, and the leg.
func wraps(a *assess.Assessment, mount string, places int) (assess.Bracket, []assess.Wrap, error) {
	b, ok := a.Bracket(mount)
	if !ok {
		return b, nil, fmt.Errorf("there is no leg [mount.%s.leg] in the file", mount)
	}
	w, err := b.Wraps(places)
	return b, w, err
}

// Template is the wrap-around template of a round leg as a table, with so many
// places around (12 to 360). It fails where the mount has no round leg.
func Template(a *assess.Assessment, mount string, places int) (Sheet, error) {
	var s Sheet
	b, wraps, err := wraps(a, mount, places)
	if err != nil {
		return s, err
	}
	u := a.Build.Units
	if len(wraps) == 0 {
		s.add("", text(0, fmt.Sprintf("Both ends of the %s leg are cut square: there is nothing to wrap.", b.Label))...)
	}
	for _, w := range wraps {
		items := text(1,
			fmt.Sprintf("square line: %s from the pad's end of the axis; once around: %s", Magnitude(quantity.Length, w.Ring, u), Magnitude(quantity.Length, w.Around, u)),
			fmt.Sprintf("place 0: %s clockwise from the top of the tube, seen from the pad", Magnitude(quantity.Angle, w.Zero, u)))
		if w.Fitted != "" {
			items = append(items, text(1, "fitted: "+w.Fitted)...)
		}
		rows := [][]string{{"place", "angle", "around", "toward the " + w.End + " end"}}
		for j, p := range w.Points {
			rows = append(rows, []string{strconv.Itoa(j), Magnitude(quantity.Angle, p.Angle, u),
				Magnitude(quantity.Length, p.Around, u), Magnitude(quantity.Length, p.Toward, u)})
		}
		s.add(fmt.Sprintf("%s leg, %s end", b.Label, w.End), append(items, table(1, 5, rows))...)
	}
	return s.clean(), nil
}

// smooth is how many places a drawn template has.
const smooth = 180

// TemplateSVG is the template of one end of a leg, "pad" or "rail", as an SVG
// drawing of true size. It fails where there is nothing to wrap.
func TemplateSVG(a *assess.Assessment, mount, end string) (string, error) {
	b, wraps, err := wraps(a, mount, smooth)
	if err != nil {
		return "", err
	}
	for _, w := range wraps {
		if w.End == end {
			return svgOf(b.Label, w, a.Build.Units), nil
		}
	}
	return "", fmt.Errorf("the %s end of the %s leg is cut square: there is nothing to wrap", end, b.Label)
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
		edge, html.EscapeString(project.Printable(label)), w.End, Magnitude(quantity.Length, w.Ring, u))
	fmt.Fprintf(&out, "<text x=\"%.0f\" y=\"8\">%s edge %s clockwise from the tube's top, seen from the pad</text>\n", edge, side, Magnitude(quantity.Angle, w.Zero, u))
	fmt.Fprintf(&out, "<text x=\"%.0f\" y=\"%.3f\">print at 100 %%: this line is 100 mm long</text>\n</g>\n</svg>\n", edge, base+5)
	return out.String()
}
