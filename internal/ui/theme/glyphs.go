package theme

import "fmt"

// Box is the set of pieces a border is drawn with, each one cell wide.
type Box struct {
	TopLeft, TopRight, BottomLeft, BottomRight, Across, Down string
}

// Glyphs are the signs beyond letters and figures. All are one cell wide but
// for Degree, PlusMinus and the tick boxes, whose two states are equally wide.
type Glyphs struct {
	Name string

	Focus    string // marks what has the focus
	Light    Box
	Heavy    Box // round the focused pane
	Ellipsis string
	Bullet   string
	Cursor   string

	SignOK, SignTight, SignOver, SignUnknown, SignElsewhere string

	Up, Down, Left, Right string

	TickOn, TickOff string
	Joint           string // a joint in a shaft
	Degree          string
	PlusMinus       string
	Times           string
	Full, Empty     string // the two parts of a bar
}

// Sign returns the sign of a status: five shapes that differ without colour.
func (g Glyphs) Sign(s Status) string {
	switch s {
	case OK:
		return g.SignOK
	case Tight:
		return g.SignTight
	case Over:
		return g.SignOver
	case Elsewhere:
		return g.SignElsewhere
	}
	return g.SignUnknown
}

// Tick returns a tick box.
func (g Glyphs) Tick(on bool) string {
	if on {
		return g.TickOn
	}
	return g.TickOff
}

// Unicode returns the glyphs for terminals with a full font. None has an emoji
// form: some terminals draw those two cells wide.
func Unicode() Glyphs {
	return Glyphs{
		Name:     "unicode",
		Focus:    "▸",
		Light:    Box{"┌", "┐", "└", "┘", "─", "│"},
		Heavy:    Box{"┏", "┓", "┗", "┛", "━", "┃"},
		Ellipsis: "…", Bullet: "•", Cursor: "▏",
		SignOK: "✓", SignTight: "△", SignOver: "✗", SignUnknown: "?", SignElsewhere: "◇",
		Up: "↑", Down: "↓", Left: "←", Right: "→",
		TickOn: "☒", TickOff: "☐",
		Joint: "◎", Degree: "°", PlusMinus: "±", Times: "×",
		Full: "█", Empty: "░",
	}
}

// ASCII returns glyphs any terminal can draw.
func ASCII() Glyphs {
	return Glyphs{
		Name:     "ascii",
		Focus:    ">",
		Light:    Box{"+", "+", "+", "+", "-", "|"},
		Heavy:    Box{"#", "#", "#", "#", "=", "#"},
		Ellipsis: "~", Bullet: "*", Cursor: "|",
		SignOK: "v", SignTight: "!", SignOver: "X", SignUnknown: "?", SignElsewhere: "~",
		Up: "^", Down: "v", Left: "<", Right: ">",
		TickOn: "[x]", TickOff: "[ ]",
		Joint: "@", Degree: " deg", PlusMinus: "+/-", Times: "x",
		Full: "#", Empty: ".",
	}
}

// GlyphsNamed returns the glyph set of that name.
func GlyphsNamed(name string) (Glyphs, error) {
	switch name {
	case "unicode":
		return Unicode(), nil
	case "ascii":
		return ASCII(), nil
	}
	return Glyphs{}, fmt.Errorf("there is no glyph set %q: choose unicode or ascii", name)
}
