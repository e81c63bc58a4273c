package ui

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
	"fitup/internal/project/sheet"
	"fitup/internal/project/starter"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
)

// bare is a build that has only what its lists cannot be without, so that every value
// can be typed by itself.
const bareBuild = `format = 3
[[loads.case]]
name = "bump"
bump = 2
cornering = 1
source = "the shop"
[[elsewhere]]
of = "bracket.rear"
by = "the maker"
why = "bought"
[[reading]]
of = "frame"
on = "along"
shown = 1
lower = "rear"
[[job]]
id = "own"
title = "A job"
[[weld]]
bracket = "rear"
at = "foot"
[weld.side.front]
length = 60
[[measure]]
of = "diagonal"
with = "tape"
lengths = [1]
[line.rear]
toward = "front"
[mount.left_front.leg]
section = "SHS 50x50x3 cold"
[mount.right_front.leg]
`

// sample is something to type for a row, and how the file has it then.
func sample(r sheet.Row) string {
	switch r.Shape {
	case sheet.Quantity:
		switch r.Kind {
		case quantity.Slope:
			return "1 deg down to the rear"
		case quantity.Heading:
			return "1 deg rear to the right"
		case quantity.Offset:
			return "12 mm right"
		case quantity.Number:
			return "0.5"
		}
		return "2"
	case sheet.Switch:
		return "yes"
	case sheet.Date:
		return "2026-05-02"
	case sheet.Point:
		return "1, -2.5, 30 mm"
	case sheet.Points:
		return "1, 2, 3; 4, 5, 60; 7, 80, 9"
	case sheet.Quantities:
		return "2; 1"
	case sheet.Texts:
		return "one; two"
	case sheet.Words:
		return r.Choices[len(r.Choices)-1]
	}
	return "Ærø 手 plate"
}

// special are rows that take more than any text.
var special = map[string]string{
	"reading[0].of": "floor", "powertrain.gears": "2; 1", "job[0].id": "own-2", "job[0].from": "hang",
	"measure[0].lengths": "1; 2", "vehicle.tyre": "225/75R16", "chassis[0].carries": "rear",
	"mount.right_front.leg.match": "left_front", "mount.left_front.leg.match": "",
	"powertrain.transfer_case.lines": "rear", "powertrain.transfer_case.mounts": "rear", "powertrain.transfer_case.turned": "0 deg", "powertrain.transfer_case.parts": "gearbox",
	"find.move[0].of": "placement.rear", "find.move[0].range": "-300 mm; -280 mm", "find.move[0].step": "1 mm",
}

// stays are values that this build cannot be without, as others could stand for them.
var stays = map[string]bool{"reading[0].shown": true, "reading[0].lower": true, "measure[0].lengths": true, "job[0].title": true}

// TestEveryFieldCanBeTyped walks the sheet of a build, which a test of the sheet holds
// against the schema: every row can be reached, typed, taken out and undone on the
// screen, but for what is written by doing it. By default one in ten is typed, and of each
// chapter one of each shape.
func TestEveryFieldCanBeTyped(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(bareBuild), 120, 36).keys("d")
	p := d.m.data
	p.Go("mount.*")
	d.keys("enter", "text:other", "enter")
	seen := map[string]bool{}
	type field struct{ path, kind string }
	var fields []field
	for _, sec := range p.Sheet.Sections {
		for _, r := range sec.Rows {
			kind := fmt.Sprint(sheet.Chapters()[sec.Chapter], fieldKind(r.Path))
			if text, ok := special[r.Path]; r.Shape == sheet.Name || r.Ticked || seen[kind] || ok && text == "" {
				continue
			}
			seen[kind] = true
			require.True(t, p.Go(r.Path), r.Path)
			_, at, ok := p.Here()
			require.True(t, ok && at.Path == r.Path, "%s is not under the cursor", r.Path)
			fields = append(fields, field{r.Path, fmt.Sprint(sec.Chapter, r.Shape)})
		}
	}
	require.Greater(t, len(fields), 330)
	for _, f := range inturn.Kinds(t, fields, 10, func(f field) string { return f.kind }) {
		d.typedRow(f.path)
	}
}

