package ui

import (
	"maps"
	"slices"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	samples "fitup/internal/project/example"
	"fitup/internal/project/sheet"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Whatever value is taken out of whatever build, each path that a finding lacks then has
// its place on the data page: its row, or the head or the free place of the table that is
// to be begun. By default one value in a few is taken out of each build.
func TestWhatIsLackedHasItsRow(t *testing.T) {
	t.Parallel()
	builds := map[string][]byte{"example": annotated(t).Bytes()}
	maps.Copy(builds, sampleBuilds())
	for name, text := range samples.Rare() {
		builds["rare "+name] = []byte(text)
	}
	tried, n := 0, 0
	seen := map[string]bool{}
	for _, name := range sortedKeys(builds) {
		f, err := project.Parse(name+".toml", builds[name])
		require.NoError(t, err, name)
		for _, path := range slices.Concat([]string{""}, f.Paths()) {
			if n++; path != "" && !inturn.Try(t, n, 200) {
				continue
			}
			less := f
			if path != "" {
				if less, err = edit.Apply(f, edit.Edit{Op: edit.OpRemove, Path: f.Resolve(path)}); err != nil {
					continue // the file cannot be without it
				}
			}
			var d *dataPage
			for _, g := range assess.Run(less.Build).Findings {
				for _, lack := range g.Lacks() {
					if key := name + lack; seen[key] {
						continue
					} else if seen[key] = true; d == nil {
						d = &dataPage{}
						d.Sheet = sheet.Of(less)
					}
					tried++
					assert.True(t, d.Go(lack) || d.goTable(lack), "%s without %q: %s lacks %s, which has no row: %s", name, path, g.ID, lack, g.Missing)
				}
			}
		}
	}
	require.Greater(t, tried, 30)
	t.Logf("%d paths are lacked", tried)
}
