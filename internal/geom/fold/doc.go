// Package fold is plate folded across its length, and mounts that are plates: a strip
// of flats with bends about parallel lines between them, laid flat and folded up, and
// what a cantilever of plate comes to under a load: its stress from section to section
// and how far its end goes.
//
// A strip lies with the face that goes on what carries it down. On the flat blank, y
// runs along it from its first end, x across it from the middle of its width, and one
// looks on the upper face: a bend is folded up where the rest of the strip comes
// toward one. mm, rad, N, N·mm, MPa.
package fold
