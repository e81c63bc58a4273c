package tomltext

import (
	"fmt"
	"strings"
	"testing"
)

// tenKilobytes is a text of about the size of a full build.
func tenKilobytes() []byte {
	var b strings.Builder
	b.WriteString("# workshop build\nname = \"bench\"\n\n[line.rear]\n")
	for i := 0; b.Len() < 10<<10; i++ {
		fmt.Fprintf(&b, "\n# reading %d\n[[reading]]\nshown    = \"%d.4 deg\" # digital gauge\non       = 'pinion flange'\n"+
			"at       = [ %d.5, -12.25, 400 ]\nlower    = { end = \"rear\", sure = true }\n[reading.taken]\non.date  = 2024-05-31\n", i, i, i)
	}
	return []byte(b.String())
}

func BenchmarkParse10KB(b *testing.B) {
	src := tenKilobytes()
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse("bench.toml", src); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBuild10KB(b *testing.B) {
	d := &Doc{text: string(tenKilobytes())}
	b.ReportAllocs()
	for b.Loop() {
		c := &Doc{text: d.text}
		if err := c.build(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSet10KB(b *testing.B) {
	d, err := Parse("bench.toml", tenKilobytes())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := d.Set("reading[20].at[1]", "-13.5"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReread10KB(b *testing.B) {
	d, err := Parse("bench.toml", tenKilobytes())
	if err != nil {
		b.Fatal(err)
	}
	src := []byte(strings.Replace(d.text, "20.5", "20.75", 1))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := d.Reread(src); err != nil {
			b.Fatal(err)
		}
	}
}
