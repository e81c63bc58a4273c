package frame

import (
	"fmt"
	"math"
	"strconv"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

func steeringPage() pane.Leaf {
	return pane.Leaf{Name: "steering", Items: steeringItems, Key: shown}
}

// steeringItems are the joints of the steering shaft, how evenly it turns, the marks of
// its yokes, what holds it and how it can shorten.
func steeringItems(w int, v pane.View) []pane.Item {
	s := v.A.Steering
	if s == nil {
		return pane.Says(w, theme.Text, "No steering shaft yet. Press d and type, in the chapter of the steering shaft, where the column ends and which way it points, where the rack or box begins and which way that points, and a joint for each joint. "+
			assess.SteeringCaution)
	}
	t := pane.NewTable(w, 3, v)
	unit := quantity.UnitName(quantity.Angle, v.Units())
	if s.Why != "" {
		t.Out = append(t.Out, pane.Says(w, theme.Doubt, "Not known yet: "+s.Why+".")...)
	}
	t.Heading("joints, "+unit, "angle", "±", "limit")
	for i := range s.Joints {
		j := &s.Joints[i]
		t.Row(t.Cells("joint "+strconv.Itoa(i+1), t.Cell(quantity.Angle, j.Angle), sure(t, quantity.Angle, j.Angle), t.Cell(quantity.Angle, assess.Exact(j.Limit.Value))), nil,
			pane.Findings(v, finding.SteeringJoint(i+1))...)
	}
	evenItems(t, s)
	markItems(t, s)
	heldItems(t, s)
	t.Out = append(t.Out, pane.Says(w, theme.Dim, assess.SteeringCaution)...)
	return t.Out
}

// evenItems adds how evenly the steering turns.
func evenItems(t *pane.Table, s *assess.Steering) {
	v := t.V
	t.Heading("at the wheel, percent", "is", "±", "")
	t.Row(t.Cells("faster at the most", t.Cell(quantity.Number, s.Ripple), sure(t, quantity.Number, s.Ripple), ""), nil, pane.Findings(v, finding.SteeringRipple)...)
	t.Row(t.Cells("  left with the best marks", t.Cell(quantity.Number, s.Least), "", ""), nil, pane.Findings(v, finding.SteeringPhase)...)
	if !s.Ripple.Known || s.Where.Even {
		return
	}
	t.Heading("clockwise of straight ahead", "at", "", "")
	for _, x := range []struct {
		name string
		at   float64
	}{{"quickest", s.Where.Fastest.Rad()}, {"slowest", s.Where.Slowest.Rad()}} {
		t.Row(t.Cells(x.name, t.Cell(quantity.Angle, assess.Exact(x.at)), "", ""), []string{"And again half a turn on."})
	}
}

// markItems adds the shafts, and which yoke marks to set.
func markItems(t *pane.Table, s *assess.Steering) {
	v := t.V
	if len(s.Shafts) == 0 {
		return
	}
	t.Heading("shafts, "+quantity.UnitName(quantity.Length, v.Units()), "length", "turn by", "teeth")
	for i := range s.Shafts {
		x := &s.Shafts[i]
		teeth := ""
		if x.Teeth > 0 {
			teeth = fmt.Sprintf("%+d", x.Over)
		}
		turn := t.Cell(quantity.Angle, assess.Exact(x.Turn.Rad()))
		if math.Abs(x.Turn.Degrees()) < 0.05 {
			turn = t.Cell(quantity.Angle, assess.Exact(0))
		}
		more := []string{"Turn is of its lower yoke, clockwise looking down it from the column; below 0 it is the other way."}
		if !x.YokeKnown {
			more = append(more, "How its yokes stand is not in the file: the turn is from in phase.")
		}
		ids := []string{finding.SteeringBottom(i + 1), finding.SteeringPull(i + 1)}
		n := len(t.Out)
		t.Row(t.Cells("shaft "+strconv.Itoa(i+1), t.Cell(quantity.Length, x.Length), turn, teeth), more, pane.Findings(v, ids...)...)
		if len(t.Out) > n && len(pane.Findings(v, ids...)) == 0 {
			t.Out[n].Subject = fmt.Sprintf("steering.shaft.%d", i+1)
		}
	}
}

// heldItems adds what holds it and how far it can shorten.
func heldItems(t *pane.Table, s *assess.Steering) {
	v := t.V
	t.Heading("held", "is", "±", "")
	t.Row(t.Cells("ways to be loose", t.Cell(quantity.Number, s.Loose), "", ""), nil, pane.Findings(v, finding.SteeringSupport)...)
	for i := range s.Bearings {
		x := &s.Bearings[i]
		t.Row(t.Cells(fmt.Sprintf("bearing %d, off shaft %d", i+1, x.Shaft), t.Cell(quantity.Length, x.Off), sure(t, quantity.Length, x.Off), ""), nil, pane.Findings(v, finding.SteeringBearing(i+1))...)
	}
	t.Row(t.Cells("can shorten", t.Cell(quantity.Length, s.Shorten), sure(t, quantity.Length, s.Shorten), ""), nil, pane.Findings(v, finding.SteeringShorten)...)
	if ids := pane.Findings(v, "clearance.steering", "clearance.steering.rocked"); len(ids) > 0 {
		t.Row(t.Cells("room to the powertrain", value(t, "clearance.steering"), "", ""), nil, pane.Findings(v, "clearance.steering")...)
		t.Row(t.Cells("  sagged and rocked", value(t, "clearance.steering.rocked"), "", ""), nil, pane.Findings(v, "clearance.steering.rocked")...)
	}
}
