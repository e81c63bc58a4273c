package edit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// Value is what a person typed for the value at a path of the text.
type Value struct{ Path, Text string }

// Typed returns the edits that give each value what was typed for it: a point as three
// lengths, a list with semicolons, all else as SetText takes it. Nothing typed takes the
// value out. Tables are begun as they are needed, and so is the entry one past the last
// of a list, by all that was typed for it at once.
func Typed(f *project.File, values ...Value) ([]Edit, error) {
	var out []Edit
	begun := map[string]int{} // place in out of an entry that is begun
	now := f
	for _, v := range values {
		v.Text = strings.TrimSpace(v.Text)
		if list, entry, key, ok := newEntry(f, v.Path); ok {
			if v.Text == "" {
				continue
			}
			lit, err := literal(f, v.Path, v.Text)
			if err != nil {
				return nil, err
			}
			i, known := begun[entry]
			if !known {
				i = len(out)
				begun[entry] = i
				out = append(out, Edit{Op: OpAdd, Path: list})
				out = append(out, others(f, list)...)
			}
			out[i].Pairs = append(out[i].Pairs, tomltext.Pair{Key: key, Literal: lit})
			continue
		}
		edits, err := typedOne(now, v)
		if err != nil {
			return nil, err
		}
		out = append(out, edits...)
		if len(values) > 1 && len(edits) > 0 { // what comes next finds what this one made
			if next, err := Apply(now, edits...); err == nil {
				now = next
			}
		}
	}
	return out, nil
}

// others are the entries that a line gets with its first joint: it has as many joints as
// it has written, so all of them are.
func others(f *project.File, list string) []Edit {
	if !strings.HasSuffix(list, ".joint") || f.Has(list) {
		return nil
	}
	var out []Edit
	for range implied(f, list) - 1 {
		out = append(out, Edit{Op: OpAdd, Path: list})
	}
	return out
}

// newEntry takes a path apart that leads into an entry which its list does not have
// yet, one past the last.
func newEntry(f *project.File, path string) (list, entry, key string, ok bool) {
	for i := strings.IndexByte(path, '['); i >= 0; {
		end := i + strings.IndexByte(path[i:], ']') + 1
		if project.ShapeAt(path[:i]) == project.TablesShape && f.Doc().Find(path[:end]) == nil {
			count := 0
			if n := f.Doc().Find(path[:i]); n != nil {
				count = len(n.Children)
			}
			rest := strings.TrimPrefix(path[end:], ".")
			if path[i:end] != fmt.Sprintf("[%d]", count) || rest == "" || strings.ContainsAny(rest, ".[") {
				return "", "", "", false
			}
			return path[:i], path[:end], rest, true
		}
		next := strings.IndexByte(path[end:], '[')
		if next < 0 {
			break
		}
		i = end + next
	}
	return "", "", "", false
}

func typedOne(f *project.File, v Value) ([]Edit, error) {
	if key, ok := strings.CutPrefix(v.Path, "units."); ok {
		return SetUnit(f, key, v.Text)
	}
	if isRule(v.Path) {
		return typedRule(f, v)
	}
	if v.Text == "" {
		if !f.Has(v.Path) {
			return nil, nil
		}
		return []Edit{{Op: OpRemove, Path: v.Path}}, nil
	}
	lit, err := literal(f, v.Path, v.Text)
	if err != nil {
		return nil, err
	}
	return []Edit{{Op: OpSet, Path: v.Path, Text: lit}}, nil
}

// isRule reports whether a path is a limit or a load factor, or the source of one.
func isRule(path string) bool {
	return strings.HasPrefix(path, "limits.") || strings.HasPrefix(path, "loads.") && !strings.HasPrefix(path, "loads.case")
}

