package assess

import (
	"fmt"
	"slices"
	"sync"

	"fitup/internal/assess/frame"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// The adjustment of a survey takes longer than everything else, and follows from
// nothing that a key on the placement changes. So the last ones are remembered: a build
// shares the lists that an edit leaves alone with the one before it, and the same lists
// say the same. Nothing else of an assessment is kept.

// surveys are the surveys that were adjusted last.
var surveys remembered

// remembered is safe for use by many goroutines at once.
type remembered struct {
	mu   sync.Mutex
	last []recalled
}

type recalled struct {
	of surveyKey
	is adjusted
}

// kept is how many surveys are remembered: those on either side of an undo.
const kept = 4

// surveyKey is all that an adjustment rests on.
type surveyKey struct {
	measured *project.Measurement
	points   *project.MeasuredPoint
	tools    *project.Tool
	counts   [3]int
	units    quantity.Units
	rest     string
}

func keyOf(b *project.Build) surveyKey {
	k := surveyKey{counts: [3]int{len(b.Measurements), len(b.Points), len(b.Tools)}, units: b.Units}
	if len(b.Measurements) > 0 {
		k.measured = &b.Measurements[0]
	}
	if len(b.Points) > 0 {
		k.points = &b.Points[0]
	}
	if len(b.Tools) > 0 {
		k.tools = &b.Tools[0]
	}
	k.rest = fmt.Sprint(b.Survey, b.Gauge, b.Vehicle.FrontAxle, b.Vehicle.AxleHeight)
	for _, m := range b.Powertrain.Marks { // which are none of the survey's
		k.rest += m.At + " "
	}
	for i := range b.Lines {
		for _, m := range b.Lines[i].Pinion.Marks {
			k.rest += m.At + " "
		}
	}
	for _, s := range b.Subframes { // whose points are none of the survey's
		for _, p := range s.Points {
			k.rest += p.At + " "
		}
	}
	for _, path := range b.PointPaths() {
		if p, ok := b.PointNamed(path); ok && p.Known {
			k.rest += fmt.Sprint(path, p.At, p.Terms)
		}
	}
	return k
}

// of is the survey of a build, adjusted unless it was. A large one that was not is left
// to be adjusted beside, where that is wanted.
func (r *remembered) of(b *project.Build, beside bool) adjusted {
	k := keyOf(b)
	if is, ok := r.recall(k); ok && (beside || is.waits == nil) {
		return is
	}
	if beside {
		if is, large := unadjusted(b, k); large {
			r.keep(k, is)
			return is
		}
	}
	is, _ := adjust(frame.Watch{}, b) // nothing ends it
	r.keep(k, is)
	return is
}

func (r *remembered) recall(k surveyKey) (adjusted, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if i := slices.IndexFunc(r.last, func(x recalled) bool { return x.of == k }); i >= 0 {
		return r.last[i].is, true
	}
	return adjusted{}, false
}

// keep remembers what a survey came to, in the place of what was said of it before.
func (r *remembered) keep(k surveyKey, is adjusted) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.last = slices.DeleteFunc(r.last, func(x recalled) bool { return x.of == k })
	r.last = append(r.last, recalled{k, is})
	if len(r.last) > kept {
		r.last = slices.Clone(r.last[len(r.last)-kept:])
	}
}
