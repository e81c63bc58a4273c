package ui

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"time"

	_ "fitup/internal/ui/termbg" // before bubbletea can ask the terminal

	"fitup/internal/assess"
	"fitup/internal/project/session"
	"fitup/internal/ui/action"
	"fitup/internal/ui/paint"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// Options say what to open and how it looks.
type Options struct {
	Path          string
	Scratch       bool   // the file is a scratch copy of the demo
	Theme         string // a name from theme.Names
	Ask           bool   // the terminal is asked for its background, and the theme follows the answer
	Glyphs        string // "unicode" or "ascii"
	Walk          bool   // begins with the walk through the demo
	Mouse         bool   // clicks and the wheel are the bench's
	Keys          string // a file with other keys for actions; "" for none
	Stdin, Stdout *os.File
	Now           func() time.Time
}

type (
	hangupMsg struct{}
	panicMsg  struct{ failure *Failure }
)

// guard keeps the trace of a panic inside a command, which the screen library
// would lose, and turns it into an orderly end.
func guard(cmd tea.Cmd) tea.Cmd {
	return func() (msg tea.Msg) {
		defer func() {
			if r := recover(); r != nil {
				msg = panicMsg{FailureOf(r)}
			}
		}()
		return cmd()
	}
}

// guarded keeps the trace of a panic in the model itself.
type guarded struct{ *Model }

func (g guarded) Update(msg tea.Msg) (m tea.Model, cmd tea.Cmd) {
	defer func() {
		if r := recover(); r != nil {
			g.failure = FailureOf(r)
			m, cmd = g, tea.Quit
		}
	}()
	_, cmd = g.Model.Update(msg)
	return g, cmd
}

// program sets a model up on a terminal. The library keeps the terminal in
// order; frames go there without it (see paint), so its own clock may be slow.
func program(m tea.Model, in io.Reader, out io.Writer, more ...tea.ProgramOption) *tea.Program {
	return tea.NewProgram(m, append(more,
		tea.WithInput(in), tea.WithOutput(out), tea.WithAltScreen(), tea.WithFPS(1))...)
}

// untilTheEnd closes the screen before the library gives the terminal back,
// whoever asked it to.
func untilTheEnd(s *paint.Screen) tea.ProgramOption {
	return tea.WithFilter(func(_ tea.Model, msg tea.Msg) tea.Msg {
		switch msg.(type) {
		case tea.QuitMsg, tea.InterruptMsg:
			s.Close()
		}
		return msg
	})
}

// settled is what the settings file makes of the table, and whether the mouse is
// wanted, there or by the option.
func (o Options) settled(t *action.Table) (*action.Table, bool, error) {
	if o.Keys == "" {
		return t, o.Mouse, nil
	}
	s, err := readSettings(o.Keys)
	if err != nil {
		return nil, false, err
	}
	t, err = s.rebind(t, o.Keys)
	return t, o.Mouse || s.mouse, err
}

// Run opens the bench screen and returns when the user leaves it. The error is
// a *Failure after a panic.
func Run(o Options) error {
	glyphs, err := theme.GlyphsNamed(o.Glyphs)
	if err != nil {
		return err
	}
	look, err := theme.New(o.Theme, glyphs)
	if err != nil {
		return err
	}
	table, err := Actions()
	if err != nil {
		return err
	}
	table, mouse, err := o.settled(table)
	if err != nil {
		return err
	}
	sess, left, err := session.OpenShared(o.Path, o.Now)
	if err != nil {
		return err
	}
	m := newModel(sess, left, assess.RunBeside(sess.Now().Build), look, table, o.Scratch)
	m.finder.yields.quiet = quietFor
	if o.Walk {
		m.startLesson()
	}
	m.screen = paint.New(o.Stdout)
	var p *tea.Program
	told := func(b backgroundMsg) { p.Send(b) } // from where keys are read, which begins with Run
	out := m.screen.Beside(o.Stdout)
	if m.asks = o.Ask && canAsk; m.asks {
		m.question = func() { _, _ = io.WriteString(out, askBackground) }
	}
	more := []tea.ProgramOption{untilTheEnd(m.screen)}
	if m.clicks = mouse; mouse {
		more = append(more, tea.WithMouseCellMotion())
	}
	p = program(guarded{m}, joinEscapes(o.Stdin, told), out, more...)
	hangup := make(chan os.Signal, 1)
	notifyHangup(hangup)
	defer signal.Stop(hangup)
	go func() {
		if _, ok := <-hangup; ok {
			signal.Stop(hangup) // a second one ends a program that does not listen
			p.Send(hangupMsg{})
		}
	}()
	_, err = p.Run()
	m.screen.Close()
	if cerr := m.finish(o.Stdout); cerr != nil && err == nil {
		err = cerr
	}
	if m.failure != nil {
		return m.failure
	}
	if errors.Is(err, tea.ErrInterrupted) || errors.Is(err, tea.ErrProgramKilled) {
		return fmt.Errorf("fitup was ended from outside; unsaved work is kept and offered at the next start: %w", err)
	}
	return err
}
