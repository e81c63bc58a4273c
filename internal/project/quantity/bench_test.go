package quantity

import "testing"

func BenchmarkParse(b *testing.B) {
	u := Metric()
	for b.Loop() {
		if _, err := Parse(Slope, "4°24' down to the rear", u); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFormat(b *testing.B) {
	u := Metric()
	for b.Loop() {
		if Format(Slope, 0.0768, u, 1) == "" {
			b.Fatal("empty")
		}
	}
}
