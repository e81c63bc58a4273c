package edit

import (
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/joblist"
	"fitup/internal/project/tomltext"
)

// AddJobs returns the edit that adds every step of the built-in list that
// belongs to this build and is not in the file, and how many they are. Each
// goes before the first job of the file that comes later in the list, so that
// the file's jobs and the list's make one order; the rest goes behind.
func AddJobs(f *project.File) (Edit, int, error) {
	var ids []string
	for _, s := range joblist.For(f.Build.Facts()) {
		if !slices.ContainsFunc(f.Build.Jobs, func(j project.Job) bool { return listed(j) == s.ID }) {
			ids = append(ids, s.ID)
		}
	}
	src := string(f.Bytes())
	e := Edit{Op: OpSplice, Path: "job", At: len(src)}
	var out strings.Builder
	out.WriteString(gap(src, src))
	rest := ids
	if n := len(f.Build.Jobs); n > 0 {
		out.Reset()
		starts, end, ok := jobStarts(f)
		if !ok {
			return Edit{}, 0, errHandOrder
		}
		e.At, e.Old = starts[0], src[starts[0]:end]
		for i, j := range f.Build.Jobs {
			now := 0
			for now < len(rest) && rankIn(rest[now]) < rankIn(listed(j)) {
				now++
			}
			writeSteps(f, &out, rest[:now])
			rest = rest[now:]
			stop := end
			if i+1 < n {
				stop = starts[i+1]
			}
			out.WriteString(src[starts[i]:stop])
		}
		if len(rest) > 0 {
			out.WriteString(gap(out.String(), src))
		}
	}
	writeSteps(f, &out, rest)
	e.Text = out.String()
	if len(rest) > 0 && e.At+len(e.Old) == len(src) { // no blank line at the end of the file
		e.Text = strings.TrimSuffix(e.Text, lineEnd(src))
	}
	e, err := checked(f, e, func(g *project.File) bool {
		return len(g.Build.Jobs) == len(f.Build.Jobs)+len(ids)
	})
	return e, len(ids), err
}

// listed is the id of the built-in step that a job stands for.
func listed(j project.Job) string {
	if j.From != "" {
		return j.From
	}
	return j.ID
}

// rankIn is where a step stands in the built-in list, -1 when it is none.
func rankIn(id string) int { return slices.Index(stepOrder, id) }

var stepOrder = joblist.IDs()

// jobStarts returns where each job's text begins and the last one's ends.
func jobStarts(f *project.File) (starts []int, end int, ok bool) {
	for i := range f.Build.Jobs {
		start, stop, ok := jobBlock(f, i)
		if !ok || start < end {
			return nil, 0, false
		}
		starts, end = append(starts, start), stop
	}
	return starts, end, true
}

func writeSteps(f *project.File, out *strings.Builder, ids []string) {
	nl := lineEnd(string(f.Bytes()))
	for _, id := range ids {
		out.WriteString("[[job]]" + nl + "id = " + tomltext.Quote(unusedID(f, id)) + nl +
			"from = " + tomltext.Quote(id) + nl + "done = false" + nl + nl)
	}
}

func lineEnd(src string) string {
	if strings.Contains(src, "\r\n") {
		return "\r\n"
	}
	return "\n"
}

// gap is what it takes to begin a new table of the file src behind text, a
// blank line between.
func gap(text, src string) string {
	nl := lineEnd(src)
	switch {
	case text == "" || strings.HasSuffix(text, "\n"+nl):
		return ""
	case strings.HasSuffix(text, "\n"):
		return nl
	}
	return nl + nl
}
