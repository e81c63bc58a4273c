package ui

import (
	"fmt"
	"slices"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
)

// addTools adds the tools that lengths are measured with to a picker: those of the
// file, and those that shops have, with their usual figures. Nothing is chosen by
// it but what was chosen last in this sitting.
func (m *Model) addTools(p *picker) {
	b := m.now.Build
	for _, t := range b.Tools {
		p.answers = append(p.answers, "my "+t.Name+", "+toolFigures(t, b.Units))
		p.values = append(p.values, t.Path())
	}
	for _, t := range project.CommonTools() {
		if _, mine := b.ToolNamed(t.Path()); !mine {
			p.answers = append(p.answers, "usual "+t.Words+", "+toolFigures(t.Tool, b.Units))
			p.values = append(p.values, t.Path())
		}
	}
	if i := slices.Index(p.values, m.tool); m.tool != "" && i >= 0 {
		p.at = i
	}
}

// toolFigures is what a tool is good for, in a few words.
func toolFigures(t project.Tool, u quantity.Units) string {
	mm := func(v float64) string {
		text, _ := quantity.Respell(quantity.Length, v, "", false, u)
		return text
	}
	out := ""
	if v, ok := t.Accuracy.Get(); ok {
		out = "± " + mm(v)
	}
	if v, ok := t.PerMetre.Get(); ok {
		out += " + " + mm(v) + "/m"
	}
	return out
}

// toolMeaning says what choosing a tool brings along, "" for none.
func (m *Model) toolMeaning(path string) string {
	if _, mine := m.now.Build.ToolNamed(path); mine || path == "" {
		return ""
	}
	for _, t := range project.CommonTools() {
		if t.Path() == path {
			repeat, _ := quantity.Respell(quantity.Length, t.Repeat.V(), "", false, m.now.Build.Units)
			return fmt.Sprintf("Assumed, with repeats within %s: %s. They come into the file as [%s], to be changed there.", repeat, project.CommonToolSource, path)
		}
	}
	return ""
}

// takeTool remembers what was measured with for the next time, and returns the
// edits that put a tool with its usual figures in the file, where it is not there.
func (m *Model) takeTool(path string) []edit.Edit {
	m.tool = path
	if m.toolMeaning(path) == "" {
		return nil
	}
	edits, err := edit.BeginTool(m.sess.Now(), path)
	if err != nil {
		return nil // then the file says what it lacks
	}
	return edits
}
