package main

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// jsonText is a value as every command prints JSON: two blanks a step, and letters as
// they are.
func jsonText(what string, v any) (string, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		return "", fail(exitBug, fmt.Errorf("cannot write the %s as JSON: %w", what, err))
	}
	return b.String(), nil
}
