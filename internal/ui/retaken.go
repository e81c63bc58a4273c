package ui

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/tomltext"
)

// accused are the numbers of the measurements that do not fit what else was measured,
// or cannot be told from one that does not: what the finding id says to take again.
// Without an id, those of the survey and of all that hangs in the frame.
func (m *Model) accused(id string) []int {
	var out []int
	if s := m.now.Frame; s != nil && s.Now != nil && (id == "" || id == finding.SurveyFit) {
		var alike []string
		for _, x := range s.Now.Suspects {
			out, alike = append(out, x.Line.Index), append(alike, x.Alike...)
		}
		for _, l := range s.Now.Lines {
			out = among(out, alike, l.Name, l.Index)
		}
	}
	for _, s := range m.now.Subframes {
		if id != "" && id != finding.SubframeFit(s.Name) {
			continue
		}
		var alike []string
		for _, x := range s.Suspects {
			if !x.Angle {
				out, alike = append(out, x.Line.Index), append(alike, x.Alike...)
			}
		}
		for _, l := range s.Lines {
			out = among(out, alike, l.Name, l.Index)
		}
	}
	if h := m.now.Hung; h != nil && (id == "" || id == finding.PowertrainFit) {
		var alike []string
		for _, x := range h.Suspects {
			if x.Index >= 0 {
				out, alike = append(out, x.Index), append(alike, x.Alike...)
			}
		}
		for _, x := range h.All {
			if !x.Angle {
				out = among(out, alike, x.Name, x.Index)
			}
		}
	}
	return out
}

// placesAgain is the path of the value that the first place asks for that does not fit what
// was measured from it; "" for none, and where the finding id is not of that.
func (m *Model) placesAgain(id string) string {
	h := m.now.Hung
	if h == nil || id != finding.PowertrainFit {
		return ""
	}
	for _, x := range h.Suspects {
		if x.Again != "" {
			return x.Again
		}
	}
	return ""
}

// among adds the number of a measurement whose name is one of those, once.
func among(out []int, names []string, name string, index int) []int {
	if slices.Contains(names, name) && !slices.Contains(out, index) {
		out = append(out, index)
	}
	return out
}

// retaken are the edits by which a measurement that does not fit is taken again: the
// new values stand in its place, and what it read before stands in its note. None where
// added is of another kind, or of nothing that is accused.
func (m *Model) retaken(added edit.Edit) []edit.Edit {
	now := map[string]string{}
	for _, p := range added.Pairs {
		now[p.Key] = strings.Trim(p.Literal, `"`)
	}
	all := m.sess.Now().Build.Measurements
	for _, i := range m.accused("") {
		if i < 0 || i >= len(all) || !sameLine(all[i], now) || len(all[i].Lengths) == 0 || now["lengths"] == "" {
			continue
		}
		path := fmt.Sprintf("measure[%d].", i)
		var out []edit.Edit
		for _, p := range added.Pairs {
			if slices.Contains([]string{"with", "on", "lengths", "stood", "taken", "placed"}, p.Key) {
				out = append(out, edit.Edit{Op: edit.OpSet, Path: path + p.Key, Text: p.Literal})
			}
		}
		note := "taken again"
		if n := m.sess.Now().Doc().Find(path + "lengths"); n != nil {
			note += "; it read " + strings.ReplaceAll(strings.Trim(n.Raw, "[]"), `"`, "") + " before and did not fit"
		}
		if all[i].Note != "" {
			note = all[i].Note + "; " + note
		}
		return append(out, edit.Edit{Op: edit.OpSet, Path: path + "note", Text: tomltext.Quote(note)})
	}
	return nil
}

// sameLine reports whether a measurement is between the points that keys name, the same
// way and at the same step.
func sameLine(x project.Measurement, keys map[string]string) bool {
	as := project.SurveyLine(keys["as"])
	if as == "" {
		as = project.DistanceLine
	}
	step := func(a project.After) project.After {
		if a == "" {
			return project.Hung
		}
		return a
	}
	same := x.From == keys["from"] && x.To == keys["to"]
	if as == project.DistanceLine {
		same = same || x.From == keys["to"] && x.To == keys["from"]
	}
	return x.Surveys() && same && x.Line() == as && step(x.After) == step(project.After(keys["after"]))
}
