package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Nothing of a text is taken for a request or an escape of roff, and what is set in stays
// as it stands.
func TestRoffIsWhatIsWritten(t *testing.T) {
	assert.Equal(t, "\\&.toml\n\\&'tis a \\-x \\e", roff(".toml\n'tis a -x \\"))
	assert.Equal(t, "one\n.PP\n.EX\n  set in\n.EE\nmore\n", roffText("one\n\n  set in\nmore"))
	assert.Equal(t, ".EX\n  last\n.EE\n", roffText("  last"))
}
