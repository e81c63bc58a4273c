package book

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"
)

// orderNote is what whoever reads the sheet has to know.
const orderNote = `Measures are at ride height, with the vehicle on its wheels, as planned in the
file; joint angles are read where there are readings. Measure again on the
vehicle before the shaft is made. Weights, speeds, torques and balance are
screening figures for the bare tube: the shaft maker decides.`

// byHand are the things a shop asks that the file does not hold.
var byHand = []string{"joint size, and outside or inside clips", "flange or yoke at each end, and its bolts", "slip spline, and which end it is at", "grease fittings"}

// toWriteOn is a line for somebody's pen.
var toWriteOn = strings.Repeat("_", 34)

// Order is the order sheet of the shafts of a line, for a shaft maker. file is
// the build's name on disk.
func Order(a *assess.Assessment, l *assess.Line, file string) Sheet {
	s := Sheet{Title: "Shaft order sheet, " + l.Name + " line"}
	var rows [][]string
	for _, x := range [][2]string{{"build", a.Build.Name}, {"vehicle", a.Build.Vehicle.Name}, {"file", file}} {
		if x[1] == "" {
			x[1] = "not known: no name in the file"
		}
		rows = append(rows, []string{x[0], x[1]})
	}
	s.add("", table(0, 0, rows))
	if l.PlanWhy != "" {
		s.add("", text(0, "The line is not planned yet: "+l.PlanWhy+".")...)
	}
	rows = nil
	for _, r := range l.Order() {
		rows = append(rows, []string{r.Label, orderValue(r, l, a.Build.Units)})
	}
	s.add("", table(0, 0, rows))
	if len(l.Assumes) > 0 {
		s.add("What the joint angles rest on", text(1, l.Assumes...)...)
	}
	if notes := append(rateNote("speed", l.Speed), rateNote("torque", l.Torque)...); len(notes) > 0 {
		s.add("", notes...)
	}
	rows = nil
	for _, what := range byHand {
		rows = append(rows, []string{fmt.Sprintf("%-42s%s", what, toWriteOn)})
	}
	s.add("To write in by hand", table(1, 0, rows))
	s.add("", text(0, orderNote)...)
	return s.clean()
}

// rateNote says where the largest speed or torque comes from.
func rateNote(what string, r assess.Rate) []Item {
	if !r.Known || r.From == "" {
		return nil
	}
	return text(0, "The largest "+what+" is "+r.From+".")
}

// orderValue is the value of a row. What is missing for the whole line has been
// said above the rows.
func orderValue(r assess.OrderRow, l *assess.Line, u quantity.Units) string {
	switch {
	case r.Name == "":
		return r.Words
	case !r.Value.Known && l.PlanWhy != "" && strings.HasPrefix(r.Value.Why, l.PlanWhy):
		return "not known: the line is not planned yet"
	case !r.Value.Known:
		return "not known: " + r.Value.Why
	}
	return Magnitude(r.Kind, r.Value.V, u) + plusMinus(r.Kind, r.Value.Expanded(), u)
}
