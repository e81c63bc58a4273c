package edit

import (
	"os"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/grown"

	"github.com/stretchr/testify/require"
)

// demoText is the demo build.
func demoText(t testing.TB) string {
	src, err := os.ReadFile("../starter/demo.toml")
	require.NoError(t, err)
	return string(src)
}

func TestGrownBuildsAreWhatTheyAreFor(t *testing.T) {
	f := parse(t, grown.Large())
	require.Len(t, f.Build.Lines, 12)
	require.Len(t, f.Build.Mounts, 41)
	require.GreaterOrEqual(t, len(f.Build.Readings), 300)
	p := parse(t, grown.Parts(400))
	require.GreaterOrEqual(t, len(p.Build.Powertrain.Parts), 400)
}

// sizes are the builds that loading and editing are measured on.
var sizes = []struct {
	name string
	text func(testing.TB) string
}{
	{"demo", demoText},
	{"large", func(testing.TB) string { return grown.Large() }},
}

func BenchmarkLoad(b *testing.B) {
	for _, s := range sizes {
		b.Run(s.name, func(b *testing.B) {
			src := []byte(s.text(b))
			b.SetBytes(int64(len(src)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := project.Parse("b.toml", src); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkBind is text to Build without reading the text.
func BenchmarkBind(b *testing.B) {
	for _, s := range sizes {
		b.Run(s.name, func(b *testing.B) {
			f := parse(b, s.text(b))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := f.With(f.Doc()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkSetValue is one value set, read back and bound.
func BenchmarkSetValue(b *testing.B) {
	for _, s := range sizes {
		b.Run(s.name, func(b *testing.B) {
			f := parse(b, s.text(b))
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				e, err := SetValue(f, "placement.rear", 50+float64(i%2))
				if err != nil {
					b.Fatal(err)
				}
				if f, err = Apply(f, e); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkPaths lists every value of a build with many pieces and looks each up.
func BenchmarkPaths(b *testing.B) {
	f := parse(b, grown.Parts(400))
	for b.Loop() {
		for _, p := range f.Paths() {
			f.Text(f.Resolve(p))
		}
	}
}
