package book

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

var plateBuilds = []string{"folded_angle_plate", "folded_z_plate", "folded_u_plate", "bolted_tab"}

// foldedRows are the printed rows of a plate, by the label of each.
func foldedRows(t *testing.T, s *Sheet, head string) printed {
	t.Helper()
	rows := printed{}
	for _, part := range s.Sections {
		if !strings.HasPrefix(part.Head, head) {
			continue
		}
		for _, it := range part.Items {
			if it.Table != nil {
				for _, r := range it.Table.Rows {
					rows[r[0]] = strings.TrimSpace(r[1] + " " + r[2])
				}
			}
		}
	}
	require.NotEmpty(t, rows, head)
	return rows
}

// What the printed rows make of a strip of plate lands on the model: folded up on the
// bench by a person who reads them, one flat after the other from the free end of the
// foot, the pad's faces, its edge and its hole are within 0.1 mm and 0.02° of where the
// model has them. x runs along the bench from the foot's free end, y up off it.
func TestWordsAloneFoldThePlate(t *testing.T) {
	for _, name := range plateBuilds {
		t.Run(name, func(t *testing.T) {
			a := mountsBuild(t, name)
			sheet, err := Cuts(a)
			require.NoError(t, err)
			seen := 0
			for i := range a.Brackets {
				b := &a.Brackets[i]
				if b.Plates == nil {
					continue
				}
				seen++
				rows := foldedRows(t, &sheet, capital(b.Label)+" mount, "+string(b.Plates.Kind))
				thick := rows.cell(t, "thickness")
				x, y, way := 0.0, thick/2, 0.0 // the middle of the thickness
				walk := func(d float64) { x, y = x+d*math.Cos(way), y+d*math.Sin(way) }
				at := 0.0
				for _, n := range []string{"1", "2", "3"} {
					if _, ok := rows["bend "+n+", turned"]; !ok {
						break
					}
					radius := rows.cell(t, "inside radius") + thick/2
					turn := rows.cell(t, "bend "+n+", turned") * math.Pi / 180
					from, to := rows.cell(t, "bend "+n+", begins"), rows.cell(t, "bend "+n+", ends")
					assert.InDelta(t, rows.cell(t, "bend "+n+", line"), (from+to)/2, 0.1)
					assert.InDelta(t, 180-rows.cell(t, "bend "+n+", between flats"), turn*180/math.Pi, 0.011)
					walk(from - at)
					at = to
					chord := 2 * radius * math.Sin(turn/2)
					if strings.Contains(rows["bend "+n+", turned"], "down") {
						turn = -turn
					} else {
						require.Contains(t, rows["bend "+n+", turned"], "up")
					}
					way += turn / 2
					walk(chord)
					way += turn / 2
				}
				walk(rows.cell(t, "flat length") - at)

				// Where the model has it, on that bench: the foot's free end at 0.
				m := b.Plates
				first, last := &m.Fold.Flats[0], len(m.Fold.Flats)-1
				along, up := r3.Vec{X: first.Way.X, Y: first.Way.Y}, r3.Vec{X: -first.Way.Y, Y: first.Way.X}
				along, up = m.Fold.Pose.Dir(along), m.Fold.Pose.Dir(up)
				origin := m.Fold.At(0, 0, 0, -m.Fold.Thickness/2)
				flat := func(q r3.Vec) (float64, float64) {
					d := r3.Sub(q, origin)
					return r3.Dot(d, along), r3.Dot(d, up)
				}
				ex, ey := flat(m.Fold.At(last, m.Fold.Flats[last].Length(), 0, 0))
				assert.LessOrEqual(t, math.Hypot(ex-x, ey-y), 0.15, "%s: the pad's edge", b.Label) // along it, five rows are rounded to 0.1 mm
				n := m.Fold.Upper(last)
				cos := -math.Sin(way)*r3.Dot(n, along) + math.Cos(way)*r3.Dot(n, up)
				assert.LessOrEqual(t, math.Acos(min(1, cos))*180/math.Pi, 0.02, "%s: the pad's face", b.Label)
				// Off the pad's face, square to it, and the middle of its hole along it.
				px, py := flat(m.Pad.Point)
				back := rows.cell(t, "pad holes, from the end")
				hx, hy := x-back*math.Cos(way), y-back*math.Sin(way)
				nx, ny := -math.Sin(way), math.Cos(way)
				off := (px-hx)*nx + (py-hy)*ny
				stands := thick / 2
				if _, ok := rows["packing"]; ok {
					stands += rows.cell(t, "packing")
				}
				assert.InDelta(t, stands, math.Abs(off), 0.1, "%s: the pad's face", b.Label)
				assert.InDelta(t, 0, (px-hx)*math.Cos(way)+(py-hy)*math.Sin(way), 0.1, "%s: along the pad", b.Label)
			}
			assert.Equal(t, 2, seen)
		})
	}
}

