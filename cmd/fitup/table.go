package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/edit"
)

// csvRow is a row of a table below its head: the cells that are not empty.
type csvRow struct {
	table string // name of the table, "" when the row is no row of one
	line  int
	keys  []edit.KeyValue
}

// place says in which row of the table an error is.
func (r csvRow) place(err error) error {
	if r.table == "" {
		return err
	}
	var problems project.Problems
	if errors.As(err, &problems) {
		p := problems[0]
		column := p.Path[strings.LastIndexAny(p.Path, ".]")+1:]
		if slices.ContainsFunc(r.keys, func(k edit.KeyValue) bool { return k.Key == column }) {
			return fmt.Errorf("%s, row %d, column %s: %s; nothing was added", r.table, r.line, project.Printable(column), p.Msg)
		}
		return fmt.Errorf("%s, row %d: %s; nothing was added", r.table, r.line, p.Msg)
	}
	if key, _, ok := strings.Cut(err.Error(), ": "); ok && slices.ContainsFunc(r.keys, func(k edit.KeyValue) bool { return k.Key == key }) {
		return fmt.Errorf("%s, row %d, column %w; nothing was added", r.table, r.line, err)
	}
	return fmt.Errorf("%s, row %d: %w; nothing was added", r.table, r.line, err)
}

// readTable reads the rows of a table in a file, or of standard input for "-".
func readTable(path string, stdin io.Reader) ([]csvRow, error) {
	name := project.Printable(path)
	var src []byte
	var err error
	if path == "-" {
		name = "the table"
		src, err = io.ReadAll(io.LimitReader(stdin, project.MaxSize+1))
	} else {
		src, err = os.ReadFile(path)
	}
	switch {
	case err != nil:
		return nil, wrongUse("%s cannot be read: %w", name, err)
	case len(src) > project.MaxSize:
		return nil, wrongUse("%s is larger than a build file may be", name)
	}
	rows, err := tableRows(name, string(src))
	if err != nil {
		return nil, fail(exitUsage, err)
	}
	return rows, nil
}

// tableRows takes a table apart; its first row names the keys.
func tableRows(name, src string) ([]csvRow, error) {
	src = strings.TrimPrefix(src, "\ufeff")
	head, _, _ := strings.Cut(src, "\n")
	r := csv.NewReader(strings.NewReader(src))
	r.FieldsPerRecord, r.TrimLeadingSpace = -1, true
	for _, sign := range ";\t" {
		if strings.ContainsRune(head, sign) && !strings.Contains(head, ",") {
			r.Comma = sign
		}
	}
	var keys []string
	var out []csvRow
	for {
		cells, err := r.Read()
		var broken *csv.ParseError
		switch {
		case errors.Is(err, io.EOF) && keys == nil:
			return nil, fmt.Errorf("%s is empty; want a row that names the keys, and a row for each entry below it", name)
		case errors.Is(err, io.EOF) && len(out) == 0:
			return nil, fmt.Errorf("%s has no row below the one that names the keys", name)
		case errors.Is(err, io.EOF):
			return out, nil
		case errors.As(err, &broken):
			return nil, fmt.Errorf("%s, row %d: a quotation mark is missing or stands in the middle of a cell; a cell in quotes has one at each end", name, broken.Line)
		case err != nil:
			return nil, fmt.Errorf("%s cannot be read: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		if keys == nil {
			if keys, err = columnKeys(name, cells); err != nil {
				return nil, err
			}
			continue
		}
		row, err := rowOf(name, line, keys, cells)
		if err != nil {
			return nil, err
		}
		if len(row.keys) > 0 { // a spreadsheet leaves empty rows behind
			out = append(out, row)
		}
	}
}

// columnKeys are the keys that the first row of a table names.
func columnKeys(name string, cells []string) ([]string, error) {
	for len(cells) > 0 && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
	}
	keys := make([]string, len(cells))
	for i, c := range cells {
		keys[i] = strings.ToLower(strings.TrimSpace(c))
		switch {
		case keys[i] == "":
			return nil, fmt.Errorf("%s, row 1, column %d: the first row names the key of each column, and this cell is empty", name, i+1)
		case slices.Contains(keys[:i], keys[i]):
			return nil, fmt.Errorf("%s, row 1: two columns are called %q", name, project.Printable(keys[i]))
		}
	}
	if len(keys) == 0 {
		return nil, fmt.Errorf("%s, row 1: the first row names the key of each column, and this one is empty", name)
	}
	return keys, nil
}

// pointParts are the columns that a point may be given in.
var pointParts = [...]string{".station", ".offset", ".height"}

// rowOf is one row by its keys, with a point in three columns put together.
func rowOf(name string, line int, keys, cells []string) (csvRow, error) {
	row := csvRow{table: name, line: line}
	points := map[string]*[3]string{}
	for i, cell := range cells {
		cell = strings.TrimSpace(cell)
		if cell == "" {
			continue
		}
		if i >= len(keys) {
			return row, fmt.Errorf("%s, row %d: it has %d cells and the first row names %d keys; a cell with a comma in it, such as a point, stands in quotes", name, line, len(cells), len(keys))
		}
		part := slices.IndexFunc(pointParts[:], func(p string) bool { return strings.HasSuffix(keys[i], p) })
		if part < 0 {
			row.keys = append(row.keys, edit.KeyValue{Key: keys[i], Typed: cell})
			continue
		}
		key := strings.TrimSuffix(keys[i], pointParts[part])
		if points[key] == nil {
			points[key] = &[3]string{}
			row.keys = append(row.keys, edit.KeyValue{Key: key})
		}
		points[key][part] = cell
	}
	for i, k := range row.keys {
		p := points[k.Key]
		if p == nil {
			continue
		}
		for n, cell := range p {
			if cell == "" {
				return row, fmt.Errorf("%s, row %d, column %s: a point has three numbers, and this cell is empty", name, line, project.Printable(k.Key+pointParts[n]))
			}
		}
		row.keys[i].Typed = strings.Join(p[:], "; ")
	}
	return row, nil
}
