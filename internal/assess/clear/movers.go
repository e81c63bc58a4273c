package clear

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/clear"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/travel"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// mover is one thing that moves with an axle or a wheel, in each way that it
// can go.
type mover struct {
	name    string
	line    string
	ways    []moverWay
	why     string   // what keeps it from being followed through all of its travel
	hangsOn []string // pieces of the powertrain that it is bolted to
	bolted  joint
	wheel   *r3.Vec // of a half shaft where its outer joint stands at ride height
	assumes []string
	stands  []seat.Stand
}

// joint is where something hangs on the powertrain, own frame, and within how far of
// that what it is bolted to is looked for, mm; 0 where it hangs on nothing.
type joint struct {
	at    r3.Vec
	reach float64
}

// moverWay is its way from droop to bump with the powertrain at one stand (or
// at any) and under one kind of torque.
type moverWay struct {
	path  clear.Path
	stand int
	under string
	soft  bool
	track *clear.Track                // of path, once follow has been asked
	rods  *rods                       // where it is followed, of a rod by the ways of its ends
	near  map[[2]float64]*clear.Track // of the stretch round a rise, once it has been asked for
}

// follow makes the way ready to be met by one solid after another.
func (w *moverWay) follow() error {
	if w.path.Rod != nil && w.rods != nil {
		w.track = &w.rods.track
		return w.rods.follow(w)
	}
	if w.track != nil {
		return nil
	}
	t := tracks.Get().(*clear.Track)
	if err := t.Follow(w.path); err != nil {
		tracks.Put(t)
		return err
	}
	w.track = t
	return nil
}

// hubReach is how far from a wheel's centre the outer joint of its half shaft stands at the
// most, mm: set by fitup.
const hubReach = 250

// meeting is the way as far as it meets what goes with that wheel: all of it, or of the
// half shaft of the same wheel the stretch of it at the same time.
func (w *moverWay) meeting(mv *mover, with *With) (*clear.Track, error) {
	if with == nil || !with.Moves || mv.wheel == nil || w.path.Between == nil || mv.wheel.Y*with.Wheel.Y <= 0 ||
		r3.Norm(r3.Sub(*mv.wheel, with.Wheel)) > hubReach {
		return w.track, nil
	}
	key := [2]float64{with.Rise, with.Step}
	if t := w.near[key]; t != nil {
		return t, nil
	}
	from, to := w.path.At[0], w.path.At[len(w.path.At)-1]
	at := []float64{min(max(with.Rise-with.Step/2, from), to), min(max(with.Rise+with.Step/2, from), to)}
	if at[1]-at[0] < 1e-6 {
		at = at[:1]
	}
	part := clear.Path{At: at, Between: w.path.Between}
	for _, rise := range at {
		s, err := w.path.Between(rise)
		if err != nil {
			return nil, err
		}
		part.Solids = append(part.Solids, s)
	}
	t := tracks.Get().(*clear.Track)
	if err := t.Follow(part); err != nil {
		tracks.Put(t)
		return nil, err
	}
	if w.near == nil {
		w.near = map[[2]float64]*clear.Track{}
	}
	w.near[key] = t
	return t, nil
}

// tracks are those that are not in use: they are large.
var tracks = sync.Pool{New: func() any { return new(clear.Track) }}

// Followed are movers with their ways followed.
type Followed struct {
	movers []mover
	kept   *kept // what they were followed with
	of     *Prepared
}

// Done lets them go; f may be nil.
func (f *Followed) Done() {
	if f == nil {
		return
	}
	defer f.of.spares.give(f.kept)
	for i := range f.movers {
		for k := range f.movers[i].ways {
			if w := &f.movers[i].ways[k]; w.track != nil && w.rods == nil {
				w.track.Forget()
				tracks.Put(w.track)
				w.track = nil
				for _, t := range w.near {
					t.Forget()
					tracks.Put(t)
				}
				w.near = nil
			}
		}
	}
}

