package edit

import (
	"os"
	"testing"
	"time"

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

// jobsText is the large build with every step of the built-in list.
func jobsText(t testing.TB) string {
	f := parse(t, grown.Large())
	e, _, err := AddJobs(f)
	require.NoError(t, err)
	f, err = Apply(f, e)
	require.NoError(t, err)
	return f.Doc().Text()
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
	{"all jobs", jobsText},
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

// BenchmarkApply is one edit of each kind, made on the same build every time.
func BenchmarkApply(b *testing.B) {
	set := func(path, text string) func(*project.File) []Edit {
		return func(*project.File) []Edit { return []Edit{{Op: OpSet, Path: path, Text: text}} }
	}
	for _, c := range []struct {
		name  string
		edits func(*project.File) []Edit
	}{
		{"nudge", set("placement.rear", "-289.0")},
		{"longer value", set("placement.rear", "-289.125")},
		{"value of a reading", set("reading[2].shown", `"85.11 deg"`)},
		{"point of a mount", set("mount.left_front.leg.foot", "[1, 2, 3]")},
		{"title of a job", set("job[3].title", `"weld it"`)},
		{"limit", set("limits.joint_max", `"2.5 deg"`)},
		{"new key", set("vehicle.driven_km", "12")},
		{"tick", func(f *project.File) []Edit {
			return TickJob(f, len(f.Build.Jobs)-1, Tick{Day: time.Date(2026, 5, 14, 0, 0, 0, 0, time.UTC), Place: true, Relied: []project.Relied{{Finding: "x", Status: "ok"}}})
		}},
		{"reading added", func(f *project.File) []Edit {
			e, err := AddReading(f, TypedReading{Of: "powertrain", On: project.SquareFace, Shown: "85 deg", Lower: project.RearEnd}, time.Time{})
			require.NoError(b, err)
			return []Edit{e}
		}},
		{"reading taken out", func(*project.File) []Edit { return []Edit{{Op: OpRemove, Path: "reading[2]"}} }},
	} {
		for _, s := range sizes {
			b.Run(c.name+"/"+s.name, func(b *testing.B) {
				f := parse(b, s.text(b))
				edits := c.edits(f)
				b.ReportAllocs()
				for b.Loop() {
					if _, err := Apply(f, edits...); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
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
