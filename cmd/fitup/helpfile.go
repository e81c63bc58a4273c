package main

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/ui/theme"
)

// fileHelp explains the build file, or the part of it that a path leads to, from
// what the schema itself says of its keys.
func fileHelp(path string, g theme.Glyphs) (string, error) {
	all := project.Schema()
	if path == "" {
		return fileHead + "\n" + keyTables(all, g), nil
	}
	path = strings.Trim(path, "[].")
	var found []project.Key
	for _, k := range all {
		under, exact := k.Under(path)
		switch {
		case exact && !isTable(k):
			return oneKey(k.Named(path)), nil
		case under:
			found = append(found, k.Named(path))
		}
	}
	if len(found) > 0 {
		return keyTables(found, g), nil
	}
	return "", wrongUse("a build file has nothing called %q%s; `fitup help file` lists all there is", project.Printable(path), meantKey(path, all))
}

const fileHead = `A build file is one TOML file. A table is opened by its name in brackets, and its
keys stand below it, one a line, such as rear = -95.9. A table in [[ ]] is an entry
of a list, and stands there once for each. NAME is a name of your own, such as rear
or left_front; N is the number of an entry, counted from 1, as fitup set takes it.

A bare number is in the units under [units]; in quotes a number has its own unit:
"412 mm", "16 1/4 in". Give what you know and leave the rest out: it shows as not
known. fitup help file PATH explains one part, such as line.rear.pinion.
`

func (a *app) printFileHelp(args []string) error {
	if len(args) > 1 {
		return wrongUse("one part of the file at a time; read %d paths", len(args))
	}
	g := a.glyphs()
	text, err := fileHelp(strings.Join(args, ""), g)
	if err != nil {
		return err
	}
	return a.print(g.Plain(text))
}

// completeKeys completes a path of the schema.
func completeKeys(word string) []string {
	var out []string
	for _, k := range project.Schema() {
		if strings.HasPrefix(k.Path, word) {
			out = append(out, k.Path)
		}
	}
	return out
}

// isTable reports whether a key opens a table.
func isTable(k project.Key) bool {
	return k.Shape == project.TableShape || k.Shape == project.TablesShape || k.Shape == project.NamedTablesShape
}

// keyTables lists keys under the tables they stand in.
func keyTables(keys []project.Key, g theme.Glyphs) string {
	var out strings.Builder
	var rows [][]string
	flush := func() {
		for _, line := range columns(rows, g, 0) {
			out.WriteString(line + "\n")
		}
		rows = nil
	}
	in := "" // the table that keys stand in
	for _, k := range keys {
		table, key := "", k.Path
		if dot := strings.LastIndexByte(k.Path, '.'); dot >= 0 {
			table, key = k.Path[:dot], k.Path[dot+1:]
		}
		switch {
		case isTable(k):
			flush()
			out.WriteString("\n" + header(k) + "\n")
			if in = k.Path; k.Shape == project.TablesShape {
				in += ".N"
			}
			if k.About != "" {
				out.WriteString("  " + strings.Join(theme.Wrap(k.About, sheetWidth-2), "\n  ") + "\n")
			}
			continue
		case table != in: // its own line of the list was not asked for
			flush()
			in = table
			out.WriteString("\n[" + in + "]\n")
		}
		for i, line := range theme.Wrap(aboutKey(k), sheetWidth-20) {
			rows = append(rows, []string{"", line})
			if i == 0 {
				rows[len(rows)-1][0] = "  " + key
			}
		}
	}
	flush()
	return strings.TrimLeft(out.String(), "\n")
}

// aboutKey is what a key is and what it is given, said once.
func aboutKey(k project.Key) string {
	if k.About == "" {
		return k.Takes()
	}
	told := len(k.Words) > 0
	for _, w := range k.Words {
		told = told && strings.Contains(k.About, w)
	}
	if told {
		return k.About
	}
	return k.About + "; " + k.Takes()
}

// header opens a table as a file does.
func header(k project.Key) string {
	if k.Shape == project.TablesShape {
		return "[[" + strings.ReplaceAll(k.Path, ".N.", ".") + "]]"
	}
	return "[" + strings.ReplaceAll(k.Path, ".N.", ".") + "]"
}

// oneKey explains a single key.
func oneKey(k project.Key) string {
	var out strings.Builder
	out.WriteString(k.Path + "\n")
	from := ""
	if k.From != "" {
		from = "measured from " + k.From
	}
	for _, text := range []string{k.About, k.How, from, k.Takes()} {
		if text != "" {
			for _, line := range theme.Wrap(text, sheetWidth-2) {
				out.WriteString("  " + line + "\n")
			}
		}
	}
	fmt.Fprintf(&out, "\nIt is given as in: fitup set FILE %s\n", shellWord(k.Path+"="+k.Example()))
	return out.String()
}

// meantKey offers the path that was meant, when it is near one of the schema.
func meantKey(path string, all []project.Key) string {
	var same, paths []string
	for _, k := range all {
		if last := k.Path[strings.LastIndexByte(k.Path, '.')+1:]; last == path && len(same) < 5 {
			same = append(same, k.Path)
		}
		if p := k.Named(path).Path; !slices.Contains(paths, p) {
			paths = append(paths, p)
		}
	}
	if len(same) > 0 {
		return "; it is a key in " + strings.Join(same, ", ")
	}
	if near, ok := project.Nearest(path, paths); ok {
		return "; did you mean " + near + "?"
	}
	return ""
}
