package frame

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// ladder is a mount of n members: an arm in pieces with a brace after every second.
func ladder(n int) Frame {
	f := Frame{Nodes: []Node{{Held: Welded}}}
	add := func(a, b int) {
		f.Members = append(f.Members, Member{Ends: [2]int{a, b}, Section: shs(), Material: steel})
	}
	last := 0
	for len(f.Members) < n {
		f.Nodes = append(f.Nodes, Node{At: r3.Vec{Y: 80 * float64(len(f.Members)+1)}})
		add(last, len(f.Nodes)-1)
		last = len(f.Nodes) - 1
		if len(f.Members)%3 == 2 && len(f.Members) < n {
			f.Nodes = append(f.Nodes, Node{At: r3.Vec{X: 20, Y: 80 * float64(len(f.Members)), Z: -140}, Held: Welded})
			add(len(f.Nodes)-1, last)
		}
	}
	return f
}

// Growth: by the members, as long as each meets few others near it in the list; by
// the cases.
func BenchmarkFrame(b *testing.B) {
	for _, n := range []int{4, 8, 12, 48, 192} {
		f := ladder(n)
		c := Case{Pull: r3.Vec{Z: -1}, Nodes: []NodeLoad{{Node: 1, Force: r3.Vec{X: 100, Z: -3000}}}}
		b.Run(fmt.Sprintf("prepare/%d", n), func(b *testing.B) {
			for b.Loop() {
				if _, err := Prepare(&f); err != nil {
					b.Fatal(err)
				}
			}
		})
		r := ready(b, f)
		b.Run(fmt.Sprintf("case/%d", n), func(b *testing.B) {
			for b.Loop() {
				if _, err := r.Solve(c); err != nil {
					b.Fatal(err)
				}
			}
		})
		res, _ := r.Solve(c)
		b.Run(fmt.Sprintf("worst/%d", n), func(b *testing.B) {
			for b.Loop() {
				if _, err := res.Worst(); err != nil {
					b.Fatal(err)
				}
			}
		})
		if n <= 12 {
			b.Run(fmt.Sprintf("buckling/%d", n), func(b *testing.B) {
				for b.Loop() {
					if _, err := r.Buckling(c); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// Forty mounts of eight members, twenty cases each put together from six.
func BenchmarkForty(b *testing.B) {
	f := ladder(8)
	for b.Loop() {
		for range 40 {
			r, err := Prepare(&f)
			if err != nil {
				b.Fatal(err)
			}
			units := make([]Term, 0, 6)
			for _, v := range [3]r3.Vec{{X: 1000}, {Y: 1000}, {Z: 1000}} {
				for _, l := range [2]NodeLoad{{Node: 1, Force: v}, {Node: 1, Moment: v}} {
					res, err := r.Solve(Case{Nodes: []NodeLoad{l}})
					if err != nil {
						b.Fatal(err)
					}
					units = append(units, Term{res, 1})
				}
			}
			for k := range 20 {
				units[2].Times = float64(k)
				sum, err := r.Sum("gear", units...)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := sum.Worst(); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
}
