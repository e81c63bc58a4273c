// Package propose says what to move, by how much: it tries the places that a builder
// allows, on the steps that he can make, and answers with proposals that hold what is
// demanded, or with a proof that there is none.
//
// # What a place is judged by
//
// Every place that is proposed was assessed exactly, by the same calculation as the
// bench, and once more from the build on at the end. Whatever is not known there is
// not held: no proposal rests on it.
//
// # What is left out unseen, and why that is no guess
//
// A box of places is left out only when a demand fails on all of it. That is shown from
// its middle place, assessed exactly, and a bound on how far the number that is judged
// can get from there inside the box: see reach.go, where each bound is argued. Demands
// without such a bound are tried place by place. A bound that were wrong would make a
// proof wrong, so each is held against brute force in the tests.
//
// Only one side is bounded: that a number is past its limit as built. How far a number
// may be off, and what the powertrain's weight on its mounts adds, can only make the
// verdict worse, and is left to the places themselves.
//
// # What none means
//
// Where all places are ruled out there is none, on these steps and in these ranges.
// Then the demands that ruled them out are thinned (deletion filter: each is left out
// in turn, and stays out where there still is none) until none can be spared, and each
// of those says how far it would have to give way for the others to hold.
//
// Nothing here reads a clock: a search ends by its context or by the number of places
// that it may assess, and says how far it got.
package propose
