package assess

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Steps that are taken side by side say what they say one after the other.
func TestAbreastSaysWhatOneAfterTheOtherSays(t *testing.T) {
	all := builds(t)
	for _, name := range someOf(t, all, 6) {
		p := Prepare(all[name])
		a := p.at(p.Build, Everything)
		a.restate()
		a.welds()
		a.jobs()
		assert.Equal(t, saidBy(a), saidBy(p.run(p.Build)), name)
	}
}
