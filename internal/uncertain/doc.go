// Package uncertain carries a number together with how it depends on each
// independent source of error, so that whatever is worked out from it knows what
// it shares with what: correlation needs no table of its own.
//
// # What a Number says
//
// A Number is linear in its sources (JCGM 100:2008, 5.1.2 and 5.2.2): V plus,
// for each source, a coefficient times an error of zero mean. Its standard
// uncertainty U is the root of the summed squares. What the straight line leaves
// out of a curved function is carried as a half width of its own, Bend.
//
// Expanded is k·U and Bend, k = 2 (JCGM 100:2008, 6.3.3); where a source was
// only estimated from a few values, k is Student's factor for the effective
// degrees of freedom (Welch and Satterthwaite, JCGM 100:2008, G.4.1), never
// less than 2. A limit that lies at least Expanded away is kept with a
// probability of at least 97.5 % (JCGM 106:2012, 8.3.2, guard band).
//
// # Signs that nobody wrote down
//
// A source that acts on several readings alike can act on one of them with an
// unknown sign: a gauge's zero, on a reading that does not say which way round
// the gauge stood. Known signs add with their sign; unknown ones add by their
// size, which is the worse sign of each (JCGM 100:2008, 5.2.2, note 1: the sum
// of fully correlated parts).
//
// # Sizes near zero
//
// The size of a vector cannot be negative, and its own slope is undefined at
// zero. Norm and Between therefore start from all components (JCGM 102:2011) and
// give limits that hold at any distance from zero.
//
// Units are the caller's. A Number may be used by many goroutines at once, and
// so may Sources as long as nobody adds to it; see Sources.Fork.
package uncertain
