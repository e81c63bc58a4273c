package assess

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// badMounts are mounts that cannot be, or are not whole: which part, what is wrong with it
// and what would do. A text that begins with "refused:" is said of the file, at its line;
// one with "missing:" asks for what is not in the file yet.
var badMounts = []struct{ what, build, old, now, part, wrong, do string }{
	// An assembly that does not close.
	{"nothing reaches the pad", "own_members", `ends = ["rail", "pad"]`, "ends = [\"rail\", \"square\"]\nto = [260, -240, -70]", "bracket left front", "nothing of it reaches the pad", "end a member at \"pad\""},
	{"a member past its host", "own_members", "to_along = 120 ", "to_along = 400 ", "member tie", "would meet arm 400.0 mm from that one's first end, which is off its", "bring the two together"},
	{"a foot off its rail", "own_members", "from = [260, -380, -70]", "from = [260, -300, -70]", "bracket left front", "stands 80.0 mm off the face of the left rail", "check it and rails.left.points"},
	{"a member on none", "own_members", "member.arm\"", "member.boom\"", `the member "tie" of the left front mount`, "refused: ends on member.boom, which this mount has not", "it has arm, tie"},
	{"a member on itself", "own_members", "member.arm\"", "member.tie\"", `the member "tie" of the left front mount`, "refused: ends on itself", "left front"},
	{"a brace past its arm", "arm_with_a_brace", "brace_along = 95", "brace_along = 400", "member brace", "off its 210.0 mm", "bring the two together"},
	{"a pad beyond its arm", "level_arm_with_perch", "standing = 40", "standing = 40\npad = [260, -381, -20]", "member arm", "the pad lies 1.0 mm beyond its end", "make it longer"},
	{"knees wider than the rails", "dropped_crossmember", "between = ", "between = 9", "member left leg", "comes at the rail from behind its face", "turn the face or move its other end"},
	{"a box over the rail", "boxed_plate", "pad = [260, -290, -5]", "pad = [260, -290, 5]", "bracket left front", "its upper plate lies 5.0 mm above the edge of the left rail", "lower the pad"},
	{"a clamp off its tube", "clamp_on_tab", "to = [700, -290, -60]", "to = [270, -290, -60]", "bracket left front", "runs off the end of the tube", "move the pad along the tube"},
	{"two rails apart", "inclined_leg", "points = [[-450, -380, 0], [2600, -380, 0]]", "points = [[400, -380, 0], [2600, -380, 0]]", "leg left front", "off the end of the left rail", "400 to 2600 mm"},
	// A part of no length.
	{"both ends in one place", "own_members", "ends = [\"rail\", \"member.arm\"]\nfrom = [350, -380, -80]\nto_along = 120 ", "ends = [\"square\", \"square\"]\nfrom = [350, -380, -80]\nto = [350, -380, -80] ", "member tie", "has no length", "move one of them"},
	{"a pad on the rail", "inclined_leg", "standing = 40", "standing = 40\npad = [260, -380, -20]", "member leg", "runs along the face of the rail", "move its other end off that face"},
	{"plates fill the room", "inclined_leg", "standing = 40", "standing = 40\npad = [260, -379, -75]\npad_facing = \"right\"", "leg leg", "no leg is left", "move the pad off the rail"},
	{"a brace too near", "arm_with_a_brace", "brace_drop = 80", "brace_drop = 20", "member brace", "nothing is left of it", "move its ends apart"},
	{"a brace of nothing", "arm_with_a_brace", "brace_along = 95", "brace_along = 0", "the bracket of the left front mount", "refused: has brace_along = 0", "want more"},
	{"a pad behind the rail", "boxed_plate", "pad = [260, -290, -5]", "pad = [260, -390, -5]", "left front", "has no length", "move the pad off the face"},
	// A cut through itself.
	{"two cuts meet", "inclined_leg", "standing = 40", "standing = 40\npad = [260, -340, -75]\npad_normal = [0, 1, 1]", "leg leg", "the two cuts meet inside the tube", "move its ends apart"},
	{"a cut along the arm", "own_members", "from = [350, -380, -80]", "from = [260, -380, -68]", "member tie", "runs along arm", "move its other end away"},
	// A plate smaller than its tube.
	{"a narrow pad plate", "inclined_leg", "width = 150", "width = 50", "pad plate", "smaller than what stands on it: the leg reaches", "make the plate larger"},
	{"a narrow rail plate", "inclined_leg", "height = 140\nacross = 2\nhigh = 2\npitch_across = 120\npitch_high = 100\nhole = 13", "height = 50\nacross = 1\nhigh = 1\nhole = 13", "rail plate", "smaller than what stands on it", "make the plate larger"},
	{"holes past the edge", "inclined_leg", "width = 160", "width = 55", "rail plate", "breaks out of the plate", "make the plate larger"},
	{"a wide member", "own_members", `section = "SHS 40x40x4 cold"`, `section = "SHS 80x80x5 cold"`, "member tie", "13.0 mm beyond the edge of arm, whose right side is 60.0 mm wide", "take a narrower one"},
	// A section that is not in the table.
	{"no such section", "inclined_leg", "SHS 60x60x4 cold", "SHS 61x60x4 cold", "left front mount", `no section "SHS 61x60x4 cold" in the table`, "nearest are SHS 60x60x4 cold"},
	{"two sizes alone", "inclined_leg", "SHS 60x60x4 cold", "60x60", "left front mount", "two sizes are a round tube or a flat bar", `write kind = "round tube"`},
	{"no such brace", "arm_with_a_brace", `brace = "SHS 40x40x4 cold"`, `brace = "SHS 40x40x44 cold"`, "left front mount", `no section "SHS 40x40x44 cold" in the table`, "nearest are"},
	{"no such kind", "level_arm_with_perch", `kind = "level arm with perch"`, `kind = "level arm"`, "mount.left_front.bracket.kind", `refused: read "level arm"`, "want one of: level arm with perch"},
	// A kind with a missing answer.
	{"no past", "level_arm_with_perch", "past = ", "# ", "left front", "missing: ", "mount.left_front.bracket.past"},
	{"no brace drop", "arm_with_a_brace", "brace_drop = 80", "#", "left front", "missing: ", "mount.left_front.bracket.brace_drop"},
	{"no brace", "arm_with_a_brace", "brace = ", "# ", "left front", "missing: ", "mount.left_front.bracket.brace"},
	{"no gap", "twin_ears", "gap = ", "# ", "left front", "missing: ", "mount.left_front.bracket.gap"},
	{"no spread", "two_legs_in_an_a", "spread = ", "# ", "left front", "missing: ", "mount.left_front.bracket.spread"},
	{"no depth", "boxed_plate", "foot_depth = ", "# ", "left front", "missing: ", "mount.left_front.bracket.plate.foot_depth"},
	{"no bend", "folded_z_plate", "pad_bend = ", "# ", "left front", "missing: ", "mount.left_front.bracket.plate.pad_bend"},
	{"no tube", "clamp_on_tab", "tube = ", "# ", "left front", "missing: ", "mount.left_front.bracket.clamp.tube"},
	{"no between", "dropped_crossmember", "between = ", "# ", "rear", "missing: ", "mount.rear.bracket.between"},
	{"no section", "inclined_leg", "section = ", "# ", "left front", "missing: ", "mount.left_front.bracket.section"},
	{"no end", "own_members", `ends = ["rail", "pad"]`, "", "left front", "missing: ", "mount.left_front.member[0].ends"},
	{"no along", "own_members", "to_along = 120 ", "# ", "left front", "missing: ", "mount.left_front.member[1].to_along"},
	{"no height of the rail", "boxed_plate", "height = 150", "", "left front", "missing: ", "rails.left.height"},
	// Ends of a crossmember that ears, sockets or sleeves hold.
	{"no ears' past", "straight_crossmember_in_ears", "past = 25                       # that they run on past it", "#", "rear", "missing: ", "mount.rear.bracket.ears.past"},
	{"no ears' bolt", "straight_crossmember_in_ears", "out = 50", "#", "rear", "missing: ", "mount.rear.bracket.ears.out"},
	{"no ears' section", "straight_crossmember_in_ears", "section = \"Flat 60x8\"\nout", "out", "rear", "missing: ", "mount.rear.bracket.ears.section"},
	{"no past the bolts", "straight_crossmember_in_ears", "past = 25                       # its ends", "# its ends", "rear", "missing: ", "mount.rear.bracket.past"},
	{"no hole", "straight_crossmember_in_ears", "class = \"8.8\"\nhole = 13", "class = \"8.8\"", "rear", "missing: ", "mount.rear.bracket.pin.hole"},
	{"no socket's length", "straight_crossmember_in_sockets", "length = 100", "#", "rear", "missing: ", "mount.rear.bracket.socket.length"},
	{"no socket's section", "straight_crossmember_in_sockets", "section = \"SHS 70x70x4 cold\"\nout", "out", "rear", "missing: ", "mount.rear.bracket.socket.section"},
	{"an ear that is no flat", "straight_crossmember_in_ears", "section = \"Flat 60x8\"\nout", "section = \"SHS 60x60x4 cold\"\nout", "member left front ear", "is no ear", "take a flat bar"},
	{"ears with the hole off their end", "straight_crossmember_in_ears", "past = 25                       # that", "past = 6 # that", "left front ear", "has its middle 6.0 mm from an edge; at least 15.6 mm is wanted", "make ears.past more"},
	{"ears with the hole off their side", "straight_crossmember_in_ears", "section = \"Flat 60x8\"\nout", "section = \"Flat 30x5\"\nout", "left front ear", "has its middle 15.0 mm from an edge", "take one that is wider"},
	{"a beam with the hole off its end", "straight_crossmember_in_ears", "past = 25                       # its", "past = 5 # its", "beam", "has its middle 5.0 mm from an edge", "make past more"},
	{"a bolt larger than its hole", "straight_crossmember_in_ears", "class = \"8.8\"\nhole = 13", "class = \"8.8\"\nhole = 11", "bracket rear", "through bolts of 12.0 mm do not go through holes of 11.0 mm", "check pin.hole"},
	{"an end in the rail", "straight_crossmember_in_ears", "out = 50", "out = 20", "member beam", "clear of the left rail", "set its bolt farther out"},
	{"a pin through nothing", "dropped_crossmember", "standing = 45", "standing = 45\npin = { thread = \"M12\" }", "the bracket of the rear mount", "refused: has a pin and nothing that it goes through", "give ears or socket"},
	{"ears and loose bolts", "straight_crossmember_in_ears", "standing = 45", "standing = 45\nbolts = { thread = \"M10\" }", "the bracket of the rear mount", "refused: has ears, and bolts with nothing that they hold", "give the rail_plate that its ears stand on"},
	{"ears past their plate", "straight_crossmember_in_bolted_ears", "height = 120\n", "height = 50\n", "rear rail plate", "breaks out of the plate", "make the plate larger"},
	{"ears that hold", "straight_crossmember_in_ears", "standing = 45", "standing = 45\nfixed = \"held\"", "the bracket of the rear mount", "refused: has ears with one bolt at each end", "want fixed = \"pinned\""},
	{"ears and sockets", "straight_crossmember_in_ears", "standing = 45", "standing = 45\nsocket = { out = 50 }", "the bracket of the rear mount", "refused: has both ears and sockets", "give one of the two"},
	{"a socket where it lies", "straight_crossmember", "standing = 45", "standing = 45\nsocket = { out = 50 }", "the bracket of the rear mount", "refused: runs along the underside of its rails and slides into no socket there", "want ears or sleeve"},
	{"ears of no thickness out", "straight_crossmember_in_ears", "out = 50", "out = 0", "the bracket of the rear mount", "refused: has ears.out = 0", "want more"},
	{"a socket wider than the rail's inside", "straight_crossmember_in_sockets", "height = 150\nwidth = 75\n\n[rails.right]", "height = 70\nwidth = 75\n\n[rails.right]", "bracket rear", "its left socket does not stand on the left rail, which is 70.0 mm there", "take a smaller one"},
	{"a socket that is too tight", "straight_crossmember_in_sockets", "section = \"SHS 70x70x4 cold\"\nout", "section = \"SHS 60x60x4 cold\"\nout", "member beam", "8.0 mm too large for the room inside", "take a larger socket"},
	{"a round socket for a box", "straight_crossmember_in_sockets", "section = \"SHS 70x70x4 cold\"\nout", "section = \"CHS 88.9x5\"\nout", "member beam", "has no fit in left socket", "take a piece of the same kind"},
	{"a socket's bolt past its mouth", "straight_crossmember_in_sockets", "length = 100", "length = 55", "left socket", "its bolt would be 5.0 mm past its mouth", "make it longer"},
	{"a socket's hole off its mouth", "straight_crossmember_in_sockets", "length = 100", "length = 65", "left socket", "has its middle 5.0 mm from an edge", "make socket.length more"},
	{"a sleeve wider than its beam", "sleeved_crossmember", "diameter = 25", "diameter = 34", "bracket rear", "does not go between the walls of its beam", "which stand 32.0 mm apart"},
	{"no wall of a sleeve", "sleeved_crossmember", "wall = 5", "", "rear", "missing: ", "mount.rear.bracket.sleeve.wall"},
}

