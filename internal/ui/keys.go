package ui

import (
	"fmt"
	"os"

	"fitup/internal/ui/action"

	"github.com/BurntSushi/toml"
)

// rebind reads a settings file of lines such as
//
//	"file.save" = ["ctrl+s"]
//
// and returns the table with those keys.
func rebind(t *action.Table, path string) (*action.Table, error) {
	src, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the key settings: %w", err)
	}
	raw := map[string][]string{}
	if _, err := toml.Decode(string(src), &raw); err != nil {
		return nil, fmt.Errorf("%s: %w; want lines such as \"file.save\" = [\"ctrl+s\"]", path, err)
	}
	keys := make(map[action.ID][]string, len(raw))
	for id, list := range raw {
		keys[action.ID(id)] = list
	}
	out, err := t.Rebind(keys)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return out, nil
}