func fieldKind(path string) string {
	for _, list := range []string{"mount", "line"} {
		if rest, ok := strings.CutPrefix(path, list+"."); ok {
			_, rest, _ = strings.Cut(rest, ".")
			return list + ".*." + rest
		}
	}
	return path
}

// typedRow types a row, takes it out and undoes both.
func (d *driver) typedRow(path string) {
	d.t.Helper()
	p := d.m.data
	before := d.bytes()
	require.True(d.t, p.Go(path), path)
	_, r, ok := p.Here()
	require.True(d.t, ok && r.Path == path, "%s is not under the cursor", path)
	text := sample(r)
	if s, ok := special[path]; ok {
		text = s
	}
	d.keys("enter")
	require.NotNil(d.t, p.Typing, path)
	if r.Given {
		d.keys("ctrl+u")
	}
	d.keys("type:"+text, "enter")
	if len(d.m.dialogs) > 1 {
		d.keys("y")
	}
	why := d.m.message.text
	if p.Typing != nil {
		why = p.Typing.Refused
	}
	require.True(d.t, p.Typing == nil, "%s was not taken: %s", path, why)
	if _, draft := p.Drafts[path]; draft { // it cannot stand alone: it is kept, and dropped again
		p.Go(path)
		d.keys("x")
		require.NotContains(d.t, p.Drafts, path)
		require.Equal(d.t, before, d.bytes(), path)
		return
	}
	_, now, _ := p.Sheet.Row(path)
	if r.Shape == sheet.Switch {
		text = "true"
	}
	require.Equal(d.t, text, now.Text, path)
	require.NotEqual(d.t, before, d.bytes(), path)
	p.Go(path)
	d.keys("x")
	_, now, _ = p.Sheet.Row(path)
	steps := 2
	if now.Given { // the file cannot be without it
		require.True(d.t, r.Need || stays[path], "%s was not taken out: %s", path, d.m.message.text)
		steps = 1
	}
	for range steps {
		d.keys("u")
	}
	require.Equal(d.t, before, d.bytes(), path)
}

// Every row that is open can be walked to with the arrow keys, and every shut head opens.
func TestEveryRowCanBeReached(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(bareBuild), 80, 24).keys("d", "home")
	p := d.m.data
	seen := map[string]bool{}
	for range 5000 {
		s, r, ok := p.Here()
		if ok {
			seen[r.Path] = true
		}
		at := s.ID + r.Path
		d.keys("right", "down")
		if s, r, _ := p.Here(); s.ID+r.Path == at && !p.OnChapter() {
			break
		}
	}
	for _, s := range p.Sheet.Sections {
		for _, r := range s.Rows {
			require.True(t, seen[r.Path], "%s was not reached", r.Path)
		}
	}
}

func TestTypingOnAndOn(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n"), 120, 36).keys("d", "home", "tab")
	d.keys("text:lorry", "tab", "text:hub", "tab", "text:unit", "tab", "text:3300", "tab", "tab", "text:740 mm", "enter")
	b := d.m.now.Build
	require.Equal(t, "lorry", b.Vehicle.Name)
	require.Equal(t, "hub", b.Vehicle.Origin)
	require.Equal(t, project.UnitBody, b.Vehicle.Body, "the word that answers is taken")
	require.InDelta(t, 3300, b.Vehicle.Wheelbase.V(), 1e-9)
	require.False(t, b.Vehicle.FrontAxle.Known(), "tab over an empty row types nothing")
	require.Contains(t, d.bytes(), "tyre_diameter = \"740 mm\"")
	d.keys("u", "u", "u", "u", "u")
	require.Equal(t, "format = 3\n", d.bytes())
}

func TestARefusalLosesNothing(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n"), 120, 36).keys("d")
	p := d.m.data
	p.Go("vehicle.wheelbase")
	d.keys("enter", "text:33o0", "enter")
	require.NotNil(t, p.Typing)
	require.Contains(t, d.screen(), "write it like 412 mm")
	d.keys("backspace", "backspace", "backspace", "text:-5", "enter")
	d.send(sizeMsg(80, 24))
	require.Equal(t, "3-5", p.Typing.Field.Text(), "a resize loses nothing")
	d.keys("ctrl+u", "text:-5", "enter")
	require.ErrorContains(t, p.Typing.Field.Err(), "cannot be negative")
	d.keys("esc")
	require.True(t, p.Typing == nil)
	d.keys("u")
	require.Equal(t, "-5", p.Typing.Field.Text(), "u brings back what Esc dropped")
	d.keys("esc", "esc", "d")
	require.Same(t, p, d.m.data)
}

