package book

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func mountsBuild(t testing.TB, name string) *assess.Assessment {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("../../testdata/mounts", name+".toml"))
	require.NoError(t, err)
	f, err := project.Parse(name+".toml", text)
	require.NoError(t, err)
	return assess.Run(f.Build)
}

var mountBuilds = []string{"level_arm_with_perch", "inclined_leg", "two_legs_in_an_a", "arm_with_a_brace", "channel_arm_with_a_brace", "own_members", "coped_members", "twin_ears", "dropped_crossmember", "raised_crossmember", "straight_crossmember", "sleeved_crossmember",
	"straight_crossmember_in_ears", "straight_crossmember_in_bolted_ears", "dropped_crossmember_in_ears", "straight_crossmember_in_sockets", "dropped_crossmember_in_sockets"}

// printed are the rows of one member as a person at the saw reads them.
type printed map[string]string

// cell is a number of a row, in mm or degrees.
func (p printed) cell(t *testing.T, label string) float64 {
	t.Helper()
	for k, v := range p {
		if k == label {
			m := regexp.MustCompile(`^([0-9.]+) ?(mm|°)`).FindStringSubmatch(v)
			require.NotNil(t, m, "%s: %s", label, v)
			x, err := strconv.ParseFloat(m[1], 64)
			require.NoError(t, err)
			return x
		}
	}
	t.Fatalf("no row %q", label)
	return 0
}

// A sawn end as the sheet's words make it: x along the tube from its first end to its
// second, y and z across; the cut goes through the axis at x = from and rises by y and
// z. Written from the note on the saw alone.
type sawn struct{ from, y, z float64 }

// read rebuilds an end: the tube lies along the fence with its second end to the
// right of one who faces the fence, so the operator is at −fence. The swing leaves one
// side longer, then the blade leans.
func (p printed) read(t *testing.T, end string, second bool, length float64) sawn {
	t.Helper()
	words := p[end+" mitre"] + " | " + p[end+" tilt"]
	swing, lean := p.cell(t, end+" mitre")*math.Pi/180, p.cell(t, end+" tilt")*math.Pi/180
	// How much farther along x the cut is at 1 mm toward the fence, and at 1 mm up.
	fence, up := math.Tan(swing), math.Tan(lean)/math.Cos(swing)
	longer := 1.0 // a second end that is longer somewhere lies farther along x there
	if !second {
		longer = -1
	}
	switch {
	case strings.Contains(words, "long at the fence"):
		fence *= longer
	case strings.Contains(words, "long at the operator"):
		fence *= -longer
	default:
		require.InDelta(t, 0, swing, 1e-9, words)
	}
	switch {
	case strings.Contains(words, "long at the top"):
		up *= longer
	case strings.Contains(words, "long at the table"):
		up *= -longer
	default:
		require.InDelta(t, 0, lean, 1e-9, words)
	}
	// Which way the fence and up are on the tube: its own top is +z, and, seen from
	// the first end with the top up, its right is +y. Looking at the fence with the
	// first end at one's left, one sees along the tube from its left side when the
	// bottom is down: the fence is at the tube's left.
	var y, z float64
	switch {
	case strings.Contains(words, "bottom side down"):
		y, z = -fence, up
	case strings.Contains(words, "top side down"):
		y, z = fence, -up
	case strings.Contains(words, "left side down"): // right is up, the fence at the top
		y, z = up, fence
	case strings.Contains(words, "right side down"):
		y, z = -up, -fence
	default:
		t.Fatalf("no side is down: %s", words)
	}
	at := 0.0
	if second {
		at = length
	}
	return sawn{at, y, z}
}

// once rebuilds an end that is cut with one swing from its clock: the way in which it
// reaches out most, from a corner of a tube wide by high, or from its top. False where
// the sheet has none.
func (p printed) once(t *testing.T, end string, second bool, wide, high, length float64) (sawn, bool) {
	t.Helper()
	words, ok := p[end+" clock of the cut"]
	if !ok {
		return sawn{}, false
	}
	clock := p.cell(t, end+" clock of the cut") * math.Pi / 180
	if strings.Contains(words, "anticlockwise") {
		clock = -clock
	}
	corner := math.Atan2(wide, high)
	switch {
	case strings.Contains(words, "top right corner"):
		clock += corner
	case strings.Contains(words, "bottom right corner"):
		clock += math.Pi - corner
	case strings.Contains(words, "bottom left corner"):
		clock += math.Pi + corner
	case strings.Contains(words, "top left corner"):
		clock -= corner
	default:
		require.Contains(t, words, "of its top")
	}
	swing := end + " mitre"
	if _, ok := p[end+" in one swing"]; ok {
		swing = end + " in one swing"
	}
	rise := math.Tan(p.cell(t, swing) * math.Pi / 180)
	if !second {
		rise = -rise
	}
	at := 0.0
	if second {
		at = length
	}
	return sawn{at, rise * math.Sin(clock), rise * math.Cos(clock)}, true
}

