package assess

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/example"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// countedEntry is an entry of a list as the program counts it, and nobody else.
var countedEntry = regexp.MustCompile(`[a-z_]\[\d+\]`)

// Whatever value is taken out of whatever build, each finding that is not known says where
// to type what it lacks, or why nothing that is typed makes it known; and no sentence
// spells an entry of a list otherwise than fitup set does.
func TestWhatIsNotKnownNamesWhatItLacks(t *testing.T) {
	t.Parallel()
	src, err := os.ReadFile("../../testdata/example.toml")
	require.NoError(t, err)
	builds := map[string]string{"example": string(src), "demo": string(starter.Demo()), "starter": string(starter.New())}
	for name, text := range example.Rare() {
		builds[name] = text
	}
	tried := 0
	for _, name := range someOf(t, builds, 2) {
		text := builds[name]
		f, err := project.Parse(name+".toml", []byte(text))
		require.NoError(t, err, name)
		look := func(f *project.File, without string) {
			for _, g := range Run(f.Build).Findings {
				for _, sentence := range []string{g.Missing, g.Title, g.Advice(), g.Source} {
					assert.NotRegexp(t, countedEntry, sentence, "%s without %s: %s", name, without, g.ID)
				}
				if g.Status != NotKnown || len(g.Lacks()) > 0 || reasoned(g) {
					continue
				}
				assert.Fail(t, "nothing says where to type what is missing", "%s without %s: %s: %s", name, without, g.ID, g.Missing)
			}
		}
		look(f, "nothing")
		for i, path := range f.Paths() {
			if !f.Has(f.Resolve(path)) || !inturn.Whole() && i%61 != len(text)%61 {
				continue
			}
			less, err := edit.Apply(f, edit.Edit{Op: edit.OpRemove, Path: f.Resolve(path)})
			if err != nil {
				continue // the file cannot be without it
			}
			tried++
			look(less, path)
		}
	}
	require.Greater(t, tried, 5)
}

// reasoned reports whether a finding waits for something other than a value: for a reading
// that is to be taken (Enter opens it), for a list that is to be begun, or for what is
// typed already to be put right.
func reasoned(f Finding) bool {
	return slices.ContainsFunc([]string{
		"no reading of", "no plumb", "read the ", "is not taped yet", "add [[measure]]", "do not fix the shape", "of any size is hidden: measure ", // to be taken
		"run into each other", "cannot be made", "meet at 90°", "not that of this weld", "what the gauge stood on", "goes on for ever", "can lift off there", // to be put right
		"not welded yet",                        // to be done
		"cannot be told", "cannot both be true", // by readings that are there
	}, func(reason string) bool { return strings.Contains(f.Missing, reason) })
}
