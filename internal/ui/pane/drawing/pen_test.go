package drawing

import (
	"math"
	"math/bits"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/scene"
	"fitup/internal/ui/sketch"
	"fitup/internal/ui/theme"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r2"
)

// penOn is a pen on a canvas of 40 by 20 cells that shows -100 to 100 mm.
func penOn(ascii bool) pen {
	c := sketch.New(40, 20, ascii)
	return pen{c: c, view: sketch.Centred(0, 0, 79.0/200, c), joint: "@"}
}

// An upper half of a circle leaves the lower half of the canvas empty.
func TestHalfAnArc(t *testing.T) {
	p := penOn(false)
	p.Arc(r2.Vec{}, 90, 0, math.Pi, scene.Style{Role: scene.RoleBody})
	lines := p.c.Lines(nil)
	assert.NotEmpty(t, strings.TrimSpace(strings.Join(lines[:10], "")))
	assert.Empty(t, strings.TrimSpace(strings.Join(lines[11:], "")))

	full := penOn(false)
	full.Arc(r2.Vec{}, 90, 0, 2*math.Pi, scene.Style{Role: scene.RoleBody})
	assert.NotEmpty(t, strings.TrimSpace(strings.Join(full.c.Lines(nil)[11:], "")))
}

// A text stands in the cell of its lower left corner.
func TestTextsStandWhereTheyShould(t *testing.T) {
	p := penOn(true)
	p.Sign(r2.Vec{}, scene.Style{Role: scene.RoleJoint, Status: assess.Over, Judged: true})
	p.Text(scene.Note{At: r2.Vec{X: -98, Y: 91}, Text: "corner"})
	lines := p.c.Lines(nil)
	assert.Contains(t, strings.Join(lines, "\n"), "@")
	assert.True(t, strings.HasPrefix(strings.TrimSpace(lines[0]+lines[1]), "corner"), lines)
}

// Every role has a colour of its own kind, verdicts theirs, and what the cursor is
// on stands out from all of them; the higher ink wins a cell.
func TestInks(t *testing.T) {
	var p pen
	for role := scene.RoleGround; role <= scene.RolePaper; role++ {
		ink := p.ink(scene.Style{Role: role})
		assert.Less(t, ink, inkLabel, role)
		assert.NotEqual(t, theme.Changed, colour(ink))
	}
	assert.Equal(t, theme.Changed, colour(p.ink(scene.Style{Role: scene.RoleBody, Lit: true})))
	for status, want := range map[assess.Status]theme.Role{assess.OK: theme.Good, assess.Over: theme.Danger, assess.Tight: theme.Warn} {
		assert.Equal(t, want, colour(p.ink(scene.Style{Role: scene.RoleJoint, Status: status, Judged: true, Lit: true})), "a verdict keeps its colour")
	}
}

// What the cursor is on is wider, so that it stands out without colour.
func TestLitIsWide(t *testing.T) {
	count := func(lit bool) int {
		p := penOn(false)
		p.Line([]r2.Vec{{X: -50}, {X: 50}}, scene.Style{Role: scene.RoleBody, Lit: lit})
		n := 0
		for _, l := range p.c.Lines(nil) {
			for _, r := range l {
				if r > 0x2800 && r <= 0x28ff {
					n += bits.OnesCount(uint(r - 0x2800))
				}
			}
		}
		return n
	}
	assert.Equal(t, 2*count(false), count(true))
}
