// Package search ranks what answers to a few words: all of them have to stand in an
// entry, in any order. It knows nothing of what the entries are.
package search

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Entry is something that can be found.
type Entry struct {
	Name  string // what it is called
	Place string // what it belongs to
	About string // what it is, in a few words
	More  string // what else is said of it
	Less  bool   // it is looked for less often than others
}

// By is how an entry answers to a query, the best first.
type By uint8

// The ways.
const (
	Named     By = iota // each word stands in its name, in that of what it belongs to, or in what it is
	Told                // some words stand only in what else is said of it
	Scattered           // the letters lie in its name in their order, but apart
)

// Hit is an entry that answers.
type Hit struct {
	At int // which entry, in the order in which they were added
	By By
}

// Index holds entries. Many of them share their texts, so each text is looked at once.
type Index struct {
	texts   []string // in small letters
	numbers map[string]int32
	entries []entry
}

// entry has the numbers of its texts.
type entry struct {
	texts [fields]int32 // name, place, about, more
	less  bool
}

const fields = 4

// Add adds an entry behind the others.
func (x *Index) Add(e Entry) {
	x.entries = append(x.entries, entry{[fields]int32{x.number(e.Name), x.number(e.Place), x.number(e.About), x.number(e.More)}, e.Less})
}

// Len is how many entries there are.
func (x *Index) Len() int { return len(x.entries) }

func (x *Index) number(text string) int32 {
	n, ok := x.numbers[text]
	if !ok {
		if x.numbers == nil {
			x.numbers = map[string]int32{}
		}
		n = int32(len(x.texts))
		x.numbers[text] = n
		x.texts = append(x.texts, strings.ToLower(text))
	}
	return n
}

// How a word stands in a text.
const (
	whole = iota
	start
	inside
	missing
)

// later is how much less a word counts in each of the texts, and told where what else
// is said begins.
var later = [fields]uint8{0, 1, 3, told}

const (
	told    = 8
	rarely  = 2 // for what is looked for less often
	nowhere = told + missing
)

// Find returns the entries that answer to a query, the best first: a word that stands
// there as a whole before one that begins a word before one inside; among equals those
// of recent, the first of them first; then in the order in which they were added. Only
// where nothing answers by its words do letters count that lie scattered over a name.
// Without a word everything answers.
func (x *Index) Find(query string, recent []int) []Hit {
	words := Words(query)
	age := make(map[int]uint64, len(recent))
	for i, at := range recent {
		if _, again := age[at]; !again {
			age[at] = uint64(min(i, never-1))
		}
	}
	keys := x.byWords(words, strings.ToLower(strings.TrimSpace(query)), age)
	if len(keys) == 0 && len(words) > 0 {
		keys = x.byLetters(strings.Join(words, ""), age)
	}
	slices.Sort(keys)
	out := make([]Hit, len(keys))
	for i, k := range keys {
		out[i] = Hit{At: int(k & (1<<entryBits - 1)), By: By(k >> byShift)}
	}
	return out
}

// A key sorts hits: how, how well, how long ago, which entry.
const (
	entryBits = 24
	ageBits   = 8
	byShift   = 60
	never     = 1<<ageBits - 1
)

func key(by By, rank uint64, at int, age map[int]uint64) uint64 {
	ago, ok := age[at]
	if !ok {
		ago = never
	}
	return uint64(by)<<byShift | rank<<(entryBits+ageBits) | ago<<entryBits | uint64(at)
}

// Words takes a query apart: at blanks, and where the parts of a path are joined.
func Words(query string) []string {
	return strings.FieldsFunc(strings.ToLower(query), func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune("._[]:,", r)
	})
}

func (x *Index) byWords(words []string, query string, age map[int]uint64) []uint64 {
	stands := make([][]uint8, len(words)) // for each word and each text
	for i, w := range words {
		stands[i] = make([]uint8, len(x.texts))
		for j, text := range x.texts {
			stands[i][j] = fit(text, w)
		}
	}
	keys := make([]uint64, 0, len(x.entries))
next:
	for at, e := range x.entries {
		by, rank := Named, uint64(0)
		if e.less {
			rank = rarely
		}
		for i := range words {
			best := uint8(nowhere)
			for j, text := range e.texts {
				if at := stands[i][text]; at < missing {
					best = min(best, later[j]+at)
				}
			}
			switch {
			case best == nowhere:
				continue next
			case best >= told:
				by = Told
			}
			rank += uint64(best)
		}
		rank *= 3
		switch name := x.texts[e.texts[0]]; {
		case len(words) == 0 || name == query:
		case strings.HasPrefix(name, query):
			rank++
		default:
			rank += 2
		}
		keys = append(keys, key(by, rank, at, age))
	}
	return keys
}

// fit is how a word stands in a text where it stands best.
func fit(text, word string) uint8 {
	best := uint8(missing)
	for from := 0; ; {
		i := strings.Index(text[from:], word)
		if i < 0 {
			return best
		}
		i += from
		end := i + len(word)
		before, _ := utf8.DecodeLastRuneInString(text[:i])
		after, _ := utf8.DecodeRuneInString(text[end:])
		switch {
		case i > 0 && joins(before):
			best = min(best, inside)
		case end < len(text) && joins(after):
			best = min(best, start)
		default:
			return whole
		}
		from = end
	}
}

// joins reports whether a sign is part of a word.
func joins(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// byLetters finds names over which the letters lie scattered. Those that lie near each
// other come first.
func (x *Index) byLetters(letters string, age map[int]uint64) []uint64 {
	if utf8.RuneCountInString(letters) < 2 {
		return nil
	}
	wide := make([]int, len(x.texts))
	for i := range wide {
		wide[i] = unasked
	}
	var keys []uint64
	for at, e := range x.entries {
		name := e.texts[0]
		if wide[name] == unasked {
			wide[name] = spread(x.texts[name], letters)
		}
		if w := wide[name]; w >= 0 {
			keys = append(keys, key(Scattered, uint64(w), at, age))
		}
	}
	return keys
}

const unasked = -2

// spread is how many bytes lie from the first to the last of the letters, -1 where the
// text has not all of them in their order.
func spread(text, letters string) int {
	first, at := -1, 0
	for _, r := range letters {
		i := strings.IndexRune(text[at:], r)
		if i < 0 {
			return -1
		}
		if first < 0 {
			first = at + i
		}
		at += i + utf8.RuneLen(r)
	}
	return at - first
}
