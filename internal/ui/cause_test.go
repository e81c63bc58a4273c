package ui

import (
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/require"
)

// to puts the cursor of the findings list on the finding of that id.
func (d *driver) to(id string) *driver {
	d.t.Helper()
	d.keys("f")
	for i, f := range worstFirst(d.m.now) {
		if f.ID == id {
			d.m.dialogs[len(d.m.dialogs)-1].(*findings).at = i
			return d.keys("enter")
		}
	}
	require.Fail(d.t, "there is no finding "+id)
	return d
}

func (d *driver) row() string {
	_, r, _ := d.m.data.Here()
	return r.Path
}

func TestFromAFindingToWhatItLacks(t *testing.T) {
	t.Parallel()
	src := `format = 3
[mount.left_front]
rate_up = 400
holds = "captive"
[mount.right_front]
rate_up = 400
holds = "captive"
[mount.rear]
rate_up = 400
holds = "captive"
`
	d := drive(t, []byte(src), 120, 36)
	places := map[string]string{"powertrain.pads.left_front": "0 -250 -60", "powertrain.pads.right_front": "0 250 -60", "powertrain.pads.rear": "1250 0 -110"}
	f, ok := d.m.now.Finding("mounts.sag")
	require.True(t, ok)
	require.Equal(t, assess.NotKnown, f.Status)
	lacks := f.Lacks()
	require.NotEmpty(t, lacks, f.Missing)
	d.to(f.ID)
	require.Equal(t, lacks[0], d.row())
	require.Contains(t, d.screen(), "Waiting for it")
	if len(lacks) > 1 {
		require.Equal(t, lacks[1], d.keys("g").row())
	}
	for range 40 {
		f, _ = d.m.now.Finding("mounts.sag")
		if f.Status != assess.NotKnown {
			break
		}
		_, r, ok := d.m.data.Here()
		require.True(t, ok)
		text := sample(r)
		if place, ok := places[r.Path]; ok {
			text = place
		}
		d.keys("enter", "ctrl+u", "text:"+text, "enter")
		if d.m.data.Typing != nil {
			require.Fail(t, d.m.data.Typing.Refused+r.Path)
		}
	}
	require.NotEqual(t, assess.NotKnown, f.Status, "each value leads on to the next until it is known: %s", f.Missing)
}

func TestAReadingThatIsMissingIsAskedFor(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 120, 36).to("line.rear.pinion.read")
	require.Contains(t, d.screen(), "pinion")
	require.IsType(t, &reading{}, d.m.dialogs[len(d.m.dialogs)-1])
}

func TestFromAFindingToWhatMovesIt(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36)
	d.to("line.rear.joint.2.max")
	box := d.m.dialogs[len(d.m.dialogs)-1].(*movers)
	require.NotEmpty(t, box.all)
	require.Contains(t, d.screen(), "rear mount, 0.50 mm")
	require.NotContains(t, d.screen(), "placement.", "nobody has to know the file's words")
	for i, x := range box.all {
		if x.of.Path() == "placement.rear" {
			box.at = i
		}
	}
	d.keys("enter")
	require.Equal(t, "placement.rear", d.row())
}

func TestAShapeHalfGivenLeadsToItsOtherEnd(t *testing.T) {
	t.Parallel()
	d := drive(t, append(starter.Demo(), "\n[[chassis]]\nname = \"brace\"\nto = [1, 2, 3]\n"...), 120, 36)
	d.to("clearance.brace")
	require.Regexp(t, `^chassis\[\d+\]\.from$`, d.row())
}
