package uncertain

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func benched(b *testing.B, dof float64) (Number, Number) {
	var s Sources
	var p, q []Part
	for i := range 24 {
		id, err := s.Add(Source{Label: "x", U: 1, DoF: dof})
		require.NoError(b, err)
		if i < 20 {
			p = append(p, Part{id, float64(i + 1)})
		}
		if i >= 4 {
			q = append(q, Part{id, float64(30 - i)})
		}
	}
	return s.Number(1, p...), s.Number(2, q...)
}

func BenchmarkMinus(b *testing.B) {
	p, q := benched(b, 0)
	b.ReportAllocs()
	for b.Loop() {
		p = p.Minus(q).Shift(0)
		p.terms = p.terms[:20]
	}
}

func BenchmarkSmoothOfThree(b *testing.B) {
	p, q := benched(b, 0)
	b.ReportAllocs()
	for b.Loop() {
		Smooth(1, Weighted{1, p}, Weighted{2, q}, Weighted{-3, p})
	}
}

func BenchmarkExpanded(b *testing.B) {
	p, _ := benched(b, 0)
	b.ReportAllocs()
	for b.Loop() {
		p.Expanded()
	}
}

func BenchmarkExpandedEstimated(b *testing.B) {
	p, _ := benched(b, 5)
	b.ReportAllocs()
	for b.Loop() {
		p.Expanded()
	}
}

func BenchmarkAtMost(b *testing.B) {
	p, _ := benched(b, 0)
	b.ReportAllocs()
	for b.Loop() {
		p.AtMost(3)
	}
}

func BenchmarkNorm(b *testing.B) {
	p, q := benched(b, 0)
	for name, far := range map[string]float64{"near": 0, "far": 1e4} {
		at := p.Shift(far)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Norm(at, q)
			}
		})
	}
}
