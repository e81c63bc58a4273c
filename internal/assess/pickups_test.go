package assess

import (
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/require"
)

func pickedUp(t testing.TB, text string) *Assessment {
	t.Helper()
	f, err := project.Parse("x.toml", []byte(text))
	require.NoError(t, err)
	return Run(f.Build)
}

func TestX(t *testing.T) {
	a := pickedUp(t, example.Pickups())
	for _, f := range a.Findings {
		t.Log(f.Status, f.ID, f.Value, f.Limit, f.Missing, f.Uncertainty)
	}
	for _, v := range a.Values() {
		if len(v.Name) > 6 && v.Name[:6] == "pickup" && v.Name[len(v.Name)-5:] != "limit" {
			t.Log(v.Name, v.V, v.Known)
		}
	}
}