// typedRule gives a limit its value or its source. It is a table as soon as it has a
// source, and nothing once its value is taken out.
func typedRule(f *project.File, v Value) ([]Edit, error) {
	base, source := strings.CutSuffix(v.Path, ".source")
	n := f.Doc().Find(base)
	table := n != nil && n.Kind == tomltext.Table
	switch {
	case v.Text == "" && !source:
		if n == nil {
			return nil, nil
		}
		return []Edit{{Op: OpRemove, Path: base}}, nil
	case v.Text == "":
		if !table || n.Child("source") == nil {
			return nil, nil
		}
		return []Edit{{Op: OpRemove, Path: v.Path}}, nil
	case source && table:
		return []Edit{{Op: OpSet, Path: v.Path, Text: tomltext.Quote(v.Text)}}, nil
	case source:
		value := ""
		if n != nil {
			value = n.Raw
		} else {
			e, err := SetValue(f, base, ruleInForce(f, base).Value)
			if err != nil {
				return nil, err
			}
			value = e.Text
		}
		return []Edit{{Op: OpSet, Path: base, Text: fmt.Sprintf("{ value = %s, source = %s }", value, tomltext.Quote(v.Text))}}, nil
	case table:
		base += ".value"
	}
	e, err := setQuantity(f, base, v.Text)
	if err != nil {
		return nil, err
	}
	return []Edit{e}, nil
}

func ruleInForce(f *project.File, path string) project.Rule {
	if key, ok := strings.CutPrefix(path, "limits."); ok {
		return f.Build.Limit(key)
	}
	return f.Build.Load(strings.TrimPrefix(path, "loads."))
}

// literal is what was typed for a value as the text spells it.
func literal(f *project.File, path, typed string) (string, error) {
	switch project.ShapeAt(path) {
	case project.NoShape:
		return "", noSuchValue(path)
	case project.ListShape:
		return listLiteral(f, path, typed)
	case project.SwitchShape:
		return switchLiteral(typed)
	case project.DateShape:
		day, err := time.Parse(time.DateOnly, typed)
		if err != nil {
			return "", fmt.Errorf("read %q; want a day as year, month and day, such as 2026-05-14", project.Printable(typed))
		}
		return day.Format(time.DateOnly), nil
	case project.TextShape:
		if words := f.Choices(path); words != nil {
			return wordLiteral(words, typed)
		}
		if n := f.Doc().Find(path); n != nil && n.Kind == tomltext.String && strings.ContainsAny(n.Value.(string), "\n\r\t") {
			escaped := !strings.Contains(typed, "\n") // with its line ends it is typed as it is
			if escaped {
				typed = unescaped(typed)
			}
			if escaped && !strings.HasPrefix(n.Raw, `"""`) && !strings.HasPrefix(n.Raw, "'''") {
				return tomltext.Quote(typed), nil
			}
		}
		return lines(f, typed), nil
	}
	e, err := SetText(f, path, typed)
	if err == nil {
		err = notNegative(f, path, path, typed)
	}
	return e.Text, err
}

// lines spells a text, over several lines where it has them, with the line ends of the
// file.
func lines(f *project.File, text string) string {
	lit := tomltext.QuoteLines(text)
	if strings.Contains(f.Doc().Text(), "\r\n") {
		return strings.ReplaceAll(lit, "\n", "\r\n")
	}
	return lit
}

// notNegative refuses a quantity below zero where that makes no sense. field is the path
// of the value, path its own or that of the list it is in.
func notNegative(f *project.File, field, path, typed string) error {
	what, _ := project.FieldAt(field)
	k, ok := project.KindAt(path)
	if !ok || !what.Positive {
		return nil
	}
	if s, err := quantity.ParseStated(k, typed, f.Build.Units); err == nil && s.V < 0 {
		return fmt.Errorf("%s cannot be negative; read %s", strings.ReplaceAll(what.Key, "_", " "), project.Printable(typed))
	}
	return nil
}

func switchLiteral(typed string) (string, error) {
	on, err := Switch(typed)
	return strconv.FormatBool(on), err
}