// members are the printed rows of every member of a cut sheet, by its title.
func members(s *Sheet) map[string]printed {
	out := map[string]printed{}
	for _, part := range s.Sections {
		if !strings.Contains(part.Head, " mount, ") {
			continue
		}
		rows := printed{}
		for _, it := range part.Items {
			if it.Table != nil {
				for _, r := range it.Table.Rows {
					rows[r[0]] = r[1] + " " + r[2]
				}
			}
		}
		if len(rows) > 0 {
			out[part.Head] = rows
		}
	}
	return out
}

// What the words of the cut sheet make of a bar lands on the model: within 0.1 mm at
// the corners of each end and 0.02° of its faces, and with the four sides as printed.
func TestWordsAloneMakeTheMember(t *testing.T) {
	inOneSwing := 0
	defer func() { assert.Positive(t, inOneSwing, "some cut is compound") }()
	for _, name := range mountBuilds {
		t.Run(name, func(t *testing.T) {
			a := mountsBuild(t, name)
			sheet, err := Cuts(a)
			require.NoError(t, err)
			all := members(&sheet)
			seen := 0
			for i := range a.Brackets {
				b := &a.Brackets[i]
				if b.Members == nil {
					continue
				}
				for k := range b.Members.Solved.Parts {
					p := &b.Members.Solved.Parts[k]
					rows, ok := all[capital(b.Label)+" mount, "+p.Name+", "+p.Shape.Name]
					require.True(t, ok, p.Name)
					seen++
					length := rows.cell(t, "on the axis")
					first, second := rows.read(t, "first end", false, length), rows.read(t, "second end", true, length)
					high, wide := p.Shape.H, p.Shape.B
					if wide == 0 {
						wide = high
					}
					own := func(v r3.Vec) [3]float64 { // of the model, in the tube's own axes
						d := r3.Sub(v, p.Cut.Pad.At)
						return [3]float64{r3.Dot(d, p.Cut.Axis), r3.Dot(d, p.Cut.U), r3.Dot(d, p.Cut.V)}
					}
					for e, cut := range []sawn{first, second} {
						is := p.Cut.Pad
						if e == 1 {
							is = p.Cut.Rail
						}
						n := [3]float64{r3.Dot(is.Normal, p.Cut.Axis), r3.Dot(is.Normal, p.Cut.U), r3.Dot(is.Normal, p.Cut.V)}
						size := math.Sqrt(1 + cut.y*cut.y + cut.z*cut.z)
						cos := (n[0] - n[1]*cut.y - n[2]*cut.z) / size
						assert.LessOrEqual(t, math.Acos(min(1, cos))*180/math.Pi, 0.02, "%s %d", p.Name, e)
						for _, q := range p.Cut.Outline(e == 1, 3) {
							o := own(q)
							// Off square to the face, not along the tube.
							assert.LessOrEqual(t, math.Abs(o[0]-cut.from-cut.y*o[1]-cut.z*o[2])/size, 0.1, "%s %d", p.Name, e)
						}
					}
					for e, cut := range []sawn{first, second} {
						got, ok := rows.once(t, [2]string{"first end", "second end"}[e], e == 1, wide, high, length)
						if !ok {
							continue
						}
						inOneSwing++
						dot := (1 + got.y*cut.y + got.z*cut.z) / math.Sqrt((1+got.y*got.y+got.z*got.z)*(1+cut.y*cut.y+cut.z*cut.z))
						assert.LessOrEqual(t, math.Acos(min(1, dot))*180/math.Pi, 0.02, "%s %d, in one swing", p.Name, e)
					}
					for side, at := range map[string][2]float64{"top": {0, high / 2}, "bottom": {0, -high / 2}, "right": {wide / 2, 0}, "left": {-wide / 2, 0}} {
						if c := p.Cut; c.Open() && (side == "right" || side == "top" && p.Shape.Kind.String() == "angle") {
							continue // there is no metal along it
						}
						made := second.from - first.from + (second.y-first.y)*at[0] + (second.z-first.z)*at[1]
						assert.InDelta(t, rows.cell(t, side+" side"), made, 0.15, "%s %s", p.Name, side)
					}
				}
			}
			assert.Positive(t, seen)
		})
	}
}

