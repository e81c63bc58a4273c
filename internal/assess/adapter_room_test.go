package assess

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stiff are the rates of all mounts of that engine.
const stiff = " = 4e6"

// adapted is the assessment of that engine, with replacements.
func adapted(t *testing.T, edits ...string) *Assessment {
	t.Helper()
	text := example.Adapted
	for i := 0; i < len(edits); i += 2 {
		require.Contains(t, text, edits[i])
		n := 1
		if edits[i] == stiff {
			n = -1
		}
		text = strings.Replace(text, edits[i], edits[i+1], n)
	}
	return Run(file(t, text).Build)
}

func found(t *testing.T, a *Assessment, id string) Finding {
	t.Helper()
	f, ok := a.Finding(id)
	require.True(t, ok, id)
	return f
}

// An adapter plate takes room as any piece of the powertrain. By hand: its front edge is 22
// before the bosses at −40, 260 in the vehicle is 0 in the powertrain, and the line's middle
// at 150 and level with the plate: 260 − 62 − 150 − 4 mm.
func TestAnAdapterTakesRoom(t *testing.T) {
	a := adapted(t)
	f := found(t, a, "clearance.fuel_line")
	assert.InDelta(t, 44, f.Value, 1e-6)
	assert.Contains(t, f.Advice(), "left front adapter")
	rocked := found(t, a, "clearance.fuel_line.rocked")
	assert.InDelta(t, 44, rocked.Value, 0.05, "it hardly gives")
	beside := []string{"from = [150, -300, 31]", "from = [198, -300, 5]", "to = [150, -140, 31]", "to = [198, -140, 5]"}
	built := found(t, adapted(t, beside...), "clearance.fuel_line").Value
	soft := found(t, adapted(t, append(beside, stiff, " = 300")...), "clearance.fuel_line.rocked")
	assert.Less(t, soft.Value, built-2, "it goes with the powertrain")
	assert.Equal(t, finding.Over, found(t, adapted(t, "[150, -140, 31]", "[230, -140, 31]"), "clearance.fuel_line").Status)

	// Without the plate the block is next: 260 − 150 − 4 mm.
	i, j := strings.Index(example.Adapted, "[mount.left_front.adapter]"), strings.Index(example.Adapted, "[mount.left_front.bracket]")
	bare := Run(file(t, strings.Replace(example.Adapted[:i]+example.Adapted[j:], "left_front = 28", "left_front = 40", 1)).Build)
	assert.Greater(t, found(t, bare, "clearance.fuel_line").Value, 100.0)
	_, ok := bare.Finding("adapter.left_front.room")
	assert.False(t, ok)

	// What of it is not known leaves the room not known.
	f = found(t, adapted(t, "edge = 22\n", ""), "clearance.fuel_line")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "mount.left_front.adapter.edge is not in the file yet")
	f = found(t, adapted(t, "thread = \"M10\"\n", ""), "clearance.fuel_line")
	assert.Contains(t, strings.Join(f.Assumes, "; "), "the heads of the left front adapter's bolts are not in it")
}

// The heads of its bolts, 12 mm of M10, hang over the pad plate of its own bracket, which is
// 40 mm below the plate.
func TestAnAdapterClearsItsBracket(t *testing.T) {
	f := found(t, adapted(t), "adapter.left_front.room")
	assert.InDelta(t, 28, f.Value, 0.05)
	assert.Equal(t, finding.OK, f.Status, f.Missing)
	assert.Contains(t, f.Advice(), "left front bracket")
	soft := found(t, adapted(t, stiff, " = 300"), "adapter.left_front.room")
	assert.Less(t, soft.Value, f.Value-3, "the isolator gives")
	assert.Equal(t, finding.Over, found(t, adapted(t, "standing = 40", "standing = 16"), "adapter.left_front.room").Status)

	none := found(t, adapted(t, "standing = 40\n", ""), "adapter.left_front.room")
	assert.Equal(t, finding.NotKnown, none.Status)
	assert.Contains(t, none.Missing, "mount.left_front.bracket.standing is not in the file yet")
	solid := found(t, adapted(t, "holds = \"captive\"", "holds = \"solid\"", "standing = 40\n", ""), "adapter.left_front.room")
	assert.Contains(t, strings.Join(solid.Assumes, "; "), "the room to the left front bracket, which it is bolted to, is not in it")
	back := found(t, adapted(t, "reverse = 3.8\n", ""), "adapter.left_front.room")
	assert.NotEqual(t, finding.OK, back.Status, "reverse may throw it down farther")
}