// Every one of them names its part, says what is wrong and what would do; and no number
// comes of a mount that is not whole: no cut, no plate, no mass, no verdict, nothing drawn.
func TestBadMountsGiveNoNumber(t *testing.T) {
	for _, c := range badMounts {
		t.Run(c.what, func(t *testing.T) {
			text, err := os.ReadFile("../../testdata/mounts/" + c.build + ".toml")
			require.NoError(t, err)
			require.Contains(t, string(text), c.old)
			f, err := project.Parse("bad.toml", []byte(strings.Replace(string(text), c.old, c.now, 1)))
			if wrong, refused := strings.CutPrefix(c.wrong, "refused: "); refused {
				require.ErrorContains(t, err, wrong)
				require.ErrorContains(t, err, c.part)
				require.ErrorContains(t, err, c.do)
				require.Regexp(t, `^bad\.toml:\d+:\d+: `, err.Error())
				return
			}
			require.NoError(t, err)
			mount := "left_front"
			if strings.Contains(c.build, "crossmember") {
				mount = "rear"
			}
			a := Run(f.Build)
			fits, ok := a.Finding(finding.BracketFits(mount))
			require.True(t, ok)
			said := strings.ToLower(fits.Missing + fits.Advice())
			if wrong, missing := strings.CutPrefix(c.wrong, "missing: "); missing {
				assert.Equal(t, NotKnown, fits.Status)
				assert.Contains(t, said, wrong)
				assert.Contains(t, fits.Lacks(), c.do)
			} else {
				assert.Equal(t, Over, fits.Status)
				assert.Contains(t, said, strings.ToLower(c.wrong))
				assert.Contains(t, said, strings.ToLower(c.do))
			}
			assert.Contains(t, strings.ToLower(said+fits.Title), c.part)
			noNumberOf(t, a, mount)
		})
	}
}

