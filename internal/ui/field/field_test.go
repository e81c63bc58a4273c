package field

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fitup/internal/ui/theme"
)

// inMM is a check like the real ones: a number, taken as mm.
func inMM(s string) (string, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil {
		return "", fmt.Errorf("%q is not a length: write a number and a unit, such as 412 mm", s)
	}
	return fmt.Sprintf("%g mm", v), nil
}

func runes(s string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)} }
func paste(s string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s), Paste: true} }
func press(k tea.KeyType) tea.KeyMsg {
	return tea.KeyMsg{Type: k}
}

// feed gives the field all keys and returns it with the last report.
func feed(m Model, keys ...tea.KeyMsg) (Model, Done) {
	done := Editing
	for _, k := range keys {
		m, done = m.Update(k)
	}
	return m, done
}

func TestEditing(t *testing.T) {
	space := tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	for name, c := range map[string]struct {
		initial string
		keys    []tea.KeyMsg
		want    string
	}{
		"typing":             {"41", []tea.KeyMsg{runes("2")}, "412"},
		"several at once":    {"", []tea.KeyMsg{runes("412"), space, runes("mm")}, "412 mm"},
		"letters of a key":   {"", []tea.KeyMsg{runes("up"), runes("left"), runes("end")}, "upleftend"},
		"in the middle":      {"42", []tea.KeyMsg{press(tea.KeyLeft), runes("1")}, "412"},
		"at the start":       {"12", []tea.KeyMsg{press(tea.KeyHome), runes("4"), press(tea.KeyEnd), runes("5")}, "4125"},
		"backspace":          {"412", []tea.KeyMsg{press(tea.KeyBackspace)}, "41"},
		"backspace on empty": {"", []tea.KeyMsg{press(tea.KeyBackspace), press(tea.KeyDelete)}, ""},
		"delete":             {"412", []tea.KeyMsg{press(tea.KeyHome), press(tea.KeyDelete)}, "12"},
		"clear":              {"412 mm", []tea.KeyMsg{press(tea.KeyCtrlU), runes("7")}, "7"},
		"delete a word":      {"412 mm", []tea.KeyMsg{press(tea.KeyCtrlW)}, "412 "},
		"other keys":         {"412", []tea.KeyMsg{press(tea.KeyTab), press(tea.KeyUp), press(tea.KeyF5), press(tea.KeyCtrlV)}, "412"},
		"alt and a letter":   {"412", []tea.KeyMsg{{Type: tea.KeyRunes, Runes: []rune{'x'}, Alt: true}}, "412"},
		"alt word left":      {"4 mm", []tea.KeyMsg{{Type: tea.KeyRunes, Runes: []rune{'b'}, Alt: true}, runes("1")}, "4 1mm"},
		"paste":              {"", []tea.KeyMsg{paste("412 mm\r\n")}, "412 mm"},
		"paste of lines":     {"", []tea.KeyMsg{paste("\n16\t1/4\nin\n")}, "16 1/4 in"},
		"paste of colour":    {"", []tea.KeyMsg{paste("\x1b[31m412\x1b[0m\x07\x00 mm")}, "412 mm"},
		"control signs":      {"4\x1b[2J1", []tea.KeyMsg{runes("\x072")}, "412"},
		"too long":           {strings.Repeat("1", 199), []tea.KeyMsg{press(tea.KeyHome), runes("234")}, "2" + strings.Repeat("1", 199)},
	} {
		m, done := feed(New("height", c.initial, nil), c.keys...)
		require.Equal(t, c.want, m.Text(), name)
		require.Equal(t, Editing, done, name)
	}
}

func TestOnlyAValidTextIsAccepted(t *testing.T) {
	m := New("height", "412", inMM)
	require.Equal(t, "412 mm", m.Hint())
	_, done := m.Update(press(tea.KeyEnter))
	require.Equal(t, Accepted, done)

	m, _ = m.Update(runes("x"))
	require.Empty(t, m.Hint())
	require.ErrorContains(t, m.Err(), `"412x"`)
	m, done = m.Update(press(tea.KeyEnter))
	require.Equal(t, Editing, done)
	require.Equal(t, "412x", m.Text(), "what was typed stays to be put right")

	_, done = m.Update(press(tea.KeyEsc))
	require.Equal(t, Cancelled, done)
	m, done = feed(m, press(tea.KeyBackspace), press(tea.KeyEnter))
	require.Equal(t, Accepted, done)
	require.NoError(t, m.Err())
}

