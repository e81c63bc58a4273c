package project

import (
	"testing"

	"fitup/internal/project/joblist"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestJobTakesFromTheList(t *testing.T) {
	f := parse(t, `format = 2
[[job]]
id = "my-hang"
from = "hang"
title = "Hang it"
cautions = ["mind the cat"]
[[job]]
id = "placement"
from = "placement"
[[job]]
id = "paint"
from = "paint"
hold = []
needs = ["placement"]
`)
	hang, place, paint := f.Build.Jobs[0], f.Build.Jobs[1], f.Build.Jobs[2]
	s, _ := joblist.Find("hang")
	assert.Equal(t, "Hang it", hang.Title, "the builder's words win")
	assert.Equal(t, s.Stage, hang.Stage)
	assert.Equal(t, s.Done, hang.Means)
	assert.Equal(t, append(s.Cautions(), "mind the cat"), hang.Cautions, "cautions are added to and never lost")
	assert.Empty(t, hang.Needs, "steps that are not in this list are not waited for")
	assert.Equal(t, []string{"my-hang"}, place.Needs, "the list's id is found under the builder's")
	assert.True(t, paint.Out)
	assert.Empty(t, paint.Hold)
	assert.Equal(t, []string{"placement"}, paint.Needs)
}

func TestJobProblems(t *testing.T) {
	job := func(lines string) string { return "format = 2\n[[job]]\nid = \"a\"\ntitle = \"t\"\n" + lines }
	for name, c := range map[string]struct{ text, want string }{
		"no such step":       {job("from = \"hangg\"\n"), `b.toml:5:8: job.1.from: "hangg" is no job of the built-in list; did you mean "hang"?`},
		"need of nothing":    {job("needs = [\"b\"]\n"), `it needs "b", which is no job of this file`},
		"needs itself":       {job("needs = [\"a\"]\n"), "in a circle: a, a"},
		"circle":             {job("needs = [\"b\"]\n[[job]]\nid = \"b\"\ntitle = \"u\"\nneeds = [\"a\"]\n"), "in a circle: a, b, a"},
		"measure of nothing": {"format = 2\n[[measure]]\nlengths = [1]\n", "does not say of what"},
		"measure, no value":  {"format = 2\n[[measure]]\nof = \"x\"\n", "has no value"},
		"measure of both":    {"format = 2\n[[measure]]\nof = \"x\"\nlengths = [1]\nangles = [1]\n", "lengths or of angles"},
		"weld nowhere":       {"format = 2\n[[weld]]\nbracket = \"x\"\n", "does not say where"},
		"weld twice":         {"format = 2\n[[weld]]\nbracket = \"x\"\nat = \"y\"\n[[weld]]\nbracket = \"X\"\nat = \"y \"\n", "stands in the file already"},
		"side state":         {"format = 2\n[[weld]]\nbracket = \"x\"\nat = \"y\"\nside.rear = { state = \"part\" }\n", "want one of: none, tacked, finished, inspected"},
		"fastener, no name":  {"format = 2\n[[fastener]]\nthread = \"M10\"\n", "the fastener has no name"},
		"fluid, no name":     {"format = 2\n[[fluid]]\nspec = \"x\"\n", "the fluid has no name"},
		"standing":           {"format = 2\n[powertrain]\nstanding = \"half\"\n", "want one of: in, out"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("b.toml", []byte(c.text))
			var ps Problems
			require.ErrorAs(t, err, &ps)
			require.Len(t, ps, 1, "%v", err)
			assert.Contains(t, ps[0].Error(), c.want)
		})
	}
}

func TestSlug(t *testing.T) {
	for in, want := range map[string]string{"Left front": "left-front", "a, b": "a-b", "": "x", "é": "x", "foot--to rail!": "foot-to-rail"} {
		assert.Equal(t, want, Slug(in))
	}
}

func TestFactsOfABuild(t *testing.T) {
	f := parse(t, "format = 2\n[powertrain]\nfixing = \"bolted\"\n[line.rear]\ntoward = \"rear\"\n[[line.rear.joint]]\n[[line.rear.joint]]\n[[line.rear.joint]]\n[line.rear.suspension]\nkind = \"leaf\"\n")
	got := f.Build.Facts()
	for c, want := range map[joblist.Condition]bool{joblist.BoltedOn: true, joblist.WeldedOn: false, joblist.TwoPiece: true,
		joblist.OnePiece: false, joblist.LeafSprings: true, joblist.Links: false, joblist.FrontDrive: false} {
		v, known := got[c]
		assert.True(t, known)
		assert.Equal(t, want, v, "%d", c)
	}
	assert.True(t, got[joblist.SupportBolted], "as the mounts, while no crossmember is described")
	for ends, welded := range map[string]bool{"[mount.rear.bracket.bolts]\nthread = \"M10\"\n": false, "[mount.rear.bracket.ears]\npast = 20\n": true} {
		got := parse(t, "format = 3\n[powertrain]\nfixing = \"bolted\"\n[mount.rear.bracket]\nkind = \"dropped crossmember\"\n"+ends).Build.Facts()
		assert.Equal(t, []bool{welded, !welded}, []bool{got[joblist.SupportWelded], got[joblist.SupportBolted]}, ends)
	}
	assert.Empty(t, parse(t, "format = 2\n").Build.Facts(), "nothing is known")
	across := parse(t, "format = 3\n[vehicle]\nbody = \"unit-body\"\n[powertrain]\nlayout = \"transaxle\"\n[line.front]\ntoward = \"front\"\n[line.front.suspension]\nkind = \"fixed\"\n").Build
	assert.Equal(t, joblist.Facts{joblist.Transaxle: true, joblist.Propshaft: false, joblist.OnePiece: false, joblist.TwoPiece: false,
		joblist.FrontDrive: false, joblist.UnitBody: true, joblist.OnFrame: false}, across.Facts())
}

func TestWeldSideGoesOn(t *testing.T) {
	for s, want := range map[WeldState]WeldState{"": WeldTacked, NoWeld: WeldTacked, WeldTacked: WeldFinished, WeldFinished: WeldFinished, Inspected: Inspected} {
		next, on := s.Next()
		assert.Equal(t, want, next)
		assert.Equal(t, s != want, on, "an inspection is no step of welding")
	}
}
