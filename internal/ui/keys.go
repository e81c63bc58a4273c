package ui

import (
	"fmt"
	"os"

	"fitup/internal/ui/action"

	"github.com/BurntSushi/toml"
)

// settings are what a person has chosen for good.
type settings struct {
	mouse bool
	keys  map[action.ID][]string
}

// readSettings reads a settings file of lines such as
//
//	mouse = true
//	"file.save" = ["ctrl+s"]
func readSettings(path string) (settings, error) {
	out := settings{keys: map[action.ID][]string{}}
	src, err := os.ReadFile(path)
	if err != nil {
		return out, fmt.Errorf("cannot read the key settings: %w", err)
	}
	const want = "want lines such as \"file.save\" = [\"ctrl+s\"]"
	raw := map[string]any{}
	if _, err := toml.Decode(string(src), &raw); err != nil {
		return out, fmt.Errorf("%s: %w; %s", path, err, want)
	}
	for id, value := range raw {
		if id == "mouse" {
			on, ok := value.(bool)
			if !ok {
				return out, fmt.Errorf("%s: mouse is %v; want mouse = true or mouse = false", path, value)
			}
			out.mouse = on
			continue
		}
		list, ok := value.([]any)
		keys := make([]string, len(list))
		for i, k := range list {
			s, text := k.(string)
			keys[i], ok = s, ok && text
		}
		if !ok {
			return out, fmt.Errorf("%s: %q is %v; %s", path, id, value, want)
		}
		out.keys[action.ID(id)] = keys
	}
	return out, nil
}

// rebind is the table with the keys of a settings file.
func (s settings) rebind(t *action.Table, path string) (*action.Table, error) {
	out, err := t.Rebind(s.keys)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return out, nil
}
