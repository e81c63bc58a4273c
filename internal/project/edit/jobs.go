package edit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/tomltext"
)

// Tick is what is recorded when a job is ticked.
type Tick struct {
	Day      time.Time // left out when zero
	Override string    // why it is ticked although something holds it
	Relied   []project.Relied
	Place    bool // stamp the placement: something relied on was proved at it
}

func jobPath(i int, key string) string { return fmt.Sprintf("job[%d].%s", i, key) }

// TickJob returns the edits that mark job i as done with its stamps. Stamps of
// an earlier tick go.
func TickJob(f *project.File, i int, t Tick) []Edit {
	set := func(key, literal string) Edit { return Edit{Op: OpSet, Path: jobPath(i, key), Text: literal} }
	edits := dropKeys(f, i, "override", "done_on", "placed", "relied")
	edits = append(edits, set("done", "true"))
	if t.Override != "" {
		edits = append(edits, set("override", tomltext.Quote(t.Override)))
	}
	if !t.Day.IsZero() {
		edits = append(edits, set("done_on", t.Day.Format(time.DateOnly)))
	}
	if _, placed := f.Build.Placement.Seat(); t.Place && placed {
		edits = append(edits, set("placed", placedLiteral(f.Build.Placement, f.Build.Units)))
	}
	if len(t.Relied) > 0 {
		rows := make([]string, len(t.Relied))
		for n, r := range t.Relied {
			rows[n] = reliedLiteral(r)
		}
		edits = append(edits, set("relied", "["+strings.Join(rows, ", ")+"]"))
	}
	return edits
}

