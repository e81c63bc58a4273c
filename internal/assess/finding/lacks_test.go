package finding

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPathsThatASentenceNames(t *testing.T) {
	for text, want := range map[string][]string{
		"line.rear.pinion.at is not in the file yet":                                   {"line.rear.pinion.at"},
		"not in the file yet: placement.rear, placement.setback":                       {"placement.rear", "placement.setback"},
		"line.rear.joint.2.at is not in the file yet":                                  {"line.rear.joint[1].at"},
		"line.rear.shaft[0].outside is not in the file yet, nor line.rear.suspension.": {"line.rear.shaft[0].outside", "line.rear.suspension"},
		"line.rear.ratio, and line.rear.ratio again":                                   {"line.rear.ratio"},
		"mount.rear.leg.nothing, e.g. 3.5 mm, vehicle.tyre":                            {"vehicle.tyre"},
		"no reading of the shaft yet":                                                  nil,
		"line.rear.joint.1.max is not known":                                           nil,
	} {
		require.Equal(t, want, PathsIn(text), text)
	}
	require.Nil(t, Finding{Status: OK, Missing: "vehicle.tyre"}.Lacks(), "only what is not known lacks anything")
	require.Equal(t, []string{"vehicle.tyre"}, Finding{Status: NotKnown, Missing: "vehicle.tyre"}.Lacks())
}
