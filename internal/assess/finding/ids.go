package finding

import (
	"slices"
	"strings"
	"sync"

	"fitup/internal/project"
)

// Trade is one trade of the assessment, by the name of its folder.
type Trade string

// The trades, each in its folder below internal/assess.
const (
	ReadingTrade Trade = "reading"
	FrameTrade   Trade = "frame"
	RailTrade    Trade = "rail"
	// HungTrade is of where the powertrain hangs by all that was measured of it.
	HungTrade Trade = "hung"
	// SubframeTrade is of what hangs in the frame until it is welded.
	SubframeTrade Trade = "subframe"

	LineTrade    Trade = "line"
	TravelTrade  Trade = "travel"
	MountTrade   Trade = "mount"
	ClearTrade   Trade = "clear"
	BracketTrade Trade = "bracket"
	SteerTrade   Trade = "steer"
	PickupTrade  Trade = "pickup"
	ShopTrade    Trade = "shop"
	JobTrade     Trade = "job"

	// Declared is no trade: the file says that somebody else judges it. That is
	// said in internal/assess itself.
	Declared Trade = "elsewhere"
)

// Measured reports whether the trade says what was measured: that has its own ±, and nothing
// that is moved changes it.
func (t Trade) Measured() bool {
	return t == FrameTrade || t == SubframeTrade || t == HungTrade
}

// Row is what is known of one shape of ids before any build is assessed.
type Row struct {
	Shape  string // of its ids, such as "line.*.joint.*.max"
	Trade  Trade
	Func   string // function or method of the trade that makes it
	Fact   bool   // no number against a limit, but something that a job can wait for
	Judges string // what holds when it is ok, in a sentence
}

// Table returns every shape, findings and facts.
func Table() []Row { return slices.Clone(table) }

// RowOf returns the row of a finding's or a fact's id. False is for an id that
// nothing goes by; a declaration about something that is not in the build makes a
// finding with such an id.
func RowOf(id string) (Row, bool) {
	id = strings.TrimSuffix(id, planned)
	first, _, _ := strings.Cut(id, ".")
	for _, r := range byFirst()[first] {
		if r.shape.Matches(id) {
			return table[r.row], true
		}
	}
	return Row{}, false
}

// ready is a row of the table with its shape made ready.
type ready struct {
	shape Pattern
	row   int
}

// byFirst are the rows by the first part of their shape, which is never a star.
var byFirst = sync.OnceValue(func() map[string][]ready {
	out := map[string][]ready{}
	for i, r := range table {
		first, _, _ := strings.Cut(r.Shape, ".")
		out[first] = append(out[first], ready{PatternOf(r.Shape), i})
	}
	return out
})

// TradeOf returns the trade that makes the finding or the fact with that id, ""
// for an id that nothing goes by.
func TradeOf(id string) Trade {
	r, _ := RowOf(id)
	return r.Trade
}

// planned ends the id of a finding by the plan beside the one by readings.
const planned = ".planned"

// The names that findings share with their like.
const (
	RoomSteering   = "room.steering"   // the room to each piece of the steering
	RoomTowers     = "room.towers"     // to each spring tower, spring and damper
	RoomSuspension = "room.suspension" // to each rod, anti-roll bar and arm
	RoomSubframe   = "room.subframe"   // to each piece of a subframe

	// SubframeBrackets is of the brackets at the corners of subframes.
	SubframeBrackets = "brackets.subframe"
)

// Groups are all of those.
func Groups() []string {
	return []string{RoomSteering, RoomTowers, RoomSuspension, RoomSubframe, SubframeBrackets}
}

func names() []string {
	out := make([]string, len(table), len(table)+len(Groups()))
	for i, r := range table {
		out[i] = r.Shape
	}
	return append(out, Groups()...)
}

// MayBe reports whether some build can have what the pattern names.
func MayBe(pattern string) bool {
	pattern = strings.TrimSuffix(pattern, planned)
	if slices.Contains(Groups(), pattern) {
		return true
	}
	return slices.ContainsFunc(table, func(r Row) bool { return meet(pattern, r.Shape) })
}

// meet reports whether two patterns can stand for one id.
func meet(p, q string) bool {
	a, moreP, inP := strings.Cut(p, ".")
	b, moreQ, inQ := strings.Cut(q, ".")
	switch {
	case a == "**" && !inP || b == "**" && !inQ:
		return a != "" && b != ""
	case a != b && a != "*" && b != "*" || inP != inQ:
		return false
	}
	return !inP || meet(moreP, moreQ)
}

// Meant ends a sentence about an id that nothing has with the name that comes
// nearest, if one is near: of the ids that this build has, or else of what a
// build can have.
func Meant(id string, have []string) string {
	near, ok := project.Nearest(id, have)
	if !ok {
		near, ok = project.Nearest(id, names())
	}
	if !ok || near == id {
		return ""
	}
	return "; did you mean " + project.Printable(near) + "?"
}

// Matches compares an id with a pattern, part by part: "*" stands for any one
// part of it and "**" at its end for all that follows.
func Matches(pattern, id string) bool {
	p := PatternOf(pattern)
	return p.Matches(id)
}

// Pattern is a pattern of ids that is held against many of them.
type Pattern struct {
	text       string
	any        bool   // it has a star
	head, tail string // what stands before the first star, and behind the last one
}

// PatternOf makes a pattern ready, as of Matches.
func PatternOf(pattern string) Pattern {
	p := Pattern{text: pattern}
	if star := strings.IndexByte(pattern, '*'); star >= 0 {
		p.any, p.head, p.tail = true, pattern[:star], pattern[strings.LastIndexByte(pattern, '*')+1:]
	}
	return p
}

// Matches compares an id with the pattern.
func (p *Pattern) Matches(id string) bool {
	if !p.any {
		return p.text == id
	}
	return strings.HasPrefix(id, p.head) && strings.HasSuffix(id, p.tail) && matches(p.text, id)
}

// Names reports whether it names a finding, by its id or by its group.
func (p *Pattern) Names(f *Finding) bool {
	return f.Group != "" && f.Group == p.text || p.Matches(f.ID)
}

// matches is Matches part by part.
func matches(pattern, id string) bool {
	for {
		p, morePattern, inPattern := strings.Cut(pattern, ".")
		part, moreID, inID := strings.Cut(id, ".")
		switch {
		case p == "**" && !inPattern:
			return part != ""
		case p != "*" && p != part:
			return false
		case !inPattern || !inID:
			return inPattern == inID
		}
		pattern, id = morePattern, moreID
	}
}
