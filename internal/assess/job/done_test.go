package job

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What needs no proof is ticked up to a job; what does, and what comes behind
// it, is listed and stays open.
func TestDoneUpToHere(t *testing.T) {
	a, _ := of(t, `[powertrain]
standing = "in"
[[job]]
id = "a"
title = "a"
[[job]]
id = "proof"
title = "proof"
hold = ["line.rear.joint.1.max"]
needs = ["a"]
[[job]]
id = "behind"
title = "behind"
needs = ["proof"]
[[job]]
id = "b"
title = "b"
needs = ["a"]
[[job]]
id = "bay"
title = "bay"
out = true
[[job]]
id = "later"
title = "later"
`, nil)
	ids := func(jobs []Job) (out []string) {
		for _, j := range jobs {
			out = append(out, j.ID)
		}
		return out
	}
	ticks, left := a.UpTo(4)
	assert.Equal(t, []string{"a", "b"}, ids(ticks))
	assert.Equal(t, []string{"proof", "behind", "bay"}, ids(left))
	ticks, _ = a.UpTo(0)
	assert.Equal(t, []string{"a"}, ids(ticks))
}

// Done on a plan is not done on a proof, and the count says so.
func TestHeadcountTellsProvedFromPlanned(t *testing.T) {
	j := func(id, basis string) string {
		s := "[[job]]\nid = \"" + id + "\"\ntitle = \"t\"\ndone = true\n"
		if basis != "" {
			s += "relied = [{ finding = \"x." + id + "\", status = \"over\", basis = \"proved\" }, { finding = \"y\", status = \"over\", basis = \"" + basis + "\" }, { finding = \"z\", status = \"over\", basis = \"proved\" }]\n"
		}
		return s
	}
	r, _ := of(t, j("a", "proved")+j("b", "planned")+j("c", "read")+j("d", "")+"[[job]]\nid = \"e\"\ntitle = \"t\"\n", nil)
	h := r.Headcount()
	assert.Equal(t, Headcount{Done: 4, Total: 5, Proved: 1, Read: 1, Planned: 1}, h)
	assert.Equal(t, "4 of 5 done, 1 proved, 1 read, 1 on the plan only", h.String())
}
