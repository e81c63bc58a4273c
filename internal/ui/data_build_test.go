package ui

import (
	"os"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"fitup/internal/assess"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/sheet"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/require"
)

// TestTheExampleIsTypedFromTheStarter builds the annotated example from the starter with
// keys only, as somebody does who has its values on paper, and holds what the two files
// mean against each other. What is written by doing it, and dates of that, are left out. By
// default some chapters are typed, each behind those before it.
func TestTheExampleIsTypedFromTheStarter(t *testing.T) {
	t.Parallel()
	want := annotated(t)
	if !inturn.Whole() {
		for i := range sheet.Chapters() {
			if inturn.Try(t, i, 6) {
				testChapterTyped(t, want, i)
			}
		}
		return
	}
	w := &writer{driver: drive(t, starter.New(), 120, 36), want: sheet.Of(want)}
	w.m.again = w.nowAndThen()
	w.build(len(sheet.Chapters()))
	require.Empty(t, w.m.data.drafts)
	require.Equal(t, meant(want), meant(w.m.sess.Now()))
	chars := 0
	for _, s := range w.want.Sections {
		for _, r := range s.Rows {
			if r.Given && !r.Ticked {
				chars += utf8.RuneCountInString(r.Text)
			}
		}
	}
	t.Logf("%d keys for %d signs of values", w.pressed, chars)
	require.Less(t, w.pressed, 2*chars)
}

// testChapterTyped types one chapter into a file that has those before it.
func testChapterTyped(t *testing.T, want *project.File, chapter int) {
	t.Helper()
	w := &writer{driver: drive(t, before(want, chapter), 120, 36), want: sheet.Of(want)}
	w.m.again = w.nowAndThen()
	w.press("d", "home")
	for s, _, _ := w.m.data.Here(); s.Chapter != chapter; s, _, _ = w.m.data.Here() {
		w.press("]")
	}
	require.True(t, w.m.data.OnChapter())
	w.chapter()
	require.Empty(t, w.m.data.drafts)
	typed := sheet.Of(w.m.sess.Now())
	for _, s := range w.want.Sections {
		for _, r := range s.Rows {
			if s.Chapter == chapter && r.Given && !r.Ticked {
				_, got, ok := typed.Row(r.Path)
				require.True(t, ok && got.Given, r.Path)
				require.Equal(t, r.Text, got.Text, r.Path)
			}
		}
	}
}

// before is a file as far as the chapters before one of them go. What these name of later
// ones stays.
func before(f *project.File, chapter int) []byte {
	for _, s := range slices.Backward(sheet.Of(f).Sections) {
		if s.Chapter < chapter || !s.Begun {
			continue
		}
		if s.ID != "build" && !strings.Contains(s.ID, "/") {
			if less, err := edit.Apply(f, edit.Edit{Op: edit.OpRemove, Path: s.Path}); err == nil {
				f = less
				continue
			}
		}
		for _, r := range slices.Backward(s.Rows) {
			if r.Given {
				if less, err := edit.Apply(f, edit.Edit{Op: edit.OpRemove, Path: r.Path}); err == nil {
					f = less
				}
			}
		}
	}
	return f.Bytes()
}

// nowAndThen assesses a few of the states that are typed, those behind a new table among
// them: between them what was assessed before stands for it. What is held against each
// other in the end is what the files mean.
func (w *writer) nowAndThen() assessing {
	n, tables := 0, -1
	return func(before *assess.Assessment, b *project.Build) *assess.Assessment {
		begun := strings.Count(w.bytes(), "\n[")
		if n++; n%40 == 0 || begun != tables && begun%3 == 0 {
			tables = begun
			return assess.Again(before, b)
		}
		a := *before
		a.Build = b
		return &a
	}
}

// annotated is the annotated example.
func annotated(t *testing.T) *project.File {
	t.Helper()
	src, err := os.ReadFile("../../testdata/example.toml")
	require.NoError(t, err)
	want, err := project.Parse("example.toml", src)
	require.NoError(t, err)
	return want
}

// meant is what a file means, without what is written by doing it.
func meant(f *project.File) project.Build {
	b := *f.Build
	b.Jobs = append([]project.Job(nil), b.Jobs...)
	for i := range b.Jobs {
		j := &b.Jobs[i]
		j.Done, j.Override, j.DoneOn, j.Placed, j.Relied = false, "", time.Time{}, project.Placement{}, nil
	}
	b.Readings = append([]project.Reading(nil), b.Readings...)
	for i := range b.Readings {
		b.Readings[i].Placed = project.Placement{}
	}
	b.Welds = append([]project.Weld(nil), b.Welds...)
	for i := range b.Welds {
		b.Welds[i].Sides = append([]project.WeldSide(nil), b.Welds[i].Sides...)
		for j := range b.Welds[i].Sides {
			b.Welds[i].Sides[j].State, b.Welds[i].Sides[j].Override = "", ""
		}
	}
	return b
}