// What cannot stand alone is kept until it can, and goes into the file in one step.
func TestAnEntryIsKeptUntilItCanStand(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n"), 120, 36).keys("d")
	p := d.m.data
	p.Go("elsewhere[0].of")
	d.keys("enter", "text:bracket.rear", "enter")
	require.Equal(t, "format = 3\n", d.bytes())
	require.Contains(t, d.screen(), "not in the file yet")
	require.Contains(t, d.m.message.text, "who judges it")
	d.keys("enter", "text:the maker", "enter", "enter", "text:bought", "enter")
	require.Len(t, d.m.now.Build.Elsewhere, 1)
	require.Empty(t, p.Drafts)
	d.keys("u")
	require.Equal(t, "format = 3\n", d.bytes(), "one step")
}

// What is kept for one table and cannot stand yet keeps nothing of another out of the file.
func TestWhatIsKeptForOneTableHoldsNoOther(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n"), 120, 36).keys("d")
	p := d.m.data
	kept := func(path, text string) {
		require.True(t, p.Go(path), path)
		d.keys("enter", "text:"+text, "enter")
	}
	kept("elsewhere[0].of", "bracket.rear")
	require.Len(t, p.drafts, 1)
	kept("line.rear.suspension.shackle_pivot", "point.hanger")
	require.Len(t, p.drafts, 2, d.screen())
	require.True(t, p.Go("point.*"))
	d.keys("enter", "text:hanger", "enter")
	for _, on := range []string{"station", "offset", "height"} {
		kept("point.hanger."+on, "100")
	}
	require.Equal(t, []string{"elsewhere[0].of"}, pathsOf(p.drafts), d.screen())
	require.Contains(t, d.bytes(), "shackle_pivot = \"point.hanger\"")
}

func pathsOf(values []edit.Value) []string {
	var out []string
	for _, v := range values {
		out = append(out, v.Path)
	}
	return out
}

// An entry that somebody else moves is found again, and what is typed goes into it.
func TestAChangeFromOutsideLosesNothingTyped(t *testing.T) {
	t.Parallel()
	src := "format = 3\n[[chassis]]\nname = \"pipe\"\nat = [1, 2, 3]\n"
	d := drive(t, []byte(src), 120, 36).keys("d")
	p := d.m.data
	p.Go("chassis[0].gap")
	d.keys("enter", "text:1")
	d.write("[[chassis]]", "[[chassis]]\nname = \"shaft\"\nat = [4, 5, 6]\n\n[[chassis]]")
	d.glance()
	require.Len(t, d.m.now.Build.Chassis, 2)
	require.Equal(t, "1", p.Typing.Field.Text())
	d.keys("text:2", "enter")
	require.False(t, d.m.now.Build.Chassis[0].Gap.Known())
	require.InDelta(t, 12, d.m.now.Build.Chassis[1].Gap.V(), 1e-9)

	d.keys("enter", "text:9")
	d.write("at = [1, 2, 3]\n", "at = [1, 2, 3]\nradius = 5\n")
	d.glance()
	require.Equal(t, "9", p.Typing.Field.Text())
	require.Equal(t, "chassis[1].gap_rocked", p.Typing.Path)

	// What is typed for an entry that is not begun stays out of one that somebody begins.
	d.keys("enter")
	p.Go("elsewhere[0].of")
	d.keys("enter", "text:bracket.rear", "enter")
	p.Go("chassis[2].name")
	d.keys("enter", "text:brace")
	d.write("format = 3\n", "format = 3\n\n[[elsewhere]]\nof = \"bracket.left_front\"\nby = \"x\"\nwhy = \"y\"\n",
		"[[chassis]]", "[[chassis]]\nname = \"wall\"\nat = [7, 8, 9]\n\n[[chassis]]")
	d.glance()
	require.Equal(t, "chassis[3].name", p.Typing.Path)
	require.Equal(t, "elsewhere[1].of", p.drafts[0].Path)
	d.keys("enter")
	require.Equal(t, "brace", d.m.now.Build.Chassis[3].Name)
}

