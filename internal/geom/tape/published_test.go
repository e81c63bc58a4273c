package tape

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/spatial/r3"
)

var (
	plan  = [3]bool{true, true, false}
	space = [3]bool{true, true, true}
	none  [3]bool
)

func known(x, y, z float64) Point { return Point{Name: "known", At: r3.Vec{X: x, Y: y, Z: z}} }

func solved(t *testing.T, n *Net) *Fit {
	t.Helper()
	f, err := Solve(t.Context(), n.Problem())
	require.NoError(t, err)
	sum := 0.0
	for _, e := range f.Each {
		sum += e.Redundancy
	}
	assert.InDelta(t, float64(f.DoF), sum, 1e-6, "redundancies add up to the degrees of freedom")
	minimised(t, n.Problem(), f)
	return f
}

// minimised holds a fit against what a general minimiser (BFGS) makes of the same
// sum of squares, from nearby: to a hundred-thousandth of the unit.
func minimised(t *testing.T, p Problem, f *Fit) {
	t.Helper()
	unit := math.Inf(1)
	for _, o := range p.Observations {
		unit = min(unit, o.Sigma)
	}
	at := func(d []float64) []float64 {
		x := make([]float64, len(d))
		for j := range d {
			x[j] = p.Start[j] + unit*d[j]
		}
		return x
	}
	sum := func(d []float64) float64 {
		total := p.square(at(d))
		for _, h := range p.Hold { // a free network moves at no cost but this one
			v := 0.0
			for j := range h {
				v += h[j] * d[j]
			}
			total += v * v
		}
		return total
	}
	slope := func(g, d []float64) {
		clear(g)
		x := at(d)
		for _, o := range p.Observations {
			l := (o.Of.At(x) - o.Value) / (o.Sigma * o.Sigma)
			o.Of.Partials(x, func(j int, v float64) { g[j] += 2 * l * v * unit })
		}
		for _, h := range p.Hold {
			v := 0.0
			for j := range h {
				v += h[j] * d[j]
			}
			for j := range h {
				g[j] += 2 * v * h[j]
			}
		}
	}
	start := make([]float64, len(p.Start))
	for j := range start { // near, so that the same of several answers is found
		start[j] = (f.X[j]-p.Start[j])/unit + 0.3*math.Sin(float64(j))
	}
	r, err := optimize.Minimize(optimize.Problem{Func: sum, Grad: slope}, start,
		&optimize.Settings{GradientThreshold: 1e-12, MajorIterations: 50000, Converger: optimize.NeverTerminate{}}, &optimize.BFGS{})
	if r == nil {
		t.Fatal(err)
	}
	for j, x := range at(r.X) {
		assert.InDelta(t, x, f.X[j], 1e-5, "a general minimiser, unknown %d", j)
	}
}

func near(t *testing.T, want, got, tolerance float64, what string) {
	t.Helper()
	assert.InDelta(t, want, got, tolerance, what)
}

func unit(t *testing.T, f *Fit) float64 {
	t.Helper()
	s, ok := f.UnitSigma()
	require.True(t, ok)
	return s
}

// Ghilani and Wolf, Adjustment Computations, example 14.2 (data seen, values
// recomputed independently).
func TestGhilani142(t *testing.T) {
	net := func(start r3.Vec) (*Net, int) {
		n := &Net{}
		u := n.Add(Point{Name: "U", At: start, Free: plan})
		for _, k := range []struct{ x, y, d float64 }{
			{865.40, 4527.15, 6049.00}, {2432.55, 2047.25, 4736.83}, {2865.22, 27.15, 5446.49},
		} {
			n.Distance("to a known point", n.Add(known(k.x, k.y, 0)), u, k.d, 1)
		}
		return n, u
	}
	n, u := net(r3.Vec{X: 6800, Y: 3700})
	f := solved(t, n)
	near(t, 6861.31679, f.X[n.Unknown(u, 0)], 1e-4, "X")
	near(t, 3727.81857, f.X[n.Unknown(u, 1)], 1e-4, "Y")
	for i, v := range []float64{-0.037373, 0.076793, -0.047366} {
		near(t, v, f.Each[i].V, 1e-5, "v"+strconv.Itoa(i))
	}
	s0 := unit(t, f)
	near(t, 0.097659, s0, 1e-5, "S0")
	near(t, 0.077526, f.Sigma(0)*s0, 1e-5, "Sx")
	near(t, 0.154249, f.Sigma(1)*s0, 1e-5, "Sy")

	n, _ = net(r3.Vec{X: -2300, Y: -400}) // on the wrong side of the base line
	f = solved(t, n)
	near(t, -2237.91, f.X[0], 0.01, "mirror X")
	near(t, -367.62, f.X[1], 0.01, "mirror Y")
	near(t, 666, unit(t, f), 0.5, "and S0 tells")
}

