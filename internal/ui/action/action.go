// Package action holds the one table that says which key does what. The
// footer, the help, the search, the table in docs/keys.md and the check for
// conflicting keys are all read from it, so they cannot disagree.
package action

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
)

// ID names an action for ever, also in a user's settings: "nudge.up".
type ID string

// Scope is where a key has its meaning: "mounts", "dialog", ...
type Scope string

// Everywhere is the scope whose keys work in all others too.
const Everywhere Scope = "everywhere"

// Action is one thing a key can do.
//
// Keys are written the way the screen library reports them ("k", "ctrl+s",
// "shift+tab", "pgdown"); "space" is accepted for the space bar. An action
// without keys can still be reached by a search.
type Action struct {
	ID     ID
	Scope  Scope
	Keys   []string
	Label  string // a word or two, for the footer and the search
	Help   string // one sentence
	Footer bool   // shown in the footer
	Fixed  bool   // its keys cannot be changed
}

// KeyText returns the action's keys for people: "up, k". It is empty when
// there are none.
func (a Action) KeyText() string {
	names := make([]string, len(a.Keys))
	for i, k := range a.Keys {
		names[i] = keyName(k)
	}
	return strings.Join(names, ", ")
}

// Binding returns the action in the form the bubbles widgets use. An action
// without keys gives a disabled binding.
func (a Action) Binding() key.Binding {
	b := key.NewBinding(key.WithKeys(a.Keys...), key.WithHelp(a.KeyText(), a.Label))
	b.SetEnabled(len(a.Keys) > 0)
	return b
}

type slot struct {
	scope Scope
	key   string
}

// Table is a set of actions in which no key means two things at once. It does
// not change after it has been made.
type Table struct {
	actions []Action
	byID    map[ID]int
	byKey   map[slot]int
}

// New checks the actions and makes a table of them, keeping their order. It
// refuses a missing or repeated id, a missing scope or label, a key no
// terminal reports, and a key with two meanings: in one scope, or in a scope
// and everywhere.
func New(actions []Action) (*Table, error) {
	t := &Table{
		actions: make([]Action, 0, len(actions)),
		byID:    make(map[ID]int, len(actions)),
		byKey:   make(map[slot]int, 2*len(actions)),
	}
	for i, a := range actions {
		switch {
		case a.ID == "":
			return nil, fmt.Errorf("action %d (%q) has no id", i+1, a.Label)
		case a.Scope == "":
			return nil, fmt.Errorf("action %q has no scope", a.ID)
		case a.Label == "":
			return nil, fmt.Errorf("action %q has no label", a.ID)
		}
		if _, dup := t.byID[a.ID]; dup {
			return nil, fmt.Errorf("action %q is listed twice", a.ID)
		}
		keys := make([]string, 0, len(a.Keys))
		for _, raw := range a.Keys {
			k, err := ParseKey(raw)
			if err != nil {
				return nil, fmt.Errorf("action %q: %w", a.ID, err)
			}
			if !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
		a.Keys = keys
		t.byID[a.ID] = i
		t.actions = append(t.actions, a)
	}
	if err := t.index(); err != nil {
		return nil, err
	}
	return t, nil
}

// index fills byKey and reports the first key with two meanings.
func (t *Table) index() error {
	scopes := t.Scopes()
	for i, a := range t.actions {
		// A key that works everywhere is taken in every scope.
		taken := []Scope{a.Scope, Everywhere}
		if a.Scope == Everywhere {
			taken = scopes
		}
		for _, k := range a.Keys {
			for _, s := range taken {
				if j, clash := t.byKey[slot{s, k}]; clash {
					b := t.actions[j]
					return fmt.Errorf("key %q would mean both %q (%s, %s) and %q (%s, %s): give one of them another key",
						keyName(k), b.ID, b.Label, b.Scope, a.ID, a.Label, a.Scope)
				}
			}
			t.byKey[slot{a.Scope, k}] = i
		}
	}
	return nil
}

// Lookup says which action a key means in a scope: the scope's own, or else
// the one that works everywhere.
func (t *Table) Lookup(scope Scope, key string) (ID, bool) {
	for _, s := range [...]Scope{scope, Everywhere} {
		if i, ok := t.byKey[slot{s, key}]; ok {
			return t.actions[i].ID, true
		}
	}
	return "", false
}

// Get returns the action of that id.
func (t *Table) Get(id ID) (Action, bool) {
	i, ok := t.byID[id]
	if !ok {
		return Action{}, false
	}
	return t.at(i), true
}

// All returns every action in table order.
func (t *Table) All() []Action {
	return t.pick(func(Action) bool { return true })
}

// Scopes returns the scopes in the order in which they first appear.
func (t *Table) Scopes() []Scope {
	var out []Scope
	for _, a := range t.actions {
		if !slices.Contains(out, a.Scope) {
			out = append(out, a.Scope)
		}
	}
	return out
}

// ForScope returns what can be done in a scope: its own actions, then those
// that work everywhere.
func (t *Table) ForScope(scope Scope) []Action {
	own := t.pick(func(a Action) bool { return a.Scope == scope })
	if scope == Everywhere {
		return own
	}
	return append(own, t.pick(func(a Action) bool { return a.Scope == Everywhere })...)
}

// Footer returns those of ForScope that belong in the footer and have a key.
func (t *Table) Footer(scope Scope) []Action {
	return slices.DeleteFunc(t.ForScope(scope), func(a Action) bool {
		return !a.Footer || len(a.Keys) == 0
	})
}

// Bindings returns ForScope in the form the bubbles widgets use.
func (t *Table) Bindings(scope Scope) []key.Binding {
	var out []key.Binding
	for _, a := range t.ForScope(scope) {
		out = append(out, a.Binding())
	}
	return out
}

func (t *Table) pick(want func(Action) bool) []Action {
	var out []Action
	for i, a := range t.actions {
		if want(a) {
			out = append(out, t.at(i))
		}
	}
	return out
}

// at returns an action whose keys the caller may change without harm.
func (t *Table) at(i int) Action {
	a := t.actions[i]
	a.Keys = slices.Clone(a.Keys)
	return a
}

// Markdown returns the table for docs/keys.md, one row per action.
func (t *Table) Markdown() string {
	var b strings.Builder
	b.WriteString("| Where | Key | Name | What it does |\n|---|---|---|---|\n")
	cell := strings.NewReplacer("|", `\|`, "\n", " ")
	for _, s := range t.Scopes() {
		for _, a := range t.pick(func(a Action) bool { return a.Scope == s }) {
			keys := make([]string, len(a.Keys))
			for i, k := range a.Keys {
				keys[i] = codeSpan(cell.Replace(keyName(k)))
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %s |\n",
				cell.Replace(string(s)), strings.Join(keys, " "), cell.Replace(a.Label), cell.Replace(a.Help))
		}
	}
	return b.String()
}

// codeSpan quotes a key as code; a backtick itself needs the longer fence.
func codeSpan(s string) string {
	if strings.Contains(s, "`") {
		return "`` " + s + " ``"
	}
	return "`" + s + "`"
}