// What is kept beside the file is asked about before the program ends.
func TestNothingKeptIsLostAtTheEnd(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n"), 80, 24).keys("d")
	d.m.data.Go("elsewhere[0].of")
	d.keys("enter", "text:bracket.rear", "enter", "esc", "q")
	require.False(t, d.quit)
	require.Contains(t, d.screen(), "bracket.rear")
	d.keys("d", "enter")
	require.Equal(t, "bracket.rear", d.m.data.Typing.Field.Text())
	d.keys("esc", "esc", "q", "q")
	require.True(t, d.quit)
}

func TestEntriesAreAddedCopiedMovedAndTakenOut(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n"), 120, 36).keys("d")
	p := d.m.data
	p.Go("chassis[0].name")
	d.keys("enter", "text:pipe", "tab", "text:1 2 3", "enter", "a", "text:shaft", "enter")
	names := func() string {
		var out []string
		for _, c := range d.m.now.Build.Chassis {
			out = append(out, c.Name)
		}
		return strings.Join(out, " ")
	}
	require.Equal(t, "pipe shaft", names())
	p.Go("chassis[0].name")
	d.keys("y")
	require.Equal(t, "pipe pipe, copy shaft", names())
	d.keys("J")
	require.Equal(t, "pipe shaft pipe, copy", names())
	d.keys("K", "X", "y")
	require.Equal(t, "pipe shaft", names())
	d.keys("u", "u", "u", "u")
	require.Equal(t, "pipe shaft", names())
}

func TestAMountOfItsOwnName(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n"), 120, 36).keys("d")
	p := d.m.data
	p.Go("mount.*")
	d.keys("enter", "text:gear box", "enter")
	require.NotNil(t, p.Typing, "no such name")
	d.keys("ctrl+u", "text:gearbox", "enter", "enter", "text:900, 0, -150", "enter")
	require.Contains(t, d.bytes(), "[mount.gearbox]\nat = [900, 0, -150]", d.m.message.text+d.screen())
	d.keys("R", "text:torque-arm", "enter")
	require.Contains(t, d.bytes(), "[mount.torque-arm]\nat = [900, 0, -150]")
}

func TestWhatTheOtherSideHasIsOffered(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n[powertrain.pads]\nleft_front = [0, -250, -60]\n"), 120, 36).keys("d")
	p := d.m.data
	p.Go("powertrain.pads.right_front")
	d.keys("up", "down")
	require.Contains(t, p.Offer, "m takes it over as 0, 250, -60")
	require.Contains(t, d.screen(), "m takes it over as")
	d.keys("m")
	require.Contains(t, d.bytes(), "right_front = [0, 250, -60]")
}

// Bare sizes of a leg are no section of the table: what is meant is asked, and Esc
// leaves them typed over the choices.
func TestBareSizesOfALegAreAskedAbout(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("d")
	d.m.data.Go("mount.left_front.leg.section")
	before := d.bytes()
	d.keys("enter", "ctrl+u", "text:50x50x4", "enter")
	same(t, before, d.bytes())
	text := strings.Join(strings.Fields(d.screen()), " ")
	require.Contains(t, text, "taken as a section of your own")
	d.keys("esc")
	require.Contains(t, d.screen(), "SHS 50x50x4 hot")
	d.keys("down", "enter")
	require.Contains(t, d.bytes(), `section = "SHS 50x50x4 `)
}

// A slip of the decimal point is asked about in a point too, before it is in the file.
func TestASlipInAPointIsAskedAbout(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n[powertrain.pads]\nleft_front = [0, -250, -60]\n"), 120, 36).keys("d")
	d.m.data.Go("powertrain.pads.right_front")
	d.keys("enter", "text:0 2500 -60", "enter")
	require.NotContains(t, d.bytes(), "2500")
	require.Contains(t, d.screen(), "Is that meant so?")
	d.keys("y")
	require.Contains(t, d.bytes(), "right_front = [0, 2500, -60]")
	d.m.data.Go("powertrain.pads.right_front")
	d.keys("u", "enter", "text:0 251 -60", "enter")
	require.Contains(t, d.bytes(), "right_front = [0, 251, -60]")
}

