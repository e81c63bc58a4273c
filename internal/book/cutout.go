package book

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// Cutout is a template of true size: what is cut along, drilled, bent and
// scribed, mm, y up, on its own plane.
type Cutout struct {
	Name  string   // part of a file's name: left_front-rail-wrap
	Title string   // left front leg, rail end
	Facts []string // part, side, quantity, which face is up, what to do, a line each

	Edges   [][]r2.Vec // closed outlines, the first point not repeated
	Holes   []Circle
	Rings   []Circle   // what a pilot hole is opened to: scribed
	Bends   [][]r2.Vec // lines to bend along
	Marks   [][]r2.Vec // lines to scribe
	Written []scene.Note
}

// Circle is a hole, mm.
type Circle struct {
	At       r2.Vec
	Diameter float64
}

// box is what a template lies in.
func (c *Cutout) box() r2.Box {
	b := r2.Box{Min: c.Edges[0][0], Max: c.Edges[0][0]}
	for _, run := range c.Edges {
		for _, p := range run {
			b.Min = r2.Vec{X: min(b.Min.X, p.X), Y: min(b.Min.Y, p.Y)}
			b.Max = r2.Vec{X: max(b.Max.X, p.X), Y: max(b.Max.Y, p.Y)}
		}
	}
	return b
}

// Cutouts are the templates of one mount, or of all where none is named, in the
// order of the mounts: wraps for the ends of legs and members, plates and gussets, jigs
// for the holes of what plates are bolted to, and the taper that makes up for a pad that
// leans. Left says of each leg without one why. It fails
// where the mount has no leg.
func Cutouts(a *assess.Assessment, mount string) (out []Cutout, left []string, err error) {
	found := false
	for i := range a.Brackets {
		b := &a.Brackets[i]
		if mount != "" && b.Name != mount {
			continue
		}
		found = true
		if b.Members != nil {
			for _, w := range []*assess.PlateWork{b.PadPlate, b.RailPlate} {
				if w != nil {
					out = append(out, plateCutout(b, w, a.Build.Units))
				}
			}
			for i := range b.Sheets {
				out = append(out, sheetCutout(b, &b.Sheets[i], i, a.Build.Units))
			}
			wraps, why := memberCutouts(b, a.Build.Units)
			out, left = append(out, wraps...), append(left, why...)
			out = append(out, jigCutouts(b, a.Build.Units)...)
			continue
		}
		if b.Plates != nil {
			if b.Plates.Fold != nil {
				out = append(out, foldCutout(b, a.Build.Units))
				out = append(out, jigCutouts(b, a.Build.Units)...)
			}
			for i := range b.Sheets {
				out = append(out, sheetCutout(b, &b.Sheets[i], i, a.Build.Units))
			}
			continue
		}
		if !b.HasCut {
			left = append(left, fmt.Sprintf("%s leg: no cut. %s", capital(b.Label), b.Why))
			continue
		}
		wraps, why := wrapCutouts(b, a.Build.Units)
		if why != "" {
			left = append(left, why)
		}
		out = append(out, wraps...)
		for _, w := range []*assess.PlateWork{b.PadPlate, b.RailPlate} {
			if w != nil {
				out = append(out, plateCutout(b, w, a.Build.Units))
			}
		}
		out = append(out, jigCutouts(b, a.Build.Units)...)
		if c, ok := taperCutout(b, a.Build.Units); ok {
			out = append(out, c)
		}
	}
	plates, why := adapterCutouts(a, mount)
	out, left, found = append(out, plates...), append(left, why...), found || len(plates)+len(why) > 0
	if mount == "" && len(a.Packings) > 0 {
		packs, why := packCutouts(a)
		out, left, found = append(out, packs...), append(left, why...), true
	}
	if !found {
		if mount == "" {
			return nil, nil, fmt.Errorf("no leg is in the file yet: [mount.left_front.leg] with a section begins one")
		}
		return nil, nil, fmt.Errorf("there is no leg [mount.%s.leg] in the file", mount)
	}
	for i := range out {
		out[i].engrave()
	}
	return out, left, nil
}

// facts are what every template says of itself.
func facts(part string, b *assess.Bracket, up string, more ...string) []string {
	return factsOf(part, b, 1, up, more...)
}

// factsOf are those of what several are made of.
func factsOf(part string, b *assess.Bracket, count int, up string, more ...string) []string {
	side := "in the middle or as the mount's name says"
	for _, s := range []string{"left", "right"} {
		if strings.HasPrefix(b.Name, s) {
			side = s
		}
	}
	return append([]string{
		"Part: " + part + ". Side: " + side + ". Quantity: " + strconv.Itoa(count) + ", for the " + b.Label + " mount.",
		"Face up: " + up,
	}, more...)
}

// clean makes all text of a template fit for a document; names come from the
// file. A name of a file has letters, digits, hyphens and low lines.
func (c *Cutout) clean() {
	c.Name = fileName(c.Name)
	c.Title = project.Printable(c.Title)
	for i := range c.Facts {
		c.Facts[i] = project.Printable(c.Facts[i])
	}
	for i := range c.Written {
		c.Written[i].Text = project.Printable(c.Written[i].Text)
	}
}

// longName is how many bytes of a name a file's name has.
const longName = 80

// fileName is a text as part of a file's name.
func fileName(s string) string {
	s = strings.Map(func(r rune) rune {
		if r == '_' || r == '-' || unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return '_'
	}, s)
	for len(s) > longName {
		_, size := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-size]
	}
	return s
}