// followed are the movers that were followed already; nil where they hang on other
// pieces of the powertrain here.
func (r *room) followed() []mover {
	if r.in.Followed == nil {
		return nil
	}
	for i := range r.in.Followed.movers {
		mv := &r.in.Followed.movers[i]
		if mv.bolted.reach != 0 && !slices.Equal(mv.hangsOn, r.partsAt(mv.bolted)) {
			r.in.Followed = nil
			return nil
		}
	}
	return r.in.Followed.movers
}

func (mv mover) softStand(k int) bool { return mv.stands[k].Soft }

// when says under which torque, and how the powertrain stands.
func (w moverWay) when(mv mover, stand int) string {
	if w.stand != anyStand {
		stand = w.stand
	}
	s := w.under
	if stand > 0 {
		if s != "" {
			s += ", "
		}
		s += "the powertrain " + mv.stands[stand].Name
	}
	return s
}

// movers are all shafts, half shafts and pieces of axles of the build.
func (r *room) movers() []mover {
	var out []mover
	for i := range r.in.Lines {
		line := &r.in.Lines[i]
		l := r.build.Lines[i]
		if r.in.Only != "" && l.Name != r.in.Only {
			continue
		}
		cases := r.kept.passages(i, line.Travel)
		if !line.Direct {
			for n := range line.Shafts {
				out = append(out, r.shaftMover(l, line, n, cases))
			}
		}
		if line.Travel != nil {
			for n := range line.Travel.HalfShafts {
				out = append(out, r.halfShaftMover(l, line, &line.Travel.HalfShafts[n], n))
			}
		}
		for n := range l.Suspension.Part {
			out = append(out, r.axleMover(l, line, n, cases))
		}
	}
	return out
}

const (
	bothWheels = "left and right wheel rise alike: one wheel alone is not followed"
	jointReach = 60 // mm round a joint in which the piece it is bolted to lies: set by fitup
)

// passage is the axle under one kind of torque; at is where it stands at any rise.
type passage struct {
	TravelCase
	at     func(rise float64) (travel.Point, error)
	rises  []float64  // of its points
	pinion *clear.Way // of the pinion's middle
}

// passages are those of a travel, each place between the points worked out once
// for all that passes there.
func passages(t *Travel) []passage {
	out := make([]passage, len(t.Cases))
	for i, c := range t.Cases {
		out[i] = passage{TravelCase: c, rises: make([]float64, len(c.Points)), at: metAt(&c)}
		pinion := make([]r3.Vec, len(c.Points))
		for k, x := range c.Points {
			out[i].rises[k], pinion[k] = x.Rise, x.PinionAt
		}
		out[i].pinion = clear.Along(out[i].rises, pinion, func(rise float64) (r3.Vec, error) {
			x, err := out[i].at(rise)
			return x.PinionAt, err
		})
	}
	return out
}

// alongAxle is a solid taken from ride height to every place of the axle, in
// each torque case; at ride height only where the axle is not followed.
func alongAxle(cases []passage, at func(travel.Point) clear.Shape, ride clear.Shape) []moverWay {
	if len(cases) == 0 {
		return []moverWay{{path: clear.Steady(ride), stand: anyStand}}
	}
	var out []moverWay
	for _, c := range cases {
		p := clear.Path{At: c.rises, Solids: make([]clear.Shape, len(c.Points))}
		for i, x := range c.Points {
			p.Solids[i] = at(x)
		}
		p.Between = func(rise float64) (clear.Shape, error) {
			x, err := c.at(rise)
			if err != nil {
				return nil, err
			}
			return at(x), nil
		}
		out = append(out, moverWay{path: p, stand: anyStand, under: c.Under})
	}
	return out
}

// notFollowed is why a line's axle is not taken through its travel.
func notFollowed(l project.Line, line *Line) string {
	switch t := line.Travel; {
	case l.Suspension.Kind == project.FixedDiff:
		return ""
	case t == nil:
		return "line." + l.Name + ".suspension is not in the file yet, so the " + l.Name + " axle's travel is not known"
	default:
		return t.Why
	}
}