// heldAgainstTheOther says that the cut sheet has what differs between the two sides.
func heldAgainstTheOther(t *testing.T, a *assess.Assessment, name string) {
	t.Helper()
	sheet, err := Cuts(a)
	require.NoError(t, err)
	text := ""
	for _, part := range sheet.Sections {
		text += part.Head + "\n"
	}
	assert.Contains(t, text, "Right front mount against the mirrored left front one", name)
}

// A plate has its template with outline, holes and bend lines, and stands in the book.
func TestFoldedTemplates(t *testing.T) {
	for _, name := range plateBuilds {
		a := mountsBuild(t, name)
		cuts, _, err := Cutouts(a, "left_front")
		require.NoError(t, err)
		bolted := name != "folded_u_plate" // that one is welded on
		if bolted {
			require.Len(t, cuts, 2, name)
			jigFitsTheStrip(t, &cuts[1], &cuts[0])
		} else {
			require.Len(t, cuts, 1, name)
		}
		b, _ := a.Bracket("left_front")
		assert.Len(t, cuts[0].Bends, len(b.Plates.Fold.Bends))
		assert.Len(t, cuts[0].Holes, len(b.Plates.Fold.Holes))
		box := cuts[0].box()
		assert.InDelta(t, b.Plates.Fold.Length, box.Max.Y-box.Min.Y, 1e-9)
		heldAgainstTheOther(t, a, name)
	}
}

// jigFitsTheStrip says that a jig has the holes of a strip's foot, as far from its free end.
func jigFitsTheStrip(t *testing.T, jig, strip *Cutout) {
	t.Helper()
	require.Equal(t, "left_front-rail-jig", jig.Name)
	feet := strip.Holes[:len(jig.Holes)] // those of its pad come last
	require.Less(t, len(feet), len(strip.Holes))
	end := strip.box().Min.Y
	for i, h := range jig.Holes {
		assert.InDelta(t, feet[i].At.X, h.At.X, 1e-9)
		assert.InDelta(t, feet[i].At.Y-end, h.At.Y-jig.Marks[2][0].Y, 1e-9)
		assert.InDelta(t, feet[i].Diameter, jig.Rings[i].Diameter, 1e-9)
		assert.InDelta(t, jigPilot, h.Diameter, 0)
	}
	says := strings.Join(jig.Facts, " ")
	assert.Contains(t, says, "foot's free end")
	assert.Contains(t, says, "qualified people")
}

