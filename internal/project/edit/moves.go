package edit

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Places gives a build the places of points that its survey finds, which it has not as it
// is read; assess.Placed does.
type Places func(*project.Build) *project.Build

// of is the build with them where it waits for any.
func (p Places) of(b *project.Build) *project.Build {
	if p == nil || len(b.Unplaced()) == 0 {
		return b
	}
	return p(b)
}

// Moves returns the edits that put movable things where moves say, each on top of the
// ones before it, and take out the readings that describe what was moved no longer (see
// project.Build.With). A ± typed of what is moved stays, and what stands where a point was
// measured or surveyed goes by steps from there. gone are the targets of the readings.
func Moves(f *project.File, places Places, moves ...project.Move) (edits []Edit, gone []string, err error) {
	after, err := places.of(f.Build).With(moves...)
	if err != nil {
		return nil, nil, err
	}
	at := f
	for _, m := range moves {
		more, err := movedTo(at, places, m)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", m.Of.Path(), err)
		}
		more = asSure(at, more)
		if at, err = Apply(at, more...); err != nil {
			return nil, nil, err
		}
		edits = append(edits, more...)
	}
	more, gone := withoutReadings(f, after)
	return append(edits, more...), gone, nil
}

// asSure gives values that are set the ± that they have in the file.
func asSure(f *project.File, edits []Edit) []Edit {
	out := slices.Clone(edits)
	for i, e := range out {
		k, ok := project.KindAt(e.Path)
		old, has := f.Raw(e.Path)
		if e.Op != OpSet || !ok || !has || !quantity.HasBound(old) || quantity.HasBound(e.Text) {
			continue
		}
		if text, ok := withBound(k, strings.Trim(e.Text, `"`), strings.Trim(old, `"`), f.Build.Units); ok {
			out[i].Text = Quoted(text)
		}
	}
	return out
}

// withBound is a value as it is typed, with the ± of another: behind the number and its
// unit, before a direction. False where it cannot be spelled so.
func withBound(k quantity.Kind, text, old string, u quantity.Units) (string, bool) {
	was, err := quantity.ParseStated(k, old, u)
	if err != nil {
		return "", false
	}
	value, err := quantity.Parse(k, text, u)
	if err != nil {
		return "", false
	}
	words := strings.Fields(text)
	size := behindBound(old)
	for n := len(words); n > 0; n-- {
		for m := 1; m <= len(size); m++ {
			try := strings.Join(slices.Concat(words[:n], []string{"±"}, size[:m], words[n:]), " ")
			if now, err := quantity.ParseStated(k, try, u); err == nil && closeTo(now.V, value) && closeTo(now.Half, was.Half) {
				return try, true
			}
		}
	}
	return "", false
}

// behindBound are the words behind a ±.
func behindBound(old string) []string {
	for _, sign := range []string{"±", "+/-", "+-"} {
		if _, behind, ok := strings.Cut(old, sign); ok {
			return strings.Fields(behind)
		}
	}
	return nil
}

func closeTo(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(1, math.Abs(a)) }

// withoutReadings are the edits that take out the readings whose targets have none in
// another state of the build, and these targets.
func withoutReadings(f *project.File, after *project.Build) (edits []Edit, gone []string) {
	for i := len(f.Build.Readings) - 1; i >= 0; i-- {
		of := f.Build.Readings[i].Of
		if slices.ContainsFunc(after.Readings, func(r project.Reading) bool { return r.Of == of }) {
			continue
		}
		edits = append(edits, Edit{Op: OpRemove, Path: fmt.Sprintf("reading[%d]", i)})
		if !slices.Contains(gone, of) {
			gone = append(gone, of)
		}
	}
	return edits, gone
}