// A quadrilateral with both diagonals (two solvers agreed).
func TestQuadrilateral(t *testing.T) {
	n := &Net{}
	a := n.Add(known(0, 0, 0))
	b := n.Add(Point{Name: "B", At: r3.Vec{X: 700}, Free: [3]bool{true, false, false}})
	c := n.Add(Point{Name: "C", At: r3.Vec{X: 700, Y: 2500}, Free: plan})
	d := n.Add(Point{Name: "D", At: r3.Vec{Y: 2500}, Free: plan})
	for _, m := range []struct {
		name string
		i, j int
		d    float64
	}{{"AB", a, b, 700}, {"BC", b, c, 2501}, {"CD", c, d, 701.5}, {"DA", d, a, 2499}, {"AC", a, c, 2597.5}, {"BD", b, d, 2593}} {
		n.Distance(m.name, m.i, m.j, m.d, 1)
	}
	f := solved(t, n)
	for i, want := range []float64{699.85112, 705.37486, 2500.46354, 4.02627, 2498.46597} {
		near(t, want, f.X[i], 1e-4, "coordinate")
	}
	for i, v := range []float64{-0.14888, -0.53036, -0.14856, -0.53079, 0.55150, 0.55055} {
		near(t, v, f.Each[i].V, 1e-4, "residual")
	}
	near(t, 1.102046, unit(t, f), 1e-5, "S0")
	assert.Equal(t, 1, f.DoF)
	for i := range f.Each {
		near(t, math.Abs(f.Each[0].W), math.Abs(f.Each[i].W), 1e-6, "one degree of freedom tells nothing")
		near(t, 1, math.Abs(f.Alike(0, i)), 1e-6, "all alike")
	}
	assert.Less(t, f.Each[0].Redundancy, 0.05, "a short side is hardly checked")
	assert.Greater(t, f.Each[0].Detectable, 4*shift/math.Sqrt(6))
}

// Wolf's four distances in space, from Krumm's collection (seen as a test set).
func TestWolfInSpace(t *testing.T) {
	n := &Net{}
	p := n.Add(Point{Name: "P", At: r3.Vec{X: 880, Y: 920, Z: 1280}, Free: space})
	for i, at := range [][3]float64{{1200, 900, 900}, {900, 600, 900}, {600, 900, 900}, {900, 1200, 900}} {
		n.Distance(strconv.Itoa(i+1), n.Add(known(at[0], at[1], at[2])), p, 499.99+0.01*float64(i), 0.01)
	}
	f := solved(t, n)
	for i, want := range []float64{900.01667, 899.98333, 1300.00625} {
		near(t, want, f.X[i], 1e-5, "P")
	}
	for i, want := range []float64{0.01179, 0.01179, 0.00625} {
		near(t, want, f.Sigma(i), 1e-5, "its standard deviation")
	}
	for i, e := range f.Each {
		near(t, 0.005, math.Abs(e.V), 1e-5, "v"+strconv.Itoa(i))
		near(t, 0.25, e.Redundancy, 1e-3, "r")
	}
	near(t, 1.0, unit(t, f), 1e-3, "S0")
}

type blankenbach struct {
	name    string
	x, y, z float64
	d       float64
}

var blankenbachWillert = []blankenbach{
	{"51", -8.62, 27.42, 10.29, 8.20}, {"37", -4.95, 27.30, 10.04, 3.85}, {"31", -4.85, 20.69, 10.51, 4.35},
	{"102", .52, 22.59, 9.77, 3.51}, {"331", -6.12, 25.48, 10.92, 3.98}, {"35", .45, 27.39, 10.75, 4.37},
	{"103", .61, 17.19, 9.71, 8.17}, {"101", -7.88, 22.45, 10.16, 5.73},
}

func blankenbachNet(without ...string) *Net {
	n := &Net{}
	p := n.Add(Point{Name: "P", At: r3.Vec{X: -2.59, Y: 24.22, Z: 9.62}, Free: space})
	for _, m := range blankenbachWillert {
		skip := false
		for _, w := range without {
			skip = skip || w == m.name
		}
		if !skip {
			n.Distance(m.name, n.Add(known(m.x, m.y, m.z)), p, m.d, 0.05)
		}
	}
	return n
}

