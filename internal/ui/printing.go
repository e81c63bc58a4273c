package ui

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/book/press"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/action"
	"fitup/internal/ui/field"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// printing is the book, the bench sheet or templates on their way to the disk, beside the
// keys.
type printing struct {
	press.Job
	*aside
	progress[press.Progress]
	done press.Done
}

// printer is how the bench stands with paper.
type printer struct {
	*printing           // under way; nil for none
	next      *printing // is to begin
	letter    int       // the sheet that was chosen: of book.PaperSizes, from 1; 0 for none
	dir       string    // the folder that was chosen; "" for the one beside the file
	leave     bool      // the bench is left when it has ended
}

// paper is the sheet that is printed on: the one that was chosen, or the one that goes
// with the file's lengths.
func (m *Model) paper() int {
	if m.print.letter > 0 {
		return m.print.letter - 1
	}
	if m.now.Build.Units.For(quantity.Length).Name() == "in" {
		return 1
	}
	return 0
}

// printDir is the folder that something is printed into.
func (m *Model) printDir(what press.What) string {
	if m.print.dir != "" {
		return m.print.dir
	}
	dir := press.Folder(m.path, what)
	if m.scratch { // which lies where nobody looks for it
		dir = press.Folder("demo.toml", what)
	}
	if whole, err := filepath.Abs(dir); err == nil {
		return whole
	}
	return dir
}

// openPrint asks what is to be printed, or whether what is under way is to stop.
func (m *Model) openPrint() {
	if m.print.printing != nil {
		m.open(newStopPrint(m))
		return
	}
	if f := m.now.Fitting(); f != nil {
		m.say(theme.Doubt, "The survey is not worked out yet, and the book would know nothing of it: print when it is.")
		return
	}
	m.open(newPrint(m))
}

// newPrint asks what is to be printed, on which sheet, into which folder.
func newPrint(m *Model) *question {
	sizes := book.PaperSizes()
	now, other := m.paper(), (m.paper()+1)%len(sizes)
	where := "into " + project.Printable(m.printDir(press.Book)) + ", templates into " + project.Printable(m.printDir(press.Templates))
	if m.print.dir != "" {
		where = "into " + project.Printable(m.print.dir)
	}
	q := &question{title: "Print", text: []string{
		"Written " + where + ". On sheets of " + sheetName(sizes[now]) + ", as PDF with its tables and drawings beside it. Files of the same names there are replaced.",
	}}
	if m.sess.Unsaved() {
		q.text = append(q.text, "There are changes that are not saved: the pages say so.")
	}
	does := func(what press.What) func(*Model) {
		return func(m *Model) { m.startPrint(what) }
	}
	q.choices = []choice{
		{"b", "the whole book", does(press.Book)},
		{"s", "one sheet for under the vehicle, for the step in hand", does(press.Bench)},
		{"t", "templates of true size", does(press.Templates)},
		{"p", "print on " + sheetName(sizes[other]) + " instead", func(m *Model) {
			m.print.letter = other + 1
			m.open(newPrint(m))
		}},
		{"f", "name another folder", func(m *Model) { m.open(newPrintDir(m)) }},
	}
	return q
}

// sheetName is a sheet as people call it.
func sheetName(s book.PaperSize) string { return strings.ToUpper(s.Name[:1]) + s.Name[1:] }

// newPrintDir asks for the folder.
func newPrintDir(m *Model) *ask {
	place := func(text string) string {
		text = strings.TrimSpace(text)
		if filepath.IsAbs(text) || m.scratch {
			return text
		}
		return filepath.Join(filepath.Dir(m.path), text)
	}
	check := func(text string) (string, error) {
		if strings.TrimSpace(text) == "" {
			return "", errors.New("want the name of a folder; it is made where it is not there")
		}
		return project.Printable(place(text)), nil
	}
	return &ask{title: "Folder to print into", field: field.New("folder", "", check).WithTheme(m.theme), accept: func(m *Model, text string) bool {
		m.print.dir = place(text)
		m.close()
		m.open(newPrint(m))
		return false // it is closed already
	}}
}

