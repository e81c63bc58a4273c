package section

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A name that the table does not have is most often one with a word too few or
// too many: the sizes say which was meant.
func TestSectionsAreOfferedByTheirSizes(t *testing.T) {
	for name, want := range map[string][]string{
		"50x50x4":         {"SHS 50x50x4 cold", "SHS 50x50x4 hot"},
		"shs 50 × 50 × 4": {"SHS 50x50x4 cold", "SHS 50x50x4 hot"},
		"CHS 48.3x3 cold": {"CHS 48.3x3"},
		"box 2x2x1/8":     {"HSS 2x2x1/8"},
		"50x50x4.2":       nil,
		"50":              nil, // one size is none
		"foo":             nil,
		"":                nil,
	} {
		assert.Equal(t, want, OfSizes(name), name)
	}
	_, err := Find("leg", "SHS 50x50x4")
	assert.ErrorContains(t, err, "did you mean SHS 50x50x4 cold or SHS 50x50x4 hot?")
	_, err = Find("leg", "SHS 50x50x9")
	assert.ErrorContains(t, err, "nearest are")
}
