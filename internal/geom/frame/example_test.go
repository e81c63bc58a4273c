package frame_test

import (
	"fmt"

	"fitup/internal/geom/frame"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r3"
)

// An arm from the rail with a brace on ball joints under it.
func Example() {
	tube, _ := section.Find("arm", "SHS 50x50x3 cold")
	round, _ := section.Find("brace", "CHS 48.3x3")
	arm, _ := frame.Stock(tube.Shape)
	brace, _ := frame.Stock(round.Shape)
	steel := frame.Material{E: section.SteelE, G: section.SteelG, Density: section.SteelDensity}
	f := frame.Frame{
		Name: "left mount",
		Nodes: []frame.Node{{Name: "rail", Held: frame.Welded}, {Name: "brace top", At: r3.Vec{Y: 180}},
			{Name: "pad", At: r3.Vec{Y: 260}}, {Name: "brace foot", At: r3.Vec{Z: -140}, Held: frame.Ball}},
		Members: []frame.Member{
			{Name: "arm", Ends: [2]int{0, 1}, Section: arm, Material: steel},
			{Name: "arm outside", Ends: [2]int{1, 2}, Section: arm, Material: steel},
			{Name: "brace", Ends: [2]int{3, 1}, Section: brace, Material: steel, Free: [2]frame.Six{{}, frame.Hinge}},
		},
	}
	ready, err := frame.Prepare(&f)
	if err != nil {
		fmt.Println(err)
		return
	}
	res, err := ready.Solve(frame.Case{Name: "bump", Nodes: []frame.NodeLoad{{Node: 2, Force: r3.Vec{Z: -4000}}}, Pull: r3.Vec{Z: -1}})
	if err != nil {
		fmt.Println(err)
		return
	}
	worst, _ := res.Worst()
	fmt.Printf("pad goes down %.3f mm, brace carries %.0f N\n", -res.Nodes[2].Shift.Z, -res.Inside(2, 0).Axial)
	fmt.Printf("worst in %s, %.0f mm from its first end: %.0f MPa\n", f.Members[worst.Member].Name, worst.At, worst.Equivalent)

	f.Nodes[0].Held = frame.Ball
	f.Members[1].Free[0] = frame.Hinge
	_, err = frame.Prepare(&f)
	fmt.Println(err)
	// Output:
	// pad goes down 0.151 mm, brace carries 8767 N
	// worst in arm, 180 mm from its first end: 55 MPa
	// frame left mount: node pad: nothing holds it against moving up and down; weld a joint that is free to turn, hold a foot or add a brace
}