// A hole that is drilled by the cut sheet's words, in pieces that lie as the model has them,
// lines up with those of what is on the same bolt.
func TestHolesByTheWordsLineUp(t *testing.T) {
	bolts := 0
	for _, name := range mountBuilds {
		a := mountsBuild(t, name)
		sheet, err := Cuts(a)
		require.NoError(t, err)
		all := members(&sheet)
		for i := range a.Brackets {
			b := &a.Brackets[i]
			if b.Members == nil {
				continue
			}
			parts := b.Members.Solved.Parts
			drilled := func(k int, label string, second bool) r3.Vec {
				p := &parts[k]
				rows := all[capital(b.Label)+" mount, "+p.Name+", "+p.Shape.Name]
				along := rows.cell(t, label)
				assert.InDelta(t, 13, rows.cell(t, strings.TrimSuffix(label, " from its cut")), 0.05, label)
				if second {
					along = rows.cell(t, "on the axis") - along
				}
				return r3.Add(p.Cut.Pad.At, r3.Scale(along, p.Cut.Axis))
			}
			for _, x := range b.Members.Solved.Through() {
				bolts++
				at := drilled(x.Part, [2]string{"first", "second"}[x.End]+" end hole from its cut", x.End == 1)
				way := parts[x.Part].Cut.U
				off := func(q r3.Vec) float64 { return r3.Norm(r3.Cross(way, r3.Sub(q, at))) }
				for _, j := range x.Ears {
					assert.LessOrEqual(t, off(drilled(j, "second end hole from its cut", true)), 0.1, "%s, %s", name, parts[j].Name)
				}
				if x.Socket >= 0 {
					p := &parts[x.Socket]
					rows := all[capital(b.Label)+" mount, "+p.Name+", "+p.Shape.Name]
					hole := r3.Sub(p.Cut.Rail.At, r3.Scale(rows.cell(t, "hole from its mouth"), p.Cut.Axis))
					assert.LessOrEqual(t, off(hole), 0.1, "%s, %s", name, p.Name)
				}
			}
		}
	}
	assert.Equal(t, 10, bolts, "two of each of five builds")
}

// The book shows each member, what it uses, and the plates.
func TestBookOfMounts(t *testing.T) {
	for _, name := range mountBuilds {
		a := mountsBuild(t, name)
		sheet, err := Cuts(a)
		require.NoError(t, err)
		text := ""
		for _, part := range sheet.Sections {
			text += part.Head + "\n"
		}
		if strings.Contains(name, "crossmember") {
			assert.Contains(t, text, "Rear mount, plates and bolts", name)
			assert.Contains(t, text, "Rear mount, how its feet are fixed", name)
		} else {
			assert.Contains(t, text, "Left front mount, plates and bolts", name)
			assert.Contains(t, text, "Right front mount against the mirrored left front one", name)
		}
		assert.Contains(t, text, "Stock of ", name)
		cs, left, err := Cutouts(a, "")
		require.NoError(t, err)
		assert.NotZero(t, len(left)+len(cs), "%s: a member without a template says why", name)
	}
}

// around is where a place on a rectangular tube lies, clockwise from the middle of its
// bottom as seen from its first end: to the left, up, to the right; and the same of a
// round one.
func around(s, wide, high, corner float64) (u, v float64) {
	if wide == 0 {
		sin, cos := math.Sincos(s/(high/2) + math.Pi)
		return high / 2 * sin, high / 2 * cos
	}
	across, up, bend := wide-2*corner, high-2*corner, math.Pi/2*corner
	// Each side from its middle on: its outward way, and the way that it runs.
	half := across / 2
	if s <= half {
		return -s, -high / 2
	}
	s -= half
	way, x, y := [2]float64{-1, 0}, -half, -high/2
	for _, flat := range []float64{up, across, up, half} {
		in := [2]float64{way[1], -way[0]} // to the right of the way: inward, clockwise
		mx, my := x+corner*in[0], y+corner*in[1]
		turn := min(s, bend) / corner
		sin, cos := math.Sincos(turn)
		ox, oy := -corner*in[0], -corner*in[1]
		x, y = mx+ox*cos+oy*sin, my-ox*sin+oy*cos
		if s <= bend {
			return x, y
		}
		s -= bend
		way = in
		if s <= flat {
			return x + s*way[0], y + s*way[1]
		}
		s -= flat
		x, y = x+flat*way[0], y+flat*way[1]
	}
	return x, y
}

