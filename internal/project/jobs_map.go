package project

import (
	"time"

	"fitup/internal/project/quantity"
)

// Weld is one weld of one bracket, side by side.
type Weld struct {
	Bracket string     `toml:"bracket" doc:"the bracket it holds: left front" how:"The bracket by its mount's name." need:"yes"`
	At      string     `toml:"at" doc:"which weld of it: foot to rail" need:"yes"`
	Part    string     `toml:"part" doc:"which of its welds, as the cut sheet calls them: foot or pad of a leg, foot or corners of a box, a member with where it ends such as arm, at the rail; by at when left out, where that says it" offers:"weldparts"`
	Sides   []WeldSide `toml:"side" doc:"a side of the weld, by a name of its own"`
	Note    string     `toml:"note" doc:"anything worth knowing" lines:"yes"`
}

// WeldSide is one side of a weld.
type WeldSide struct {
	Name   string           `toml:"*"`
	State  WeldState        `toml:"state" doc:"none, tacked, finished or inspected" how:"Enter takes it one state further, through the same door as the Jobs pane." ticked:"yes"`
	Length quantity.LengthQ `toml:"length" doc:"length of the weld on this side" min:"0" how:"Tape along the bead, without the ends." from:"end to end of the bead"`
	Out    bool             `toml:"out" doc:"true when it can only be reached with the powertrain out"`
	// Override and InspectedBy go with the states that want them.
	Override    string `toml:"override" doc:"why it was finished although proof was missing" ticked:"yes"`
	InspectedBy string `toml:"inspected_by" doc:"who inspected it" how:"Who looked at it, as they sign." own:"yes"`
}

// WeldState is how far a side of a weld is, as the file spells it. A whole
// weld can also be partly done.
type WeldState string

// The words the file uses for a side, and Part for a weld.
const (
	NoWeld       WeldState = "none"
	WeldTacked   WeldState = "tacked"
	WeldPart     WeldState = "part"
	WeldFinished WeldState = "finished"
	Inspected    WeldState = "inspected"
)

// Words lists how far a side can be.
func (WeldState) Words() []string {
	return []string{string(NoWeld), string(WeldTacked), string(WeldFinished), string(Inspected)}
}

// Spoken is the state in words.
func (s WeldState) Spoken() string {
	if s == "" || s == NoWeld {
		return "not welded yet"
	}
	return string(s)
}

// Next is the state that welding takes a side in s to: tacked, then finished.
// An inspection is another act, and a finished side stays finished.
func (s WeldState) Next() (WeldState, bool) {
	switch s {
	case "", NoWeld:
		return WeldTacked, true
	case WeldTacked:
		return WeldFinished, true
	}
	return s, false
}

// Carries reports whether the side may be counted as carrying: finished, or
// inspected as well. A tack holds things in place and carries nothing.
func (s WeldSide) Carries() bool { return s.State == WeldFinished || s.State == Inspected }

// State is how far the weld is as a whole: part when some of its sides carry
// and others do not.
func (w Weld) State() WeldState {
	carry, tacked, inspected := 0, 0, 0
	for _, s := range w.Sides {
		switch {
		case s.Carries():
			carry++
		case s.State == WeldTacked:
			tacked++
		}
		if s.State == Inspected {
			inspected++
		}
	}
	switch n := len(w.Sides); {
	case n > 0 && inspected == n:
		return Inspected
	case n > 0 && carry == n:
		return WeldFinished
	case carry > 0:
		return WeldPart
	case tacked > 0:
		return WeldTacked
	}
	return NoWeld
}

// Carrying returns the sides that carry.
func (w Weld) Carrying() []WeldSide {
	var out []WeldSide
	for _, s := range w.Sides {
		if s.Carries() {
			out = append(out, s)
		}
	}
	return out
}

// ID is the dotted name of the weld: weld.left-front.foot-to-rail.
func (w Weld) ID() string { return "weld." + Slug(w.Bracket) + "." + Slug(w.At) }

// Fastener is one kind of bolt at one place.
type Fastener struct {
	Name        string             `toml:"name" doc:"what it holds" need:"yes"`
	Thread      string             `toml:"thread" doc:"M10, M10x1.25 or 3/8-16" offers:"threads"`
	Class       string             `toml:"class" doc:"8.8, 10.9 or 12.9; grade 2, 5 or 8 for inch threads" how:"Read it off the bolt's head." offers:"classes"`
	Count       quantity.NumberQ   `toml:"count" doc:"how many there are" min:"0" exact:"yes" how:"Count them." from:"none"`
	K           quantity.NumberQ   `toml:"k" doc:"nut factor; 0.2 when left out" min:"0" exact:"yes" how:"0.20 dry, 0.15 oiled, or what the coating's maker says." from:"a thread without friction"`
	MakerTorque quantity.TorqueQ   `toml:"maker_torque" doc:"the maker's figure, which wins" min:"0" how:"The maker's book for that joint." from:"the loose bolt"`
	Marked      bool               `toml:"marked" doc:"true when tightened and marked with paint" own:"yes"`
	MarkedOn    time.Time          `toml:"marked_on" doc:"date it was marked" offers:"days" own:"yes"`
	RecheckKm   []quantity.NumberQ `toml:"recheck_km" doc:"distances after which it is checked again; 50 and 500 when left out" min:"0" how:"Decide; the maker's figures where there are any." from:"the day it was marked"`
	RecheckedKm quantity.NumberQ   `toml:"rechecked_km" doc:"distance driven when it was last checked again" min:"0" exact:"yes" how:"Read the odometer when it is checked." from:"the first drive after the swap" own:"yes"`
	Out         bool               `toml:"out" doc:"true when it can only be reached with the powertrain out"`
	Note        string             `toml:"note" doc:"anything worth knowing" lines:"yes"`
}

// Fluid is what is to be filled in somewhere.
type Fluid struct {
	Name   string `toml:"name" doc:"what it goes into" need:"yes"`
	Spec   string `toml:"spec" doc:"what the maker asks for"`
	Amount string `toml:"amount" doc:"how much, with its unit"`
	Filled bool   `toml:"filled" doc:"true once it is in" own:"yes"`
	Note   string `toml:"note" doc:"anything worth knowing" lines:"yes"`
}
