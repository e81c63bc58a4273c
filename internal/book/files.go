package book

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book/paper"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
)

// Files are the book: one PDF on sheets of a size, the same tables as Markdown
// and as CSV, and its drawings as SVG. Only names the chapters that are wanted;
// none means all. w is told how far it is.
func Files(w Watch, a *assess.Assessment, size PaperSize, from Origin, only ...string) ([]Output, error) {
	cs, err := Chapters(w, a, size, from, only...)
	if err != nil {
		return nil, err
	}
	if err := w.at("pages", len(contents), len(contents)); err != nil {
		return nil, err
	}
	title := "Build book: " + from.Foot()
	pdf, err := paper.Document{Title: title, Date: from.Date, Pages: Pages(cs, size, from)}.PDF()
	if err != nil {
		return nil, err
	}
	out := []Output{{"book.pdf", pdf}, {"book.md", []byte(Markdown(cs, from))}}
	for _, c := range cs {
		if err := w.at("drawings", len(contents), len(contents)); err != nil {
			return nil, err
		}
		table, err := chapterCSV(c, from)
		if err != nil {
			return nil, err
		}
		// Names do not hang on what is in a table, so that another printing leaves
		// no old one beside the new.
		out = append(out, Output{"tables/" + c.Key + ".csv", table})
		for _, s := range c.Sections {
			for _, it := range s.Items {
				if it.Figure != nil {
					out = append(out, Output{it.Figure.file(c), []byte(it.Figure.svg(size, from))})
				}
			}
		}
	}
	return out, nil
}

// file is the name of the figure's drawing in the book's folder.
func (f *Figure) file(c Chapter) string { return "drawings/" + c.Key + "-" + f.Name + ".svg" }

// svg is a figure as a drawing of its own, with its title under it.
func (f *Figure) svg(size PaperSize, from Origin) string {
	const edge, foot = 6.0, 16.0
	wide := max(size.Wide-bookLeft-bookRight, f.Wide)
	p := &paper.Page{Wide: wide + 2*edge, High: f.High + 2*edge + foot}
	f.draw(p, r2.Box{Min: r2.Vec{X: edge, Y: edge + foot}, Max: r2.Vec{X: edge + wide, Y: edge + foot + f.High}})
	y := edge + foot - 4
	for i, l := range append(paper.Regular().Wrap(settled(f.Title), cellSize, wide), from.within(cellSize, wide)) {
		p.Type(r2.Vec{X: edge, Y: y - cellLead*float64(i)}, paper.Regular().Fit(settled(l), cellSize, wide), cellSize, false)
	}
	return p.SVG()
}

// marks are signs that Markdown (CommonMark 0.31) takes for its own.
var marks = strings.NewReplacer(`\`, `\\`, "|", `\|`, "*", `\*`, "_", `\_`, "`", "\\`", "<", "&lt;", "[", `\[`, "#", `\#`, "\n", " ")

// Markdown is the book's tables and texts, with links to its drawings.
func Markdown(cs []Chapter, from Origin) string {
	var out strings.Builder
	name := from.Build
	if name == "" {
		name = "A build without a name"
	}
	fmt.Fprintf(&out, "# %s\n\n%s\n", marks.Replace(project.Printable(name)), marks.Replace(from.Foot()))
	for _, c := range cs {
		fmt.Fprintf(&out, "\n## %s\n", c.Title)
		for _, s := range c.Sections {
			if s.Head != "" {
				fmt.Fprintf(&out, "\n### %s\n", marks.Replace(s.Head))
			}
			for _, it := range s.Items {
				switch {
				case it.Table != nil:
					out.WriteString("\n" + tableMarkdown(it.Table))
				case it.Figure != nil:
					fmt.Fprintf(&out, "\n![%s](%s)\n", marks.Replace(it.Figure.Title), it.Figure.file(c))
				default:
					out.WriteString("\n" + marks.Replace(it.Text) + "\n")
				}
			}
		}
	}
	return out.String()
}

func tableMarkdown(t *Table) string {
	rows := t.Rows
	n := 0
	for _, r := range rows {
		n = max(n, len(r))
	}
	if n == 0 {
		return ""
	}
	head := make([]string, n)
	if t.Head {
		head, rows = rows[0], rows[1:]
	}
	var out strings.Builder
	line := func(cells []string) {
		out.WriteString("|")
		for i := range n {
			c := ""
			if i < len(cells) {
				c = marks.Replace(cells[i])
			}
			out.WriteString(" " + c + " |")
		}
		out.WriteString("\n")
	}
	line(head)
	out.WriteString(strings.Repeat("|---", n) + "|\n")
	for _, r := range rows {
		line(r)
	}
	return out.String()
}

// chapterCSV is the tables and texts of a chapter after RFC 4180, each table
// under its heading and parted from the next by an empty line; the first line
// says what it is of. A cell that a spreadsheet would take for a formula has an
// apostrophe before it.
func chapterCSV(c Chapter, from Origin) ([]byte, error) {
	rows := [][]string{{c.Title, from.Foot()}}
	for _, s := range c.Sections {
		rows = append(rows, []string{""})
		if s.Head != "" {
			rows = append(rows, []string{s.Head})
		}
		for _, it := range s.Items {
			switch {
			case it.Table != nil:
				rows = append(rows, it.Table.Rows...)
			case it.Figure == nil:
				rows = append(rows, []string{strings.ReplaceAll(it.Text, "\n", " ")})
			}
		}
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	for _, r := range rows {
		cells := make([]string, len(r))
		for i, cell := range r {
			cells[i] = plainCell(cell)
		}
		if err := w.Write(cells); err != nil {
			return nil, fmt.Errorf("a table cannot be written as CSV: %w", err)
		}
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return nil, fmt.Errorf("a table cannot be written as CSV: %w", err)
	}
	return out.Bytes(), nil
}

func plainCell(c string) string {
	switch {
	case c == "":
		return ""
	case strings.ContainsRune("=@", rune(c[0])),
		len(c) > 1 && strings.ContainsRune("+-", rune(c[0])) && (c[1] < '0' || c[1] > '9'):
		return "'" + c
	}
	return c
}
