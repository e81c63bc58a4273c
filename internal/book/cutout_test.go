package book

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

var from = Origin{Build: "bench frame", File: "test.toml", Hash: strings.Repeat("ab12", 16), Date: "2026-01-31"}

// askew is a round leg beside and across a round crossmember: nothing about its
// saddle is symmetric.
var askew = strings.NewReplacer("foot = [300, -100, -400]", "foot = [305, -100, -398]").Replace(round)

// tube is a leg by hand: where its axis begins, and its directions.
type tube struct{ pad, axis, u, v r3.Vec }

func tubeOf(pad, foot r3.Vec) tube {
	t := tube{pad: pad, axis: r3.Unit(r3.Sub(foot, pad))}
	up := r3.Vec{Z: 1}
	t.v = r3.Unit(r3.Sub(up, r3.Scale(r3.Dot(up, t.axis), t.axis)))
	t.u = r3.Cross(t.axis, t.v) // to the right, looking along the axis with v up
	return t
}

func (t tube) at(u, v, along float64) r3.Vec {
	return r3.Add(t.pad, r3.Add(r3.Scale(along, t.axis), r3.Add(r3.Scale(u, t.u), r3.Scale(v, t.v))))
}

// cutEdge are the points of a wrap that are cut along, with points between, less
// the band behind the square line.
func cutEdge(c Cutout) []r2.Vec {
	run := c.Edges[0]
	var out []r2.Vec
	for i := 1; i < len(run); i++ {
		p, q := run[i-1], run[i]
		if p.Y > 1e-9 || q.Y > 1e-9 {
			continue
		}
		for k := range 4 {
			out = append(out, r2.Add(p, r2.Scale(float64(k)/4, r2.Sub(q, p))))
		}
	}
	return out
}

// square is the distance of the square line that the template states, mm.
func square(t *testing.T, c Cutout) float64 {
	t.Helper()
	m := regexp.MustCompile(`square round the tube, ([0-9.]+) mm from`).FindStringSubmatch(strings.Join(c.Facts, "\n"))
	require.NotNil(t, m, "%v", c.Facts)
	v, err := strconv.ParseFloat(m[1], 64)
	require.NoError(t, err)
	return v
}

func named(t *testing.T, cs []Cutout, name string) Cutout {
	t.Helper()
	for _, c := range cs {
		if c.Name == name {
			return c
		}
	}
	require.Fail(t, "no template of that name", name)
	return Cutout{}
}

// topOf is where the template says that the tube's top is, mm across.
func topOf(t *testing.T, c Cutout) float64 {
	t.Helper()
	for i, n := range c.Written {
		if n.Text == "top" {
			return c.Marks[i+1][0].X // the square line is the first mark
		}
	}
	require.Fail(t, "no top")
	return 0
}

// A wrap taken as the person takes it, by its own marks and words, and rolled
// onto the tube by nothing but the file's numbers: the inside edge of its wall
// lies on the crossmember, and the flat end in its pad's plane.
func TestRoundWrapsRolledBackLieOnWhatTheyMeet(t *testing.T) {
	for name, text := range map[string]string{"askew": askew, "square on": round} {
		foot := r3.Vec{X: 300, Y: -100, Z: -400}
		if name == "askew" {
			foot = r3.Vec{X: 305, Y: -100, Z: -398}
		}
		const radius, wall, header = 42.4 / 2, 2.6, 60.3 / 2
		leg := tubeOf(r3.Vec{X: 300, Y: -200, Z: -75}, foot)
		cs, left, err := Cutouts(assessed(t, text), "")
		require.NoError(t, err)
		assert.Empty(t, left)
		require.Len(t, cs, 2)
		for _, end := range []string{"pad", "rail"} {
			c := named(t, cs, "left_front-"+end+"-wrap")
			top, ring, worst := topOf(t, c), square(t, c), 0.0
			for _, p := range cutEdge(c) {
				// The pad's end downward: clockwise from the pad runs right.
				angle, along := (p.X-top)/radius, ring+p.Y
				if end == "rail" { // upward: it runs left, and the cut lies on toward the rail
					angle, along = -angle, ring-p.Y
				}
				s, k := math.Sincos(angle)
				off := 0.0
				if end == "pad" {
					off = leg.at(radius*s, radius*k, along).Z + 75
				} else {
					q := leg.at((radius-wall)*s, (radius-wall)*k, along)
					off = math.Hypot(q.X-300, q.Z+400) - header
				}
				worst = max(worst, math.Abs(off))
			}
			// The square line's distance is printed to 0.1 mm: half of that is its own.
			assert.Less(t, worst, 0.05+0.05, "%s, %s", name, end)
		}
	}
}

