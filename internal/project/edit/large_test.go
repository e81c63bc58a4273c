package edit

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/require"
)

// demoText is the demo build.
func demoText(t testing.TB) string {
	src, err := os.ReadFile("../starter/demo.toml")
	require.NoError(t, err)
	return string(src)
}

// excerpt is what stands in s from one text up to another.
func excerpt(t testing.TB, s, from, end string) string {
	i := strings.Index(s, from)
	require.GreaterOrEqual(t, i, 0, from)
	n := strings.Index(s[i:], end)
	require.Greater(t, n, 0, end)
	return s[i : i+n]
}

var shown = regexp.MustCompile(`shown = "[^"]*"`)

// largeText is the demo grown to so many lines, mounts on brackets and readings,
// all copies of its own: the numbers mean nothing.
func largeText(t testing.TB, lines, mounts, readings int) string {
	src := demoText(t)
	line := excerpt(t, src, "[line.rear]", "\n[gauge]")
	leg := excerpt(t, src, "[mount.left_front]\n", "\n[mount.right_front]\n")
	reading := excerpt(t, src, "[[reading]]\nof = \"powertrain\"", "\n[[reading]]")
	var more strings.Builder
	for i := 1; i < lines; i++ {
		more.WriteString("\n" + strings.ReplaceAll(line, "line.rear", fmt.Sprintf("line.r%d", i)))
	}
	src = strings.Replace(src, line, line+more.String(), 1)
	more.Reset()
	for i := 2; i < mounts; i++ {
		one := strings.ReplaceAll(leg, "left_front", fmt.Sprintf("m%d", i))
		head := fmt.Sprintf("[mount.m%d]\n", i)
		more.WriteString("\n" + strings.Replace(one, head, fmt.Sprintf("%sat = [%d, -250, -60]\n", head, 500+20*i), 1) + "\n")
	}
	src = strings.Replace(src, "\n[mount.rear]\n", more.String()+"\n[mount.rear]\n", 1)
	more.Reset()
	for i := 3; i < readings; i++ {
		more.WriteString("\n" + shown.ReplaceAllString(reading, fmt.Sprintf(`shown = "%.2f deg"`, 85.6+0.01*float64(i%10))) + "\n")
	}
	return strings.Replace(src, "\n[limits]\n", more.String()+"\n[limits]\n", 1)
}

// partsText is the demo with n pieces more on its powertrain.
func partsText(t testing.TB, n int) string {
	var more strings.Builder
	for i := range n {
		fmt.Fprintf(&more, "\n[[powertrain.part]]\nname = \"piece %d\"\nfrom = [%d, -40, 10]\nto = [%d, 40, 60]\n", i, i, i+5)
	}
	return demoText(t) + more.String()
}

func TestGrownBuildsAreWhatTheyAreFor(t *testing.T) {
	f := parse(t, largeText(t, 12, 40, 300))
	require.Len(t, f.Build.Lines, 12)
	require.Len(t, f.Build.Mounts, 41)
	require.GreaterOrEqual(t, len(f.Build.Readings), 300)
	p := parse(t, partsText(t, 400))
	require.GreaterOrEqual(t, len(p.Build.Powertrain.Parts), 400)
}

// sizes are the builds that loading and editing are measured on.
var sizes = []struct {
	name string
	text func(testing.TB) string
}{
	{"demo", demoText},
	{"large", func(t testing.TB) string { return largeText(t, 12, 40, 300) }},
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
	f := parse(b, partsText(b, 400))
	for b.Loop() {
		for _, p := range f.Paths() {
			f.Text(f.Resolve(p))
		}
	}
}