// writer types a build, and counts the keys.
type writer struct {
	*driver
	want    *sheet.Sheet
	pressed int
	after   func(key string) // is told of each key, once it was pressed; nil for nobody
}

// build takes the jobs of the starter out and types the first so many chapters.
func (w *writer) build(chapters int) {
	w.press("d")
	for range 6 { // the starter's own jobs
		w.find("job 1 id")
		w.press("X", "y")
		if len(w.m.dialogs) > 1 { // others wait for it
			w.press("y")
		}
	}
	w.press("home")
	for range chapters {
		w.chapter()
	}
}

func (w *writer) press(keys ...string) {
	for _, k := range keys {
		if text, ok := strings.CutPrefix(k, "type:"); ok {
			w.pressed += utf8.RuneCountInString(text)
			if text == "" {
				continue
			}
		} else {
			w.pressed++
		}
		w.keys(k)
		if w.after != nil {
			w.after(k)
		}
	}
}

// find goes to a row by searching for it.
func (w *writer) find(words string) { w.press("/", "type:"+words, "enter") }

// chapter types what is wanted in the chapter on whose head the cursor stands, and goes
// on to the next head.
func (w *writer) chapter() {
	p := w.m.data
	s, _, _ := p.Here()
	chapter := s.Chapter
	w.press("tab")
	for n := 0; ; n++ {
		require.Less(w.t, n, 2000, "no end to chapter %d", chapter)
		s, r, isRow := p.Here()
		switch {
		case s.Chapter != chapter:
			if p.Typing != nil {
				w.press("esc")
			}
			return
		case isRow:
			if p.Typing == nil {
				w.press("down") // written by doing it
				continue
			}
			if before := r.Path; !w.value(r) {
				require.Fail(w.t, "not taken: "+before, p.Typing.Refused)
			}
			if _, at, ok := p.Here(); p.Typing == nil && ok && at.Path == r.Path { // written by doing it, or the last
				w.press("down")
				if _, at, _ = p.Here(); at.Path == r.Path {
					return
				}
			}
		case w.wants(s):
			w.press("right", "tab")
		default:
			w.press("down")
		}
	}
}

// wants reports whether something is to be typed in a section that is shut, or below it.
func (w *writer) wants(s sheet.Section) bool {
	if name := w.unnamed(s); name != "" {
		return true
	}
	for _, o := range w.want.Sections {
		if o.Begun && (o.Path == s.Path || strings.HasPrefix(o.Path, s.Path+".")) && o.ID != "build" {
			for _, r := range o.Rows {
				if r.Given && !r.Ticked {
					return true
				}
			}
		}
	}
	return false
}

// unnamed is the name of a table that is wanted and not begun, of the list of names that a
// section is the free place of; "" for none.
func (w *writer) unnamed(free sheet.Section) string {
	if !free.Named || free.Index < free.Count || !strings.HasSuffix(free.Path, "*") {
		return ""
	}
	for _, o := range w.want.Sections {
		if o.List == free.List && o.Begun && o.Named && !w.m.sess.Now().Has(o.Path) {
			return strings.TrimPrefix(o.Path, o.List+".")
		}
	}
	return ""
}

// value types what a row is to be, and goes on.
func (w *writer) value(r sheet.Row) bool {
	p := w.m.data
	sec, wanted, _ := w.want.Row(r.Path)
	if r.Shape == sheet.Name {
		wanted.Text = w.unnamed(sec)
	}
	if wanted.Text == r.Text {
		w.press("tab")
		return p.Typing == nil || p.Typing.Path != r.Path
	}
	if p.Typing.Field.Text() != "" {
		w.press("ctrl+u")
	}
	w.press("type:"+w.enough(r, wanted.Text), "tab")
	if n := len(w.m.dialogs); n > 1 {
		w.press("y")
	}
	return p.Typing == nil || p.Typing.Path != r.Path
}

// enough is as much of a word as it takes to pick it.
func (w *writer) enough(r sheet.Row, text string) string {
	choices := r.Choices
	if r.Shape == sheet.Switch {
		choices, text = []string{"yes", "no"}, map[string]string{"true": "yes", "false": "no"}[text]
	}
	if r.Shape != sheet.Words && r.Shape != sheet.Switch {
		return text
	}
	for n := 1; n < len(text); n++ {
		if hits := rank(choices, text[:n]); len(hits) > 0 && hits[0] == text {
			return text[:n]
		}
	}
	return text
}
