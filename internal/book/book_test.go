package book

import (
	"encoding/csv"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/book/paper"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/example"
	"fitup/internal/project/grown"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

var update = flag.Bool("update", false, "write the golden pages anew")

// odd is a build whose name no page has room for and no face has all of.
var odd = `format = 3
name = "` + strings.Repeat("Wideword", 30) + ` \u05e9\u05dc\u05d5\u05dd 120 mm \u4e2d\u6587 ` + strings.Repeat("| *x* ", 20) + `"
[vehicle]
name = "=HYPERLINK(1)"
[mount.left_front.leg]
section = "SHS 50x50x3 cold"
`

// longNames are the names of the mounts that grown makes.
var longNames = regexp.MustCompile(`mount\.m(\d+)`)

// sampled are the builds that tests of the whole book go through, each assessed once.
var sampled = sync.OnceValues(func() (map[string]*assess.Assessment, error) {
	texts := map[string]string{
		"demo": string(starter.Demo()), "legs": legs, "round": round, "odd": odd,
		"hung": example.Hung(0.4), "pick-ups": example.Pickups(), "piped": example.Piped, "empty": "format = 3\n", "grown": grown.Build(3, 12, 40),
		"400 parts": grown.Parts(400), "long names": longNames.ReplaceAllString(grown.Build(2, 40, 3), "mount.a_mount_with_as_long_a_name_as_can_be_$1"),
	}
	for name, path := range map[string]string{
		"across": "../scene/testdata/builds/across.toml", "four by four": "../scene/testdata/builds/four-by-four.toml", "example": "../../testdata/example.toml",
	} {
		text, err := os.ReadFile(filepath.FromSlash(path))
		if err != nil {
			return nil, err
		}
		texts[name] = string(text)
	}
	for name, text := range example.Rare() {
		texts["rare "+name] = text
	}
	out := map[string]*assess.Assessment{}
	for name, text := range texts {
		f, err := project.Parse("test.toml", []byte(text))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		out[name] = assess.Run(f.Build)
	}
	return out, nil
})

func builds(t *testing.T) map[string]*assess.Assessment {
	t.Helper()
	out, err := sampled()
	require.NoError(t, err)
	return out
}

var typed = regexp.MustCompile(`^(?:type( bold)? ([0-9.]+)|note) (-?[0-9.]+),(-?[0-9.]+) (".*")$`)

// No page is empty, no text runs off its page and none stands on another, whatever the
// build: by default every third, and what has the most on it, on one size of paper.
func TestPagesHoldWhatIsOnThem(t *testing.T) {
	t.Parallel()
	all := builds(t)
	several := []string{"demo", "odd", "grown", "hung"}
	for i, name := range inturn.Kinds(t, slices.Sorted(maps.Keys(all)), 3, func(name string) string {
		if name, rare := strings.CutPrefix(name, "rare "); !rare {
			return name
		}
		return "rare"
	}) {
		a := all[name]
		sizes := PaperSizes()
		if !slices.Contains(several, name) {
			sizes = sizes[:1]
		}
		for k, size := range sizes {
			if len(sizes) > 1 && !inturn.Try(t, i+k, len(sizes)) {
				continue
			}
			o := from
			o.Build = a.Build.Name
			cs, err := Chapters(nil, a, size, o)
			require.NoError(t, err)
			require.Len(t, cs, len(ChapterKeys()))
			pages := Pages(cs, size, o)
			for i, p := range pages {
				holdPage(t, p, fmt.Sprintf("%s, %s, page %d", name, size.Name, i+1), fmt.Sprintf("%d of %d", i+1, len(pages)))
			}
		}
	}
}

// holdPage holds a page to what every page is: numbered, with its state at its foot, not
// empty, nothing past its edges and no text on another.
func holdPage(t *testing.T, p *paper.Page, name, number string) {
	t.Helper()
	said := p.String()
	if !strings.Contains(said, "SHA-256 ab12ab12ab12 · 2026-01-31") || !strings.Contains(said, `"`+number+`"`) {
		assert.Fail(t, "a page without its number or its state", name)
	}
	var boxes []r2.Box
	var texts []string
	lowest, alone := p.High, "" // of what stands over the foot: a heading has something under it
	for l := range strings.SplitSeq(said, "\n") {
		if !strings.HasPrefix(l, "type") && !strings.HasPrefix(l, "note") {
			continue
		}
		m := typed.FindStringSubmatch(l)
		require.NotNil(t, m, l)
		text, err := strconv.Unquote(m[5])
		require.NoError(t, err)
		letters := paper.Letters
		if m[2] != "" {
			letters, _ = strconv.ParseFloat(m[2], 64)
		}
		x, _ := strconv.ParseFloat(m[3], 64)
		y, _ := strconv.ParseFloat(m[4], 64)
		box := r2.Box{Min: r2.Vec{X: x, Y: y}, Max: r2.Vec{X: x + paper.Regular().Width(text, letters), Y: y + 0.7*letters}}
		if y > bookBottom-1 && y < lowest {
			lowest, alone = y, m[1]
		}
		if box.Min.X < 4 || box.Max.X > p.Wide-3 || box.Min.Y < 4 || y+letters > p.High-2 {
			assert.Fail(t, "a text past the page's edge", "%s: %s", name, l)
		}
		for i, b := range boxes {
			if min(b.Max.X, box.Max.X)-max(b.Min.X, box.Min.X) > 0.3 && min(b.Max.Y, box.Max.Y)-max(b.Min.Y, box.Min.Y) > 0.3 {
				assert.Fail(t, "a text over another", "%s: %q and %q", name, texts[i], text)
			}
		}
		boxes, texts = append(boxes, box), append(texts, text)
	}
	assert.Empty(t, alone, "%s: a heading at the foot of the page", name)
	if len(texts) <= 3 {
		assert.Fail(t, "an empty page", name)
	}
}

// Everything that check says of the findings stands in the book, and the book
// says of no finding that it is better.
func TestBookSaysEveryFinding(t *testing.T) {
	for name, a := range builds(t) {
		cs, err := Chapters(nil, a, PaperSizes()[0], from, "findings", "known")
		require.NoError(t, err)
		require.Len(t, cs, 2)
		said := map[string]int{}
		for _, s := range cs[0].Sections {
			for _, it := range s.Items {
				if it.Table == nil {
					continue
				}
				for _, r := range it.Table.Rows[1:] {
					status, _, _ := strings.Cut(strings.ToLower(s.Head), " (")
					said[status+": "+r[0]]++
				}
			}
		}
		n := 0
		for _, f := range a.Findings {
			assert.Positive(t, said[f.Status.String()+": "+f.Title], "%s: %s", name, f.ID)
		}
		for _, k := range said {
			n += k
		}
		assert.Equal(t, len(a.Findings), n, name)
	}
}

// A build of which little is known is told so; nothing of it is ok.
func TestBookOfNothing(t *testing.T) {
	a := assessed(t, "format = 3\n")
	cs, err := Chapters(nil, a, PaperSizes()[0], from)
	require.NoError(t, err)
	md := Markdown(cs, from)
	for _, s := range []string{
		"nothing to check is in the file yet, which proves nothing", "There is nothing to draw yet", "Nothing was read or measured yet",
		"No survey of the frame is in the file yet", "does not say what the rails are made of", "No subframe is in the file",
		"No steering shaft is in the file", "No pick-ups are in the file", "Nothing to keep clear of is in the file yet", "no driveline yet", "No leg is in the file yet", "No jobs are in the file yet", "is not known to carry",
	} {
		assert.Contains(t, md, s)
	}
	assert.NotRegexp(t, `\bok\b[^,]`, strings.ReplaceAll(md, "0 ok", ""))
	_, err = Chapters(nil, a, PaperSizes()[0], from, "chapter")
	assert.ErrorContains(t, err, `no chapter "chapter"; it has cover, placement`)
}

// The tables that a book names where something is missing are tables of the file.
func TestWhatIsMissingGoesIntoRealTables(t *testing.T) {
	cs, err := Chapters(nil, assessed(t, "format = 3\n"), PaperSizes()[0], from)
	require.NoError(t, err)
	md := strings.ReplaceAll(Markdown(cs, from), `\`, "")
	named := regexp.MustCompile(`\[+[a-z_.]+\]+`).FindAllString(md, -1)
	assert.Greater(t, len(named), 8)
	for _, n := range named {
		if f, err := project.Parse("t.toml", []byte("format = 3\n"+n+"\n")); f == nil {
			assert.NotContains(t, err.Error(), "is not a key here", n)
		}
	}
}

func TestBookFiles(t *testing.T) {
	t.Parallel()
	a := assessed(t, string(starter.Demo()))
	files, err := Files(nil, a, PaperSizes()[0], from)
	require.NoError(t, err)
	again, err := Files(nil, a, PaperSizes()[0], from)
	require.NoError(t, err)
	assert.Equal(t, files, again, "the same build, file and date make the same bytes")
	names := map[string]bool{}
	for _, f := range files {
		assert.False(t, names[f.Name], "%s twice", f.Name)
		names[f.Name] = true
		assert.NotEmpty(t, f.Data)
		assert.Regexp(t, `^(book\.(pdf|md)|tables/[a-z]+\.csv|drawings/[a-z]+-[\w-]+\.svg)$`, f.Name)
		if strings.HasSuffix(f.Name, ".csv") {
			r := csv.NewReader(strings.NewReader(string(f.Data)))
			r.FieldsPerRecord = -1
			rows, err := r.ReadAll()
			require.NoError(t, err, f.Name)
			assert.Equal(t, from.Foot(), rows[0][1])
		}
	}
	for _, m := range regexp.MustCompile(`\]\((drawings/[^)]+)\)`).FindAllStringSubmatch(string(files[1].Data), -1) {
		assert.True(t, names[m[1]], "%s is linked and written", m[1])
	}
	t.Run("qpdf", func(t *testing.T) {
		out := outside(t, files[0].Data, "b.pdf", "qpdf", "--check", "FILE")
		assert.NotContains(t, out, "WARNING")
	})
	t.Run("pdftotext", func(t *testing.T) {
		out := strings.Join(strings.Fields(outside(t, files[0].Data, "b.pdf", "pdftotext", "-layout", "FILE", "-")), " ")
		for _, s := range []string{"Engine-out list", "rear joint 2, largest angle", "2.54° ± 0.16°", "at most 2.50° (changed)", "screening", "Side view, from the left, 1:20", "☐"} {
			assert.Contains(t, out, s)
		}
	})
	t.Run("bookmarks", func(t *testing.T) {
		out := outside(t, files[0].Data, "b.pdf", "qpdf", "--json", "--json-key=outlines", "FILE")
		for _, s := range []string{"Weld map", "Findings", "Left front mount"} {
			assert.Contains(t, out, s)
		}
	})
}

// Text from a file is no markup, no formula and no control of anything.
func TestBookOfHostileNames(t *testing.T) {
	a := assessed(t, odd)
	o := from
	o.Build = a.Build.Name
	files, err := Files(nil, a, PaperSizes()[1], o)
	require.NoError(t, err)
	for _, f := range files {
		if f.Name == "tables/cover.csv" {
			assert.Contains(t, string(f.Data), "'=HYPERLINK")
		}
		if f.Name == "book.md" {
			assert.NotContains(t, string(f.Data), "| *x*")
		}
	}
	assert.Equal(t, "'=1", plainCell("=1"))
	assert.Equal(t, "'-x", plainCell("-x"))
	assert.Equal(t, "-3.5 mm", plainCell("-3.5 mm"))
}

// The bench sheet is one page, and says when that is too little.
func TestBenchSheet(t *testing.T) {
	t.Parallel()
	for name, a := range builds(t) {
		files, err := BenchSheet(a, Closely{Why: "measure first"}, PaperSizes()[1], from)
		require.NoError(t, err, name)
		require.Len(t, files, 1)
		assert.Equal(t, 1, strings.Count(string(files[0].Data), "/Type /Page\n"), name)
	}
	m := &maker{a: builds(t)["demo"], u: builds(t)["demo"].Build.Units}
	var s Sheet
	m.toMeasure(&s, Closely{Half: map[string]float64{"placement.rear": 2.58, "placement.setback": 25}, Free: map[string]bool{"placement.setback": true}, Sure: 0.95}, 6)
	assert.Equal(t, []string{"rear mount", "-289.5 mm", "± 2.5 mm", ""}, row(t, s, "To hold and to read", "rear mount"), "rounded down")
	assert.Equal(t, "± 25.0 mm or more", row(t, s, "To hold and to read", "setback")[2])
}

// A saddle is drawn as it is cut: at the four sides of the tube the edge lies
// where the core's own lines end.
func TestLegOutlineOfASaddle(t *testing.T) {
	a := assessed(t, askew)
	b, ok := a.Bracket("left_front")
	require.True(t, ok)
	lo, hi := legOutline(&b, false).ends()
	lo2, hi2 := legOutline(&b, true).ends()
	assert.InDelta(t, b.Overall(), max(hi, hi2)-min(lo, lo2), 0.5)
	b2, ok := assessed(t, legs).Bracket("left_front")
	require.True(t, ok)
	lo, hi = legOutline(&b2, false).ends()
	assert.InDelta(t, b2.Overall(), hi-lo, 1.5, "sharp corners stand out from round ones")
}

func TestColumnsShareTheRoom(t *testing.T) {
	it := written(1, []string{"a", "empty", "text", "measured"}, [][]string{{"x", "", strings.Repeat("long words ", 80)}, {"y", "", "z"}})
	assert.Equal(t, []string{"a", "text", "measured"}, it.Table.Rows[0], "what says nothing is left out")
	w := columnWidths(it.Table, 180)
	sum := 0.0
	for _, x := range w {
		sum += x
	}
	assert.InDelta(t, 180, sum, 1e-9)
	assert.InDelta(t, penWide, w[2], 1e-9)
	assert.Greater(t, w[1], 100.0)
}

// What is drawn on the pages of some chapters and of templates, command by command.
func TestGoldenPages(t *testing.T) {
	a := assessed(t, string(starter.Demo()))
	o := from
	o.Build = a.Build.Name
	cs, err := Chapters(nil, a, PaperSizes()[0], o, "mounts", "cuts", "weld")
	require.NoError(t, err)
	var got strings.Builder
	for _, p := range Pages(cs, PaperSizes()[0], o) {
		got.WriteString(p.String())
	}
	cs, err = Chapters(nil, builds(t)["hung"], PaperSizes()[0], o, "subframe")
	require.NoError(t, err)
	got.WriteString(Pages(cs, PaperSizes()[0], o)[0].String()) // the one with its plan
	cut, _, err := Cutouts(assessed(t, askew), "")
	require.NoError(t, err)
	for i := range cut {
		for _, p := range cut[i].Pages(PaperSizes()[0], o) {
			got.WriteString(p.String())
		}
	}
	path := filepath.Join("testdata", "pages.txt")
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got.String()), 0o600))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got.String())
}

// The book grows with the build: time and memory for each page stay what they are.
func BenchmarkBook(b *testing.B) {
	for _, of := range []struct {
		name, text string
	}{
		{"demo", string(starter.Demo())}, {"10 mounts", grown.Build(3, 10, 75)}, {"20 mounts", grown.Build(6, 20, 150)}, {"large", grown.Large()},
	} {
		a := assessed(b, of.text)
		b.Run(of.name, func(b *testing.B) {
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				cs, err := Chapters(nil, a, PaperSizes()[0], from)
				require.NoError(b, err)
				n = len(Pages(cs, PaperSizes()[0], from))
				if _, err := Files(nil, a, PaperSizes()[0], from); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(n), "pages")
		})
	}
}
