package assess

import (
	"fitup/internal/project/example"
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// a weld stays a finish weld when the line that says which step it came from is
// gone or names another, and in a list of one's own.
func TestWeldByItsTitleWaitsForProof(t *testing.T) {
	text := string(starter.New())
	from := "id = \"weld-mounts\"\nfrom = \"weld-in\"\n"
	require.Contains(t, text, from)
	for name, now := range map[string]string{
		"from gone":    "id = \"weld-mounts\"\n",
		"from another": "id = \"weld-mounts\"\nfrom = \"make-safe\"\n",
		"nothing held": "id = \"weld-mounts\"\nneeds = []\nhold = []\n",
	} {
		j := jobNamed(t, Run(build(t, strings.Replace(text, from, now, 1))), "weld-mounts")
		assert.Equal(t, Held, j.State, name)
		assert.Contains(t, holding(j), "line.rear.joint.1.max", name)
		assert.Contains(t, holding(j), "bracket.rear.given", name)
	}
	j := jobNamed(t, Run(build(t, strings.Replace(text, from, "id = \"weld-mounts\"\n", 1))), "weld-mounts")
	assert.Contains(t, strings.Join(j.Cautions, " "), "weld", "the cautions of welding stay")
	assert.Contains(t, holding(j), "job.make-safe", "fuel and battery come first")

	own := func(title, more string) Job {
		return jobNamed(t, Run(build(t, "format = 3\n[line.rear.pinion]\n[[job]]\nid = \"w\"\ntitle = "+string(edit.Quoted(title))+"\n"+more)), "w")
	}
	for _, title := range []string{"weld", "Weld the mounts", "Finish the welds", "Grind, weld and paint it", "Drill or weld it", "Have the mounts welded", "Finish-weld the legs"} {
		assert.Equal(t, Held, own(title, "").State, title)
	}
	for _, title := range []string{"Tack the mounts", "Tack weld the mounts", "Take fuel away from where you weld", "Prove it before any weld", "Have the welds inspected", "Buy a welder"} {
		assert.Equal(t, Open, own(title, "").State, title)
	}
	said := own("Weld the old exhaust", "finish = false\n")
	assert.Equal(t, Open, said.State)
	a := Run(build(t, "format = 3\n[[job]]\nid = \"w\"\ntitle = \"Weld the old exhaust\"\nfinish = false\n"))
	assert.Contains(t, strings.Join(a.Changed(a.Jobs[0]), " "), "waits for no proof")
}

// a proof that contradicts the model holds the weld until one of the two is put
// right, also where the list has no step that compares them.
func TestProofAgainstTheModelHoldsTheWeld(t *testing.T) {
	f := provedDemo(t)
	before := jobNamed(t, Run(f.Build), "prove-angles")
	assert.NotContains(t, holding(before), "line.rear.pinion.agree")
	g := apply(t, f, edit.Edit{Op: edit.OpSet, Path: "line.rear.pinion.slope", Text: "\"8 deg down to the rear\""})
	a := Run(g.Build)
	assert.Contains(t, holding(jobNamed(t, a, "prove-angles")), "line.rear.pinion.agree")
	assert.Contains(t, holding(jobNamed(t, a, "weld-mounts")), "job.prove-angles")
}

// what was read of a line's own axes keeps its proof wanted, whatever the
// layout is called.
func TestReadShaftWantsProofInATransaxle(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "\n[powertrain]\nlayout = \"transaxle\"\n"
	b := build(t, text)
	require.Equal(t, project.Transaxle, b.Powertrain.Layout)
	assert.Contains(t, b.Proof(), "line.*.joint.*.max@proved")
}