// The same with the square line's distance as the core has it, which leaves
// nothing but the outline: within 0.05 mm, and none of it by luck.
func TestRoundWrapOutlineIsWithin005(t *testing.T) {
	a := assessed(t, askew)
	b, ok := a.Bracket("left_front")
	require.True(t, ok)
	wraps, err := b.Wraps(smooth)
	require.NoError(t, err)
	leg := tubeOf(r3.Vec{X: 300, Y: -200, Z: -75}, r3.Vec{X: 305, Y: -100, Z: -398})
	cs, _, err := Cutouts(a, "left_front")
	require.NoError(t, err)
	c := named(t, cs, "left_front-rail-wrap")
	off := func(mirror float64) (worst float64) {
		for _, p := range cutEdge(c) {
			s, k := math.Sincos(-mirror * (p.X - topOf(t, c)) / 21.2)
			q := leg.at(18.6*s, 18.6*k, wraps[1].Ring-p.Y)
			worst = max(worst, math.Abs(math.Hypot(q.X-300, q.Z+400)-30.15))
		}
		return worst
	}
	assert.Less(t, off(1), 0.05)
	assert.Greater(t, off(-1), 1.0, "wrapped with the print inside it does not fit")
}

// A wrap of a square tube folded back round its four sides and corners of 6 mm
// (EN 10219-2: twice a wall of 3 mm) makes a flat face on the rail and the pad.
func TestSquareWrapsFoldedBackAreFlat(t *testing.T) {
	cs, _, err := Cutouts(assessed(t, legs), "left_front")
	require.NoError(t, err)
	// By hand: the pad 40 mm under one at z = -35, the foot at the rail's edge.
	leg := tubeOf(r3.Vec{X: 300, Y: -200, Z: -75}, r3.Vec{X: 300, Y: -380})
	for _, end := range []string{"pad", "rail"} {
		c := named(t, cs, "left_front-"+end+"-wrap")
		lo, hi := math.Inf(1), math.Inf(-1)
		ring := square(t, c)
		for _, p := range cutEdge(c) {
			around, along := p.X, ring+p.Y
			if end == "rail" {
				around, along = 4*38+2*math.Pi*6-p.X, ring-p.Y
			}
			u, v := folded(around)
			y := leg.at(u, v, along).Y
			lo, hi = min(lo, y), max(hi, y)
		}
		assert.Less(t, hi-lo, 0.05, "%s end is flat", end)
		at := map[string]float64{"pad": -200, "rail": -380}[end]
		assert.InDelta(t, at, (lo+hi)/2, 0.06, "and where it is wanted, as far as a printed tenth tells")
	}
}

