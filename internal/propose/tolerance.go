package propose

import (
	"context"
	"fmt"
	"math"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Sureness is the probability with which all findings are to hold where the mounts stand
// within their tolerances.
const Sureness = 0.95

// Tolerance is how closely one row of the placement has to be met.
type Tolerance struct {
	Row  project.RowInfo
	Half float64 // ± mm; each place within it is as likely as any other
	Free bool    // the findings would allow more: it is only not looked for
}

// Tolerances are how closely the powertrain has to be placed.
type Tolerances struct {
	Rows []Tolerance
	Sure float64 // the probability with which all holds then, by exact assessments
	// Why says why there are none.
	Why string
}

// widest is how far a tolerance is looked for, mm; draws how many places are assessed to
// confirm them.
const (
	widest    = 25.0
	exactDraw = 192
)

// placed are the rows that have a tolerance: heights of the mounts, fore and aft, aside.
func toleranced() []string {
	return []string{"placement.left_front", "placement.right_front", "placement.rear", "placement.setback", "placement.offset"}
}

// Tolerances says how closely the mounts have to be placed, as they stand in b, for all
// that is demanded to stay within its limits with Sureness, whatever its own ± adds. Each
// row gets the same share of what it could take alone, by how fast the findings move
// (JCGM 100:2008, 5.1.2, errors rectangular and independent), and the whole is shrunk
// until exact assessments of places spread evenly within it (Halton's sequence) agree.
// The chances that findings are missed are added (Boole), so it is sure at least. When ctx
// ends there are none, and Why says so.
func (p *Problem) Tolerances(ctx context.Context, b *project.Build) Tolerances {
	t := tolerancing{ctx: ctx, p: p, ready: assess.Prepare(b)}
	for _, name := range toleranced() {
		m, err := b.MovableNamed(name)
		if err != nil {
			continue
		}
		now, err := b.Reads(m)
		if err != nil {
			return Tolerances{Why: err.Error()}
		}
		t.of, t.at = append(t.of, m), append(t.at, now)
	}
	sure, err := t.holds(make([]float64, len(t.of)))
	switch {
	case err != nil:
		return Tolerances{Why: err.Error()}
	case sure < Sureness:
		return Tolerances{Why: fmt.Sprintf("placed exactly all that is held holds with %.0f %% already, less than %.0f: measure or move first", 100*sure, 100*Sureness)}
	}
	alone := t.alone()
	half := make([]float64, len(alone))
	scale := 1.0
	for range 60 {
		for i := range half {
			half[i] = scale * min(alone[i], widest)
		}
		if t.missed(half) <= 1-Sureness {
			break
		}
		scale *= 0.9
	}
	for range 30 {
		if sure = t.spreadOver(half); sure >= Sureness {
			break
		}
		for i := range half {
			half[i] *= 0.9
		}
	}
	out := Tolerances{Sure: sure}
	if err := ctx.Err(); err != nil {
		return Tolerances{Why: err.Error()}
	}
	if sure < Sureness {
		return Tolerances{Why: "no tolerance was found within which all that is held holds"}
	}
	for i, m := range t.of {
		row, _ := m.Row()
		out.Rows = append(out.Rows, Tolerance{row, half[i], alone[i] >= widest && half[i] > 0.99*widest})
	}
	return out
}

// tolerancing is the working out of tolerances.
type tolerancing struct {
	ctx   context.Context
	p     *Problem
	ready *assess.Prepared
	of    []project.Movable
	at    []float64
	// margins and slopes of the demands, by the rows, and their own standard uncertainty.
	margin, u []float64
	slope     [][]float64
}

// assessed are the findings that are demanded with the rows off by so much.
func (t *tolerancing) assessed(off []float64) ([]finding.Finding, error) {
	if err := t.ctx.Err(); err != nil {
		return nil, err
	}
	var moves []project.Move
	for i, d := range off {
		if d != 0 {
			moves = append(moves, project.Move{Of: t.of[i], To: t.at[i] + d})
		}
	}
	a, err := t.ready.At(moves, t.p.quick|t.p.rest)
	if err != nil {
		return nil, err
	}
	out := make([]finding.Finding, len(t.p.demands))
	for i := range out {
		out[i].Status = finding.NotKnown
	}
	for i := range a.Findings {
		if k, ok := t.p.number[a.Findings[i].ID]; ok {
			out[k] = a.Findings[i]
		}
	}
	return out, nil
}

// holds is the probability at least with which all that is demanded holds there: none
// where one is past its limit or not known.
func (t *tolerancing) holds(off []float64) (float64, error) {
	all, err := t.assessed(off)
	if err != nil {
		return 0, err
	}
	sure := 1.0
	for i := range all {
		f := &all[i]
		if f.Status == finding.Over || f.Status == finding.NotKnown {
			return 0, nil
		}
		if in, stated := f.Within(); stated {
			sure -= 1 - in
		}
	}
	return max(sure, 0), nil
}

// alone is how far each row may be off with the others met, by how fast findings move,
// mm; infinity where none moves.
func (t *tolerancing) alone() []float64 {
	const step = 0.5
	n := len(t.p.demands)
	now, err := t.assessed(make([]float64, len(t.of)))
	out := make([]float64, len(t.of))
	if err != nil {
		return out
	}
	t.margin, t.u, t.slope = make([]float64, n), make([]float64, n), make([][]float64, n)
	for k := range now {
		t.margin[k], t.u[k], t.slope[k] = math.Inf(1), now[k].Uncertainty/2, make([]float64, len(t.of))
		if now[k].HasLimit && now[k].HasValue {
			t.margin[k] = now[k].Margin
		}
	}
	for i := range t.of {
		out[i] = math.Inf(1)
		for _, way := range []float64{-step, step} {
			off := make([]float64, len(t.of))
			off[i] = way
			then, err := t.assessed(off)
			if err != nil {
				out[i] = 0
				continue
			}
			for k := range then {
				if math.IsInf(t.margin[k], 1) || !then[k].HasValue {
					continue
				}
				fall := math.Abs(then[k].Margin-now[k].Margin) / step
				if t.slope[k][i] = max(t.slope[k][i], fall); fall > 1e-12 {
					out[i] = min(out[i], t.margin[k]/fall)
				}
			}
		}
	}
	return out
}

// missed is the chance at most that a demand is missed within these tolerances, as far
// as findings move in proportion.
func (t *tolerancing) missed(half []float64) float64 {
	sum := 0.0
	for k := range t.margin {
		if math.IsInf(t.margin[k], 1) {
			continue
		}
		variance := t.u[k] * t.u[k]
		for i, h := range half {
			variance += t.slope[k][i] * t.slope[k][i] * h * h / 3
		}
		if variance > 0 {
			sum += math.Erfc(t.margin[k]/math.Sqrt(2*variance)) / 2
		}
	}
	return sum
}

// spreadOver is the mean of holds over places spread evenly within the tolerances.
func (t *tolerancing) spreadOver(half []float64) float64 {
	sum := 0.0
	for k := 1; k <= exactDraw; k++ {
		off := make([]float64, len(half))
		for i := range off {
			off[i] = half[i] * (2*halton(k, []int{2, 3, 5, 7, 11}[i]) - 1)
		}
		if sure, err := t.holds(off); err == nil {
			sum += sure
		}
		if sum+float64(exactDraw-k) < Sureness*exactDraw {
			return 0 // it cannot be reached any more
		}
	}
	return sum / exactDraw
}

// halton is number k, from 1, of the van der Corput sequence to a base: its digits behind
// the point, turned round (Halton, Numerische Mathematik 2, 1960, from memory).
func halton(k, base int) float64 {
	out, part := 0.0, 1.0
	for ; k > 0; k /= base {
		part /= float64(base)
		out += part * float64(k%base)
	}
	return out
}

// Words says a tolerance: "rear mount ±2.5 mm". Rounded down, so that it holds.
func (t Tolerance) Words(b *project.Build) string {
	unit, parts := quantity.InUnit(t.Row.Kind, 1, b.Units), 10.0
	if unit < 0.5 { // inches
		parts = 100
	}
	v := math.Floor(quantity.InUnit(t.Row.Kind, t.Half, b.Units)*parts) / parts / unit
	text := t.Row.Label + " ±" + Amount(t.Row.Kind, v, b.Units)
	if t.Free {
		text += " and more"
	}
	return text
}
