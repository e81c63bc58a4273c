package sheet_test

import (
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/grown"
	"fitup/internal/project/sheet"

	"github.com/stretchr/testify/require"
)

// The sheet of a large build, made anew and after an edit of one value.
func BenchmarkSheet(b *testing.B) {
	large := grown.Large()
	parsed := func(text string) *project.File {
		f, err := project.Parse("large", []byte(text))
		require.NoError(b, err)
		return f
	}
	f, g := parsed(large), parsed(strings.Replace(large, "rear = -289.5", "rear = -290", 1))
	b.Run("anew", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			sheet.Of(f)
		}
	})
	b.Run("after an edit", func(b *testing.B) {
		was := sheet.Of(f)
		b.ReportAllocs()
		for b.Loop() {
			sheet.After(was, g)
		}
	})
}
