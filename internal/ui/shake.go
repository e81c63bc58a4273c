package ui

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/field"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// shake is the vibration finder: what is known of a shake, and below it what
// it may come from.
type shake struct {
	scroll
	fields [6]field.Model
	at     int
}

// The lines of the form.
var shakeLabels = [6]string{"road speed", "engine speed", "gear", "frequency", "range", "samples/s"}

var shakeKinds = [6]quantity.Kind{quantity.RoadSpeed, quantity.Speed, quantity.Number, quantity.Frequency, 0, quantity.Number}

const shakeRange = 4 // the line that is a word

// rangeTyped reads high or low, or the beginning of one.
func rangeTyped(text string) (assess.Range, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, r := range []assess.Range{assess.HighRange, assess.LowRange} {
		if text != "" && strings.HasPrefix(string(r), text) {
			return r, nil
		}
	}
	return "", errors.New("high or low is wanted")
}

func newShake(m *Model) *shake {
	s := &shake{}
	u := m.sess.Now().Build.Units
	for i := range s.fields {
		s.fields[i] = field.New(shakeLabels[i], "", func(text string) (string, error) {
			if i == shakeRange {
				_, err := rangeTyped(text)
				return "", err
			}
			_, err := quantity.Parse(shakeKinds[i], text, u)
			return "", err
		}).WithTheme(m.theme)
	}
	return s
}

func (s *shake) key(m *Model, k tea.KeyMsg) {
	switch k.String() {
	case "esc", "ctrl+c":
		m.close()
	case "up", "shift+tab":
		s.at = (s.at + len(s.fields) - 1) % len(s.fields)
	case "down", "tab", "enter":
		s.at = (s.at + 1) % len(s.fields)
	case "pgup", "pgdown":
		s.move(k)
	default:
		s.fields[s.at], _ = s.fields[s.at].Update(k)
	}
}

// typed reads the form; a line left empty is not known.
func (s *shake) typed(m *Model) (assess.Shake, error) {
	var v [6]float64
	var in assess.Range
	for i, f := range s.fields {
		text := strings.TrimSpace(f.Text())
		if text == "" {
			continue
		}
		var x float64
		var err error
		if i == shakeRange {
			in, err = rangeTyped(text)
		} else {
			x, err = quantity.Parse(shakeKinds[i], text, m.sess.Now().Build.Units)
		}
		if err != nil {
			return assess.Shake{}, fmt.Errorf("%s: %w", shakeLabels[i], err)
		}
		v[i] = x
	}
	gear := int(v[2])
	if v[2] != float64(gear) || gear < 0 || gear > 20 {
		return assess.Shake{}, fmt.Errorf("gear: a whole number is wanted, 1 for first")
	}
	return assess.Shake{Road: v[0], Engine: v[1], Gear: gear, Range: in, Frequency: v[3], Rate: v[5]}, nil
}

func (s *shake) size(w, h int) (int, int) { return min(100, w-2), h - 2 }

func (s *shake) draw(m *Model, w, h int) (string, string, []string) {
	var head []string
	for i := range s.fields {
		mark, role := "  ", theme.Text
		if i == s.at {
			mark, role = m.theme.Pointer(), theme.Selected
		}
		input := s.fields[i].View(24)
		head = append(head, " "+m.theme.Paint(role, mark+m.theme.Pad(shakeLabels[i], 14))+input[min(1, len(input)-1)])
	}
	head = append(head, "")
	body := s.answer(m, w)
	shown, note := s.show(body, max(h-len(head), 1))
	return "Vibration finder", strings.TrimSpace(note + "  esc closes"), append(head, shown...)
}

// answer is what the shake may come from, or what is wanted to tell.
func (s *shake) answer(m *Model, w int) []string {
	var out []string
	add := func(r theme.Role, lead, text string) {
		for i, l := range theme.Wrap(m.theme.Plain(text), max(w-theme.Width(lead)-1, 1)) {
			if i > 0 {
				lead = strings.Repeat(" ", theme.Width(lead))
			}
			out = append(out, " "+lead+m.theme.Paint(r, l))
		}
	}
	typed, err := s.typed(m)
	if err == nil && typed == (assess.Shake{}) {
		add(theme.Dim, "", "Type the speed at which it is felt, and the frequency if a phone showed it. What is left empty is not known.")
		return out
	}
	var found assess.Shaking
	if err == nil {
		found, err = m.now.FindShake(typed)
	}
	if err != nil {
		add(theme.Doubt, "", firstLine(err))
		return out
	}
	for _, x := range found.Suspects {
		share := fmt.Sprintf("%3.0f %%  ", 100*x.Share)
		what := x.What
		if !x.None() {
			what += ", " + band(x.Lo, x.Hi)
		}
		add(theme.Text, share, what)
		add(theme.Dim, "       ", x.Why)
	}
	out = append(out, "")
	for i, t := range found.Tests {
		add(theme.Text, strconv.Itoa(i+1)+" ", t)
	}
	out = append(out, "")
	add(theme.Warn, "", shakeCaution)
	for _, n := range found.Notes {
		add(theme.Dim, "", n)
	}
	return out
}

const shakeCaution = "Drive such tests where the law and the road allow it, with somebody else reading the phone. A shake that grows, or comes with a bang, is a reason to stop: a shaft may be letting go."

// band writes the frequencies between which a cause shakes.
func band(lo, hi float64) string {
	a, b := strconv.FormatFloat(lo, 'f', 1, 64), strconv.FormatFloat(hi, 'f', 1, 64)
	if a == b {
		return a + " Hz"
	}
	return a + " to " + b + " Hz"
}