// movedTo are the edits of one move.
func movedTo(f *project.File, places Places, m project.Move) ([]Edit, error) {
	if row, ok := m.Of.Row(); ok {
		return MoveRow(f, row.Row, m.To)
	}
	if joint, aside := m.Of.Bearing(); joint > 0 {
		at := fmt.Sprintf("line.%s.joint.%d.at", m.Of.Line(), joint)
		if name, ok := f.Text(f.Resolve(at)); ok && strings.HasPrefix(name, "point.") {
			return movedFrom(f, places, m, at, name, aside)
		}
	}
	path, edits, err := Begin(f, m.Of.Path())
	if err != nil {
		return nil, err
	}
	if n := m.Of.ShaftLength(); n > 0 { // its slip joint is as long as before
		open := f.Resolve(fmt.Sprintf("line.%s.shaft.%d.slip_open", m.Of.Line(), n))
		now, err := f.Build.Reads(m.Of)
		if err != nil {
			return nil, err
		}
		was, has := f.QuantityAt(open, quantity.Length)
		if !has {
			return nil, fmt.Errorf("%s is not in the file yet", project.SpokenPath(open))
		}
		e, err := SetValue(f, open, was+m.To-now)
		if err != nil {
			return nil, err
		}
		edits = append(edits, e)
	}
	if n := m.Of.Yokes(); n > 0 { // the word for it would say it a second time
		phase := f.Resolve(fmt.Sprintf("line.%s.shaft.%d.phase", m.Of.Line(), n))
		if f.Has(phase) {
			edits = append(edits, Edit{Op: OpRemove, Path: phase})
		}
	}
	if f, err = Draft(f, edits...); err != nil {
		return nil, err
	}
	e, err := SetValue(f, path, m.To)
	if err != nil {
		return nil, err
	}
	return append(edits, e), nil
}

// movedFrom are the edits of a move of what stands at a point, of that name in the file: at
// another point then, which is as far from that one as it is moved, so that what is known
// of that one holds for it too. The point itself stays, since it is a place on the
// vehicle; one that was made so by an earlier move, and is of nothing else, goes along.
func movedFrom(f *project.File, places Places, m project.Move, at, name string, aside bool) ([]Edit, error) {
	now, err := places.of(f.Build).Reads(m.Of)
	if err != nil {
		return nil, err
	}
	by, key := m.To-now, "height"
	if aside {
		key = "offset"
	}
	i := slices.IndexFunc(f.Build.Points, func(p project.MeasuredPoint) bool { return p.Path() == name })
	if i >= 0 && stepsFrom(f, &f.Build.Points[i]) {
		path := f.Resolve(name + "." + key)
		v, err := steps(f, path, by)
		if err != nil {
			return nil, err
		}
		e, err := SetValue(f, path, v)
		return []Edit{e}, err
	}
	to := freePoint(f.Build, name)
	begun, err := BeginTable(f, to)
	if err != nil {
		return nil, err
	}
	edits := []Edit{begun}
	if f, err = Draft(f, begun); err != nil {
		return nil, err
	}
	far := map[string]float64{key: by}
	for _, v := range [][2]string{{"from", name}, {"station", spelledFinely(quantity.Length, far["station"], f.Build.Units)},
		{"offset", spelledFinely(quantity.Offset, far["offset"], f.Build.Units)}, {"height", spelledFinely(quantity.Length, far["height"], f.Build.Units)}} {
		e := InOrder(f, Edit{Op: OpSet, Path: to + "." + v[0], Text: Quoted(v[1])})
		if f, err = Draft(f, e); err != nil {
			return nil, err
		}
		edits = append(edits, e)
	}
	return append(edits, Edit{Op: OpSet, Path: f.Resolve(at), Text: Quoted(to)}), nil
}

// stepsFrom reports whether a point says nothing but how far it is from another point, as
// exactly as a step is made, and is named once in the file.
func stepsFrom(f *project.File, p *project.MeasuredPoint) bool {
	if !strings.HasPrefix(p.From, "point.") || p.With != "" {
		return false
	}
	for _, key := range []string{"station", "offset", "height"} {
		text, ok := f.Raw(p.Path() + "." + key)
		if !ok || quantity.HasBound(text) || strings.HasPrefix(text, "[") {
			return false
		}
	}
	named := regexp.MustCompile(`["']` + regexp.QuoteMeta(p.Path()) + `["']`)
	return len(named.FindAllString(f.Doc().Text(), -1)) == 1
}

// steps is the number at a path with so much added.
func steps(f *project.File, path string, by float64) (float64, error) {
	k, ok := project.KindAt(path)
	text, has := f.Text(path)
	if !ok || !has {
		return 0, fmt.Errorf("%s is not in the file yet", project.SpokenPath(path))
	}
	v, err := quantity.Parse(k, text, f.Build.Units)
	return v + by, err
}

// freePoint is a name for a point that something at the named one is moved to.
func freePoint(b *project.Build, name string) string {
	const longest = 30 // and a number behind it
	to := name + "_moved"
	if short, _ := strings.CutPrefix(name, "point."); len(short) > longest {
		to = "point." + short[:longest] + "_moved"
	}
	for n := 1; ; n++ {
		try := to
		if n > 1 {
			try = fmt.Sprintf("%s_%d", to, n)
		}
		if !slices.ContainsFunc(b.Points, func(p project.MeasuredPoint) bool { return p.Path() == try }) {
			return try
		}
	}
}
