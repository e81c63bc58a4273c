package ui

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/inturn"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shown is a decimal number with its sign, its unit and its direction, as far
// as they stand beside it.
var shown = regexp.MustCompile(`(±|\+/-)?-?\d+\.\d+(°| deg\b| mm| in)?( down to the rear| up to the rear| rear to the right| rear to the left| right| left| down| up| level| straight)?`)

// notValues are the parts of a screen whose numbers are no assessed values.
var notValues = []struct {
	why string
	re  *regexp.Regexp
}{
	{"what one step of the row under the cursor would do: an effect, not a value", regexp.MustCompile(`one step of [^:]*: [+-]\S+`)},
	{"the marks along the axis of a plot: a scale, as the bar under the sketch is", regexp.MustCompile(`-?\d+\.\d+( ?[\x{2800}-\x{28ff}]|\|)`)},
	{"a height below ride height: the value is a rise, with the other sign", regexp.MustCompile(`(?m)\d+\.\d+( mm| in)?( of)? droop|at \d+\.\d+( mm| in)?( of)?( *$|  )`)},
	{"the numbers of a plot's level axis", regexp.MustCompile(`(?m)(( |^)-?\d+(\.\d+)?)+ +(rise, |turn, )`)},
	{"what one step would do, beside each placement row", regexp.MustCompile(`(?m)[+-]\d+\.\d+ [✓△✗?v!X]( ok| tight| over| not known)?( *$|  )`)},
	{"what is typed, and what was", regexp.MustCompile(`(?m)= [^;]*; enter takes it|Taken: .*$`)},
}

// contents are the lines of every pane and box on show, without borders, and
// so without titles, steps, counts, messages and the footer.
func (d *driver) contents() string {
	var out []string
	plan := d.m.plan()
	for i := range d.m.panes {
		p := layout.Slot(i)
		if r, ok := plan.Panes[p]; ok {
			w, h := theme.Inner(r.W, r.H)
			out = append(out, d.m.draw(p, w, h).Text...)
		}
	}
	for _, box := range d.m.dialogs {
		w, h := box.size(d.m.width, d.m.height)
		w, h = theme.Inner(w, min(h, d.m.height-2))
		_, _, lines := box.draw(d.m, w, h)
		switch box.(type) {
		case *ask: // below the row and what it reads now is what is typed, and what is said about that
			lines = lines[:min(len(lines), 2)]
		case *reading, *shake, *measure: // nothing but what is typed and would follow from it
			lines = nil
		case *searchBox: // the file's own text, and keys
			lines = nil
		case *round: // what is typed, and what is said about that
			if d.m.round.refused+d.m.round.list().field.Text() != "" {
				lines = nil
			}
		case *dataPage, *movers: // the file's own text and figures that are built in; effects of a step
			lines = nil
		}
		out = append(out, lines...)
	}
	return ansi.Strip(strings.Join(out, "\n"))
}

// numbersShown are the numbers of the panes that ought to be values.
func (d *driver) numbersShown() []string {
	text := d.contents()
	for _, x := range notValues {
		text = x.re.ReplaceAllString(text, " ")
	}
	var out []string
	var words map[string]bool
	for _, n := range shown.FindAllString(text, -1) {
		if words == nil {
			words = d.fromTheFile()
		}
		if !words[n] {
			out = append(out, n)
		}
	}
	return out
}

// fromTheFile are the numbers that stand in words the builder wrote: job titles
// and notes, and sources of limits; and what tables say of sections.
func (d *driver) fromTheFile() map[string]bool {
	b := d.m.sess.Now().Build
	var words []string
	for _, j := range b.Jobs {
		words = append(words, j.Title, j.Note)
	}
	for _, f := range d.m.now.Findings {
		words = append(words, f.Source)
	}
	for _, x := range d.m.now.Brackets {
		words = append(words, x.SectionFigures(b.Units)) // as tables of sections have them
	}
	for _, f := range b.Fasteners {
		words = append(words, f.Class, f.Thread)
	}
	for _, f := range b.Fluids {
		words = append(words, f.Amount)
	}
	out := map[string]bool{}
	for _, n := range shown.FindAllString(strings.Join(words, "\n"), -1) {
		out[n] = true
	}
	return out
}

