package scene

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

var (
	triple = regexp.MustCompile(`\[(-?[\d.]+), (-?[\d.]+), (-?[\d.]+)\]`)
	bare   = regexp.MustCompile(`^([a-z_]+) = (-?[\d.]+)$`)
)

// leftForRight has each word left said right and the other way about.
var leftForRight = strings.NewReplacer("left", "right", "right", "left", "Left", "Right", "Right", "Left")

// uncommented are the lines of a build without what stands behind a #.
func uncommented(text string) []string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		lines[i] = strings.TrimSpace(strings.SplitN(l, "#", 2)[0])
	}
	return lines
}

// inTheMirror is a build with left for right, its crankshaft too.
func inTheMirror(text string) string {
	lines := uncommented(text)
	for i, l := range lines {
		l = triple.ReplaceAllStringFunc(leftForRight.Replace(l), func(s string) string {
			p := triple.FindStringSubmatch(s)
			return fmt.Sprintf("[%s, %s, %s]", p[1], strings.ReplaceAll("-"+p[2], "--", ""), p[3])
		})
		if l == "[powertrain]" {
			l += "\nturns = \"opposite\""
		}
		lines[i] = l
	}
	return strings.Join(lines, "\n")
}

// inInches is a build of which every bare length is in inches.
func inInches(text string) string {
	inch := func(s string) string {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			panic(err)
		}
		return strconv.FormatFloat(v/25.4, 'f', -1, 64)
	}
	lines := uncommented(text)
	for i, l := range lines {
		switch p := bare.FindStringSubmatch(l); {
		case len(p) > 0 && !slices.Contains([]string{"format", "across", "high", "count", "cylinders", "reverse", "ratio", "reduction"}, p[1]):
			l = p[1] + " = " + inch(p[2])
		case !strings.HasPrefix(l, "gears"):
			l = triple.ReplaceAllStringFunc(l, func(s string) string {
				p := triple.FindStringSubmatch(s)
				return fmt.Sprintf("[%s, %s, %s]", inch(p[1]), inch(p[2]), inch(p[3]))
			})
		}
		lines[i] = l
	}
	return strings.Replace(strings.Join(lines, "\n"), "[vehicle]", "[units]\nsystem = \"inch\"\n\n[vehicle]", 1)
}

// drawnCorners are the corners of all that is drawn of a thing, in order.
func drawnCorners(s *Scene, id string, mirrored bool) (out []r3.Vec) {
	for _, p := range s.Parts {
		if p.ID != id || p.Solid == nil {
			continue
		}
		for _, q := range p.Solid.Points {
			if mirrored {
				q.Y = -q.Y
			}
			out = append(out, q)
		}
	}
	near := func(v float64) float64 { return float64(int(v*100 + 1e6)) }
	slices.SortFunc(out, func(a, b r3.Vec) int {
		return cmp.Or(cmp.Compare(near(a.X), near(b.X)), cmp.Compare(near(a.Y), near(b.Y)), cmp.Compare(near(a.Z), near(b.Z)))
	})
	return out
}

// turnedRound is the name of a value of a crossmember in the mirror: its members run from left
// to right there too, so that the ends change places and their sides do not.
func turnedRound(name string, called func(string) string) string {
	mount, rest, _ := strings.Cut(strings.TrimPrefix(name, "bracket."), ".")
	swap := strings.NewReplacer("first.", "second.", "second.", "first.", "left_", "right_", "right_", "left_")
	if strings.Contains(rest, "_ear.") || strings.Contains(rest, "_socket.") { // these run from the rail
		swap = leftForRight
	}
	rest = swap.Replace(rest)
	return "bracket." + called(mount) + "." + rest
}

// kin says how one build is held against another: what names are there, and whether it is
// its mirror image.
type kin struct {
	called   func(string) string
	mirrored bool
}

// A vehicle that is seen in a mirror, its crankshaft turning the other way, has mirrored
// findings, cuts and drawings, and in inches it is the same: every ready kind of mount and
// every kind of end.
func TestMountsInTheMirrorAndInInches(t *testing.T) {
	names, err := filepath.Glob("../../testdata/mounts/*.toml")
	require.NoError(t, err)
	for _, path := range names {
		name := strings.TrimSuffix(filepath.Base(path), ".toml")
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			run := func(text string) *assess.Assessment {
				f, err := project.Parse("a.toml", []byte(text))
				require.NoError(t, err)
				return assess.Run(f.Build)
			}
			plain := run(string(text))
			inInch := run(inInches(string(text)))
			require.Equal(t, plain.Build.Mounts[0].Name, inInch.Build.Mounts[0].Name)
			same(t, plain, inInch, kin{func(s string) string { return s }, false})
			if name != "channel_arm_with_a_brace" { // a channel is not its own mirror image: its roll says where it is open
				same(t, plain, run(inTheMirror(string(text))), kin{leftForRight.Replace, true})
			}
		})
	}
}