// Blankenbach and Willert's point in space with two blunders (seen as a test
// set): the largest w names the first, and with it gone the second.
func TestBlankenbachWillert(t *testing.T) {
	largest := func(n *Net, f *Fit) (string, float64) {
		best := 0
		for i, e := range f.Each {
			if math.Abs(e.W) > math.Abs(f.Each[best].W) {
				best = i
			}
		}
		return n.Problem().Observations[best].Name, math.Abs(f.Each[best].W)
	}
	n := blankenbachNet()
	f := solved(t, n)
	for i, want := range []float64{-2.3042, 24.3101, 9.5248} {
		near(t, want, f.X[i], 1e-3, "all")
	}
	near(t, 11.5825, unit(t, f), 1e-3, "S0")
	name, w := largest(n, f)
	assert.Equal(t, "51", name)
	near(t, 25.09, w, 0.01, "w")

	n = blankenbachNet("51")
	name, w = largest(n, solved(t, n))
	assert.Equal(t, "103", name)
	near(t, 6.35, w, 0.01, "w")

	f = solved(t, blankenbachNet("51", "103"))
	for i, want := range []float64{-2.50775, 24.32022, 9.77532} {
		near(t, want, f.X[i], 1e-5, "both gone")
	}
	near(t, .61290, unit(t, f), 1e-4, "S0")
}

// Strang and Borre's free network (seen as a test set): as near to the start as
// can be.
func TestStrangBorreFree(t *testing.T) {
	n := &Net{}
	p := n.Add(Point{Name: "P", At: r3.Vec{X: 170.71, Y: 170.71}, Free: plan})
	p1 := n.Add(Point{Name: "1", At: r3.Vec{X: 170.71, Y: 270.71}, Free: plan})
	p2 := n.Add(Point{Name: "2", At: r3.Vec{X: 100, Y: 100}, Free: plan})
	p3 := n.Add(Point{Name: "3", At: r3.Vec{X: 241.42, Y: 100}, Free: plan})
	for _, m := range []struct {
		i, j int
		d    float64
	}{{p1, p, 100.01}, {p2, p, 100.02}, {p3, p, 100.03}, {p1, p2, 184.785}, {p2, p3, 141.44}, {p1, p3, 184.805}} {
		n.Distance("tape", m.i, m.j, m.d, 1)
	}
	_, err := Solve(t.Context(), n.Problem())
	var loose *LooseError
	require.ErrorAs(t, err, &loose, "without a datum it floats")
	assert.Len(t, loose.Unknowns, 8)

	require.NoError(t, n.HoldFree([3]bool{true, true, false}, [3]bool{false, false, true}))
	f := solved(t, n)
	for i, want := range []float64{170.71227, 170.71853, 170.70320, 270.72133, 99.99121, 99.99714, 241.43332, 99.98300} {
		near(t, want, f.X[i], 1e-5, "coordinate")
	}
	near(t, .0117636, unit(t, f), 1e-6, "S0")
	for i, want := range []float64{.374, .187, .187, .110, .032, .110} {
		near(t, want, f.Each[i].Redundancy, 6e-4, "r")
	}
}

// Ghilani, example 14.5, feet (seen as a test set).
func TestGhilani145(t *testing.T) {
	n := &Net{}
	badger, bucky := n.Add(known(2410000, 390000, 0)), n.Add(known(2411820, 386881.222, 0))
	w := n.Add(Point{Name: "W", At: r3.Vec{X: 2415776, Y: 391043}, Free: plan})
	c := n.Add(Point{Name: "C", At: r3.Vec{X: 2416898, Y: 387602}, Free: plan})
	for _, m := range []struct {
		i, j int
		d    float64
	}{{badger, w, 5870.302}, {badger, c, 7297.588}, {w, c, 3616.434}, {w, bucky, 5742.878}, {c, bucky, 5123.760}} {
		n.Distance("line", m.i, m.j, m.d, 1)
	}
	f := solved(t, n)
	for i, want := range []float64{2415776.9044, 391043.2945, 2416892.6955, 387603.2551} {
		near(t, want, f.X[i], 1e-3, "coordinate")
	}
	for i, v := range []float64{.0547, -.0790, .0368, -.0616, .0639} {
		near(t, v, f.Each[i].V, 1e-4, "v")
	}
	near(t, .13591, unit(t, f), 1e-4, "S0")
}
