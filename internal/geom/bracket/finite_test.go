package bracket

import (
	"math"
	"reflect"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// allFinite looks at every number in a result.
func allFinite(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return !math.IsNaN(v.Float()) && !math.IsInf(v.Float(), 0)
	case reflect.Struct:
		for i := range v.NumField() {
			if !allFinite(v.Field(i)) {
				return false
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if !allFinite(v.Index(i)) {
				return false
			}
		}
	}
	return true
}

func finite(t assert.TestingT, what string, result any, err error) {
	if err == nil {
		assert.True(t, allFinite(reflect.ValueOf(result)), what)
		return
	}
	assert.NotEmpty(t, err.Error())
}

// Whatever numbers come in, wild ones too, what comes out is an error or a set
// of real numbers.
func TestNothingButNumbers(t *testing.T) {
	wild := []float64{0, 1, -1, 3, 50, 1e-300, 5e-7, 1e-5, 1e5, 1e6, 1e12, -1e300, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)}
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string) float64 {
			if rapid.IntRange(0, 3).Draw(t, name+"?") > 0 {
				return rapid.Float64Range(0.5, 90).Draw(t, name)
			}
			return rapid.SampledFrom(wild).Draw(t, name)
		}
		v := func(name string) r3.Vec { return r3.Vec{X: f(name), Y: f(name), Z: f(name)} }
		a := func(name string) geom.Angle { return geom.Angle(f(name)) }
		s := section.Shape{Name: "x", Kind: section.Kind(rapid.IntRange(0, 6).Draw(t, "kind")), Corner: section.Corner(rapid.IntRange(0, 4).Draw(t, "corner")),
			B: f("B"), H: f("H"), T: f("T"), Flange: f("tf"), Root: f("r"), Taper: f("taper"), OuterRadius: f("ro"), InnerRadius: f("ri")}
		p, err := s.Properties()
		finite(t, "properties", p, err)
		m, err := p.Screen("x", section.Forces{Axial: f("N"), ShearY: f("V"), ShearZ: f("V"), MomentY: f("M"), MomentZ: f("M"), Torsion: f("T")}, f("allow"), section.TorsionBy(rapid.IntRange(0, 1).Draw(t, "by")))
		finite(t, "screen", m, err)
		tw, err := p.Twist("x", f("T"), f("l"), f("G"))
		finite(t, "twist", tw, err)
		bk, err := Buckling("x", f("E"), f("I"), f("l"), f("k"))
		finite(t, "buckling", bk, err)
		leg := Leg{"x", s, Face{v("pad"), v("pad n")}, Face{v("rail"), r3.Scale(-1, v("rail n"))}, f("plate"), f("plate"), v("axis"), v("up"), &SawLimit{a("m"), a("t")}}
		c, err := leg.Cut()
		finite(t, "leg", c, err)
		mt, err := Match("x", leg, f("centre"), Site{Face{v("pad"), v("n")}, Face{v("rail"), v("n")}, rapid.Bool().Draw(t, "mark")})
		finite(t, "match", mt, err)
		bt, err := CheckBuilt("x", leg.Pad, Face{v("built"), v("built n")}, f("len"), f("tol"), a("lean"))
		finite(t, "built", bt, err)
		tm, err := Saddle{"x", f("d"), f("wall"), f("D"), a("phi"), f("e"), Fit(rapid.IntRange(0, 3).Draw(t, "fit"))}.Template(12)
		finite(t, "saddle", tm, err)
		tm, err = PlateTemplate("x", f("d"), a("phi"), 12)
		finite(t, "plate template", tm, err)
		bl, err := Strip{"x", f("w"), f("t"), f("R"), f("K"), []float64{f("o"), f("o")}, []geom.Angle{a("bend")}, 0}.Develop()
		finite(t, "strip", bl, err)
		pl, err := Plate{Name: "x", Outline: []r2.Vec{{X: f("x"), Y: f("x")}, {X: f("x")}, {Y: f("x")}}, Holes: []Hole{{r2.Vec{X: f("x"), Y: f("x")}, f("d"), f("slot"), a("along")}}, Thickness: f("t")}.Figures()
		finite(t, "plate", pl, err)
		bolt := Bolt{"x", Thread{"", f("d"), f("p"), rapid.Bool().Draw(t, "un")}, "8.8", f("K"), f("share")}
		bc, err := bolt.Check(BoltJoint{f("V"), f("T"), 1, false, f("t"), f("fu"), f("hole"), f("e"), f("e"), f("mu")})
		finite(t, "bolt", bc, err)
		load := Load{v("F"), v("at"), v("M")}
		sh, err := BoltPattern{"x", []r2.Vec{{X: f("x"), Y: f("x")}, {X: f("x"), Y: f("x")}, {X: f("x")}}}.Share(load)
		finite(t, "pattern", sh, err)
		ws, err := WeldGroup{"x", [][]r2.Vec{{{X: f("x"), Y: f("x")}, {X: f("x")}}}, []Arc{{r2.Vec{X: f("x")}, f("r"), a("from"), a("sweep")}}, []Bow{{r2.Vec{X: f("x")}, r2.Vec{X: f("r"), Y: f("r")}, r2.Vec{Y: f("r")}, a("from"), a("sweep")}}, f("leg")}.Stress(load, WeldStrength{Throat: f("s")})
		finite(t, "weld", ws, err)
		cp, err := CutList{"x", f("kerf"), f("trim"), []Piece{{"x", f("l"), 2}}, []StockBar{{"x", f("L"), 0, f("cost"), false}}, 100}.Plan()
		finite(t, "plan", cp, err)
		wd, err := Wedge("x", f("l"), a("a"))
		finite(t, "wedge", wd, err)
	})
}
