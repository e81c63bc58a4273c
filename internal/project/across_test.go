package project

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func readingAcross(head, of, ends string) (*File, error) {
	return Parse("t.toml", []byte("format = 2\n"+head+"[[reading]]\nof = \""+of+"\"\non = \"along\"\nshown = \"1 deg\"\n"+ends+"\n"))
}

// Left and right are the ends of a crankshaft across and of nothing else.
func TestEndsAcross(t *testing.T) {
	const across = "[powertrain]\nlayout = \"transaxle\"\n"
	const line = "[line.rear.pinion]\nslope = \"2 deg down to the rear\"\n"
	for _, of := range []string{"powertrain", "powertrain.across"} {
		f, err := readingAcross(across, of, "lower = \"left\"\ngauge_end = \"right\"")
		require.NoError(t, err)
		assert.Equal(t, TargetAcross, f.Build.Readings[0].Of)
		assert.Equal(t, LeftEnd, f.Build.Readings[0].Lower)
		assert.Equal(t, MarkedRear, f.Build.Readings[0].GaugeEnd, "its sense alone counts")
	}
	f, err := readingAcross(across, "powertrain", "lower = \"rear\"")
	require.NoError(t, err)
	assert.Equal(t, TargetPowertrain, f.Build.Readings[0].Of)
	for _, c := range []struct{ head, of, ends, want string }{
		{"", "powertrain", "lower = \"left\"", "left and right are the ends of a crankshaft across"},
		{across + line, "line.rear.pinion", "lower = \"right\"", "here they are front and rear"},
		{across, "powertrain.across", "lower = \"front\"", "the ends of what lies across are left and right"},
		{"[line.rear]\ntoward = \"left\"\n", "powertrain", "lower = \"front\"", "want one of: front, rear"},
	} {
		_, err := readingAcross(c.head, c.of, c.ends)
		require.ErrorContains(t, err, c.want, c.of)
	}
}

func TestEndsThatCanBeLower(t *testing.T) {
	along, across := []string{"front", "rear"}, []string{"left", "right"}
	var b Build
	assert.Equal(t, along, b.Ends(TargetPowertrain))
	b.Powertrain.Layout = Transaxle
	assert.Equal(t, append(along, across...), b.Ends(TargetPowertrain))
	assert.Equal(t, across, b.Ends(TargetAcross))
	assert.Equal(t, along, b.Ends("line.rear.pinion"))
}
