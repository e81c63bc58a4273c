package project

import (
	"fmt"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// checkStraps finds limiting straps that cannot be: of an axle that does not move as a
// whole, and shorter than their eyes are apart at ride height.
func (b *binder) checkStraps(build *Build, root *tomltext.Node) {
	for _, l := range build.Lines {
		path := "line." + l.Name + ".suspension"
		s := l.Suspension
		if d, ok := s.Droop.Get(); ok && s.LeastDroop.V() > d {
			b.fault(at(root, path+".least_droop"), path+".least_droop", "the axle drops by %s without a strap, so no strap leaves it %s",
				quantity.Format(quantity.Length, d, build.Units, quantity.UsualDigits), quantity.Format(quantity.Length, s.LeastDroop.V(), build.Units, quantity.UsualDigits))
		}
		for i, x := range s.Strap {
			where := fmt.Sprintf("%s.strap[%d]", path, i)
			n := entryOf(root.Child("line").Child(l.Name).Child("suspension").Child("strap"), i)
			if n == nil {
				continue
			}
			if s.Kind == FixedDiff {
				b.fault(n.Pos, where, "a strap holds a live axle, and this differential is fixed to the chassis; limit the arms of its wheels instead")
				continue
			}
			length := x.Length.V() + x.Stretch.Or(0)
			if !x.Length.Known() || !x.Chassis.Known || !x.Axle.Known {
				continue
			}
			if apart := r3.Norm(r3.Sub(x.Axle.At, x.Chassis.At)); length < apart {
				if c := n.Child("length"); c != nil {
					n = c
				}
				b.fault(n.Pos, where+".length", "the strap is %s between its eyes and they are %s apart at ride height, so the axle could not stand there; give a longer one, or move an end",
					quantity.Format(quantity.Length, length, build.Units, quantity.UsualDigits), quantity.Format(quantity.Length, apart, build.Units, quantity.UsualDigits))
			}
		}
	}
}
