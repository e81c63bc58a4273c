package assess

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain/coverage"
)

// asTyped is a kind of build that is planned by numbers of which the file states a ±.
type asTyped struct {
	name string
	// draw draws a build: the file of what is true, and files that somebody writes of it
	// who is off as far as they say.
	draw  func(dice *rand.Rand) writing
	asked Which
	by    []finding.Trade // whose findings are judged
	known float64         // the share of them that has to be known
	also  func(a *Assessment) map[string]Number
	long  bool // it takes long, and is drawn on demand alone
	typed []typedLimit
	keys  func() (map[string][]ruled, error) // the limits of the findings, by key
}

// typedLimit is a number in the file that limits a finding, which is to lie near its limit.
// With a share the number is moved by so much of the finding's margin, without one it is
// the limit itself, and changed in proportion.
type typedLimit struct {
	id    string
	at    *regexp.Regexp // of the text before the number, and of the number as a group
	share float64
}

// moved is a text with the number put so that a limit is near instead of what it is.
func (l typedLimit) moved(text string, f *Finding, near float64) string {
	at := l.at.FindStringSubmatchIndex(text)
	if at == nil || near <= 0 && l.share == 0 {
		return text
	}
	v, _ := strconv.ParseFloat(text[at[2]:at[3]], 64)
	if l.share == 0 {
		v *= near / f.Limit
	} else {
		v += l.share * (f.Margin + near - f.Value)
	}
	return fmt.Sprintf("%s%.9f%s", text[:at[2]], v, text[at[3]:])
}

type writing struct {
	truth string
	read  func(dice *rand.Rand) string
}

// ruled is a finding that a limit rules, and the limit as it came out of the default one.
type ruled struct {
	id    string
	limit float64
}

var inBrackets = coverage.InBrackets

// marked draws a build from a text with values in angle brackets.
func marked(text string) func(dice *rand.Rand) writing {
	draw := coverage.Marked(text)
	return func(dice *rand.Rand) (w writing) {
		w.truth, w.read = draw(dice)
		return w
	}
}

func (k *asTyped) String() string { return k.name }

// assessed assesses a file under given limits.
func (k *asTyped) assessed(text string, limits map[string]project.Rule) (*Assessment, error) {
	f, err := project.Parse("simulated.toml", []byte(text))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", k.name, err)
	}
	if limits != nil {
		f.Build.Limits = map[string]project.Rule{}
		for _, r := range project.Defaults() {
			f.Build.Limits[r.Key] = r
		}
		maps.Copy(f.Build.Limits, limits)
	}
	p := Prepare(f.Build)
	return p.at(p.Build, k.asked.whole()), nil
}

// judged are the findings that the kind is about.
func (k *asTyped) judged(a *Assessment) (out []*Finding) {
	for i := range a.Findings {
		if f := &a.Findings[i]; slices.Contains(k.by, f.By) {
			out = append(out, f)
		}
	}
	return out
}

// limitKeys finds which limit rules which finding: with each of them a little larger than
// it is, by another part.
func (k *asTyped) limitKeys(text string) (map[string][]ruled, error) {
	const step = 1e-4
	rules := project.Defaults()
	larger := map[string]project.Rule{}
	for i, r := range rules {
		r.Value *= 1 + step*float64(i+1)
		larger[r.Key] = r
	}
	a, err := k.assessed(text, nil)
	if err != nil {
		return nil, err
	}
	b, err := k.assessed(text, larger)
	if err != nil {
		return nil, err
	}
	out := map[string][]ruled{}
	for _, f := range k.judged(a) {
		g := b.findingOf(f.ID)
		if g == nil || !f.HasLimit || f.Limit == 0 || g.Limit == f.Limit {
			continue
		}
		if i := int(math.Round((g.Limit/f.Limit-1)/step)) - 1; i >= 0 && i < len(rules) {
			out[rules[i].Key] = append(out[rules[i].Key], ruled{f.ID, f.Limit})
		}
	}
	return out, nil
}

// planned is a build of a kind, and its limits near what is true.
type planned struct {
	writing
	*asTyped
	limits map[string]project.Rule
	is     *Assessment
	scale  map[string]float64 // standard uncertainty of findings, by id, as somebody read it once
	err    error
}