// noNumberOf holds that nothing is worked out of the bracket of a mount.
func noNumberOf(t *testing.T, a *Assessment, mount string) {
	t.Helper()
	for _, x := range a.Findings {
		if finding.AboutBracket(x.ID, mount) {
			assert.False(t, x.HasValue, "%s has %g", x.ID, x.Value)
			assert.NotEqual(t, OK, x.Status, x.ID)
		}
	}
	for _, v := range a.Values() {
		assert.False(t, v.Known && !strings.HasSuffix(v.Name, ".limit") && strings.HasPrefix(v.Name, "bracket."+mount+"."), v.Name)
	}
	b, ok := a.Bracket(mount)
	require.True(t, ok)
	assert.False(t, b.Stands() || b.HasCut || b.Mass.Known)
	assert.Empty(t, b.FlatPieces())
	assert.Empty(t, b.Bodies())
	for _, g := range a.Cuts {
		for _, p := range g.List.Pieces {
			assert.NotContains(t, p.Name, b.Label)
		}
	}
}

// leftOut are the answers that a ready kind does without: what is taken instead is said by
// the key itself.
var leftOut = strings.Fields("fixed foot_drop foot_in onto pad pad_facing standing steel count radius side_thickness end_depth inset seam foot_toward held roll from across high")