// A cut that is askew both ways is no mirror image of itself: folded back with
// the print inside it fits nothing.
func TestCompoundSquareWrapIsRightHanded(t *testing.T) {
	text := strings.Replace(legs, "foot_drop = 0\n", "foot = [360, -380, 0]\n", 1)
	cs, _, err := Cutouts(assessed(t, text), "left_front")
	require.NoError(t, err)
	leg := tubeOf(r3.Vec{X: 300, Y: -200, Z: -75}, r3.Vec{X: 360, Y: -380})
	for _, end := range []string{"pad", "rail"} {
		c := named(t, cs, "left_front-"+end+"-wrap")
		ring := square(t, c)
		flat := func(mirror bool) float64 {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, p := range cutEdge(c) {
				around, along := p.X, ring+p.Y
				if end == "rail" {
					along = ring - p.Y
				}
				if (end == "rail") != mirror {
					around = 4*38 + 2*math.Pi*6 - p.X
				}
				u, v := folded(around)
				y := leg.at(u, v, along).Y
				lo, hi = min(lo, y), max(hi, y)
			}
			return hi - lo
		}
		assert.Less(t, flat(false), 0.05, end)
		assert.Greater(t, flat(true), 5.0, end)
	}
	// On its drawing from above, the vehicle's rear is up, and the rail's end
	// reaches farther there.
	b, ok := assessed(t, text).Bracket("left_front")
	require.True(t, ok)
	o := legOutline(&b, true)
	top, bottom := 0.0, 0.0
	for _, p := range o.near {
		if p.Y > 24 {
			top = max(top, p.X)
		}
		if p.Y < -24 {
			bottom = max(bottom, p.X)
		}
	}
	assert.Greater(t, top, bottom+10)
}

// folded is where a place around a square tube of 50 mm lies, clockwise from the
// middle of its bottom as seen from the pad: to the left, up, to the right.
func folded(s float64) (u, v float64) {
	const half, r = 25.0, 6.0
	const flat, bend = 2 * (half - r), math.Pi / 2 * r
	s -= flat / 2
	way, at := r2.Vec{X: -1}, r2.Vec{X: -(half - r), Y: -half}
	if s <= 0 {
		p := r2.Add(at, r2.Scale(s, way))
		return p.X, p.Y
	}
	for {
		// A corner turns clockwise about its middle.
		in := r2.Vec{X: way.Y, Y: -way.X}
		middle := r2.Add(at, r2.Scale(r, in))
		turn := min(s, bend) / r
		sin, cos := math.Sincos(turn)
		out := r2.Scale(-r, in)
		p := r2.Add(middle, r2.Vec{X: out.X*cos + out.Y*sin, Y: -out.X*sin + out.Y*cos})
		if s <= bend {
			return p.X, p.Y
		}
		s -= bend
		way, at = in, p
		if s <= flat {
			p = r2.Add(at, r2.Scale(s, way))
			return p.X, p.Y
		}
		s -= flat
		at = r2.Add(at, r2.Scale(flat, way))
	}
}

// strokes are the straight lines of a page of a PDF, in mm, as its own content
// says (ISO 32000-1, 8.5.2).
func strokes(t *testing.T, pdf []byte) (pages [][][2]r2.Vec) {
	t.Helper()
	for _, m := range regexp.MustCompile(`(?s)stream\r?\n(.*?)\r?\nendstream`).FindAllSubmatch(pdf, -1) {
		z, err := zlib.NewReader(bytes.NewReader(m[1]))
		if err != nil {
			continue
		}
		body, err := io.ReadAll(z)
		if err != nil || !bytes.Contains(body, []byte(" l\n")) && !bytes.Contains(body, []byte(" l ")) {
			continue
		}
		var out [][2]r2.Vec
		var stack []float64
		var at r2.Vec
		for _, word := range strings.Fields(string(body)) {
			v, err := strconv.ParseFloat(word, 64)
			if err == nil {
				stack = append(stack, v*25.4/72)
				continue
			}
			if n := len(stack); n >= 2 {
				p := r2.Vec{X: stack[n-2], Y: stack[n-1]}
				if word == "l" {
					out = append(out, [2]r2.Vec{at, p})
				}
				if word == "m" || word == "l" {
					at = p
				}
			}
			stack = stack[:0]
		}
		pages = append(pages, out)
	}
	return pages
}

