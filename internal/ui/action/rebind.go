package action

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Rebind returns a table in which the named actions have other keys; t itself
// stays as it is. An empty list leaves an action to the search. The arrow
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
