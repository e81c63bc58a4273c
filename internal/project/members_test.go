package project

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A mount of several members that contradicts itself is refused by name, at its line.
func TestMembersThatCannotBe(t *testing.T) {
	const other = "[mount.right_front.bracket]\nkind = \"inclined leg\"\n"
	arm := "[[mount.rear.member]]\nname = \"arm\"\n"
	for name, c := range map[string]struct{ text, want string }{
		"no such kind":      {"[mount.rear.bracket]\nkind = \"gallows\"\n", "want one of: level arm with perch, inclined leg, two legs in an A, arm with a brace"},
		"leg and bracket":   {"[mount.rear.leg]\nsection = \"x\"\n[mount.rear.bracket]\nkind = \"inclined leg\"\n", "the rear mount has both a leg and a bracket of members"},
		"not its question":  {"[mount.rear.bracket]\nkind = \"inclined leg\"\nspread = 200\n", "is of the kind \"inclined leg\" and has no spread, which is asked of: two legs in an A"},
		"without a kind":    {arm + "[mount.rear.bracket]\nsection = \"x\"\n", "is of its own members and has no section"},
		"perch on an A":     {"[mount.rear.bracket]\nkind = \"two legs in an A\"\nperch = \"x\"\n", "whose plate stands on the ends of its legs; leave perch out"},
		"faces two ways":    {"[mount.rear.bracket]\nkind = \"inclined leg\"\npad_facing = \"up\"\npad_normal = [0, 0, 1]\n", "has both pad_facing and pad_normal"},
		"nothing apart":     {"[mount.rear.bracket]\nkind = \"two legs in an A\"\napart = 0\n", "has apart = 0; want more"},
		"mirrors nobody":    {"[mount.rear.bracket]\nmatch = \"left_front\"\n", "no other mount of this file has a bracket of its own members"},
		"mirrors a wrong":   {other + "[mount.rear.bracket]\nmatch = \"left_front\"\n", "want a mount with a bracket of its own: right_front"},
		"mirror and kind":   {other + "[mount.rear.bracket]\nmatch = \"right_front\"\nkind = \"inclined leg\"\n", "has a kind, a section or members too"},
		"member of no name": {"[[mount.rear.member]]\nsection = \"x\"\n", "the member has no name"},
		"named twice":       {arm + arm, "the member \"arm\" of the rear mount has the name of another one"},
		"named as its kind": {"[mount.rear.bracket]\nkind = \"level arm with perch\"\n" + arm, "has the name of one that its kind begins with"},
		"one end":           {arm + "ends = [\"pad\"]\n", "has 1 ends; want two, such as ends = [\"pad\", \"rail\"]"},
		"ends anywhere":     {arm + "ends = [\"pad\", \"floor\"]\n", "ends at \"floor\"; want pad, rail, square, or member. and a name"},
		"ends on nothing":   {arm + "ends = [\"pad\", \"member.leg\"]\n", "ends on member.leg, which this mount has not; it has arm"},
		"ends on itself":    {arm + "ends = [\"pad\", \"member.arm\"]\n", "ends on itself"},
		"held by what":      {arm + "held = [\"welded\", \"glue\"]\n", "is held by \"glue\"; want welded or ball"},
		"held once":         {arm + "held = [\"welded\"]\n", "has held with 1 words"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("b.toml", []byte("format = 3\n"+c.text))
			var ps Problems
			require.ErrorAs(t, err, &ps)
			assert.Contains(t, ps.Error(), c.want)
			assert.Len(t, ps, 1)
		})
	}
}
