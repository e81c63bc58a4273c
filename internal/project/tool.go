package project

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// Tool is what lengths are measured with: what its maker or a trial says it is
// good for, given once. Each figure is a half-width. What is left out is not
// known, and nothing is taken in its stead.
type Tool struct {
	Name     string           `toml:"*"`
	Accuracy quantity.LengthQ `toml:"accuracy" doc:"what it is good for at any length; the same in every repeat" min:"0" exact:"yes" how:"The maker's figure or class, or hold it against a better one." from:"the true length"`
	PerMetre quantity.LengthQ `toml:"per_metre" doc:"and for each metre of length besides" min:"0" exact:"yes" how:"The maker's figure or class." from:"the true length"`
	Repeat   quantity.LengthQ `toml:"repeat" doc:"how far one measurement strays from the next: holding, sighting, reading" min:"0" exact:"yes" how:"Measure one length ten times, each time anew: half of what they spread." from:"one measurement to the next"`
	Source   string           `toml:"source" doc:"where these figures come from"`
}

// Path is the tool's name where something was measured with it: tool.tape.
func (t Tool) Path() string { return toolPrefix + t.Name }

// Shared returns the half-width (mm) of the error that all measurements of that
// length (mm) with the tool have in common, and whether anything is known of it.
// It does not average away.
func (t Tool) Shared(length float64) (half float64, known bool) {
	return t.Accuracy.Or(0) + t.PerMetre.Or(0)*math.Abs(length)/1000, t.Accuracy.Known() || t.PerMetre.Known()
}

// CommonTool is a tool as shops have it, for whom does not know the figures of
// his own.
type CommonTool struct {
	Tool
	Words string // what it is, in a few words
}

// CommonToolSource is where the figures of common tools come from.
const CommonToolSource = "common practice, no source"

// CommonTools lists tools as shops have them, to be offered and never assumed:
// none of them is in a build whose file does not say so.
func CommonTools() []CommonTool {
	tool := func(name, words string, accuracy, perMetre, repeat float64) CommonTool {
		t := CommonTool{Tool{Name: name, Accuracy: quantity.MM(accuracy), Repeat: quantity.MM(repeat), Source: CommonToolSource}, words}
		if perMetre > 0 {
			t.PerMetre = quantity.MM(perMetre)
		}
		return t
	}
	return []CommonTool{
		tool("tape", "steel tape", 0.5, 0.2, 1),
		tool("rule", "steel rule", 0.2, 0, 0.3),
		tool("calliper", "calliper", 0.05, 0, 0.1),
		tool("plumb", "plumb line and tape", 1, 0, 1.5),
		tool("string", "string and tape", 1, 0.2, 1.5),
		tool("laser", "laser line and rule", 1, 0.3, 1),
	}
}

// CommonToolNamed returns the common tool of that name.
func CommonToolNamed(name string) (CommonTool, bool) {
	for _, t := range CommonTools() {
		if t.Name == name {
			return t, true
		}
	}
	return CommonTool{}, false
}

const toolPrefix = "tool."

// ToolNamed returns the tool of the file that something was measured with, such as
// tool.tape. Where only "tape" is said and the file has [tool.tape], that is meant.
func (b *Build) ToolNamed(with string) (Tool, bool) {
	name := strings.TrimPrefix(with, toolPrefix)
	for _, t := range b.Tools {
		if t.Name == name {
			return t, true
		}
	}
	return Tool{}, false
}

// ToolPaths lists the tools of the file as something is measured with them.
func (b *Build) ToolPaths() []string {
	out := make([]string, len(b.Tools))
	for i, t := range b.Tools {
		out[i] = t.Path()
	}
	return out
}

// checkTools refuses a tool that nothing can be known of.
func (b *binder) checkTools(build *Build, root *tomltext.Node) {
	for _, t := range build.Tools {
		n := root.Child("tool").Child(t.Name)
		b.checkExact(n, "accuracy", t.Accuracy.Get)
		b.checkExact(n, "repeat", t.Repeat.Get)
		if !t.Accuracy.Known() && !t.PerMetre.Known() && !t.Repeat.Known() {
			b.fault(n.KeyPos, n.Path, "nothing is said of this tool; want accuracy = what it is good for%s", offered(t.Name))
		}
	}
}

// checkTool looks at what something was measured with, which may be a tool of
// the file.
func (b *binder) checkTool(build *Build, n *tomltext.Node) {
	with, ok := n.Value.(string)
	if !ok {
		return
	}
	name, named := strings.CutPrefix(with, toolPrefix)
	if !named {
		b.fault(n.Pos, n.Path, "read %s; want a tool of this file, such as \"tool.tape\"%s", describe(n), meant(toolPrefix+with, build.ToolPaths()))
		return
	}
	if _, known := build.ToolNamed(with); known {
		return
	}
	if meant := meant(with, build.ToolPaths()); meant != "" {
		b.fault(n.Pos, n.Path, "there is no [%s] in this file%s", Printable(with), meant)
		return
	}
	b.fault(n.Pos, n.Path, "there is no [%s] in this file; add it, with accuracy = what it is good for%s", Printable(with), offered(name))
}

// offered is what a tool of that name usually is good for, as an offer.
func offered(name string) string {
	t, ok := CommonToolNamed(name)
	if !ok {
		return ""
	}
	text := fmt.Sprintf("accuracy = \"%g mm\"", t.Accuracy.V())
	if t.PerMetre.Known() {
		text += fmt.Sprintf(", per_metre = \"%g mm\"", t.PerMetre.V())
	}
	return fmt.Sprintf("; of a %s: %s, repeat = \"%g mm\" (%s)", t.Words, text, t.Repeat.V(), CommonToolSource)
}
