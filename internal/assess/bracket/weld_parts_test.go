package bracket

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func mappedWeld(at, part string, carries float64) MadeWeld {
	return MadeWeld{Bracket: "left front", At: at, Part: part, Path: "weld.1.part", Begun: true, Sides: 2, Carrying: 2,
		Carries: finding.Exact(carries), AllSides: finding.Exact(carries)}
}

// A weld along the corners of a box is longer than that at its foot and does not stand in
// for it: each is looked for on the map by itself, and both have to be as long as planned.
// By hand: the foot is 2·80 across and 2·110 up, and the four corners are as long as the
// sides' edges.
func TestTheWeldsOfABoxAreToldApart(t *testing.T) {
	loads := loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})
	plain := runLegs(t, kind(t, "boxed_plate"), loads...)
	b := plain.bracketNamed("left_front")
	parts := b.WeldParts()
	require.Len(t, parts, 2)
	assert.Equal(t, []string{"foot", "corners"}, []string{parts[0].Name, parts[1].Name})
	assert.InDelta(t, 2*80+2*110, parts[0].Length, 0.5)
	assert.InDelta(t, b.Plates.Box.SeamLength(), parts[1].Length, 1e-9)
	assert.Greater(t, parts[1].Length, parts[0].Length)
	foot, corners := parts[0].Length, parts[1].Length
	for name, c := range map[string]struct {
		welds  []MadeWeld
		want   finding.Status
		says   string
		absent []string
	}{
		"both, by name":            {[]MadeWeld{mappedWeld("one", "foot", foot), mappedWeld("two", "corners", corners)}, finding.OK, "Governed by", nil},
		"both, by what they are":   {[]MadeWeld{mappedWeld("foot to rail", "", foot), mappedWeld("corner welds", "", corners)}, finding.OK, "Governed by", nil},
		"in two entries":           {[]MadeWeld{mappedWeld("foot, upper", "", foot/2), mappedWeld("foot, lower", "", foot/2), mappedWeld("seams", "", corners)}, finding.OK, "Governed by", nil},
		"corners alone":            {[]MadeWeld{mappedWeld("corner welds", "", corners)}, finding.NotKnown, `the weld "foot" of the left front bracket is not on the map`, []string{"foot"}},
		"the foot alone":           {[]MadeWeld{mappedWeld("foot to rail", "", foot)}, finding.NotKnown, `the weld "corners"`, []string{"corners"}},
		"the foot is short":        {[]MadeWeld{mappedWeld("foot", "", foot*0.9), mappedWeld("corners", "", corners)}, finding.NotKnown, "foot: 342.0 mm of 380.0 mm carry", nil},
		"the corners are short":    {[]MadeWeld{mappedWeld("foot", "", foot), mappedWeld("corners", "", corners/2)}, finding.NotKnown, "corners: ", nil},
		"one that is not said":     {[]MadeWeld{mappedWeld("bracket", "", foot+corners)}, finding.NotKnown, "weld.1.part is not in the file yet; want one of foot; corners", []string{"foot", "corners"}},
		"one that there is not":    {[]MadeWeld{mappedWeld("foot", "top", foot), mappedWeld("corners", "", corners)}, finding.NotKnown, `weld.1.part says "top"`, []string{"foot"}},
		"called by another's":      {[]MadeWeld{mappedWeld("foot", "corners", foot), mappedWeld("corners", "foot", corners)}, finding.NotKnown, "corners: ", nil},
		"a foot that is no foot's": {[]MadeWeld{mappedWeld("pad", "", foot), mappedWeld("corners", "", corners)}, finding.NotKnown, "is not said", []string{"foot"}},
	} {
		t.Run(name, func(t *testing.T) {
			r := welding(t, kind(t, "boxed_plate"), c.welds, loads...)
			f := r.Result.last(finding.BracketWelded("left_front"))
			require.Equal(t, c.want, f.Status, f.Missing)
			assert.Contains(t, f.Missing+f.Advice(), c.says)
			assert.Equal(t, c.absent, r.bracketNamed("left_front").NotMapped())
			if c.want == finding.OK {
				s := &r.bracketNamed("left_front").Strength
				assert.InDelta(t, max(s.Weld.Of.V, s.Seams.Of.V), f.Value, 1e-12, "the worse of the two")
			} else {
				assert.False(t, f.HasValue)
			}
		})
	}
}

