package project

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Words that contradict each other, parts of a whole that are none of it or
// more than it, and a tyre that is none.
func TestDrivelineContradictions(t *testing.T) {
	for text, want := range map[string]string{
		"[[line.rear.shaft]]\nphase = \"crossed\"\nyoke_offset = \"20 deg\"\n":  "leave one of them out",
		"[[line.rear.shaft]]\nphase = \"crossed\"\nyoke_offset = \"0 deg\"\n":   "leave one of them out",
		"[[line.rear.shaft]]\nphase = \"in phase\"\nyoke_offset = \"20 deg\"\n": "leave one of them out",
		"[[line.rear.shaft]]\nphase = \"in phase\"\nyoke_offset = \"0 deg\"\n":  "",
		"[[line.rear.shaft]]\nyoke_offset = \"20 deg\"\n":                       "",
		"[limits]\nwhirl_fraction = 0\n":                                        "above 0 and at most 1 is wanted, such as 0.7",
		"[limits]\nwhirl_fraction = 1.5\n":                                      "above 0 and at most 1",
		"[limits]\nwhirl_fraction = { value = 1.5, source = \"mine\" }\n":       "above 0 and at most 1",
		"[limits]\nwhirl_fraction = 1\n":                                        "",
		"[limits]\nscreening_use = 1.2\n":                                       "above 0 and at most 1",
		"[limits]\ntube_use = 0\n":                                              "above 0 and at most 1",
		"[line.rear]\nshare = 0\n":                                              "above 0 and at most 1",
		"[line.rear]\nshare = 1.5\n":                                            "above 0 and at most 1",
		"[line.rear]\nshare = 0.4\n":                                            "",
		"[vehicle]\ntyre = \"banana\"\n":                                        "205/55R16",
		"[vehicle]\ntyre = \"31x10.50R15\"\n":                                   "",
		"[vehicle]\ntyre = \"225/75R16\"\n":                                     "",
	} {
		_, err := Parse("test.toml", []byte("format = 3\n"+text))
		if want == "" {
			require.NoError(t, err, text)
			continue
		}
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), want, text)
	}
}