// Switch reads yes or no, or true or false.
func Switch(typed string) (bool, error) {
	switch strings.ToLower(strings.TrimSpace(typed)) {
	case "true", "yes", "y":
		return true, nil
	case "false", "no", "n":
		return false, nil
	}
	return false, fmt.Errorf("read %q; want yes or no", project.Printable(typed))
}

func wordLiteral(words []string, typed string) (string, error) {
	i := slices.IndexFunc(words, func(w string) bool { return strings.EqualFold(w, typed) })
	if i < 0 {
		return "", fmt.Errorf("read %q; want one of: %s", project.Printable(typed), strings.Join(words, ", "))
	}
	return tomltext.Quote(words[i]), nil
}

// listLiteral spells a point, or a list with semicolons between its entries.
func listLiteral(f *project.File, path, typed string) (string, error) {
	if project.IsPoint(path) {
		return pointLiteral(f, typed)
	}
	of := path + "[0]"
	k, quantities := project.KindAt(of)
	points := project.IsPoint(of)
	parts := cutList(typed)
	if quantities && !strings.Contains(typed, ";") {
		parts = strings.Split(typed, ",")
	}
	var out []string
	for _, part := range parts {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		lit, err := tomltext.Quote(part), error(nil)
		switch {
		case points:
			lit, err = pointLiteral(f, part)
		case quantities:
			if lit, err = bareLiteral(f, k, part); err == nil {
				err = notNegative(f, path, of, part)
			}
		}
		if err != nil {
			return "", err
		}
		out = append(out, lit)
	}
	if len(out) == 0 {
		return "", fmt.Errorf("read %q; write each entry with a semicolon between them", project.Printable(typed))
	}
	return "[" + strings.Join(out, ", ") + "]", nil
}

// pointLiteral spells three lengths, with commas, semicolons or spaces between them, or
// the name of a measured point.
func pointLiteral(f *project.File, typed string) (string, error) {
	if strings.HasPrefix(typed, "point.") { // by its name
		return tomltext.Quote(typed), nil
	}
	parts := strings.Split(typed, ",")
	switch {
	case strings.Contains(typed, ";"):
		parts = strings.Split(typed, ";")
	case len(parts) == 1:
		parts = strings.Fields(typed)
	}
	if len(parts) != 3 {
		return "", fmt.Errorf("read %q; want three lengths with commas between them, to the rear, right and up, such as 1395, 0, -64", project.Printable(typed))
	}
	for i, p := range parts {
		lit, err := bareLiteral(f, quantity.Length, strings.TrimSpace(p))
		if err != nil {
			return "", fmt.Errorf("the %s of three: %w", [...]string{"first", "second", "third"}[i], err)
		}
		parts[i] = lit
	}
	return "[" + strings.Join(parts, ", ") + "]", nil
}

// bareLiteral spells a quantity as it was typed: with its unit or its ±, or as a number
// in the file's unit.
func bareLiteral(f *project.File, k quantity.Kind, typed string) (string, error) {
	s, err := quantity.ParseStated(k, typed, f.Build.Units)
	if err != nil {
		return "", err
	}
	if HasUnit(typed) {
		return tomltext.Quote(typed), nil
	}
	text, bare := quantity.Respell(k, s.V, "0", true, f.Build.Units)
	if !bare {
		text = tomltext.Quote(text)
	}
	return text, nil
}

// cutList cuts a list at its semicolons; one behind a backslash belongs to its entry.
func cutList(s string) []string {
	parts := []string{""}
	last := func() *string { return &parts[len(parts)-1] }
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] == '\\' && i+1 < len(s) && (s[i+1] == ';' || s[i+1] == '\\'):
			i++
			*last() += s[i : i+1]
		case s[i] == ';':
			parts = append(parts, "")
		default:
			*last() += s[i : i+1]
		}
	}
	return parts
}

// unescaped is a text of several lines as a row shows it, with its line ends.
func unescaped(s string) string {
	return strings.NewReplacer(`\\`, `\`, `\n`, "\n", `\t`, "\t").Replace(s)
}