func reliedLiteral(r project.Relied) string {
	var parts []string
	for _, p := range []struct{ key, text string }{
		{"finding", r.Finding}, {"status", r.Status}, {"value", r.Value}, {"plus_minus", r.PlusMinus}, {"basis", r.Basis},
	} {
		if p.text != "" {
			parts = append(parts, p.key+" = "+tomltext.Quote(p.text))
		}
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

// UntickJob returns the edits that open job i again. Its stamps and its
// override go: ticking it again has to stand on its own.
func UntickJob(f *project.File, i int) []Edit {
	return append([]Edit{{Op: OpSet, Path: jobPath(i, "done"), Text: "false"}},
		dropKeys(f, i, "override", "done_on", "placed", "relied")...)
}

func dropKeys(f *project.File, i int, keys ...string) []Edit {
	var edits []Edit
	for _, k := range keys {
		if f.Doc().Find(jobPath(i, k)) != nil {
			edits = append(edits, Edit{Op: OpRemove, Path: jobPath(i, k)})
		}
	}
	return edits
}

// Waiting returns the jobs that wait for job i to be done first.
func Waiting(f *project.File, i int) []int {
	var out []int
	for n, j := range f.Build.Jobs {
		if n != i && slices.Contains(j.Needs, f.Build.Jobs[i].ID) {
			out = append(out, n)
		}
	}
	return out
}

// DropJob returns the edits that take job i out of the list. Jobs that need it
// by the file's own words need what it needed from then on, as those of the
// built-in list do by themselves.
func DropJob(f *project.File, i int) ([]Edit, error) {
	id := f.Build.Jobs[i].ID
	var edits []Edit
	for n, j := range f.Build.Jobs {
		if n == i || f.Doc().Find(jobPath(n, "needs")) == nil || !slices.Contains(j.Needs, id) {
			continue
		}
		var needs []string
		for _, need := range j.Needs {
			instead := []string{need}
			if need == id {
				instead = f.Build.Jobs[i].Needs
			}
			for _, x := range instead {
				if x != j.ID && !slices.Contains(needs, x) {
					needs = append(needs, x)
				}
			}
		}
		for k := range needs {
			needs[k] = tomltext.Quote(needs[k])
		}
		edits = append(edits, Edit{Op: OpSet, Path: jobPath(n, "needs"), Text: "[" + strings.Join(needs, ", ") + "]"})
	}
	edits = append(edits, Edit{Op: OpRemove, Path: fmt.Sprintf("job[%d]", i)})
	if _, err := Apply(f, edits...); err != nil {
		return nil, err
	}
	return edits, nil
}

// InsertJob returns the edit that puts a job of the builder's own behind job
// i, in its stage; with no jobs yet, i is -1.
func InsertJob(f *project.File, i int, title string) (Edit, error) {
	title = strings.TrimSpace(title)
	if title == "" {
		return Edit{}, fmt.Errorf("the job has no words; say what is to be done")
	}
	pairs := []tomltext.Pair{{Key: "id", Literal: tomltext.Quote(freeID(f, title))}}
	if i >= 0 {
		pairs = append(pairs, tomltext.Pair{Key: "stage", Literal: tomltext.Quote(f.Build.Jobs[i].Stage)})
	}
	pairs = append(pairs, tomltext.Pair{Key: "title", Literal: tomltext.Quote(title)}, tomltext.Pair{Key: "done", Literal: "false"})
	if i < 0 || i == len(f.Build.Jobs)-1 {
		return Edit{Op: OpAdd, Path: "job", Pairs: pairs}, nil
	}
	_, end, ok := jobBlock(f, i)
	if !ok {
		return Edit{}, errHandOrder
	}
	text := "[[job]]\n"
	for _, p := range pairs {
		text += p.Key + " = " + p.Literal + "\n"
	}
	return checked(f, Edit{Op: OpSplice, Path: "job", At: end, Text: text + "\n"}, func(g *project.File) bool {
		return len(g.Build.Jobs) == len(f.Build.Jobs)+1 && g.Build.Jobs[i+1].Title == title
	})
}

// freeID makes a short id out of a title that no job has yet.
func freeID(f *project.File, title string) string {
	slug := project.Slug(title)
	if len(slug) > 30 {
		slug = strings.Trim(slug[:30], "-")
	}
	return unusedID(f, slug)
}

// unusedID is id, or id with a number behind it when a job has it already.
func unusedID(f *project.File, base string) string {
	id := base
	for n := 2; slices.ContainsFunc(f.Build.Jobs, func(j project.Job) bool { return j.ID == id }); n++ {
		id = base + "-" + strconv.Itoa(n)
	}
	return id
}

var errHandOrder = fmt.Errorf("the jobs are not written one below the other with [[job]]; put them in order by hand")

// MoveJob returns the edit that swaps job i with the one before it (by -1) or
// behind it (by 1).
func MoveJob(f *project.File, i, by int) (Edit, error) {
	if by < 0 {
		i--
	}
	if i < 0 || i+1 >= len(f.Build.Jobs) {
		return Edit{}, fmt.Errorf("the job is at the end of the list already")
	}
	a, b, ok1 := jobBlock(f, i)
	c, d, ok2 := jobBlock(f, i+1)
	if !ok1 || !ok2 || b > c {
		return Edit{}, errHandOrder
	}
	src := string(f.Bytes())
	first, second := src[a:b], src[c:d]
	if !strings.HasSuffix(second, "\n") {
		second += "\n"
	}
	if !strings.HasSuffix(second, "\n\n") && strings.HasSuffix(first, "\n\n") { // keep the blank line between them
		second, first = second+"\n", strings.TrimSuffix(first, "\n")
	}
	return checked(f, Edit{Op: OpSplice, Path: "job", At: a, Old: src[a:d], Text: second + src[b:c] + first}, func(g *project.File) bool {
		return len(g.Build.Jobs) == len(f.Build.Jobs) && g.Build.Jobs[i].ID == f.Build.Jobs[i+1].ID && g.Build.Jobs[i+1].ID == f.Build.Jobs[i].ID
	})
}

// checked returns e when it does what was meant.
func checked(f *project.File, e Edit, meant func(*project.File) bool) (Edit, error) {
	g, err := Apply(f, e)
	if err != nil {
		return Edit{}, err
	}
	if !meant(g) {
		return Edit{}, errHandOrder
	}
	return e, nil
}

// jobBlock returns the bytes that make up job i: the comment lines right above
// its header, and all up to the next header or the comment above that.
func jobBlock(f *project.File, i int) (start, end int, ok bool) {
	n := f.Doc().Find(fmt.Sprintf("job[%d]", i))
	if n == nil || n.Kind != tomltext.Table || n.Inline {
		return 0, 0, false
	}
	src := string(f.Bytes())
	next := len(src)
	var walk func(m *tomltext.Node)
	walk = func(m *tomltext.Node) {
		for _, c := range m.Children {
			if c == n || c.Inline {
				continue
			}
			if c.Kind == tomltext.Table && c.Pos.Offset > n.Pos.Offset {
				next = min(next, commentAbove(src, c.Pos.Offset))
			}
			walk(c)
		}
	}
	walk(f.Doc().Root())
	return commentAbove(src, n.Pos.Offset), next, true
}

// commentAbove returns the beginning of the line at offset at, or of the run of
// comment lines right above it.
func commentAbove(src string, at int) int {
	start := strings.LastIndexByte(src[:at], '\n') + 1
	for start > 0 {
		above := strings.LastIndexByte(src[:start-1], '\n') + 1
		if !strings.HasPrefix(strings.TrimSpace(src[above:start]), "#") {
			break
		}
		start = above
	}
	return start
}
