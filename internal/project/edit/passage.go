package edit

import (
	"strings"
	"unicode/utf8"

	"fitup/internal/project/tomltext"
)

// passage is one change between two texts: old, at byte at, became new. The zero
// passage changes nothing. It holds on to neither text, so that a step that is
// kept for a whole sitting weighs only what it changed.
type passage struct {
	at       int
	old, new string
}

// passageOf returns the shortest passage between a and b that cuts no character
// in two.
func passageOf(a, b string) passage {
	if a == b {
		return passage{}
	}
	head, tail := tomltext.Common(a, b)
	for head > 0 && (inside(a, head) || inside(b, head)) {
		head--
	}
	for tail > 0 && inside(a, len(a)-tail) {
		tail--
	}
	old, next := a[head:len(a)-tail], b[head:len(b)-tail]
	both := strings.Clone(old + next) // one piece of memory for the two
	return passage{at: head, old: both[:len(old)], new: both[len(old):]}
}

// inside reports whether byte i of s goes on with a character.
func inside(s string, i int) bool { return i < len(s) && !utf8.RuneStart(s[i]) }

// on makes the change in a text that has old where it should stand.
func (p passage) on(text string) (string, bool) { return swap(text, p.at, p.old, p.new) }

// back takes the change back.
func (p passage) back(text string) (string, bool) { return swap(text, p.at, p.new, p.old) }

// undo is the edit that takes the change back.
func (p passage) undo() Edit { return Edit{Op: OpSplice, At: p.at, Old: p.new, Text: p.old} }

func swap(text string, at int, from, to string) (string, bool) {
	if at < 0 || at > len(text) || !strings.HasPrefix(text[at:], from) {
		return "", false
	}
	return text[:at] + to + text[at+len(from):], true
}