// newStopPrint asks whether what is under way is to stop.
func newStopPrint(m *Model) *question {
	return &question{title: "Printing", text: []string{"It is on its way into " + project.Printable(m.print.Dir) + "; it goes on beside you."},
		choices: []choice{{"s", "stop it; nothing is left half-made", func(m *Model) { m.stopPrint() }}}}
}

func (m *Model) stopPrint() {
	if p := m.print.printing; p != nil {
		p.end()
		m.say(theme.Dim, "Stopping what is being printed.")
	}
}

// startPrint begins to print the build as it is now.
func (m *Model) startPrint(what press.What) {
	p := &printing{aside: newAside(), Job: press.Job{
		What: what, File: m.sess.Now(), Path: m.path, Unsaved: m.sess.Unsaved(), Date: m.sess.Clock().Format(time.DateOnly),
		Size: book.PaperSizes()[m.paper()], Dir: m.printDir(what),
	}}
	m.print.next = p
	m.say(theme.Dim, "Printing into %s; %s stops it.", project.Printable(p.Dir), m.keyText(actPrint))
}

// keyText is the key of an action, or where else it is found.
func (m *Model) keyText(id action.ID) string {
	if a, ok := m.actions.Get(id); ok && len(a.Keys) > 0 {
		return a.KeyText()
	}
	return "the search"
}

// printWork begins what is to be printed, and ends it when nobody waits any longer.
func (m *Model) printWork() tea.Cmd {
	if m.quit && m.print.printing != nil {
		m.print.end()
	}
	p := m.print.next
	if p == nil || m.print.printing != nil {
		return nil
	}
	m.print.next, m.print.printing = nil, p
	return m.begin(p, func(ctx context.Context) (err error) {
		p.done, err = p.Do(ctx, p.tell)
		return err
	})
}

// over says what came of it.
func (p *printing) over(m *Model) (always bool) {
	if m.print.printing == p {
		m.print.printing = nil
	}
	if m.print.leave {
		m.print.leave = false
		m.askQuit()
		return false
	}
	var made press.MadeError
	switch {
	case m.saysFault("Printing", p.aside):
	case errors.Is(p.failed, context.Canceled):
		m.say(theme.Doubt, "Printing was stopped; nothing was left half-made.")
	case errors.As(p.failed, &made):
		m.say(theme.Danger, "Not printed: %s", firstLine(p.failed))
	case p.failed != nil:
		m.say(theme.Danger, "Not printed: %s", why(p.failed))
		m.open(newNotice("Not printed", capital(why(p.failed))+".", "", "Nothing was left half-made. Press "+m.keyText(actPrint)+", then f, to name another folder."))
	default:
		m.tellPrinted(p)
	}
	return false
}

func (m *Model) tellPrinted(p *printing) {
	said := "Printed " + filepath.Join(project.Printable(p.done.Dir), p.done.First)
	if p.done.More > 0 {
		said += fmt.Sprintf(" and %d files beside it", p.done.More)
	}
	if p.What == press.Templates {
		said += ". Print at 100 % and measure the bars before you cut."
	} else {
		n := p.done.Of.Count()
		said += fmt.Sprintf(". %d over, %d not known: it says which.", n[assess.Over], n[assess.NotKnown])
	}
	if len(p.done.Left) > 0 {
		said += " " + project.Printable(strings.Join(p.done.Left, " "))
	}
	m.say(theme.Good, "%s", said)
}

// printState is what the title says of it, "" where nothing is printed.
func (m *Model) printState() string {
	p := m.print.printing
	if p == nil {
		return ""
	}
	at := "printing"
	if p.shown != "" {
		at += ": " + p.shown
	}
	return at + ", " + m.keyText(actPrint) + " stops"
}

// newPrintQuit asks before the bench is left with something on its way to the disk.
func newPrintQuit() *question {
	return &question{title: "Still printing", text: []string{"What is printed is not all on the disk yet."},
		choices: []choice{
			{"s", "stop it, and leave; nothing is left half-made", func(m *Model) {
				m.print.leave = true
				m.stopPrint()
			}},
			{"w", "leave when it is done", func(m *Model) { m.print.leave = true }},
		}}
}