// forms are all the ways a screen may write the given values.
func forms(values []assess.Value, u quantity.Units, g theme.Glyphs) map[string][]string {
	out := map[string][]string{}
	add := func(name, text string) {
		text = g.Plain(text)
		if shown.FindString(text) == text && !slices.Contains(out[text], name) {
			out[text] = append(out[text], name)
		}
	}
	for _, v := range values {
		if !v.Known {
			continue
		}
		for digits := 1; digits <= 3; digits++ {
			full := quantity.Format(v.Kind, v.V, u, digits)
			add(v.Name, full)
			add(v.Name, strings.TrimSuffix(full, " to the rear")) // where a column is narrow
			add(v.Name, quantity.Short(v.Kind, v.V, u, digits))
			if strings.HasSuffix(v.Name, ".margin") { // its sign is in the words "to spare" and "past it by"
				add(v.Name, quantity.Format(v.Kind, math.Abs(v.V), u, digits))
				add(v.Name, quantity.Short(v.Kind, math.Abs(v.V), u, digits))
			}
			if strings.Contains(v.Name, ".move.") { // its sign is in the word behind: forward, to the left
				add(v.Name, quantity.Format(v.Kind, math.Abs(v.V), u, digits))
			}
			if strings.HasSuffix(v.Name, ".move.up") { // its sign is in the word
				way := " up"
				if v.V < 0 {
					way = " down"
				}
				add(v.Name, quantity.Format(v.Kind, math.Abs(v.V), u, digits)+way)
			}
			if strings.HasSuffix(v.Name, "uncertainty") {
				add(v.Name, g.PlusMinus+full)
				add(v.Name, g.PlusMinus+strings.Fields(quantity.Short(v.Kind, v.V, u, digits))[0])
			}
		}
	}
	return out
}

// missing are the numbers on show that no value stands behind.
func (d *driver) missing(values []assess.Value) []string {
	return without(d.numbersShown(), forms(values, d.m.sess.Now().Build.Units, d.m.theme.Glyphs))
}

// without are the numbers that are no form of a value, each once.
func without(numbers []string, have map[string][]string) []string {
	var out []string
	for _, n := range numbers {
		if len(have[n]) == 0 && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// proven looks for the values behind the numbers on show.
type proven struct {
	numbers int
	have    map[string]map[string][]string // by the glyphs and the text of the build: the same text has the same values
}

func (p *proven) look(t *testing.T, d *driver) {
	t.Helper()
	text := d.m.theme.Glyphs.Name + d.bytes()
	if p.have[text] == nil {
		p.have[text] = forms(d.m.now.Values(), d.m.sess.Now().Build.Units, d.m.theme.Glyphs)
	}
	on := d.numbersShown()
	p.numbers += len(on)
	if odd := without(on, p.have[text]); len(odd) > 0 {
		assert.Fail(t, "no value stands behind", "%v in\n%s", odd, d.contents())
	}
}

func (p *proven) enough(t *testing.T) {
	t.Helper()
	assert.Greater(t, p.numbers, 200, "hardly any number was found")
}

// TestEveryNumberShownIsAValue looks at every golden screen: whoever reads a
// number on the screen finds it in the values too, where scripts read it. By default at
// every fourth of them.
func TestEveryNumberShownIsAValue(t *testing.T) {
	p := proven{have: map[string]map[string][]string{}}
	for n, s := range shots() {
		if !inturn.Try(t, n, 4) {
			continue
		}
		t.Run(s.title(), func(t *testing.T) {
			if s.w < layout.MinW {
				t.Skip("the screen shows nothing but that it is too small")
			}
			p.look(t, s.take(t))
		})
	}
	p.enough(t)
}

// The same in every state of every build, by default each in one of the builds.
func TestEveryNumberInEveryState(t *testing.T) {
	t.Parallel()
	p := proven{have: map[string]map[string][]string{}}
	builds, all := sampleBuilds(), states()
	for b, build := range sortedKeys(builds) {
		for s, name := range sortedKeys(all) {
			if !inturn.Try(t, b+s, len(builds)) {
				continue
			}
			t.Run(build+" "+name, func(t *testing.T) {
				d := drive(t, builds[build], 140, 45).keys(all[name]...)
				for range 2 { // down every list
					p.look(t, d)
					d.keys("down", "down", "down")
				}
				d.send(tea.WindowSizeMsg{Width: 60, Height: 20})
				p.look(t, d)
			})
		}
	}
	p.enough(t)
}

// Without the values a screen rests on, the test above would tell.
func TestAMissingValueWouldBeTold(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45)
	for name, number := range map[string]string{
		"placement.rear":                              "-289.5 mm",
		"placement.tilt":                              "4.30° down to the rear",
		"line.rear.joint.2.angle.planned":             "2.51",
		"line.rear.joint.1.angle.read":                "2.05",
		"line.rear.pinion.slope.planned":              "4.80 down",
		"line.rear.shaft.1.slope.read":                "2.30 down",
		"line.rear.shaft.1.mismatch.read.uncertainty": "±0.16",
	} {
		require.Contains(t, d.numbersShown(), number)
		have := forms(d.m.now.Values(), d.m.sess.Now().Build.Units, d.m.theme.Glyphs)[number]
		require.Contains(t, have, name)
		without := slices.DeleteFunc(slices.Clone(d.m.now.Values()), func(v assess.Value) bool { return slices.Contains(have, v.Name) })
		assert.Contains(t, d.missing(without), number)
		assert.Empty(t, d.missing(d.m.now.Values()))
	}
}