// What the printed rows make of a boxed plate lands on the model: four plates cut to the
// printed sizes and put together as the rows say, in a frame of their own (x off the rail,
// y up, the upper plate's upper face at 0), have the pad's hole, the free ends and the
// foot within 0.1 mm of where the model has them.
func TestWordsAloneMakeTheBox(t *testing.T) {
	a := mountsBuild(t, "boxed_plate")
	sheet, err := Cuts(a)
	require.NoError(t, err)
	for _, mount := range []string{"left_front", "right_front"} {
		b, _ := a.Bracket(mount)
		rows := foldedRows(t, &sheet, capital(b.Label)+" mount, boxed plate")
		wide, thick, side := rows.cell(t, "width"), rows.cell(t, "thickness"), rows.cell(t, "side thickness")
		upper, under := rows.cell(t, "upper plate, length"), rows.cell(t, "under plate, length")
		foot, end := rows.cell(t, "side, at the foot"), rows.cell(t, "side, at the free end")
		inset := rows.cell(t, "sides set in")
		slope := rows.cell(t, "under plate, slope") * math.Pi / 180
		require.Contains(t, rows["under plate, slope"], "rises to its free end")
		// The rail's face is at x = 0; the upright faces of both builds are square to it.
		m := b.Plates.Box
		at := func(x, y, z float64) r3.Vec { return m.Pose.Point(r3.Vec{X: m.Start + x, Y: y, Z: z}) }
		near := func(want, got r3.Vec, what string) {
			assert.InDelta(t, 0, r3.Norm(r3.Sub(want, got)), 0.1, "%s: %s", mount, what)
		}
		back := rows.cell(t, "pad holes, from the end")
		near(b.Plates.Pad.Point, at(upper-back, 0, wide/2-rows.cell(t, "pad holes, from the side")), "the hole of the pad")
		assert.InDelta(t, rows.cell(t, "side, upper edge"), upper, 0.11)
		corners := m.Sheets[2].Corners(m.Sheets[2].Pose, true)
		z := wide/2 - inset
		near(corners[3], at(0, -thick, z), "a side's upper corner at the rail")
		near(corners[0], at(0, -thick-foot, z), "its lower one")
		near(corners[1], at(upper, -thick-end, z), "its lower one at the free end")
		assert.InDelta(t, side, m.Side, 0.05)
		assert.InDelta(t, (foot-end)/upper, math.Tan(slope), 0.002)
		// The one underneath lies on the sides, flush at the free end with its outer face.
		lower := m.Sheets[1].Corners(m.Sheets[1].Pose, false)
		near(lower[2], at(upper, -thick-end-thick/math.Cos(slope), wide/2), "the lower plate at its free end")
		assert.InDelta(t, upper/math.Cos(slope)-thick*math.Tan(slope), under, 0.15)
	}
}

// Boxes and tabs have a template of each plate, true to size, and stand in the book.
func TestBoxAndTabTemplates(t *testing.T) {
	for name, want := range map[string]int{"boxed_plate": 3, "clamp_on_tab": 1} {
		a := mountsBuild(t, name)
		cuts, left, err := Cutouts(a, "left_front")
		require.NoError(t, err)
		require.Len(t, cuts, want, name)
		assert.Empty(t, left)
		b, _ := a.Bracket("left_front")
		for i, c := range cuts {
			box := c.box()
			assert.InDelta(t, b.Sheets[i].Figures.Height, box.Max.Y-box.Min.Y, 1e-9)
			assert.InDelta(t, b.Sheets[i].Figures.Width, box.Max.X-box.Min.X, 1e-9)
			assert.Len(t, c.Holes, len(b.Sheets[i].Plate.Holes))
		}
		heldAgainstTheOther(t, a, name)
	}
}

// The hollow edge of a tab that is cut from its template lies on the sleeve: every place
// of it is as far from the tube's axis as the printed radius says.
func TestWordsAloneCutTheTab(t *testing.T) {
	a := mountsBuild(t, "clamp_on_tab")
	sheet, err := Cuts(a)
	require.NoError(t, err)
	b, _ := a.Bracket("left_front")
	rows := foldedRows(t, &sheet, "Left front mount, clamp-on tab")
	radius := rows.cell(t, "clamp, bore")/2 + rows.cell(t, "clamp, wall")
	assert.Contains(t, rows["in its middle"], "hollow, "+Magnitude(quantity.Length, radius, a.Build.Units))
	cuts, _, err := Cutouts(a, "left_front")
	require.NoError(t, err)
	box := cuts[0].box()
	axis := box.Max.Y - rows.cell(t, "in its middle") - radius
	on := 0
	for _, q := range cuts[0].Edges[0] {
		if d := math.Hypot(q.X, q.Y-axis); d < radius+1 {
			assert.InDelta(t, radius, d, 0.1)
			on++
		}
	}
	assert.Greater(t, on, 20)
	assert.InDelta(t, 90, rows.cell(t, "pad off the clamp")+radius, 0.1) // of the pad off the tube's axis
	assert.InDelta(t, box.Max.Y-rows.cell(t, "pad holes, from the end"), cuts[0].Holes[0].At.Y, 0.1)
	assert.NotNil(t, b.Plates.Clip)
}

