package book

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/book/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// strokes are the straight lines of a page of a PDF, in mm, as its own content
// says (ISO 32000-1, 8.5.2).
func strokes(t *testing.T, pdf []byte) (pages [][][2]r2.Vec) {
	t.Helper()
	for _, m := range regexp.MustCompile(`(?s)stream\n(.*?)\nendstream`).FindAllSubmatch(pdf, -1) {
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
}

// measured are the straight strokes that have the length of each bar, both ways.
func measured(lines [][2]r2.Vec) map[r2.Vec]bool {
	out := map[r2.Vec]bool{}
	for _, l := range lines {
		d := r2.Sub(l[1], l[0])
		for _, want := range []r2.Vec{{X: barMetric}, {X: barInch}, {Y: barMetric}, {Y: barInch}} {
			if math.Abs(math.Abs(d.X)-want.X) < 0.01 && math.Abs(math.Abs(d.Y)-want.Y) < 0.01 {
				out[want] = true
			}
		}
	}
	return out
}

// Other programs find the bars as long as they are said to be: poppler in the PDF,
// librsvg in the SVG. (pdftocairo makes everything 0.12 % small without -noshrink.)
func TestBarsReadBackByOthers(t *testing.T) {
	t.Parallel()
	files, _, err := CutoutFiles(assessed(t, big), "left_front", PaperSizes()[0], from)
	require.NoError(t, err)
	t.Run("poppler", func(t *testing.T) {
		svg := outside(t, files[0].Data, "t.pdf", "pdftocairo", "-svg", "-noshrink", "-f", "1", "-l", "1", "FILE", "-")
		var lines [][2]r2.Vec
		for _, m := range regexp.MustCompile(`d="M ([0-9.-]+) ([0-9.-]+) L ([0-9.-]+) ([0-9.-]+) "`).FindAllStringSubmatch(svg, -1) {
			var v [4]float64
			for i := range v {
				v[i], err = strconv.ParseFloat(m[1+i], 64)
				require.NoError(t, err)
				v[i] *= 25.4 / 72
			}
			lines = append(lines, [2]r2.Vec{{X: v[0], Y: v[1]}, {X: v[2], Y: v[3]}})
		}
		assert.Len(t, measured(lines), 4)
	})
	t.Run("librsvg", func(t *testing.T) {
		for _, f := range files {
			if !strings.HasSuffix(f.Name, ".svg") {
				continue
			}
			pdf := outside(t, f.Data, "t.svg", "rsvg-convert", "-f", "pdf", "FILE")
			pages := strokes(t, []byte(pdf))
			require.NotEmpty(t, pages, f.Name)
			assert.Len(t, measured(pages[0]), 4, f.Name)
		}
	})
}

// readDXF is what ezdxf finds in every DXF of a folder: errors and repairs, the units, the
// lengths of the lines to measure, and how many outlines and holes there are and are
// closed.
const readDXF = `import ezdxf, sys, glob
for name in sorted(glob.glob(sys.argv[1] + "*.dxf")):
    d = ezdxf.readfile(name)
    a = d.audit()
    space = d.modelspace()
    bars = sorted(round((l.dxf.end - l.dxf.start).magnitude, 3) for l in space.query('LINE[layer=="MEASURE"]'))
    cut = list(space.query('*[layer=="CUT"]'))
    print(len(a.errors), len(a.fixes), d.units, bars[-1], len(cut), sum(1 for e in cut if e.dxftype() == "POLYLINE" and e.is_closed), len(space.query('CIRCLE[layer=="HOLES"]')))
`

// ezdxf takes every template of every kind of mount without an error or a repair.
func TestEveryDXFIsAudited(t *testing.T) {
	t.Parallel()
	dir := t.TempDir() + string(filepath.Separator)
	var want []string
	for _, a := range append([]*assess.Assessment{assessed(t, big), assessed(t, askew)}, mountsBuild(t, "level_arm_with_perch")) {
		cs, _, err := Cutouts(a, "")
		require.NoError(t, err)
		for i := range cs {
			require.NoError(t, os.WriteFile(fmt.Sprintf("%s%04d.dxf", dir, len(want)), []byte(cs[i].DXF()), 0o600))
			want = append(want, fmt.Sprintf("0 0 4 100.0 %d %d %d", len(cs[i].Edges), len(cs[i].Edges), len(cs[i].Holes)))
		}
	}
	for _, python := range []string{"/usr/bin/python3", "python3"} { // the system's has what Debian installs
		out, err := exec.Command(python, "-c", readDXF, dir).CombinedOutput()
		if errors.Is(err, fs.ErrNotExist) || errors.Is(err, exec.ErrNotFound) || strings.Contains(string(out), "No module named 'ezdxf'") {
			continue
		}
		require.NoError(t, err, "%s", out)
		assert.Equal(t, want, strings.Split(strings.TrimSpace(string(out)), "\n"))
		return
	}
	t.Skip("python3 with ezdxf is not installed here, so no DXF is audited by it")
}

// What is cut along in each file is what the core's outline says, to 0.01 mm: every corner
// of it stands in the PDF, the SVG and the DXF where it should.
func TestOutlinesReadBackAreThoseOfTheCore(t *testing.T) {
	cs, _, err := Cutouts(assessed(t, askew), "")
	require.NoError(t, err)
	more, _, err := Cutouts(mountsBuild(t, "level_arm_with_perch"), "")
	require.NoError(t, err)
	for _, c := range append(cs, more...) {
		pages := c.Pages(PaperSizes()[0], from)
		if len(pages) > 1 {
			continue // a part of it on each
		}
		pdf, err := paper.Document{Title: "t", Date: "2026-01-31", Pages: pages}.PDF()
		require.NoError(t, err)
		var inPDF, inSVG, inDXF []r2.Vec
		for _, l := range strokes(t, pdf)[0] {
			inPDF = append(inPDF, l[0], l[1])
		}
		page := c.Page(from)
		for _, m := range regexp.MustCompile(`<path d="([^"]*)"`).FindAllStringSubmatch(page.SVG(), -1) {
			for _, p := range places(t, m[1]) {
				inSVG = append(inSVG, r2.Vec{X: p[0], Y: page.High - p[1]})
			}
		}
		for _, e := range dxf(t, c.DXF()).of("POLYLINE", LayerCut) {
			inDXF = append(inDXF, e.vertices...)
		}
		for what, found := range map[string][]r2.Vec{"PDF": inPDF, "SVG": inSVG, "DXF": inDXF} {
			assert.Less(t, offOutline(c.Edges[0], found), 0.01, "%s in the %s", c.Name, what)
		}
	}
}

// offOutline is how far the corners of an outline are at the most from those that were
// found, wherever on its sheet it lies.
func offOutline(edge, found []r2.Vec) float64 {
	best := math.Inf(1)
	for _, f := range found { // one of them is its second corner
		by := r2.Sub(f, edge[1])
		worst := 0.0
		for _, p := range edge {
			near := math.Inf(1)
			for _, q := range found {
				if near = min(near, r2.Norm(r2.Sub(q, r2.Add(p, by)))); near < 1e-4 {
					break
				}
			}
			if worst = max(worst, near); worst >= best {
				break
			}
		}
		best = min(best, worst)
	}
	return best
}