// same holds what is said of mounts, their numbers and their drawing against another build.
func same(t *testing.T, plain, other *assess.Assessment, k kin) {
	t.Helper()
	count := 0
	for i := range plain.Findings {
		f := &plain.Findings[i]
		if !strings.HasPrefix(f.ID, "bracket.") && !strings.HasPrefix(f.ID, "adapter.") {
			continue
		}
		g, ok := other.Finding(k.called(f.ID))
		if !assert.True(t, ok, f.ID) {
			continue
		}
		count++
		assert.Equal(t, f.Status, g.Status, "%s: %s %s", f.ID, f.Missing, g.Missing)
		near(t, f.Value, g.Value, f.ID)
		near(t, f.Limit, g.Limit, f.ID)
		assert.Len(t, g.Assumes, len(f.Assumes), f.ID)
		if k.mirrored {
			assert.Equal(t, said(f.Advice()), said(leftForRight.Replace(g.Advice())), f.ID)
		}
	}
	assert.Positive(t, count)
	sameValues(t, plain, other, k)
	a, b := Of(plain), Of(other)
	for i := range plain.Brackets {
		id := "bracket." + plain.Brackets[i].Name
		p, q := drawnCorners(a, id, false), drawnCorners(b, k.called(id), k.mirrored)
		if !assert.Len(t, q, len(p), id) {
			continue
		}
		worst := 0.0
		for n := range p {
			worst = max(worst, r3.Norm(r3.Sub(p[n], q[n])))
		}
		assert.Less(t, worst, 1e-4, id)
	}
}

func near(t *testing.T, a, b float64, of string) {
	t.Helper()
	assert.InDelta(t, a, b, 1e-6*max(1, a), of)
}

// said is a text without what is told from one end of a crossmember only, and without which
// of two sides that use alike is named.
func said(s string) string {
	s = regexp.MustCompile(`[0-9.]+ mm from its first cut`).ReplaceAllString(s, "from its first cut")
	s = regexp.MustCompile(`beam, at its knee with the (left|right) leg`).ReplaceAllString(s, "$1 leg, at its knee with the beam")
	return regexp.MustCompile(`aside|to the other side|at its (left|right)`).ReplaceAllString(s, "aside")
}

func sameValues(t *testing.T, plain, other *assess.Assessment, k kin) {
	t.Helper()
	crosses, wide, rail := map[string]bool{}, map[string]float64{}, map[string]float64{}
	for i := range plain.Brackets {
		b := &plain.Brackets[i]
		crosses[b.Name] = b.Crosses()
		wide[b.Name], rail[b.Name] = b.Spec.PadPlate.Width.V(), b.Spec.RailPlate.Width.V()
	}
	values := map[string]assess.Value{}
	for _, v := range other.Values() {
		values[v.Name] = v
	}
	for _, v := range plain.Values() {
		if !strings.HasPrefix(v.Name, "bracket.") {
			continue
		}
		name, mount := k.called(v.Name), strings.Split(v.Name, ".")[1]
		fromLeft := strings.HasSuffix(v.Name, ".perch_along") || strings.HasSuffix(v.Name, ".weld.length") // or of the foot there
		if k.mirrored && crosses[mount] {
			if fromLeft {
				continue
			}
			name = turnedRound(v.Name, k.called)
		}
		w, ok := values[name]
		if !assert.True(t, ok, v.Name) {
			continue
		}
		if k.mirrored && strings.HasSuffix(v.Name, ".offset") {
			w.V = -w.V
		}
		if k.mirrored && strings.HasSuffix(v.Name, ".from_side") { // of the plate's left edge, looking at it
			w.V = wide[mount] - w.V
			if strings.Contains(v.Name, "_ear.") { // on the rail plate that it shares
				w.V += rail[mount] - wide[mount]
			}
		}
		near(t, v.V, w.V, v.Name)
	}
}
