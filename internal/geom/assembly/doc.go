// Package assembly puts a mount together from straight members: an arm, legs,
// braces, each cut from stock between a pad, a rail, a point or another member.
//
// # Frames of reference
//
// Points and directions are in vehicle axes (X rearward, Y right, Z up), mm. A
// member runs from its first end to its second, and is cut as a bracket.Leg
// whose pad is the first end and whose rail is the second: sides, corners and
// saw settings are those of package bracket, seen from the first end.
//
// An end on a flat side of another member is cut flat; one on a round member is sawn flat and
// then coped round it.
//
// # What is refused
//
// An assembly that cannot be made is an error that names the part: members that
// stand on each other in a circle, a member of no length or cut through itself,
// one that lands beside or runs along what it stands on, two that run through
// each other.
//
// # Strength
//
// The members are solved as a frame of package frame, welded or on ball joints
// at their ends, with rails that do not give way. Figures are for screening: a
// licensed engineer and the rules of the place decide.
package assembly
