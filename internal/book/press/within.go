package press

import (
	"context"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/propose"
)

// How far and how finely a row is let move where it is asked how closely it has to be
// met, mm; how fine makes no difference to that.
const (
	within     = 25.0
	withinStep = 1.0
)

// closely is how closely the mounts have to be placed for all that moves with them, or
// what the file holds instead, to stay within its limits.
func closely(ctx context.Context, a *assess.Assessment) book.Closely {
	b := a.Build
	w := propose.Wanted{Hold: b.Find.Hold, Tight: b.Find.Accept == project.AcceptTight}
	for _, name := range []string{"placement.left_front", "placement.right_front", "placement.rear", "placement.setback", "placement.offset"} {
		m, err := b.MovableNamed(name)
		if err != nil {
			continue
		}
		now, err := b.Reads(m)
		if err != nil {
			return book.Closely{Why: err.Error()}
		}
		w.Moves = append(w.Moves, propose.Allowed{Of: name, From: now - within, To: now + within, Step: withinStep})
	}
	if len(w.Moves) == 0 {
		return book.Closely{Why: "the file has no placement"}
	}
	p, err := propose.New(b, w)
	if err != nil {
		return book.Closely{Why: err.Error()}
	}
	t := p.Tolerances(ctx, b)
	if t.Why != "" {
		return book.Closely{Why: t.Why}
	}
	out := book.Closely{Sure: propose.Sureness, Half: map[string]float64{}, Free: map[string]bool{}}
	for _, r := range t.Rows {
		out.Half[r.Row.Name], out.Free[r.Row.Name] = r.Half, r.Free
	}
	return out
}