// The sides of what is plate are held one by one: of a box by the way they look from its
// foot's middle and its corners by two ways, of a folded foot its two edges and its free
// end, of a tab both its faces and its edges. By hand, and on the other side alike.
func TestTheSidesOfPlatesAreToldApart(t *testing.T) {
	for _, c := range []struct {
		kind  string
		part  int
		sides map[string]float64
	}{
		{"boxed_plate", 0, map[string]float64{"top": 80, "bottom": 80, "front": 110, "rear": 110}},
		{"boxed_plate", 1, map[string]float64{"top front": 0, "top rear": 0, "bottom front": 0, "bottom rear": 0}},
		{"clamp_on_tab", 0, nil}, {"folded_angle_plate", 0, nil},
	} {
		text, loads := kind(t, c.kind), loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})
		if c.kind == "folded_angle_plate" { // welded in place of its bolts
			i := strings.Index(text, "[mount.left_front.bracket.bolts]")
			j := i + strings.Index(text[i:], "\n\n")
			text = text[:i] + "[mount.left_front.bracket.weld]\nsize = 4\n" + text[j:]
		}
		plain := runLegs(t, text, loads...)
		for _, mount := range []string{"left_front", "right_front"} {
			parts := plain.bracketNamed(mount).WeldParts()
			require.Greater(t, len(parts), c.part, "%s: %s", c.kind, plain.bracketNamed(mount).Why)
			p := parts[c.part]
			require.NotEmpty(t, p.Sides, c.kind)
			sum := 0.0
			for _, s := range p.Sides {
				sum += s.Length
				if want, ok := c.sides[s.Name]; assert.True(t, ok || c.sides == nil, "%s: %s", c.kind, s.Name) && want > 0 {
					assert.InDelta(t, want, s.Length, 0.5, "%s: %s", c.kind, s.Name)
				}
			}
			assert.InDelta(t, p.Length, sum, 1e-6, c.kind)
		}
		parts := plain.bracketNamed("left_front").WeldParts()
		last := func(change func(w *MadeWeld)) finding.Finding {
			var welds []MadeWeld
			for _, p := range parts {
				w := mappedWeld(p.Name, p.Name, p.Length)
				for _, s := range p.Sides {
					w.Each = append(w.Each, MadeSide{strings.ReplaceAll(s.Name, " ", "_"), s.Length})
				}
				welds = append(welds, w)
			}
			change(&welds[c.part])
			r := welding(t, text, welds, loads...)
			return r.Result.last(finding.BracketWelded("left_front"))
		}
		f := last(func(*MadeWeld) {})
		assert.True(t, f.HasValue, "%s: %s", c.kind, f.Missing)
		name := parts[c.part].Sides[1].Name
		f = last(func(w *MadeWeld) { w.Each[0].Carries += 50; w.Each[1].Carries -= 50 })
		assert.Equal(t, finding.NotKnown, f.Status, c.kind)
		assert.Contains(t, f.Missing, parts[c.part].Name+", "+name+" side: ")
		f = last(func(w *MadeWeld) { w.Each = append(w.Each[:1], w.Each[2:]...) })
		assert.Contains(t, f.Missing, "the "+name+" side of the weld")
	}
}

// Of a mount of several members each weld has a name, by member and where it ends; where
// the map names one it has to have them all.
func TestTheWeldsOfMembersHaveNames(t *testing.T) {
	loads := loadsOf(40, r3.Vec{X: 300, Y: 200, Z: -3000})
	text := kind(t, "arm_with_a_brace")
	whole := runLegs(t, text, loads...)
	parts := whole.bracketNamed("left_front").WeldParts()
	var names []string
	var all []MadeWeld
	for _, p := range parts {
		names = append(names, p.Name)
		all = append(all, mappedWeld("some weld", p.Name, p.Length))
	}
	assert.Equal(t, []string{"arm, at the rail", "brace, at the rail", "brace, on the arm", "pad plate, on the arm"}, names)
	last := func(welds []MadeWeld) (finding.Finding, []string) {
		r := welding(t, text, welds, loads...)
		return r.Result.last(finding.BracketWelded("left_front")), r.bracketNamed("left_front").NotMapped()
	}
	f, absent := last(all)
	assert.Equal(t, finding.OK, f.Status, f.Missing)
	assert.NotContains(t, strings.Join(f.Assumes, "; "), "one of its welds on the map")
	assert.Empty(t, absent)
	f, absent = last(all[:3])
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, `"pad plate, on the arm"`)
	assert.Equal(t, names[3:], absent)
	all[2].Part = "Brace on the arm"
	f, _ = last(all)
	assert.Equal(t, finding.OK, f.Status, "spelled by a person: %s", f.Missing)
}

