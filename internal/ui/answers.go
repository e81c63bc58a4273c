package ui

import (
	"bytes"
	"math"
	"strconv"
	"strings"
)

// askBackground asks the terminal for the colour behind the text (OSC 11 of the
// xterm control sequences). Whoever knows it answers on the input, at once, late or
// never; nobody waits.
const askBackground = "\x1b]11;?\x1b\\"

// backgroundMsg is the answer.
type backgroundMsg struct{ light bool }

// takeAnswers takes what the terminal answers, to this and to other questions, out
// of input: ESC ] digit up to BEL or ST, and CSI ? up to c or n. What is left are
// keys. told is what it says of the background, nil for nothing.
func takeAnswers(b []byte) (keys []byte, told *backgroundMsg) {
	if !bytes.Contains(b, []byte("\x1b]")) && !bytes.Contains(b, []byte("\x1b[?")) {
		return b, nil
	}
	keys = b[:0]
	for len(b) > 0 {
		n := answerLen(b)
		if n == 0 {
			keys, b = append(keys, b[0]), b[1:]
			continue
		}
		if light, ok := backgroundIn(string(b[:n])); ok {
			told = &backgroundMsg{light}
		}
		b = b[n:]
	}
	return keys, told
}

// answerLen is how long the answer is with which b begins, 0 when it begins with
// none.
func answerLen(b []byte) int {
	switch {
	case isCommand(b):
		for i, c := range b {
			switch {
			case c == 7:
				return i + 1
			case c == 0x1b && i > 0:
				if i+1 < len(b) && b[i+1] == '\\' {
					return i + 2
				}
				return 0
			}
		}
	case bytes.HasPrefix(b, []byte("\x1b[?")):
		for i, c := range b[3:] {
			if c >= 0x40 && c <= 0x7e {
				if c == 'c' || c == 'n' {
					return i + 4
				}
				return 0
			}
		}
	}
	return 0
}

// isCommand reports whether b begins with an operating system command (ECMA-48)
// as a terminal sends it: a number follows, which nobody types behind alt+].
func isCommand(b []byte) bool {
	return len(b) > 2 && b[0] == 0x1b && b[1] == ']' && b[2] >= '0' && b[2] <= '9'
}

// backgroundIn reads "ESC ] 11 ; rgb:ffff/ffff/ffff": whether that is a light
// colour, by its luma (ITU-R BT.709, item 3.2).
func backgroundIn(answer string) (light, ok bool) {
	body, ok := strings.CutPrefix(strings.TrimRight(answer, "\a\x1b\\"), "\x1b]11;")
	if !ok {
		return false, false
	}
	_, body, ok = strings.Cut(body, ":") // rgb, or rgba with the opacity behind
	parts := strings.Split(body, "/")
	if !ok || len(parts) < 3 {
		return false, false
	}
	luma := 0.0
	for i, share := range []float64{0.2126, 0.7152, 0.0722} {
		x, err := strconv.ParseUint(parts[i], 16, 16)
		if err != nil {
			return false, false
		}
		luma += share * float64(x) / (math.Pow(16, float64(len(parts[i]))) - 1)
	}
	return luma > 0.5, true
}