// drawTyped draws a build of the kind and sets its limits to either side of what is true.
func (k *asTyped) drawTyped(dice *rand.Rand) *planned {
	p := &planned{writing: k.draw(dice), asTyped: k, limits: map[string]project.Rule{}, scale: map[string]float64{}}
	keys, err := k.keys()
	if err != nil {
		p.err = err
		return p
	}
	plain, err := k.assessed(p.truth, nil)
	if err != nil {
		p.err = err
		return p
	}
	once, err := k.assessed(p.read(dice), nil)
	if err != nil {
		p.err = err
		return p
	}
	for _, f := range k.judged(once) {
		if f.HasValue {
			p.scale[f.ID] = f.Uncertainty / 2
		}
	}
	near := func(id string) (f *Finding, at float64) {
		f, g := plain.findingOf(id), once.findingOf(id)
		if f == nil || g == nil || !f.HasValue || !g.HasValue {
			return nil, 0
		}
		return f, around(dice, f.Value, g.Uncertainty/2, 0)
	}
	for _, r := range project.Defaults() {
		of := keys[r.Key]
		if len(of) == 0 {
			continue
		}
		one := oneOf(dice, of)
		if _, at := near(one.id); at > 0 {
			r.Value *= at / one.limit
			p.limits[r.Key] = r
		}
	}
	for _, l := range k.typed {
		f, at := near(l.id)
		if f == nil {
			continue
		}
		truth, read := p.truth, p.read
		p.truth = l.moved(truth, f, at)
		p.read = func(dice *rand.Rand) string { return l.moved(read(dice), f, at) }
	}
	p.is, p.err = k.assessed(p.truth, p.limits)
	return p
}

// oneOf picks one, each shape of a finding as often as any other.
func oneOf(dice *rand.Rand, of []ruled) ruled {
	var shapes []string
	for _, r := range of {
		if s := shapeOf(r.id); !slices.Contains(shapes, s) {
			shapes = append(shapes, s)
		}
	}
	shape := pick(dice, shapes...)
	return pick(dice, slices.DeleteFunc(slices.Clone(of), func(r ruled) bool { return shapeOf(r.id) != shape })...)
}

// judge writes the build anew as somebody reads it, assesses that, and holds what is said
// against what is true.
func (p *planned) judge(dice *rand.Rand, say func(coverage.Outcome)) error {
	if p.err != nil {
		return p.err
	}
	a, err := p.assessed(p.read(dice), p.limits)
	if err != nil {
		return err
	}
	for _, f := range p.judged(a) {
		is := p.is.findingOf(f.ID)
		if is == nil || !is.HasValue || is.Status == Elsewhere {
			continue
		}
		p.figure(f, is, say)
		if f.Title == is.Title && is.HasLimit && math.Abs(f.Limit-is.Limit) <= 0.2*math.Abs(is.Limit) { // it is of the same number
			nearLimit(dice, f, is.Margin, p.scale[f.ID], say)
		}
		keeps := is.Status == OK || is.Status == Tight
		o := coverage.Outcome{Of: "verdict: " + shapeOf(f.ID) + "|" + p.name, Lower: math.Inf(-1), Upper: math.Inf(1), Known: f.Status != NotKnown, OK: f.Status == OK, Keeps: keeps}
		say(o)
		o.Of = allVerdicts + p.name
		say(o)
	}
	if p.also == nil {
		return nil
	}
	is := p.also(p.is)
	for what, n := range p.also(a) {
		if t, ok := is[what]; ok && t.Known && (!n.Known || n.U() > 0) {
			sayWithin(what, p.name, n.Known, t.V-n.V, n.Expanded(), n.Largest()[0].Part, say)
		}
	}
	return nil
}