// The bars of each page of the PDF are 100 mm and 4 in, both ways, to 0.01 mm.
func TestBarsReadBackFromThePDF(t *testing.T) {
	for _, size := range PaperSizes() {
		files, _, err := CutoutFiles(assessed(t, big), "", size, from)
		require.NoError(t, err)
		require.Equal(t, "templates.pdf", files[0].Name)
		pages := strokes(t, files[0].Data)
		require.GreaterOrEqual(t, len(pages), 6)
		for i, page := range pages {
			for _, want := range []r2.Vec{{X: 100}, {X: 101.6}, {Y: 100}, {Y: 101.6}} {
				found := false
				for _, l := range page {
					d := r2.Sub(l[1], l[0])
					found = found || math.Abs(d.X-want.X) < 0.01 && math.Abs(d.Y-want.Y) < 0.01
				}
				assert.True(t, found, "%s page %d has a bar of %v", size.Name, i+1, want)
			}
		}
	}
}

// The SVG's bars too, and its page is as large as it says.
func TestBarsReadBackFromTheSVG(t *testing.T) {
	cs, _, err := Cutouts(assessed(t, big), "")
	require.NoError(t, err)
	for i := range cs {
		doc := cs[i].Page(from).SVG()
		m := regexp.MustCompile(`width="([0-9.]+)mm" height="([0-9.]+)mm" viewBox="0 0 ([0-9.]+) ([0-9.]+)"`).FindStringSubmatch(doc)
		require.NotNil(t, m)
		assert.Equal(t, m[1:3], m[3:5], "a unit is a mm")
		found := map[r2.Vec]bool{}
		for _, m := range regexp.MustCompile(`<path d="([^"]*)"`).FindAllStringSubmatch(doc, -1) {
			if p := places(t, m[1]); len(p) == 2 {
				for _, want := range []r2.Vec{{X: 100}, {X: 101.6}, {Y: 100}, {Y: 101.6}} {
					if math.Abs(math.Abs(p[1][0]-p[0][0])-want.X) < 0.01 && math.Abs(math.Abs(p[1][1]-p[0][1])-want.Y) < 0.01 {
						found[want] = true
					}
				}
			}
		}
		assert.Len(t, found, 4, cs[i].Name)
	}
}

// big is a leg with a plate larger than a sheet.
const big = round + `[mount.left_front.leg.pad_plate]
thickness = 6
width = 400
height = 400
hole = 11
pitch_across = 300
pitch_high = 300
`

// What neighbouring tiles draw is one drawing: a hole that stands on one sheet
// is where the register crosses put it, and every part of the outline is on some
// sheet.
func TestTilesJoinUp(t *testing.T) {
	cs, _, err := Cutouts(assessed(t, big), "left_front")
	require.NoError(t, err)
	c := named(t, cs, "left_front-pad-plate")
	for _, size := range PaperSizes() {
		g := tile(c.box(), size)
		require.Greater(t, g.cols*g.rows, 1)
		for row := range g.rows {
			for col := range g.cols {
				w := g.window(col, row)
				assert.InDelta(t, g.room.X, w.Max.X-w.Min.X, 1e-9)
				if col > 0 {
					assert.InDelta(t, overlap, g.window(col-1, row).Max.X-w.Min.X, 1e-9)
				}
				if row > 0 {
					assert.InDelta(t, overlap, w.Max.Y-g.window(col, row-1).Min.Y, 1e-9)
				}
			}
		}
		first, last := g.window(0, 0), g.window(g.cols-1, g.rows-1)
		b := c.box()
		assert.True(t, first.Min.X <= b.Min.X && first.Max.Y >= b.Max.Y && last.Max.X >= b.Max.X && last.Min.Y <= b.Min.Y)
		pages := c.Pages(size, from)
		require.Len(t, pages, g.cols*g.rows)
		assert.Contains(t, pages[0].String(), fmt.Sprintf("sheet 1 of %d", len(pages)))
		wordy := c
		wordy.Facts = append(wordy.Facts, strings.Repeat("more to mind ", 60)+"and the last of it.")
		assert.Contains(t, wordy.Pages(size, from)[0].String(), "the last of it", "nothing is left out")
	}
}

