package project

import (
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Unplaced is a point of the file that is given by the name of one that the survey
// has not placed.
type Unplaced struct {
	Path  string // of the point in the text, such as rails.left.points[0]
	Ref   string // as it is named there
	Waits string // the point that the survey has to place: that one, or what it was measured from
	Why   string // why it has no place though the survey placed that; "" where it did not
}

// Unplaced are the points that are named and wait for the survey. Each is not known,
// and what it belongs to cannot be judged.
func (b *Build) Unplaced() []Unplaced { return b.unplaced }

// Surveys reports whether a line of the survey leads to a point that has nothing but
// its name, so that the survey is to place it.
func (b *Build) Surveys(path string) bool {
	return slices.ContainsFunc(b.Measurements, func(m Measurement) bool {
		return m.Surveys() && (m.From == path || m.To == path || m.At == path)
	})
}

// WithPlaces is the build with the points that the survey places: vehicle axes, mm,
// by path. What is named by one of them, or by one that was measured from it, has
// its place then. A rail that the survey places out of order waits as if it had
// not.
func (b *Build) WithPlaces(at map[string]r3.Vec) *Build {
	c := *b
	c.surveyed = at
	_ = c.replace() // what has no place all the same stays unplaced, with the reason
	c.inOrder("left", &c.Rails.Left)
	c.inOrder("right", &c.Rails.Right)
	c.incomplete()
	return &c
}

// PointsBySurvey are the points of the file whose places rest on the survey, by their
// paths in the text, such as rails.left.points[0].
func (b *Build) PointsBySurvey() map[string]Point { return b.bySurvey }

// inOrder takes a rail away whose points do not run from front to rear, or of which
// one has no place: less of a rail is another rail.
func (b *Build) inOrder(side string, r *Rail) {
	prefix := "rails." + side + ".points"
	bad := slices.ContainsFunc(b.unplaced, func(u Unplaced) bool { return strings.HasPrefix(u.Path, prefix) })
	for i := 1; i < len(r.Points) && !bad; i++ {
		p, q := r.Points[i-1], r.Points[i]
		if p.Known && q.Known && q.At.X <= p.At.X {
			b.unplaced = append(b.unplaced, Unplaced{Path: prefix, Ref: q.Ref, Waits: q.Ref,
				Why: "the survey has " + q.Ref + " in front of the point before it in " + prefix})
			bad = true
		}
	}
	if bad {
		r.Points = nil
	}
}

// incomplete takes the half shafts away of which a point has no place: without it
// such a shaft would be another kind of shaft.
func (b *Build) incomplete() {
	for i := range b.Lines {
		l := &b.Lines[i]
		prefix := "line." + l.Name + ".suspension.half_shaft"
		if slices.ContainsFunc(b.unplaced, func(u Unplaced) bool { return strings.HasPrefix(u.Path, prefix) }) {
			own := slices.Clone(b.Lines)
			own[i].Suspension.HalfShaft = slices.Clone(l.Suspension.HalfShaft)
			for k := range own[i].Suspension.HalfShaft {
				h := &own[i].Suspension.HalfShaft[k]
				h.Inner, h.Outer, h.Output = Point{}, Point{}, Point{}
			}
			b.Lines = own
		}
	}
}

// bySurvey is a point that the survey places.
func (r *placer) bySurvey(m MeasuredPoint) PlacedPoint {
	path := m.Path()
	at, ok := r.b.surveyed[path]
	if !ok {
		return PlacedPoint{Name: m.Name, Waits: path, Why: "the survey has not placed " + path}
	}
	p := PlacedPoint{Name: m.Name, Known: true, At: at}
	for axis, key := range []string{"station", "offset", "height"} {
		p.Terms = append(p.Terms, Term{Path: path + "." + key, Dir: along(axis, 1), Value: coordinates(at)[axis], Survey: true})
	}
	return p
}

// waits is the point that the survey has to place before p has a place; "" where
// that is not what it lacks.
func (r *placer) waits(p Point) string {
	if p.Ref == "" {
		return ""
	}
	at := r.place(p.Ref)
	if at.Known {
		return ""
	}
	return at.Waits
}