// figure is how far a finding's number may be off, and how far it is: towards its limit
// where it has one, which may move along. What cannot be negative is open that way alone.
func (p *planned) figure(f, is *Finding, say func(coverage.Outcome)) {
	known, off := f.HasValue && f.Status != NotKnown, is.Value-f.Value
	if f.HasLimit {
		off = f.Margin - is.Margin
	}
	if f.HasLimit && math.Abs(f.Limit-is.Limit) > 0.2*math.Abs(is.Limit) {
		return // it is of another pair of angles, with another limit: its verdict says so
	}
	if !known || f.Uncertainty == 0 && math.Abs(off) < 1e-9*max(1, math.Abs(f.Value)) {
		return // its verdict says so; or it rests on nothing that has a ±
	}
	if sizeOf(f) {
		say(coverage.Outcome{Of: shapeOf(f.ID) + ", towards its limit|" + p.name, Truth: off, Known: known, Lower: math.Inf(-1), Upper: f.Uncertainty, OK: true, Keeps: true})
		return
	}
	part := 0.0
	if from := f.Largest(); len(from) > 0 {
		part = from[0].Part
	}
	sayWithin(shapeOf(f.ID), p.name, known, off, f.Uncertainty, part, say)
}

// sayWithin is of something with limits to both sides, that is off by so much.
func sayWithin(what, of string, known bool, off, half, part float64, say func(coverage.Outcome)) {
	if part > 0.5 {
		what += mostlyOne
	}
	say(coverage.Outcome{Of: what + "|" + of, Truth: off, Known: known, Lower: -half, Upper: half, OK: true, Keeps: true})
}

// mostlyOne marks what one rectangular source makes most of: its ± of two standard
// uncertainties holds more than the 95 % of others.
const mostlyOne = ", mostly one source"

// sizeOf reports whether the number of a finding cannot be negative and so is judged by
// the limit of its components, or is the largest of several, which is open upwards by
// each of them and downwards by all of them together alone.
func sizeOf(f *Finding) bool {
	if f.ID == finding.MountsSag {
		return true
	}
	switch f.By {
	case finding.LineTrade:
		return true
	case finding.SteerTrade:
		return !strings.Contains(f.ID, "slip") && f.ID != finding.SteeringShorten
	case finding.PickupTrade: // one side against the other, or how far off what is wanted
		return !f.AtLeast
	}
	return false
}

// shapeOf is the shape of a finding's id.
func shapeOf(id string) string {
	if r, ok := finding.RowOf(id); ok {
		return r.Shape
	}
	return id
}

// ofMarked is a kind by a text with values in angle brackets.
func ofMarked(name, text string, asked Which, by ...finding.Trade) *asTyped {
	return ofDrawn(&asTyped{name: name, draw: marked(text), asked: asked, by: by})
}

// ofDrawn completes a kind.
func ofDrawn(k *asTyped) *asTyped {
	if k.known == 0 {
		k.known = 0.97
	}
	k.keys = sync.OnceValues(func() (map[string][]ruled, error) {
		return k.limitKeys(k.draw(rand.New(rand.NewPCG(1, 1))).truth)
	})
	return k
}

// classes begin the names of the classes in which false oks are counted: one for each kind
// of finding, which is the shape of its id, of all kinds of builds together.
const classes = "class: "

// nearLimit says what would be said of a finding were its limit another one, near what is
// true: so that the truth, whose margin to the limit as it is is given, is past it by up to
// three standard uncertainties u, and once more so that it just keeps it, by up to as many.
// A verdict is a matter of the margin and of the ±, and both are as they came out of the
// file; so one reading gives two cases of each finding, where a limit in the file has one
// in a few of one of them.
func nearLimit(dice *rand.Rand, f *Finding, is, u float64, say func(coverage.Outcome)) {
	if u == 0 || f.Second() != nil || f.Status != NotKnown && f.Status != finding.Verdict(f.Margin, f.Uncertainty) {
		return // it is held to something beside its limit, or rests on nothing that has a ±
	}
	for _, way := range [...]float64{-1, 1} {
		far := 3 * u
		if way < 0 && !f.AtLeast && f.Limit > 0 { // no limit of a size is less than nothing
			far = min(far, f.Limit-is)
		}
		if far <= 0 {
			continue
		}
		by := way * far * dice.Float64()
		o := coverage.Outcome{Of: classes + shapeOf(f.ID), Lower: math.Inf(-1), Upper: math.Inf(1), Keeps: way > 0}
		if o.Known = f.HasValue && f.Status != NotKnown; o.Known {
			o.OK = finding.Verdict(f.Margin+by-is, f.Uncertainty) == OK
		}
		say(o)
	}
}
