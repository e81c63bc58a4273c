// Package coverage simulates: how often stated intervals hold the truth, and how
// often something that was called ok is not. What is drawn and judged is the
// caller's.
//
// # What is counted
//
// A simulation draws builds: the truth, and the instruments that read it. Each
// build is read and judged several times. What is judged of one build hangs
// together (the gauge's error is the same on all of it), so a share is not as
// sure as its number of judgements makes it look: its bounds are Clopper and
// Pearson's for the effective number, which is that of the judgements over the
// design effect of drawing by builds (Korn and Graubard, Survey Methodology 24,
// 1998, from memory), and the number of builds where a share is none or all.
package coverage
