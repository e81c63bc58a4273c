package starter

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Question is one thing that a new file can be begun with. Its first choice is
// what holds when nothing is said.
type Question struct {
	Name    string // of its answer
	Ask     string
	Choices []Choice
	Many    bool // several choices may be taken
	asked   func(Answers) bool
}

// Choice is an answer by its word, with what it means and what else it is called.
type Choice struct {
	Word, Means string
	also        []string
}

// Answers are what was answered, by the name of the question; several choices are
// parted by commas.
type Answers map[string]string

// later leaves a part for later.
const later = "later"

var padNames = []string{"left_front", "right_front", "rear"}

// Questions returns what a new file can be begun with, in the order in which it is
// asked.
func Questions() []Question {
	axle := []Choice{
		{Word: later, Means: "leave it for later"},
		{Word: "leaf", Means: "a live axle on leaf springs", also: []string{"leaves"}},
		{Word: "links", Means: "a live axle on links"},
		{Word: "arms", Means: "an axle on trailing arms", also: []string{"trailing arms"}},
		{Word: "fixed", Means: "the differential is fixed to the chassis, half shafts go out to the wheels"},
	}
	return []Question{
		{Name: "units", Ask: "What do you measure in?", Choices: []Choice{
			{Word: "metric", Means: "millimetres, kilograms, newton metres", also: []string{"mm", "si"}},
			{Word: "inch", Means: "inches, pounds, pound-feet", also: []string{"in", "inches", "imperial"}}}},
		{Name: "layout", Ask: "How does the engine lie?", Choices: []Choice{
			{Word: "along", Means: "along the vehicle: its crankshaft runs front to rear", also: []string{"longitudinal"}},
			{Word: "across", Means: "across it: gearbox and final drive in one case, half shafts to the wheels", also: []string{"transverse", "transaxle"}}}},
		{Name: "drives", Ask: "Which wheels does it drive?", Choices: []Choice{
			{Word: "rear", Means: "the rear wheels"},
			{Word: "front", Means: "the front wheels"},
			{Word: "all", Means: "all of them", also: []string{"both"}}}},
		{Name: "shaft", Ask: "How is its propshaft made?", asked: Answers.propshaft, Choices: []Choice{
			{Word: later, Means: "leave it for later"},
			{Word: "one", Means: "in one piece, two joints", also: []string{"one-piece"}},
			{Word: "two", Means: "in two pieces, with a carrier bearing between them", also: []string{"two-piece"}}}},
		{Name: "axle", Ask: "What carries the rear axle?", asked: func(a Answers) bool { return a.shaftTo("rear") }, Choices: axle},
		{Name: "front-axle", Ask: "What carries the front axle?", asked: func(a Answers) bool { return a.shaftTo("front") }, Choices: axle},
		{Name: "fixing", Ask: "How will the mounts hold to the frame?", Choices: []Choice{
			{Word: later, Means: "leave it for later"},
			{Word: "welded", Means: "welded", also: []string{"weld"}},
			{Word: "bolted", Means: "bolted", also: []string{"bolt"}}}},
		{Name: "mounts", Ask: "Which mounts will carry it once it is built in? Name each, with commas between them.", Many: true, Choices: []Choice{
			{Word: later, Means: "leave it for later"},
			{Word: "left_front", Means: "left front"},
			{Word: "right_front", Means: "right front"},
			{Word: "rear", Means: "rear"}}},
	}
}

// Asked reports whether the question matters after the answers before it.
func (q Question) Asked(a Answers) bool { return q.asked == nil || q.asked(a) }

// Number is what a choice is counted as: what leaves a part for later is 0, so that
// one and two stand for themselves.
func (q Question) Number(i int) int {
	if q.Choices[0].Word == later {
		return i
	}
	return i + 1
}

// choice is the place of the choice that a word or a number means, -1 for none.
func (q Question) choice(said string) int {
	plain := func(s string) string { return strings.NewReplacer("-", "_", " ", "_").Replace(s) }
	for i, c := range q.Choices {
		for _, name := range append([]string{c.Word, strconv.Itoa(q.Number(i))}, c.also...) {
			if plain(name) == plain(said) {
				return i
			}
		}
	}
	return -1
}

// Words lists the words of the choices.
func (q Question) Words() []string {
	out := make([]string, len(q.Choices))
	for i, c := range q.Choices {
		out[i] = c.Word
	}
	return out
}

// Read returns the answer that a person typed: the word of a choice or its Number,
// several with commas between them where that is asked. Nothing typed is
// the first choice.
func (q Question) Read(typed string) (string, error) {
	typed = strings.ToLower(strings.TrimSpace(typed))
	if typed == "" {
		return q.Choices[0].Word, nil
	}
	parts := []string{typed}
	if q.Many {
		parts = strings.FieldsFunc(typed, func(r rune) bool { return r == ',' || r == ';' || r == ' ' })
	}
	var out []string
	for _, p := range parts {
		i := q.choice(p)
		if i < 0 {
			return "", fmt.Errorf("read %q; want one of: %s", p, strings.Join(q.Words(), ", "))
		}
		if w := q.Choices[i].Word; !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	if len(out) > 1 && slices.Contains(out, later) || len(out) == 0 {
		return "", fmt.Errorf("read %q; want either %s, or one or more of: %s", typed, later, strings.Join(q.Words()[1:], ", "))
	}
	return strings.Join(out, ","), nil
}

// of is the answer to a question, "" where it was left for later.
func (a Answers) of(name string) string {
	if a[name] == later {
		return ""
	}
	return a[name]
}

// is reports whether that was answered; the first choice holds unasked.
func (a Answers) is(name, word string) bool {
	for _, q := range Questions() {
		if q.Name == name && a[name] == "" {
			return q.Choices[0].Word == word
		}
	}
	return a[name] == word
}

// said reports whether an answer says more than the starter does.
func (a Answers) said(name string) bool {
	for _, q := range Questions() {
		if q.Name == name {
			return a[name] != "" && a[name] != q.Choices[0].Word
		}
	}
	return false
}

func (a Answers) list(name string) []string {
	if a.of(name) == "" {
		return nil
	}
	return strings.Split(a[name], ",")
}

// driveline is one line of the file to begin.
type driveline struct {
	name        string
	direct      bool // half shafts from the gearbox, no propshaft
	shaft, axle string
}

// lines are the drivelines that the answers amount to: with the engine across the
// half shafts go to the front wheels unless it drives the rear ones alone.
func (a Answers) lines() []driveline {
	names := map[bool][]string{true: {"front"}, false: {"rear"}}[a.is("drives", "front")]
	if a.is("drives", "all") {
		names = []string{"rear", "front"}
	}
	var out []driveline
	for _, name := range names {
		l := driveline{name: name, direct: a.is("layout", "across") && (name == "front" || len(names) == 1)}
		if !l.direct {
			l.axle = a.of(map[string]string{"rear": "axle", "front": "front-axle"}[name])
			if name == "rear" || len(names) == 1 {
				l.shaft = a.of("shaft")
			}
			if a.is("layout", "across") && l.shaft == "" {
				l.shaft = "one" // without a word of a shaft it would be taken for half shafts
			}
		}
		out = append(out, l)
	}
	return out
}

func (a Answers) propshaft() bool { return a.shaftTo("rear") || a.shaftTo("front") }

func (a Answers) shaftTo(name string) bool {
	return slices.ContainsFunc(a.lines(), func(l driveline) bool { return l.name == name && !l.direct })
}
