package ui

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project/grown"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
)

// longNames are names as people write them: wide letters, letters that run to the left,
// accents that join the letter before, a sign of several, one that has no end.
var longNames = []string{
	"左前ブラケットの取付け板と当て金のすべての名前がとても長い", "دعامة المحرك الأمامية اليسرى الطويلة جدا",
	"e\u0301e\u0301\u0302 und ein sehr langer Name mit Zu\u0308gen", "👩‍🔧 flag 🇩🇪 family", strings.Repeat("x", 200),
}

// longNamed is a build text with a long name behind each of its names and titles.
func longNamed(text string) string {
	var out []string
	n := 0
	for _, l := range strings.Split(text, "\n") {
		for _, key := range []string{"name = ", "title = ", "note = "} {
			if strings.HasPrefix(l, key+`"`) && strings.HasSuffix(l, `"`) {
				l = l[:len(l)-1] + " " + longNames[n%len(longNames)] + fmt.Sprint(" ", n) + `"`
				n++
			}
		}
		out = append(out, l)
	}
	return strings.Join(out, "\n")
}

// Names may be any Unicode and long, in a list of any length: every page of every pane,
// every box and the data page hold their frames to the screen, which the driver looks at.
// By default at one of three sizes.
func TestNamesMayBeLongAndOfAnyLetters(t *testing.T) {
	t.Parallel()
	text := longNamed(grown.Build(1, 3, 6))
	require.Contains(t, text, longNames[0])
	for i, size := range [][2]int{{140, 45}, {80, 24}, {60, 20}} {
		if !inturn.Try(t, i, 3) {
			continue
		}
		d := drive(t, []byte(text), size[0], size[1])
		for p := range benchPanes {
			d.keys(fmt.Sprint(p + 1))
			for range 6 {
				d.keys("]", "down", "down", "h", "down", "esc")
			}
		}
		d.keys("f", "down", "end", "esc", "/", "type:name", "down", "esc", "H", "esc", "M", "esc", "5", "enter", "down", "esc")
		d.keys("d")
		for _, path := range []string{"name", "chassis[0].name", "powertrain.part[0].name", "job[3].title"} {
			require.True(t, d.m.data.Go(path), path)
			d.keys("enter", "end", "text:é漢👩‍🔧", "left", "left", "backspace", "enter", "h", "esc", "u")
		}
		d.send(tea.WindowSizeMsg{Width: 100, Height: 30})
		same(t, text, d.bytes())
	}
}