// axleMover is piece n of the axle of a line.
func (r *room) axleMover(l project.Line, line *Line, n int, cases []passage) mover {
	part := l.Suspension.Part[n]
	mv := mover{name: l.Name + " axle's " + finding.NameOr(part.Name, "part", n), line: l.Name, stands: r.in.Stands, assumes: []string{bothWheels}}
	shape, err := solidOf(part.From, part.To, part.At, part.Radius)
	switch {
	case err != nil:
		mv.why = lacking(mv.name, fmt.Sprintf("line.%s.suspension.part.%d", l.Name, n+1), err)
		return mv
	case l.Suspension.Kind == project.FixedDiff:
		mv.why = mv.name + ": a fixed differential has no axle that moves; put the piece under [[chassis]] or [[powertrain.part]]"
		return mv
	}
	mv.why = notFollowed(l, line)
	mv.ways = alongAxle(cases, func(p travel.Point) clear.Shape { return clear.Moved(shape, p.Motion) }, shape)
	return mv
}

// shaftMover is shaft n of a line with the yokes at its ends.
func (r *room) shaftMover(l project.Line, line *Line, n int, cases []passage) mover {
	mv := mover{name: l.Name + " shaft", line: l.Name, stands: r.in.Stands}
	if line.Shafts > 1 {
		mv.name = fmt.Sprintf("%s shaft %d", l.Name, n+1)
	}
	if !line.Planned {
		mv.why = mv.name + ": " + line.PlanWhy
		return mv
	}
	outside, ok := l.Shaft(n).Outside.Get()
	if !ok {
		mv.why = fmt.Sprintf("line.%s.shaft.%d.outside is not in the file yet", l.Name, n+1)
		return mv
	}
	last := n == line.Shafts-1
	if last {
		mv.why = notFollowed(l, line)
		if l.Suspension.Kind != project.FixedDiff {
			mv.assumes = append(mv.assumes, bothWheels)
		}
	}
	hangs := n == 0 && !l.First.Slope.Known()
	if hangs {
		mv.assumes = append(mv.assumes, r.in.StandsAssume...)
	}
	tube := shaftTube{radius: outside / 2}
	var lacks []string
	for k := range tube.swing {
		if v, ok := l.Joint(n + k).Swing.Get(); ok {
			tube.swing[k] = v / 2
		} else {
			lacks = append(lacks, fmt.Sprintf("line.%s.joint.%d.swing", l.Name, n+k+1))
		}
	}
	if len(lacks) > 0 {
		mv.assumes = append(mv.assumes, "the tube without the sweep of its yokes: "+strings.Join(lacks, " and "))
	}
	stands := r.in.Stands
	if !hangs {
		stands = []seat.Stand{{}}
	}
	for k, s := range stands {
		joints, err := line.Joints(s.Pose)
		if err != nil {
			mv.why = mv.name + ": " + err.Error()
			return mv
		}
		if k == 0 && hangs {
			mv.bolted = joint{s.Pose.Own(joints[0]), max(tube.radius, tube.swing[0], jointReach)}
			mv.hangsOn = r.partsAt(mv.bolted)
			mv.assumes = append(mv.assumes, leftOut(mv.hangsOn)...)
		}
		mv.ways = append(mv.ways, tube.ways(joints, n, cases, last, hangs, k, s.Soft)...)
	}
	for k := range mv.ways {
		mv.ways[k].rods = &r.kept.rods
	}
	return mv
}

// shaftTube is a tube between two joints and the radii that the yokes sweep at
// each.
type shaftTube struct {
	radius float64
	swing  [2]float64
}