// A DXF read by its pairs: closed outlines and holes on their layers, true sizes.
func TestDXFSaysWhatIsCut(t *testing.T) {
	cs, _, err := Cutouts(assessed(t, big), "left_front")
	require.NoError(t, err)
	plate := named(t, cs, "left_front-pad-plate")
	got := dxf(t, plate.DXF())
	assert.Equal(t, "AC1009", got.version)
	require.Len(t, got.of("POLYLINE", LayerCut), 1)
	cut := got.of("POLYLINE", LayerCut)[0]
	assert.Equal(t, "1", cut.pairs[70], "closed")
	assert.Len(t, cut.vertices, 4)
	require.Len(t, got.of("CIRCLE", LayerHoles), 4)
	for _, h := range got.of("CIRCLE", LayerHoles) {
		assert.InDelta(t, 5.5, h.number(t, 40), 1e-6)
		assert.InDelta(t, 150, math.Abs(h.number(t, 10)), 1e-6)
	}
	assert.InDelta(t, 400, cut.vertices[1].X-cut.vertices[0].X, 1e-6)
	bars := got.of("LINE", LayerMeasure)
	require.NotEmpty(t, bars)
	assert.InDelta(t, 100, bars[0].number(t, 11)-bars[0].number(t, 10), 1e-6)
}

type entity struct {
	kind, layer string
	pairs       map[int]string
	vertices    []r2.Vec
}

func (e entity) number(t *testing.T, code int) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.pairs[code], 64)
	require.NoError(t, err)
	return v
}

type read struct {
	version  string
	entities []entity
}

func (r read) of(kind, layer string) (out []entity) {
	for _, e := range r.entities {
		if e.kind == kind && e.layer == layer {
			out = append(out, e)
		}
	}
	return out
}

// dxf reads pairs of lines, a code and a value.
func dxf(t *testing.T, doc string) (out read) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(doc, "\n"), "\n")
	require.Zero(t, len(lines)%2, "pairs")
	variable, section := "", ""
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		require.NoError(t, err, "line %d", i+1)
		value := lines[i+1]
		switch {
		case code == 9:
			variable = value
		case code == 1 && variable == "$ACADVER" && section == "HEADER":
			out.version = value
		case code == 2 && i >= 2 && lines[i-1] == "SECTION":
			section = value
		case code == 0 && section == "ENTITIES":
			out.entities = append(out.entities, entity{kind: value, pairs: map[int]string{}})
		case section == "ENTITIES":
			e := &out.entities[len(out.entities)-1]
			if code == 8 {
				e.layer = value
			}
			e.pairs[code] = value
		}
	}
	require.Equal(t, "EOF", lines[len(lines)-1])
	for i := range out.entities {
		for _, v := range out.entities[i+1:] {
			if out.entities[i].kind != "POLYLINE" || v.kind != "VERTEX" {
				break
			}
			out.entities[i].vertices = append(out.entities[i].vertices, r2.Vec{X: v.number(t, 10), Y: v.number(t, 20)})
		}
	}
	return out
}

// outside runs a reader of somebody else's on a file, or says why not.
func outside(t *testing.T, data []byte, name, program string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		t.Skipf("%s is not installed here, so the file is not read by it", program)
	}
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, data, 0o600))
	for i := range args {
		args[i] = strings.ReplaceAll(args[i], "FILE", path)
	}
	out, err := exec.Command(program, args...).CombinedOutput()
	require.NoError(t, err, "%s: %s", program, out)
	return string(out)
}

