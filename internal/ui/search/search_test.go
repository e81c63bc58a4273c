package search

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// of is an index of names, "name @ place @ about @ more"; with a - behind it one that is looked
// for less often.
func of(all ...string) *Index {
	x := &Index{}
	for _, s := range all {
		s, less := strings.CutSuffix(s, "-")
		parts := append(strings.Split(s, " @ "), "", "", "")
		x.Add(Entry{Name: parts[0], Place: parts[1], About: parts[2], More: parts[3], Less: less})
	}
	return x
}

func found(x *Index, query string, recent ...int) []int {
	out := []int{}
	for _, h := range x.Find(query, recent) {
		out = append(out, h.At)
	}
	return out
}

func TestBestFirst(t *testing.T) {
	for _, c := range []struct {
		name  string
		all   []string
		query string
		want  []int
	}{
		{"words in any order, and in what it belongs to", []string{"height @ Mount rear", "mount", "height"}, "height mount", []int{0}},
		{"whole, word start, inside", []string{"unmassed", "massive", "the mass"}, "mass", []int{2, 1, 0}},
		{"the name itself before one that begins with it", []string{"mass of it", "by mass", "mass"}, "mass", []int{2, 0, 1}},
		{"name before place before what it is before what else is said", []string{"a @ b @ c @ mass", "a @ b @ mass", "a @ mass", "mass"}, "mass", []int{3, 2, 1, 0}},
		{"what is looked for less often", []string{"rear mass-", "rear mass", "unmassed"}, "mass", []int{1, 0, 2}},
		{"but not behind what only says it", []string{"a @ b @ c @ mass", "unmassed-"}, "mass", []int{1, 0}},
		{"every word has to stand there", []string{"mass", "mass rear"}, "rear mass", []int{1}},
		{"capitals do not matter", []string{"Ærø Plate"}, "ÆRØ plate", []int{0}},
		{"a path is its words", []string{"outside @ Line rear, shaft 1", "outside @ Line rear, shaft 2"}, "line.rear.shaft.2.outside", []int{1}},
		{"a word inside and later as a whole", []string{"amass, mass", "amass"}, "mass", []int{0, 1}},
		{"nothing", []string{"mass"}, "zzz", []int{}},
		{"no words: all in order", []string{"b", "a"}, " . ", []int{0, 1}},
	} {
		assert.Equal(t, c.want, found(of(c.all...), c.query), c.name)
	}
}

func TestRecentAmongEquals(t *testing.T) {
	x := of("mass left", "mass right", "mass", "massive")
	assert.Equal(t, []int{2, 1, 0, 3}, found(x, "mass", 3, 1), "what fits better stays before what is recent")
	assert.Equal(t, []int{3, 1, 0, 2}, found(x, "", 3, 1), "without a word the last is first")
}

func TestScatteredComesLastOrNotAtAll(t *testing.T) {
	x := of("engine out", "menopause")
	require.Equal(t, []Hit{{1, Named}}, x.Find("eno", nil), "a word that stands there leaves no room for guesses")
	require.Equal(t, []Hit{{0, Scattered}}, x.Find("egt", nil))
	require.Empty(t, x.Find("q", nil))
	require.Equal(t, []int{1, 0}, found(of("a long way to b", "a to b"), "atb"), "letters near each other first")
	require.Equal(t, Told, of("a @ b @ c @ mass").Find("mass", nil)[0].By)
}

// naive is the same, entry by entry: whether all words stand somewhere.
func naive(all []Entry, query string) []int {
	var out []int
	for i, e := range all {
		if !slices.ContainsFunc(Words(query), func(w string) bool {
			return !strings.Contains(strings.ToLower(e.Name), w) && !strings.Contains(strings.ToLower(e.Place), w) && !strings.Contains(strings.ToLower(e.About), w) && !strings.Contains(strings.ToLower(e.More), w)
		}) {
			out = append(out, i)
		}
	}
	return out
}

// What answers by its words is what a look at every entry finds, whatever else there is;
// the order of the words does not matter.
func TestFindsWhatALookAtEachFinds(t *testing.T) {
	text := rapid.StringMatching(`[abÆ ._]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		x, all := &Index{}, []Entry(nil)
		for range rapid.IntRange(0, 12).Draw(t, "n") {
			e := Entry{text.Draw(t, "name"), text.Draw(t, "place"), text.Draw(t, "about"), text.Draw(t, "more"), rapid.Bool().Draw(t, "less")}
			all = append(all, e)
			x.Add(e)
		}
		query := text.Draw(t, "query")
		var got []int
		hits := x.Find(query, []int{0, 1, 0})
		for i, h := range hits {
			if h.By != Scattered {
				got = append(got, h.At)
			}
			require.False(t, i > 0 && h.By < hits[i-1].By)
		}
		slices.Sort(got)
		require.Equal(t, naive(all, query), got)
		words := Words(query)
		slices.Reverse(words)
		inWords := func(query string) (n int) { // letters scattered over a text answer in their order alone
			for _, h := range x.Find(query, nil) {
				if h.By != Scattered {
					n++
				}
			}
			return n
		}
		require.Equal(t, inWords(strings.Join(Words(query), " ")), inWords(strings.Join(words, " ")))
	})
}

// BenchmarkFind is one letter more in a list as long as a large build makes it, with as
// many texts that differ.
func BenchmarkFind(b *testing.B) {
	x := &Index{}
	for i := range 9000 {
		x.Add(Entry{strings.Repeat("outside of it ", 1+i%3) + string(rune('a'+i%26)) + string(rune('a'+i/26%26)),
			"Line rear, shaft " + string(rune('a'+i%20)) + string(rune('a'+i/20%40)), strings.Repeat("how it is measured ", 6) + string(rune('a'+i%400)), "reading", i%3 == 0})
	}
	for _, q := range []string{"e", "out rear", "measured outside shaft"} {
		b.Run(q, func(b *testing.B) {
			for b.Loop() {
				if len(x.Find(q, []int{5, 6})) == 0 {
					b.Fatal("nothing")
				}
			}
		})
	}
}