// A tick and a weld go through their door here too.
func TestTheDoorHoldsOnTheDataPage(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(bareBuild+`
[[job]]
id = "weld"
title = "Weld it"
finish = true
hold = ["line.rear.joint.1.max"]
`), 120, 36).keys("d")
	p := d.m.data
	p.Go("job[1].done")
	d.keys("enter")
	require.False(t, d.m.now.Build.Jobs[1].Done)
	require.Contains(t, d.m.message.text, "Held")
	d.keys("esc")
	p.Go("job[1].override")
	d.keys("enter")
	require.True(t, p.Typing == nil)
	p.Go("weld[0].side.front.state")
	d.keys("enter")
	require.Equal(t, project.WeldTacked, d.m.now.Build.Welds[0].Sides[0].State)
	p.Go("weld[0].side.front.state")
	d.keys("x")
	require.Equal(t, project.WeldTacked, d.m.now.Build.Welds[0].Sides[0].State)
}

func sizeMsg(w, h int) tea.WindowSizeMsg { return tea.WindowSizeMsg{Width: w, Height: h} }

// dataShots are the data page in its states.
func dataShots() []shot {
	at := func(path string, keys ...string) func(*driver) {
		return func(d *driver) {
			d.keys("d")
			d.m.data.Go(path)
			d.send(sizeMsg(d.m.width, d.m.height))
			d.keys(keys...)
		}
	}
	demo := starter.Demo()
	return []shot{
		{name: "data", build: demo, w: 80, h: 24, keys: []string{"d"}},
		{name: "data", build: starter.New(), w: 120, h: 36, keys: []string{"d", "right"}},
		{name: "data-mount", build: demo, w: 140, h: 45, then: at("mount.rear.leg.section")},
		{name: "data-mount-typed", build: demo, w: 120, h: 36, then: at("mount.rear.leg.section", "enter", "ctrl+u", "text:60x4")},
		{name: "data-mount-typed", build: demo, w: 60, h: 20, then: at("mount.rear.leg.section", "enter", "ctrl+u", "text:60x4")},
		{name: "data-refused", build: demo, w: 80, h: 24, then: at("powertrain.mass", "enter", "ctrl+u", "text:12 mm")},
		{name: "data-point", build: demo, w: 80, h: 24, then: at("powertrain.pads.rear", "enter", "ctrl+u", "text:1250 0 -4 1/4 in")},
		{name: "data-kept", build: demo, w: 120, h: 36, then: at("elsewhere[1].of", "enter", "text:bracket.rear", "enter")},
		{name: "data-pad", build: demo, w: 120, h: 36, then: at("powertrain.pads.left_front")},
		{name: "data-height", build: demo, w: 120, h: 36, then: at("placement.left_front")},
		{name: "data-limits", build: demo, w: 80, h: 24, then: at("limits.joint_max")},
		{name: "data-find", build: demo, w: 80, h: 24, then: at("vehicle.name", "/", "text:pad rear")},
		{name: "movers", build: demo, w: 80, h: 24, keys: []string{"f", "enter"}},
	}
}

// What a row shows is what it takes: typed again, the build means the same.
func TestEveryRowTakesWhatItShows(t *testing.T) {
	t.Parallel()
	src, err := os.ReadFile("../../testdata/example.toml")
	require.NoError(t, err)
	f, err := project.Parse("example.toml", src)
	require.NoError(t, err)
	var rows []sheet.Row
	for _, sec := range sheet.Of(f).Sections {
		for _, r := range sec.Rows {
			if r.Given && !r.Ticked {
				rows = append(rows, r)
			}
		}
	}
	require.Greater(t, len(rows), 300)
	for _, r := range inturn.Kinds(t, rows, 6, func(r sheet.Row) string { return fmt.Sprint(r.Shape, r.Kind) }) {
		edits, err := edit.Typed(f, edit.Value{Path: r.Path, Text: r.Text})
		require.NoError(t, err, r.Path)
		g, err := edit.Apply(f, edits...)
		require.NoError(t, err, r.Path)
		require.Equal(t, meant(f), meant(g), r.Path)
	}
}