func TestOutsideReadersTakeTheTemplates(t *testing.T) {
	t.Parallel()
	files, _, err := CutoutFiles(assessed(t, big), "", PaperSizes()[0], from)
	require.NoError(t, err)
	again, _, err := CutoutFiles(assessed(t, big), "", PaperSizes()[0], from)
	require.NoError(t, err)
	assert.Equal(t, files, again, "the same build, file and date make the same bytes")
	t.Run("qpdf", func(t *testing.T) {
		out := outside(t, files[0].Data, "t.pdf", "qpdf", "--check", "FILE")
		assert.Contains(t, out, "No syntax or stream encoding errors")
		assert.NotContains(t, out, "WARNING")
	})
	t.Run("print scaling", func(t *testing.T) {
		out := outside(t, files[0].Data, "t.pdf", "qpdf", "--json", "--json-key=qpdf", "FILE")
		assert.Regexp(t, `"/PrintScaling": "/None"`, out)
	})
	t.Run("pdftotext", func(t *testing.T) {
		out := outside(t, files[0].Data, "t.pdf", "pdftotext", "-layout", "FILE", "-")
		for _, s := range []string{"Measure the bars both ways before you cut", "Side: left", "Quantity: 1", "bench frame", "Fitted:", "100 mm", "4 in"} {
			assert.Contains(t, out, s)
		}
	})
	t.Run("librsvg", func(t *testing.T) {
		require.True(t, strings.HasSuffix(files[1].Name, ".svg"))
		out := outside(t, files[1].Data, "t.svg", "rsvg-convert", "-f", "png", "-o", "FILE.png", "FILE")
		assert.Empty(t, out)
	})
	t.Run("ezdxf", func(t *testing.T) {
		python := ""
		for _, p := range []string{"python3", "/usr/bin/python3"} { // the system's has what Debian installs
			if python == "" && exec.Command(p, "-c", "import ezdxf").Run() == nil {
				python = p
			}
		}
		if python == "" {
			t.Skip("python3 with ezdxf is not installed here, so the DXF is not audited by it")
		}
		require.True(t, strings.HasSuffix(files[2].Name, ".dxf"))
		out := outside(t, files[2].Data, "t.dxf", python, "-c", "import ezdxf, sys\nd = ezdxf.readfile(sys.argv[1]); a = d.audit(); print(len(a.errors), len(a.fixes))", "FILE")
		assert.Equal(t, "0 0", strings.TrimSpace(out))
	})
}

// Names that no font has, that run from the right, or that never end.
func TestTemplatesOfOddNames(t *testing.T) {
	for _, name := range []string{strings.Repeat("W", 300), "\u05e9\u05dc\u05d5\u05dd \u05e2\u05d5\u05dc\u05dd", "\u4e2d\u6587 truck", "a\u202eb\x1b[2J", ""} {
		o := from
		o.Build = name
		files, _, err := CutoutFiles(assessed(t, round), "", PaperSizes()[1], o)
		require.NoError(t, err, "%q", name)
		assert.Equal(t, "%PDF", string(files[0].Data[:4]))
	}
	_, _, err := CutoutFiles(assessed(t, "format = 1\n"), "", PaperSizes()[0], from)
	assert.ErrorContains(t, err, "no leg is in the file yet")
}

// A pad of 80 mm that leans by 3 degrees wants 80 tan 3 more at its thick end,
// and the profile has that angle.
func TestTaperIsAsLongAndHighAsTheLean(t *testing.T) {
	lean := "[mount.left_front.built]\npad = [300, -200, -75]\npad_points = [[260, -200, -75], [340, -200, -75], [300, -197.903689, -35]]\n"
	text := strings.Replace(legs, "[mount.right_front.built]", "[mount.left_front.leg.pad_plate]\nthickness = 6\nwidth = 80\nheight = 60\n"+lean+"[mount.right_front.built]", 1)
	cs, _, err := Cutouts(assessed(t, text), "left_front")
	require.NoError(t, err)
	e := named(t, cs, "left_front-pad-taper").Edges[0]
	require.Len(t, e, 3)
	assert.InDelta(t, 80, e[1].X, 0.01)
	assert.InDelta(t, 80*math.Tan(3*math.Pi/180), e[2].Y, 0.01)
	for _, c := range cs {
		assert.NotEqual(t, "right_front", c.Name)
	}
}