// The holes that the printed words of a plate place are those that are drilled, from its
// edges and from each other.
func TestWordsAloneDrillThePlates(t *testing.T) {
	a := mountsBuild(t, "dropped_crossmember")
	seen := 0
	for i := range a.Brackets {
		b := &a.Brackets[i]
		for _, w := range []*assess.PlateWork{b.PadPlate, b.RailPlate} {
			if w == nil || len(w.Plate.Holes) == 0 {
				continue
			}
			seen++
			line := plateLine(w, a.Build.Units)
			number := func(before, behind string) float64 {
				_, rest, found := strings.Cut(line, before)
				require.True(t, found, "%q in %q", before, line)
				rest, _, found = strings.Cut(rest, " mm"+behind)
				require.True(t, found, "%q in %q", behind, line)
				v, err := strconv.ParseFloat(rest[strings.LastIndex(rest, " ")+1:], 64)
				require.NoError(t, err)
				return v
			}
			side, low := number("outer ones ", " from either side"), number("the lowest ", " from the lower edge")
			lo, hi := w.Plate.Outline[0], w.Plate.Outline[0]
			for _, q := range w.Plate.Outline {
				lo, hi = r2.Vec{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}, r2.Vec{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
			}
			left, bottom, right := math.Inf(1), math.Inf(1), math.Inf(1)
			for _, h := range w.Plate.Holes {
				left, right, bottom = min(left, h.At.X-lo.X), min(right, hi.X-h.At.X), min(bottom, h.At.Y-lo.Y)
			}
			assert.InDelta(t, left, side, 0.06)
			assert.InDelta(t, right, side, 0.06)
			assert.InDelta(t, bottom, low, 0.06)
		}
	}
	assert.Positive(t, seen)
}

// An adapter plate is on the cut sheet and among the templates of true size: every hole of
// its figures is on the outline's drawing where they say, from its left and its lowest edge.
func TestAnAdapterIsCutAsItIsWritten(t *testing.T) {
	a := mountsBuild(t, "adapter_plate")
	sheet, err := Cuts(a)
	require.NoError(t, err)
	rows := foldedRows(t, &sheet, "Left front mount, adapter plate")
	cuts, left, err := Cutouts(a, "left_front")
	require.NoError(t, err)
	require.Empty(t, left)
	require.Len(t, cuts, 1)
	c := &cuts[0]
	box := c.box()
	assert.InDelta(t, rows.cell(t, "width"), box.Max.X-box.Min.X, 0.06)
	assert.InDelta(t, rows.cell(t, "height"), box.Max.Y-box.Min.Y, 0.06)
	require.Len(t, c.Holes, 5)
	for i := range 4 {
		n := strconv.Itoa(i + 1)
		assert.InDelta(t, rows.cell(t, "hole "+n+" from the left"), c.Holes[i].At.X-box.Min.X, 0.06)
		assert.InDelta(t, rows.cell(t, "hole "+n+" from below"), c.Holes[i].At.Y-box.Min.Y, 0.06)
	}
	assert.InDelta(t, rows.cell(t, "pad from the left"), c.Holes[4].At.X-box.Min.X, 0.06)
	require.Len(t, a.Sheets, 1)
	assert.Contains(t, strings.Join(sheetLines(&a.Sheets[0], a.Build.Units), "\n"), "left front adapter")
}
