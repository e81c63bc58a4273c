// Package shop is what the bench keeps lists of: fasteners with their torques and
// the checks that are due, what is cut from which bar, and how far the welds are.
package shop

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/project"
)

// Fastener is one line of the table of fasteners. Torque is the maker's where
// there is one, worked out otherwise.
type Fastener struct {
	project.Fastener
	Index    int
	Torque   finding.Number // N·mm
	Maker    bool           // Torque is the maker's figure
	Computed finding.Number // N·mm, T = K·d·F
	Preload  finding.Number // N
	Source   string
	Due      []float64 // distances, km, at which it should have been checked again
}

const torqueSource = "worked out: T = K·d·F, F = 75 % of proof load (ISO 898-1, SAE J429); K alone is good for 25 % either way"

// Fasteners draws up the table, and the facts about paint marks and checks after
// a distance. drivenKm is how far the vehicle was driven, km, if the file says.
func Fasteners(list []project.Fastener, drivenKm finding.Number) (table []Fastener, facts []finding.Fact) {
	var bare, due, first, last []string
	for i, f := range list {
		out := Fastener{Fastener: f, Index: i, Source: torqueSource}
		out.compute()
		if v, ok := f.MakerTorque.Get(); ok {
			out.Torque, out.Maker, out.Source = finding.Exact(v), true, "the maker's figure, as entered"
		} else {
			out.Torque = out.Computed
		}
		out.Due = dueAt(f, drivenKm)
		at, done := checkDistances(f), f.RecheckedKm.Or(0)
		if len(at) > 0 && done < at[0] {
			first = append(first, f.Name)
		}
		if len(at) > 0 && done < at[len(at)-1] {
			last = append(last, f.Name)
		}
		if !f.Marked {
			bare = append(bare, f.Name)
		} else if len(out.Due) > 0 {
			due = append(due, fmt.Sprintf("%s after %g km", f.Name, out.Due[len(out.Due)-1]))
		}
		table = append(table, out)
	}
	fact := func(id, title, good, bad string, status finding.Status, open []string, why string) {
		f := finding.Fact{ID: id, Title: title, Status: finding.OK, Text: good}
		switch {
		case len(table) == 0:
			f.Status, f.Text, f.Why = finding.NotKnown, "no fastener was entered", "Enter each kind of bolt as [[fastener]]."
		case len(open) > 0:
			f.Status, f.Text, f.Why = status, bad+": "+strings.Join(open, ", "), why
		}
		facts = append(facts, f)
	}
	const tighten = "Tighten to the figure of the table and mark with paint."
	const enter = "After the check enter rechecked_km of each."
	fact("fasteners.marked", "paint marks", "every fastener is marked", "to be tightened and marked", finding.Over, bare, tighten)
	if !drivenKm.Known && len(table) > 0 {
		facts = append(facts, finding.Fact{ID: "fasteners.recheck", Title: "check after distance", Status: finding.NotKnown,
			Text: "how far it was driven is not in the file yet", Why: "Enter vehicle.driven_km."})
	} else {
		fact("fasteners.recheck", "check after distance", "no fastener is due again", "due to be checked again", finding.Over, due, tighten)
	}
	fact("fasteners.recheck.first", "first check after distance", "every fastener was checked after its first distance", "not checked again yet", finding.NotKnown, first, enter)
	fact("fasteners.recheck.last", "last check after distance", "every fastener was checked after its last distance", "not checked again yet", finding.NotKnown, last, enter)
	return table, facts
}

// compute works the torque out as a fallback.
func (f *Fastener) compute() {
	if f.Thread == "" || f.Class == "" {
		f.Computed = finding.Missing("thread and class are not in the file yet")
		f.Preload = f.Computed
		return
	}
	t, err := bracket.ParseThread("", f.Thread)
	var got bracket.Tightening
	if err == nil {
		got, err = bracket.Bolt{Thread: t, Class: f.Class, K: f.K.V()}.Tighten()
	}
	if err != nil {
		if part := (*geom.PartError)(nil); errors.As(err, &part) {
			err = part.Err // the line of the table names the bolt
		}
		f.Computed = finding.Missing(err.Error())
		f.Preload = f.Computed
		return
	}
	f.Computed, f.Preload = finding.Exact(got.Torque), finding.Exact(got.Preload)
}

// dueAt lists the distances that have been driven without the check that was
// wanted at them: 50 and 500 km when the file does not say (common practice,
// no source).
func dueAt(f project.Fastener, drivenKm finding.Number) []float64 {
	if !drivenKm.Known {
		return nil
	}
	var out []float64
	for _, km := range checkDistances(f) {
		if drivenKm.V >= km && f.RecheckedKm.Or(0) < km {
			out = append(out, km)
		}
	}
	return out
}

// checkDistances are the distances after which a fastener is checked again, in
// km, the shortest first.
func checkDistances(f project.Fastener) []float64 {
	if f.RecheckKm == nil {
		return []float64{50, 500}
	}
	var out []float64
	for _, q := range f.RecheckKm {
		out = append(out, q.V())
	}
	slices.Sort(out)
	return out
}