func TestEarlierModelsStayAsTheyWere(t *testing.T) {
	a := New("height", "412 mm", nil)
	a, _ = a.Update(press(tea.KeyHome))
	b, _ := a.Update(press(tea.KeyDelete))
	c, _ := a.Update(runes("9"))
	require.Equal(t, []string{"412 mm", "12 mm", "9412 mm"}, []string{a.Text(), b.Text(), c.Text()})
}

// view is what a field draws, without the mark for the terminal's cursor.
func view(m Model, w int) []string {
	lines := m.View(w)
	theme.Unmarked(lines)
	return lines
}

func TestView(t *testing.T) {
	m := New("height of the front mount", "412", inMM)
	require.Equal(t, []string{
		"height of the front mount     ",
		"> 412|                        ",
		"= 412 mm                      ",
	}, view(m, 30))

	m, _ = feed(m, press(tea.KeyLeft), runes("oops"))
	require.Equal(t, []string{
		"height of the front mount     ",
		"> 41oops|2                    ",
		"X \"41oops2\" is not a length:  ",
		"write a number and a unit,    ",
		"such as 412 mm                ",
	}, view(m, 30))
	require.Equal(t, "> ~oops|2", view(m, 9)[1])
	m, _ = m.Update(runes("456"))
	m, _ = feed(m, press(tea.KeyLeft), press(tea.KeyLeft))
	require.Equal(t, "> ~ops4|~", view(m, 9)[1], "cut at both ends")
	require.Len(t, m.View(12), 2+messageLines)

	dark, err := theme.New("dark", theme.Unicode())
	require.NoError(t, err)
	line := New("height", "412", inMM).WithTheme(dark).View(20)[1]
	require.Contains(t, line, "\x1b[4m \x1b[0m", "the cursor is a marked cell")
	require.Equal(t, "> 412", strings.TrimRight(ansi.Strip(line), " "))
}

func TestViewWithoutHint(t *testing.T) {
	require.Equal(t, []string{"note  ", "> |   ", "      "}, view(New("note", "", nil), 6))
	require.Nil(t, New("note", "", nil).View(0))
	require.Nil(t, New("note", "", nil).View(-1))
}

// Whatever is typed, every line is exactly as wide as asked and nothing the
// terminal could act on gets through.
func TestViewIsExactlyAsWide(t *testing.T) {
	sgr := func(s string) string {
		return strings.NewReplacer("\x1b[1;91m", "", "\x1b[96m", "", "\x1b[37m", "", "\x1b[1m", "", "\x1b[4m", "", "\x1b[0m", "").Replace(s)
	}
	plainT, err := theme.New("plain", theme.ASCII())
	require.NoError(t, err)
	dark, err := theme.New("dark", theme.Unicode())
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune("012 mß歯\t\n\x1b[\x07")))
		m := New(text.Draw(t, "title"), text.Draw(t, "initial"), func(s string) (string, error) {
			if strings.Contains(s, "m") {
				return s, nil
			}
			return "", errors.New("no unit in " + s + text.Draw(t, "why"))
		})
		m = m.WithTheme(rapid.SampledFrom([]*theme.Theme{nil, plainT, dark}).Draw(t, "theme"))
		for range rapid.IntRange(0, 20).Draw(t, "n") {
			k := tea.KeyMsg{Type: rapid.SampledFrom([]tea.KeyType{
				tea.KeyRunes, tea.KeyRunes, tea.KeyLeft, tea.KeyRight, tea.KeyHome, tea.KeyEnd, tea.KeyBackspace,
				tea.KeyDelete, tea.KeyCtrlW, tea.KeyCtrlK, tea.KeyCtrlU, tea.KeyTab, tea.KeyEnter,
			}).Draw(t, "key")}
			if k.Type == tea.KeyRunes {
				k.Runes = []rune(text.Draw(t, "runes"))
				k.Alt, k.Paste = rapid.Bool().Draw(t, "alt"), rapid.Bool().Draw(t, "paste")
			}
			m, _ = m.Update(k)
		}
		w := rapid.IntRange(0, 40).Draw(t, "w")
		for _, l := range view(m, w) {
			require.Equal(t, w, ansi.StringWidth(l), "%q", l)
			require.NotContains(t, sgr(l), "\x1b")
			require.NotContains(t, l, "\n")
		}
	})
}