// A wrap of a member's end, taken by its words and folded back round its tube by the
// tube's own sizes, lies flat on what the member stands on.
func TestMemberWrapsFoldedBackLieOnTheirFaces(t *testing.T) {
	seen := 0
	for _, name := range mountBuilds {
		a := mountsBuild(t, name)
		cs, _, err := Cutouts(a, "")
		require.NoError(t, err)
		for i := range a.Brackets {
			b := &a.Brackets[i]
			if b.Members == nil {
				continue
			}
			for k := range b.Members.Solved.Parts {
				p := &b.Members.Solved.Parts[k]
				for e, end := range []string{"first", "second"} {
					is := p.Cut.Pad
					if e == 1 {
						is = p.Cut.Rail
					}
					if is.Angle.Rad() < leastCut || p.Shape.T == 0 || p.Cut.Open() || p.Copes[e] != nil {
						continue
					}
					seen++
					c := named(t, cs, b.Name+"-"+p.Name+"-"+end+"-wrap")
					corner := 2 * p.Shape.T // EN 10219-2, walls of up to 6 mm
					if strings.Contains(p.Shape.Name, "hot") {
						corner = 1.5 * p.Shape.T // EN 10210-2
					}
					ring, once := square(t, c), 0.0
					for _, q := range cutEdge(c) {
						once = max(once, q.X)
					}
					flat := func(mirrored bool) (worst float64) {
						for _, q := range cutEdge(c) {
							s, along := q.X, ring+q.Y
							if e == 1 {
								along = ring - q.Y
							}
							if (e == 1) != mirrored {
								s = once - q.X
							}
							u, v := around(s, p.Shape.B, p.Shape.H, corner)
							at := r3.Add(p.Cut.Pad.At, r3.Add(r3.Scale(along, p.Cut.Axis), r3.Add(r3.Scale(u, p.Cut.U), r3.Scale(v, p.Cut.V))))
							worst = max(worst, math.Abs(r3.Dot(r3.Sub(at, is.At), is.Normal)))
						}
						return worst
					}
					// The square line's distance is printed to 0.1 mm: half of that is its own.
					assert.Less(t, flat(false), 0.05+0.05, "%s: %s, %s end", name, p.Name, end)
				}
			}
		}
	}
	assert.Greater(t, seen, 8)
}

// A wrap of a coped end, taken by its words and folded back round its tube, brings the wall
// to the round member that it goes round: straight through it no place lies in that one, and
// one touches. The arm is 60.3 mm round, the tie a tube of 40 by 4.
func TestCopedWrapsFoldedBackTouchAllRound(t *testing.T) {
	a := mountsBuild(t, "coped_members")
	cs, _, err := Cutouts(a, "")
	require.NoError(t, err)
	for i := range a.Brackets {
		b := &a.Brackets[i]
		if b.Members == nil {
			continue
		}
		arm, tie := &b.Members.Solved.Parts[0].Cut, &b.Members.Solved.Parts[1].Cut
		c := named(t, cs, b.Name+"-tie-second-wrap")
		assert.Contains(t, strings.Join(c.Facts, " "), "A cope round the arm, 60.3 mm outside")
		ring, once := square(t, c), 0.0
		for _, q := range cutEdge(c) {
			once = max(once, q.X)
		}
		for _, q := range cutEdge(c) {
			u, v := around(once-q.X, 40, 40, 8)
			least := math.Inf(1)
			for step := range 21 {
				deep := 0.2 * float64(step)
				mu, mv := u, v // its corners are of 8 mm
				if math.Abs(u) > 12 {
					mu = math.Copysign(12, u)
				}
				if math.Abs(v) > 12 {
					mv = math.Copysign(12, v)
				}
				r := math.Hypot(u-mu, v-mv)
				iu, iv := mu+(u-mu)*(r-deep)/r, mv+(v-mv)*(r-deep)/r
				at := r3.Add(tie.Pad.At, r3.Add(r3.Scale(ring-q.Y, tie.Axis), r3.Add(r3.Scale(iu, tie.U), r3.Scale(iv, tie.V))))
				d := r3.Sub(at, arm.Pad.At)
				least = min(least, r3.Norm(r3.Sub(d, r3.Scale(r3.Dot(d, arm.Axis), arm.Axis)))-60.3/2)
			}
			assert.InDelta(t, 0, least, 0.1, "%s, %.1f of %.1f round", b.Name, q.X, once)
		}
	}
}

// The cut sheet lists wedges, shims and spring perches, also where there is no leg: what
// a wedge rises, and that it adds nothing to the pinion's slope.
func TestPackingIsListed(t *testing.T) {
	f, err := project.Parse("x", []byte("format = 3\nname = \"x\"\n[[packing]]\nname = \"pinion wedge\"\nkind = \"wedge\"\nlength = 100\nwidth = 60\nthickness = 4\nangle = \"2 deg\"\nthick_end = \"front\"\ncount = 2\n"+
		"[[packing]]\nname = \"left perch\"\nkind = \"spring perch\"\nlength = 100\nwidth = 60\nthickness = 20\ntube = 76\n"))
	require.NoError(t, err)
	s, err := Cuts(assess.Run(f.Build))
	require.NoError(t, err)
	text := fmt.Sprint(s.Sections)
	for _, want := range []string{"4.0 mm at its thin end and 7.5 mm at its thick end, which goes to the front; 2.00°, 2 of these", "adds nothing to it here", "its saddle to a tube of 76.0 mm", "Welding a perch"} {
		assert.Contains(t, text, want)
	}
}