// ways are those of shaft n of a line, tube and yokes each as one solid.
func (s shaftTube) ways(joints []r3.Vec, n int, cases []passage, last, hangs bool, stand int, soft bool) []moverWay {
	from, to := clear.WayOf(joints[n:n+1], true), clear.WayOf(joints[n+1:n+2], true)
	if !hangs {
		stand = anyStand
	}
	if !last || len(cases) == 0 {
		cases = []passage{{rises: []float64{0}, pinion: to}}
	}
	var out []moverWay
	add := func(radius float64, ends func(pinion *clear.Way) clear.Rod) {
		for i := range cases {
			c := &cases[i]
			rod := ends(c.pinion)
			rod.Radius = radius
			w := moverWay{path: clear.Path{At: c.rises, Rod: &rod}, stand: stand, soft: soft, under: c.Under}
			if c.at != nil {
				w.path.Between = func(rise float64) (clear.Shape, error) {
					x, err := c.at(rise)
					if err != nil {
						return nil, err
					}
					switch {
					case rod.From != rod.To:
						return clear.Segment{A: joints[n], B: x.PinionAt, R: radius}, nil
					case rod.From == from:
						return clear.Sphere{At: joints[n], R: radius}, nil
					}
					return clear.Sphere{At: x.PinionAt, R: radius}, nil
				}
			}
			out = append(out, w)
		}
	}
	add(s.radius, func(pinion *clear.Way) clear.Rod { return clear.Rod{From: from, To: pinion} })
	if s.swing[0] > 0 {
		add(s.swing[0], func(*clear.Way) clear.Rod { return clear.Rod{From: from, To: from} })
	}
	if s.swing[1] > 0 {
		add(s.swing[1], func(pinion *clear.Way) clear.Rod { return clear.Rod{From: pinion, To: pinion} })
	}
	return out
}

// halfShaftMover is half shaft n of a line.
func (r *room) halfShaftMover(l project.Line, line *Line, h *HalfShaft, n int) mover {
	mv := mover{name: l.Name + " half shaft " + h.Name, line: l.Name, stands: r.in.Stands}
	outside, ok := l.Suspension.HalfShaft[n].Outside.Get()
	switch {
	case h.Why != "":
		mv.why = mv.name + ": " + h.Why
		return mv
	case !ok:
		mv.why = fmt.Sprintf("line.%s.suspension.half_shaft.%d.outside is not in the file yet", l.Name, n+1)
		return mv
	}
	mv.assumes = append([]string{"the shaft alone: its joints and boots are wider"}, h.Assumes...)
	hung := line.Hung
	for k, s := range h.Stands {
		if k == 0 && hung {
			mv.bolted = joint{r.in.Pose.V.Own(s.Inner), max(outside/2, jointReach)}
			mv.hangsOn = r.partsAt(mv.bolted)
			mv.assumes = append(mv.assumes, leftOut(mv.hangsOn)...)
		}
		moved := h.Shaft
		moved.Inner, moved.InnerAxis = s.Inner, s.Axis
		solid := func(outer r3.Vec) clear.Shape { return clear.Segment{A: s.Inner, B: outer, R: outside / 2} }
		w := moverWay{stand: anyStand, soft: s.Soft}
		if hung {
			w.stand = k
		}
		for _, p := range h.Points { // its outer end goes the same way wherever the inner one stands
			w.path.At, w.path.Solids = append(w.path.At, p.Rise), append(w.path.Solids, solid(p.Outer))
		}
		w.path.Between = func(rise float64) (clear.Shape, error) {
			p, err := moved.At(rise)
			if err != nil {
				return nil, err
			}
			return solid(p.Outer), nil
		}
		mv.ways = append(mv.ways, w)
	}
	mv.wheel = &h.Shaft.Outer
	return mv
}

// partsAt are the pieces of the powertrain, own frame, that come within reach of
// a joint: what the joint is bolted to.
func (r *room) partsAt(j joint) []string {
	if r.why != "" {
		return nil
	}
	at := clear.Ready(clear.Point{At: j.at})
	var out []string
	for i, name := range r.names[:r.parts] {
		if gap, _, _ := r.group.Solid(i).Distance(&at); gap <= math.Abs(j.reach) {
			out = append(out, name)
		}
	}
	return out
}

// leftOut says which pieces the room is not asked to.
func leftOut(parts []string) []string {
	var out []string
	for _, p := range parts {
		out = append(out, "the room to the "+p+", which it is bolted to, is not in it")
	}
	return out
}
