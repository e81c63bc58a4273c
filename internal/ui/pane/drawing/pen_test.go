package drawing

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/scene"
	"fitup/internal/ui/sketch"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r2"
)

// penOn is a pen on a canvas of 40 by 20 cells that shows -100 to 100 mm.
func penOn(ascii bool) pen {
	c := sketch.New(40, 20, ascii)
	return pen{c, sketch.Fit(-100, -100, 100, 100, c, 0), "@"}
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

// A text over its point and one under it, and the shorter one where there is no
// room for the fuller.
func TestTextsStandWhereTheyShould(t *testing.T) {
	p := penOn(true)
	joint := scene.Style{Role: scene.RoleJoint, Status: assess.Over}
	p.Sign(r2.Vec{}, joint)
	p.Text(scene.Note{Texts: []string{"above"}, Beside: scene.Over, Style: joint})
	p.Text(scene.Note{Texts: []string{strings.Repeat("much too long ", 9), "below"}, Beside: scene.Under, Style: joint})
	at := func(s string) int {
		for i, l := range p.c.Lines(nil) {
			if strings.Contains(l, s) {
				return i
			}
		}
		return -1
	}
	sign := at("@")
	assert.Equal(t, sign-2, at("above"))
	assert.Equal(t, sign+2, at("below"))
	assert.Equal(t, -1, at("much"))
}

// Joints and texts have inks of their own, above those of all lines.
func TestInks(t *testing.T) {
	for role, ink := range inks {
		assert.Less(t, ink, inkLabel, role)
	}
	var p pen
	assert.Equal(t, inkJoint+sketch.Ink(assess.Over), p.ink(scene.Style{Role: scene.RoleJoint, Status: assess.Over}))
	assert.Equal(t, inkLabel, p.ink(scene.Style{Role: scene.RolePad}))
}