// The weld at the pad of a leg, however long, is none at its foot.
func TestAPadsWeldIsNoneAtTheFoot(t *testing.T) {
	parts := []WeldPart{{Name: footPart, Length: 76}, {Name: padPart, Length: 76}}
	for at, want := range map[string]int{"pad plate": 1, "foot to rail": 0, "the rail": 0, "upper": -1} {
		k, why := partOf(&MadeWeld{At: at}, parts)
		assert.Equal(t, want, k, at)
		assert.Empty(t, why)
	}
}

// Each side of a weld is held against what is planned there: a long one does not stand in
// for one that is short. An arm that runs across the vehicle has its sides to the front, the
// rear, up and down, by hand 80 less two corners of 8; its perch lies along both edges of it.
func TestTheSidesOfAWeldAreToldApart(t *testing.T) {
	loads := loadsOf(40, r3.Vec{X: 300, Y: 200, Z: -3000})
	text := kind(t, "level_arm_with_perch")
	whole := runLegs(t, text, loads...)
	parts := whole.bracketNamed("left_front").WeldParts()
	require.Len(t, parts, 3)
	names := func(p WeldPart) (out []string) {
		for _, s := range p.Sides {
			out = append(out, s.Name)
		}
		return out
	}
	assert.ElementsMatch(t, []string{"top", "bottom", "front", "rear"}, names(parts[0]))
	// Its gusset of 80 by 60, 8 off its corner: both fillets along both edges.
	assert.Equal(t, "gusset of the arm", parts[2].Name)
	assert.InDelta(t, 2*(72+52), parts[2].Length, 1e-6)
	for at, want := range map[string]int{"gusset": 2, "under the gusset of the arm": 2, "arm at the rail": 0} {
		k, _ := partOf(&MadeWeld{At: at}, parts)
		assert.Equal(t, want, k, at)
	}
	assert.ElementsMatch(t, []string{"front", "rear"}, names(parts[1]))
	for _, s := range parts[0].Sides {
		assert.InDelta(t, 80-2*8, s.Length, 1e-6, s.Name)
	}
	made := func(change func(w *MadeWeld)) finding.Finding {
		var welds []MadeWeld
		for _, p := range parts {
			w := mappedWeld(p.Name, p.Name, p.Length)
			for _, s := range p.Sides {
				w.Each = append(w.Each, MadeSide{s.Name, p.Length / float64(len(p.Sides))})
			}
			welds = append(welds, w)
		}
		change(&welds[0])
		r := welding(t, text, welds, loads...)
		return r.Result.last(finding.BracketWelded("left_front"))
	}
	f := made(func(*MadeWeld) {})
	assert.Equal(t, finding.OK, f.Status, f.Missing)
	planned := whole.bracketNamed("left_front").Strength
	assert.InDelta(t, max(planned.Weld.Of.V, planned.Gusset.Of.V), f.Value, 1e-12, "the worse of the two")
	f = made(func(w *MadeWeld) { w.Each[0].Carries, w.Each[1].Carries = 30, w.Each[1].Carries+30 })
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "arm, at the rail, "+parts[0].Sides[0].Name+" side: 30.0 mm of 64.0 mm carry")
	f = made(func(w *MadeWeld) { w.Each = w.Each[1:] })
	assert.Contains(t, f.Missing, "the "+parts[0].Sides[0].Name+" side of the weld \"arm, at the rail\" is not on the map")
	for _, of := range []string{"", "gusset of the arm"} { // alone, a gusset's weld is not that at the foot
		r := welding(t, text, []MadeWeld{mappedWeld("gusset", of, 600)}, loads...)
		f = r.Result.last(finding.BracketWelded("left_front"))
		assert.Equal(t, finding.NotKnown, f.Status, of)
	}
	f = made(func(w *MadeWeld) { w.Each[0].Name = "outer" })
	assert.Equal(t, finding.OK, f.Status, f.Missing)
	assert.Contains(t, strings.Join(f.Assumes, "; "), `the sides of its weld "arm, at the rail" together: "outer" of the map is none of `)
}
