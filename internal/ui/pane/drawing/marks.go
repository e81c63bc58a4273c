package drawing

import (
	"cmp"
	"fmt"
	"slices"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/sketch"
	"fitup/internal/ui/theme"
)

// marks labels pads, and joints with their angle and verdict. All signs come
// before the first label, so that no label lies under the sign of another
// joint; the joint most in need of attention has the first choice of a place.
func (p *Pane) marks(c *sketch.Canvas, s scene.Scene, pr scene.View, view sketch.View, v pane.View) {
	var joints []scene.Mark
	for _, m := range s.Marks {
		if !pr.Shows(m.Role, false) {
			continue
		}
		x, y := pr.Flat(m.At)
		if m.Role != scene.RoleJoint {
			c.Cross(view.X(x), view.Y(y), 1, inks[m.Role])
			continue
		}
		joints = append(joints, m)
		col, row := view.Cell(x, y)
		c.Text(col, row, v.Theme.Joint, jointInk(m))
	}
	slices.SortStableFunc(joints, func(a, b scene.Mark) int { return -cmp.Compare(a.Status, b.Status) })
	for _, m := range joints {
		p.jointLabel(c, pr, view, m, v)
	}
	for _, m := range s.Marks {
		if m.Role == scene.RolePad {
			col, row := view.Cell(pr.Flat(m.At))
			c.TextFree(col+1, row+1, m.Label, inkLabel)
		}
	}
}

func jointInk(m scene.Mark) sketch.Ink { return inkJoint + sketch.Ink(m.Status) }

// jointLabel writes a joint's name, angle and verdict beside it, or as much of
// that as there is room for: those of the first line above their joints, those
// of others below.
func (p *Pane) jointLabel(c *sketch.Canvas, pr scene.View, view sketch.View, m scene.Mark, v pane.View) {
	name, sign := m.Label, v.Theme.Sign(pane.Status(m.Status))
	away := -2
	if i := lineOf(m, v); i >= 0 && len(v.A.Lines) > 1 {
		name = project.Printable(v.A.Lines[i].Name) + " " + name
		if i > 0 {
			away = 2
		}
	}
	col, row := view.Cell(pr.Flat(m.At))
	for _, label := range []string{
		name + " " + v.Number(quantity.Angle, m.Angle, 2) + " " + sign,
		name + " " + sign,
		m.Label + " " + sign,
	} {
		if c.TextFree(col-theme.Width(label)/2, row+away, label, jointInk(m)) {
			return
		}
	}
}

// lineOf is the index of the line that a joint belongs to, -1 without one.
func lineOf(m scene.Mark, v pane.View) int {
	return slices.IndexFunc(v.A.Lines, func(l assess.Line) bool {
		return slices.ContainsFunc(l.Joints, func(j assess.Joint) bool {
			return j.At.Known && j.At.V == m.At && fmt.Sprintf("J%d", j.Number) == m.Label
		})
	})
}