// judgedBy are answers without which a mount is cut and not judged wholly: each leaves a verdict
// of it not known.
var judgedBy = strings.Fields("width height hole pitch_across pitch_high thread class size")

var bracketTable = regexp.MustCompile(`^\[+(mount\.(\w+)\.(?:bracket|member|leg)[^\]]*)\]`)

// Of every ready kind each answer is left out in turn. Where the kind cannot be made without,
// no number comes of it and the answer is named; where it can, what is judged by it is not
// known. A section that is in no table and a plate of no thickness are refused or told of
// every kind, and what stands on a plate that is smaller is.
func TestEveryAnswerOfEveryReadyKind(t *testing.T) {
	files, err := filepath.Glob("../../testdata/mounts/*.toml")
	require.NoError(t, err)
	require.Greater(t, len(files), 20)
	for _, path := range files {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		lines, table, mount := strings.Split(string(text), "\n"), "", ""
		for i, line := range lines {
			if m := bracketTable.FindStringSubmatch(line); m != nil {
				table, mount = m[1], m[2]
			} else if strings.HasPrefix(line, "[") {
				table = ""
			}
			key, _, ok := strings.Cut(line, " = ")
			if table == "" || !ok {
				continue
			}
			who := filepath.Base(path) + ": " + table + "." + key
			with := func(line string) (*Assessment, error) {
				f, err := project.Parse("bad.toml", []byte(strings.Join(slices.Concat(lines[:i], []string{line}, lines[i+1:]), "\n")))
				if err != nil {
					return nil, err
				}
				return Run(f.Build), nil
			}
			if a, err := with("#"); err == nil {
				withoutAnswer(t, a, mount, key, who)
			}
			switch key {
			case "section":
				a, err := with(`section = "SHS 61x60x4 cold"`)
				require.NoError(t, err, who)
				fits := found(t, a, finding.BracketFits(mount))
				assert.Equal(t, Over, fits.Status, who)
				assert.Contains(t, fits.Advice(), "no section", who)
				noNumberOf(t, a, mount)
			case "thickness":
				a, err := with("thickness = 0")
				if err == nil {
					noNumberOf(t, a, mount)
				}
			}
		}
	}
}

// withoutAnswer holds what is said of a mount without one of its answers.
func withoutAnswer(t *testing.T, a *Assessment, mount, key, who string) {
	t.Helper()
	b, ok := a.Bracket(mount)
	if !ok {
		return // there is no bracket without it
	}
	fits := found(t, a, finding.BracketFits(mount))
	switch {
	case !b.Stands():
		noNumberOf(t, a, mount)
		if fits.Status == NotKnown {
			assert.Contains(t, strings.Join(fits.Lacks(), " "), key, who)
		}
	case slices.Contains(leftOut, key):
	case slices.Contains(judgedBy, key):
		assert.True(t, slices.ContainsFunc(a.Findings, func(f Finding) bool {
			return finding.AboutBracket(f.ID, mount) && f.Status == NotKnown && strings.Contains(f.Missing, key)
		}), who)
	default:
		assert.Fail(t, "it is made without", who)
	}
}
