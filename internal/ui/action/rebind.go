package action

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Rebind returns a table in which the named actions have other keys; t itself
// stays as it is. An empty list leaves an action to the palette. The arrow
// keys stay with the actions that have them. It refuses an unknown id, an
// action whose keys are fixed, a key no terminal reports, and a key that would
// mean two things.
func (t *Table) Rebind(keys map[ID][]string) (*Table, error) {
	actions := t.All()
	for _, id := range slices.Sorted(maps.Keys(keys)) {
		i, ok := t.byID[id]
		if !ok {
			return nil, t.unknown(id)
		}
		a := &actions[i]
		if a.Fixed {
			return nil, fmt.Errorf("the keys of %q (%s) are fixed at %s: leave it out", id, a.Label, a.KeyText())
		}
		var held, fresh []string
		for _, k := range a.Keys {
			if isArrow(k) {
				held = append(held, k)
			}
		}
		for _, raw := range keys[id] {
			k, err := ParseKey(raw)
			if err != nil {
				return nil, fmt.Errorf("%q: %w", id, err)
			}
			if isArrow(k) && !slices.Contains(held, k) {
				return nil, fmt.Errorf("%q cannot have the key %q: the arrow keys stay where they are", id, k)
			}
			fresh = append(fresh, k)
		}
		a.Keys = append(held, fresh...)
	}
	return New(actions)
}

// unknown is the error for an id that is not in the table.
func (t *Table) unknown(id ID) error {
	ids := make([]string, len(t.actions))
	for i, a := range t.actions {
		ids[i] = string(a.ID)
	}
	if near := nearest(strings.ToLower(string(id)), ids); near != "" {
		return fmt.Errorf("there is no action %q; did you mean %q?", id, near)
	}
	return fmt.Errorf("there is no action %q: the help lists them all", id)
}

// Match returns the actions that answer to a query, best first, for a palette.
// With scopes given only those are searched. The query's signs must appear in
// the label, or else in the id, in order though not side by side; failing
// that, the query as a whole in the help sentence. Case does not matter. An
// empty query matches everything, in table order.
func (t *Table) Match(query string, scopes ...Scope) []Action {
	type hit struct {
		Action
		rank int
	}
	q := strings.ToLower(strings.TrimSpace(query))
	var hits []hit
	for i, a := range t.actions {
		if len(scopes) > 0 && !slices.Contains(scopes, a.Scope) {
			continue
		}
		if r, ok := rank(q, a); ok {
			hits = append(hits, hit{t.at(i), r})
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return a.rank - b.rank })
	out := make([]Action, len(hits))
	for i, h := range hits {
		out[i] = h.Action
	}
	return out
}

// Scattered reports whether the letters of a query only lie spread over the
// names of an action, so that it was guessed and not named.
func (a Action) Scattered(query string) bool {
	q := strings.ToLower(strings.TrimSpace(query))
	for _, s := range []string{a.Label, string(a.ID), a.Help} {
		if strings.Contains(strings.ToLower(s), q) {
			return false
		}
	}
	return true
}

// rank says how well a query fits an action; less is better.
func rank(q string, a Action) (int, bool) {
	if r, ok := spread(q, strings.ToLower(a.Label)); ok {
		return r, true
	}
	if r, ok := spread(q, strings.ToLower(string(a.ID))); ok {
		return 1000 + r, true
	}
	if at := strings.Index(strings.ToLower(a.Help), q); at >= 0 {
		return 2000 + at, true
	}
	return 0, false
}

// spread finds q in s as a subsequence. A tight match, and then an early one,
// ranks better; one that begins a word better still. The result is below 1000.
func spread(q, s string) (int, bool) {
	want, text := []rune(q), []rune(s)
	if len(want) == 0 {
		return 0, true
	}
	best, found := 999, false
	for start := range text {
		if text[start] != want[0] {
			continue
		}
		i, n := start, 0
		for ; i < len(text) && n < len(want); i++ {
			if text[i] == want[n] {
				n++
			}
		}
		if n < len(want) {
			break // no later start can do better
		}
		r := 4*(i-start-len(want)) + start
		if start > 0 && text[start-1] != ' ' && text[start-1] != '.' {
			r += 8
		}
		best, found = min(best, r), true
	}
	return best, found
}
