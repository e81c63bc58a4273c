package assess

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/assembly"
	"fitup/internal/project/example"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What holds a mount is not looked at: the web of its rail, the wall of a tube under a
// clamp or a branch, what is under a foot of its own. No strength of a mount of any kind
// is called ok, or anything else, without a word on that.
func TestNoStrengthWithoutWhatIsNotJudged(t *testing.T) {
	texts := map[string]string{"demo": string(starter.Demo()), "legs": example.LegsAtPads("", "", "")}
	names, err := filepath.Glob("../../testdata/mounts/*.toml")
	require.NoError(t, err)
	for _, name := range append(names, "../../testdata/example.toml") {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		texts[filepath.Base(name)] = string(text)
	}
	texts["own foot"] = strings.Replace(texts["level_arm_with_perch.toml"], "kind = ", "foot = [260, -380, -75]\nfoot_facing = \"right\"\nkind = ", 1)
	count := map[string]int{}
	for name, text := range texts {
		a := Run(file(t, text).Build)
		for i := range a.Findings {
			f := &a.Findings[i]
			mount, of, _ := strings.Cut(strings.TrimPrefix(f.ID, "bracket."), ".")
			if !strings.HasPrefix(f.ID, "bracket.") || !f.HasValue || !strings.Contains(f.Title, "screening use of strength") || of == "pad_plate.bending" {
				continue
			}
			b, ok := a.Bracket(mount)
			require.True(t, ok, f.ID)
			says := strings.Join(f.Assumes, "; ")
			want := "whose own web and face under the foot are not judged"
			switch {
			case b.Plates != nil && b.Plates.Clip != nil:
				want = "whose wall under the clamp is not judged"
			case b.Saddle != nil:
				want = "whose wall under the leg is not judged"
			case name == "own foot":
				want = "what is under its feet is not judged"
			}
			assert.Contains(t, says, want, "%s: %s", name, f.ID)
			count[want]++
			if b.Members != nil && slices.ContainsFunc(b.Members.Solved.Parts, branches) && (of == "bending" || of == "weld" || of == "struts") {
				assert.Contains(t, says, "the wall of a member under what is welded to it: not judged", "%s: %s", name, f.ID)
				count["branch"]++
			}
			for what, want := range notJudged(&b) {
				assert.Contains(t, says, want, "%s: %s", name, f.ID)
				count[what]++
			}
			assert.NotEqual(t, finding.NotKnown, f.Status, "%s: %s", name, f.ID)
		}
	}
	for _, want := range []string{"whose own web", "whose wall under the clamp", "what is under its feet", "branch", "perch", "knee", "sleeve", "socket", "gusset", "ball"} {
		assert.Positive(t, some(count, want), want)
	}
}

// notJudged is what has to be said at every strength of a mount of members by what it is made
// of.
func notJudged(b *Bracket) map[string]string {
	out := map[string]string{}
	if b.Members == nil {
		return out
	}
	for _, p := range b.Members.Solved.Parts {
		for _, e := range p.Ends {
			switch {
			case e.Kind == assembly.Mitre:
				out["knee"] = "how their walls give way there is not judged"
			case e.Kind == assembly.Inside:
				out["socket"] = "walls of sockets and of what is in them, pressed on each other at mouth and tip: not judged"
			case e.Ball:
				out["ball"] = "pins and lugs of its ball joints: not judged"
			}
		}
		if p.Name == b.Members.Solved.Perch && p.Shape.T > 0 {
			out["perch"] = "under the pad's plate: not judged"
		}
	}
	if _, ok := b.Sleeves(); ok {
		out["sleeve"] = "the tube beside their holes: not judged"
	}
	if len(b.Members.Sheets) > 0 {
		out["gusset"] = "the wall of a member under a gusset and at its toe: not judged"
	}
	return out
}

// branches reports whether a member stands on another.
func branches(p assembly.Part) bool {
	return p.Ends[0].Kind == assembly.OnMember || p.Ends[1].Kind == assembly.OnMember
}

func some(count map[string]int, front string) (n int) {
	for k, v := range count {
		if strings.HasPrefix(k, front) {
			n += v
		}
	}
	return n
}
