package house

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const module = "fitup/"

// A room is a folder, or a family of folders when its name ends in "/...", and
// what it may import. A list entry ending in "/..." means everything below that
// folder and not the folder itself.
type room struct {
	folder string
	// may lists the folders of this module it imports, tests included.
	may []string
	// testsMay lists what only its tests import besides.
	testsMay []string
	// outside, when set, lists the only module path prefixes it imports from
	// other people. Tests are free.
	outside []string
	// never lists packages it must not import directly: each with all below it.
	never []string
}

var (
	// A calculation is given everything it needs and gives the same answer twice.
	world   = []string{"os", "io/fs", "net", "time", "math/rand", "syscall"}
	widgets = []string{
		"internal/ui/layout", "internal/ui/action", "internal/ui/theme",
		"internal/ui/sketch", "internal/ui/field", "internal/ui/paint", "internal/ui/search",
	}
	gonum = []string{"gonum.org/v1/gonum"}
	// A pane and the book draw an assessment of a build, and write its
	// quantities the way the build's own file does.
	drawn = []string{"internal/project", "internal/project/quantity", "internal/assess", "internal/assess/finding", "internal/scene", "internal/scene/view"}
	// Whole builds for tests to work on.
	examples = []string{"internal/project/starter", "internal/project/example", "internal/project/grown"}
	// Files that tests hold against what they draw.
	drawnFiles = []string{"internal/golden"}
	// What any test may use.
	anyTest = []string{"internal/inturn"}
)

// rooms is the plan of the house. A package that is in none of them fails the
// test: decide where it belongs, then write it here and in .golangci.yml. An
// exact name goes before the family it would fall into.
var rooms = []room{
	{folder: "cmd/fitup", may: []string{"internal/abreast", "internal/ui", "internal/ui/...", "internal/book", "internal/book/press", "internal/propose", "internal/assess", "internal/assess/...", "internal/project", "internal/project/..."},
		testsMay: []string{"internal/geom/gauge"}},

	{folder: "internal/abreast", never: []string{"os", "io/fs", "net", "time", "math/rand", "syscall"}},
	{folder: "internal/spell"},
	{folder: "internal/golden", never: []string{"net", "time"}},
	{folder: "internal/inturn", never: []string{"net", "time"}},

	{folder: "internal/geom", outside: gonum, never: world},
	{folder: "internal/geom/bracket", may: []string{"internal/geom", "internal/geom/section", "internal/spell"}, outside: gonum, never: world},
	{folder: "internal/geom/fold", may: []string{"internal/geom", "internal/geom/section", "internal/geom/bracket"}, testsMay: []string{"internal/geom/frame"}, outside: gonum, never: world},
	{folder: "internal/geom/assembly", may: []string{"internal/geom", "internal/geom/section", "internal/geom/bracket", "internal/geom/frame"}, outside: gonum, never: world},
	{folder: "internal/geom/frame", may: []string{"internal/geom", "internal/geom/section"}, outside: gonum, never: world},
	{folder: "internal/geom/modes", may: []string{"internal/geom", "internal/geom/seat"}, outside: gonum, never: world},
	{folder: "internal/geom/pickup", may: []string{"internal/geom", "internal/geom/travel"}, outside: gonum, never: world},
	{folder: "internal/geom/rigid", may: []string{"internal/geom", "internal/geom/tape"}, outside: gonum, never: world},
	{folder: "internal/geom/snoop", may: []string{"internal/geom/tape"}, outside: gonum, never: world},
	{folder: "internal/geom/section", may: []string{"internal/geom", "internal/spell"}, outside: gonum, never: world},
	{folder: "internal/geom/tape", may: []string{"internal/geom", "internal/geom/gauge", "internal/abreast"}, outside: gonum, never: world},
	{folder: "internal/geom/...", may: []string{"internal/geom", "internal/geom/gauge"}, outside: gonum, never: world},

	{folder: "internal/uncertain", testsMay: []string{"internal/geom"}, outside: gonum, never: world},
	{folder: "internal/uncertain/instrument", may: []string{"internal/uncertain", "internal/geom", "internal/geom/gauge"}, outside: gonum, never: world},
	// It draws what a calculation must not: dice.
	{folder: "internal/uncertain/coverage", testsMay: []string{"internal/uncertain", "internal/uncertain/instrument", "internal/geom", "internal/geom/gauge", "internal/geom/shaft"},
		outside: gonum, never: []string{"os", "io/fs", "net", "time", "syscall"}},

	{folder: "internal/project", may: []string{
		"internal/abreast",
		"internal/geom", "internal/geom/gauge", "internal/geom/seat", "internal/geom/section", "internal/geom/wheel",
		"internal/project/quantity", "internal/project/tomltext", "internal/project/joblist", "internal/project/jobs", "internal/project/format",
		"internal/spell",
	}, testsMay: examples},
	{folder: "internal/project/edit", may: []string{
		"internal/project", "internal/geom", "internal/geom/gauge", "internal/geom/seat",
		"internal/project/quantity", "internal/project/tomltext", "internal/project/joblist", "internal/project/format",
	}, testsMay: examples},
	{folder: "internal/project/format", may: []string{"internal/project/tomltext"}},
	{folder: "internal/project/joblist"},
	{folder: "internal/project/jobs", may: []string{"internal/project/joblist"}},
	{folder: "internal/project/quantity", may: []string{"internal/geom"}},
	{folder: "internal/project/tomltext"},
	{folder: "internal/project/keep"},
	{folder: "internal/assess/finding", may: []string{"internal/project", "internal/project/quantity", "internal/geom", "internal/geom/gauge", "internal/geom/slip", "internal/uncertain"}, testsMay: examples, never: world},
	{folder: "internal/assess/job", may: []string{
		"internal/assess/finding", "internal/project", "internal/project/quantity",
		"internal/project/edit", // a tick and a weld that is done are the edits that write them
	}, testsMay: slices.Concat(examples, []string{"internal/project/joblist"}), never: world},
	{folder: "internal/assess/reading", may: []string{
		"internal/assess/finding", "internal/project", "internal/project/quantity", "internal/geom", "internal/geom/gauge", "internal/geom/seat",
		"internal/uncertain", "internal/uncertain/instrument",
	}, testsMay: examples, never: world},
	{folder: "internal/assess/frame", may: []string{
		"internal/assess/finding", "internal/project", "internal/project/quantity", "internal/geom", "internal/geom/tape", "internal/uncertain", "internal/abreast",
	}, testsMay: slices.Concat(examples, []string{"internal/uncertain/coverage"}), never: world},
	{folder: "internal/assess/subframe", may: []string{
		"internal/assess/finding", "internal/project", "internal/project/quantity", "internal/geom", "internal/geom/...", "internal/uncertain", "internal/abreast",
	}, testsMay: examples, never: world},
	{folder: "internal/assess/...", may: []string{
		"internal/assess/finding", "internal/project", "internal/project/quantity", "internal/geom", "internal/geom/...", "internal/uncertain",
	}, testsMay: slices.Concat(examples, []string{"internal/uncertain/coverage"}), never: world},
	{folder: "internal/assess", may: []string{
		"internal/assess/...",
		"internal/project", "internal/project/quantity", "internal/geom", "internal/geom/...", "internal/uncertain",
		"internal/project/edit", // as the trade of the jobs hands them on
		"internal/abreast",
	}, testsMay: slices.Concat(examples, []string{"internal/project/joblist", "internal/uncertain/coverage"}), never: world},
	{folder: "internal/scene", may: []string{
		"internal/assess", "internal/project", "internal/project/quantity", "internal/geom", "internal/geom/clear", "internal/geom/bracket", "internal/geom/section", "internal/geom/wheel",
		"internal/scene/...",
	}, testsMay: slices.Concat(examples, drawnFiles), outside: gonum, never: world},
	{folder: "internal/scene/meant", may: []string{
		"internal/scene", "internal/scene/view", "internal/assess", "internal/project", "internal/project/quantity", "internal/geom/section",
	}, testsMay: examples, outside: gonum, never: world},
	{folder: "internal/scene/hidden", may: []string{"internal/geom", "internal/scene/solid", "internal/scene/view"}, outside: gonum, never: world},
	{folder: "internal/scene/...", may: []string{"internal/geom"}, outside: gonum, never: world},
	{folder: "internal/propose", may: []string{
		"internal/assess", "internal/assess/finding", "internal/project", "internal/project/edit", "internal/project/quantity", "internal/geom", "internal/geom/seat", "internal/uncertain",
	}, testsMay: slices.Concat(examples, []string{"internal/uncertain/coverage"}), outside: gonum, never: world},
	{folder: "internal/book", may: append([]string{"internal/book/paper", "internal/scene/label"}, drawn...), testsMay: examples, outside: gonum, never: world},
	{folder: "internal/book/press", may: []string{"internal/book", "internal/propose", "internal/assess", "internal/project", "internal/project/edit", "internal/project/keep"}, testsMay: examples, never: []string{"net", "math/rand", "syscall"}},
	// It writes a date as the file form wants it, and asks no clock.
	{folder: "internal/book/paper", may: []string{"internal/scene"}, outside: slices.Concat(gonum, []string{"codeberg.org/go-pdf/fpdf", "codeberg.org/go-fonts/dejavu", "golang.org/x/text"}),
		never: []string{"os", "io/fs", "net", "math/rand", "syscall"}},
	{folder: "internal/project/session", may: []string{"internal/project", "internal/project/edit", "internal/project/keep"}, testsMay: examples},
	{folder: "internal/project/sheet", may: []string{"internal/project", "internal/project/quantity", "internal/project/tomltext"}, testsMay: examples},
	{folder: "internal/project/example"},
	{folder: "internal/project/grown", may: []string{"internal/project/starter"}},
	{folder: "internal/project/starter", testsMay: []string{"internal/geom", "internal/geom/seat", "internal/project", "internal/project/edit", "internal/project/quantity", "internal/assess"}},

	{folder: "internal/ui", may: []string{
		"internal/ui/...", "internal/book", "internal/book/press", "internal/propose", "internal/assess", "internal/assess/...", "internal/project", "internal/project/...", "internal/geom", "internal/geom/...",
		"internal/abreast",
	}},
	{folder: "internal/ui/layout", may: widgets},
	{folder: "internal/ui/action", may: append([]string{"internal/spell"}, widgets...)},
	{folder: "internal/ui/theme", may: widgets, testsMay: drawnFiles},
	{folder: "internal/ui/sketch", may: widgets, testsMay: drawnFiles},
	{folder: "internal/ui/field", may: widgets},
	{folder: "internal/ui/search", may: widgets},
	{folder: "internal/ui/paint"},
	{folder: "internal/ui/termbg", outside: []string{"github.com/charmbracelet/lipgloss"}},
	{folder: "internal/ui/speed", may: []string{"internal/ui/termbg", "internal/project/starter", "internal/project/grown"}},
	{folder: "internal/ui/pane", may: slices.Concat(drawn, widgets), testsMay: examples},
	{folder: "internal/ui/pane/data", may: slices.Concat([]string{"internal/ui/pane", "internal/project/sheet"}, drawn, widgets), testsMay: examples},
	{folder: "internal/ui/pane/drawing", may: slices.Concat([]string{"internal/ui/pane", "internal/scene/meant", "internal/abreast"}, drawn, widgets), testsMay: slices.Concat(examples, drawnFiles)},
	{folder: "internal/ui/pane/...", may: slices.Concat([]string{"internal/ui/pane"}, drawn, widgets), testsMay: slices.Concat(examples, drawnFiles)},

	{folder: "internal/house"},
}

// screenLibraries never come into a room below internal/ui, by any road.
var screenLibraries = []string{
	"github.com/charmbracelet/bubbletea", "github.com/charmbracelet/bubbles",
	"github.com/charmbracelet/lipgloss", "github.com/charmbracelet/x/term",
	"github.com/charmbracelet/x/cellbuf", "github.com/muesli/termenv",
}

// listed is one package as `go list -json` describes it.
type listed struct {
	ImportPath   string
	Imports      []string
	TestImports  []string
	XTestImports []string
	Deps         []string // all packages it needs, by any road, tests not counted
}

func TestArrows(t *testing.T) {
	root := moduleRoot(t)
	allFiles(t, root)
	packages := listPackages(t, root)
	assert.Empty(t, breaches(packages))

	var seen []string
	for _, p := range packages {
		seen = append(seen, p.ImportPath)
	}
	assert.Contains(t, seen, module+"internal/geom", "the whole tree was listed")
	assert.Contains(t, seen, module+"internal/house", "packages with tests only are listed too")
}

// The checker is shown imports that must not be, and must say so.
func TestArrowsAreChecked(t *testing.T) {
	in := func(folder string, imports ...string) listed {
		return listed{ImportPath: module + folder, Imports: imports, Deps: imports}
	}
	cases := map[string]struct {
		pkg  listed
		want string // part of the complaint; empty when there must be none
	}{
		"a room with its arrows": {in("internal/ui/pane/mounts", "strings", "fitup/internal/ui/pane",
			"fitup/internal/assess", "github.com/charmbracelet/lipgloss"), ""},
		"the file and the clock where they belong": {in("internal/project/keep", "os", "time"), ""},
		"a gonum package":                          {in("internal/geom/tape", "gonum.org/v1/gonum/mat", "fitup/internal/geom/gauge"), ""},

		"an uncertain number to geometry":  {in("internal/uncertain", "fitup/internal/geom"), "imports internal/geom,"},
		"an uncertain number from dice":    {in("internal/uncertain", "math/rand/v2"), "math/rand"},
		"a simulation with dice":           {in("internal/uncertain/coverage", "math/rand/v2"), ""},
		"geometry to project":              {in("internal/geom/shaft", "fitup/internal/project"), "imports internal/project,"},
		"geometry to another geometry":     {in("internal/geom/bracket", "fitup/internal/geom/seat"), "imports internal/geom/seat,"},
		"shared geometry to one of its":    {in("internal/geom", "fitup/internal/geom/gauge"), "imports internal/geom/gauge,"},
		"geometry to a library":            {in("internal/geom", "github.com/BurntSushi/toml"), "github.com/BurntSushi/toml"},
		"a neighbour's name as a prefix":   {in("internal/geom", "gonum.org/v1/gonumlike"), "gonum.org/v1/gonumlike"},
		"geometry reading a file":          {in("internal/geom/tape", "os/exec"), "os/exec"},
		"assessment reading a clock":       {in("internal/assess", "time"), "imports time,"},
		"trade to trade":                   {in("internal/assess/shop", "fitup/internal/assess/bracket"), "internal/assess/bracket"},
		"trade to the pipeline":            {in("internal/assess/shop", "fitup/internal/assess"), "imports internal/assess,"},
		"trade to what trades share":       {in("internal/assess/shop", "fitup/internal/assess/finding"), ""},
		"what trades share to a trade":     {in("internal/assess/finding", "fitup/internal/assess/shop"), "internal/assess/shop"},
		"pane to a trade":                  {in("internal/ui/pane/jobs", "fitup/internal/assess/shop"), "internal/assess/shop"},
		"assessment to the book":           {in("internal/assess", "fitup/internal/book"), "internal/book"},
		"file keeping to the build":        {in("internal/project/keep", "fitup/internal/project"), "imports internal/project,"},
		"the build to its edits":           {in("internal/project", "fitup/internal/project/edit"), "internal/project/edit"},
		"filling jobs to the build":        {in("internal/project/jobs", "fitup/internal/project"), "imports internal/project,"},
		"the formats to the build":         {in("internal/project/format", "fitup/internal/project"), "imports internal/project,"},
		"edits to a sitting":               {in("internal/project/edit", "fitup/internal/project/session"), "internal/project/session"},
		"the build to a driveline":         {in("internal/project", "fitup/internal/geom/shaft"), "internal/geom/shaft"},
		"assessment to the drawing":        {in("internal/assess", "fitup/internal/scene"), "internal/scene"},
		"the drawing to a screen":          {in("internal/scene", "fitup/internal/ui/sketch"), "internal/ui/sketch"},
		"the book to a screen":             {in("internal/book", "fitup/internal/ui/theme"), "internal/ui/theme"},
		"the book to geometry":             {in("internal/book", "fitup/internal/geom/bracket"), "internal/geom/bracket"},
		"a widget to project":              {in("internal/ui/sketch", "fitup/internal/project"), "imports internal/project,"},
		"a widget to a pane":               {in("internal/ui/field", "fitup/internal/ui/pane"), "imports internal/ui/pane,"},
		"pane to pane":                     {in("internal/ui/pane/jobs", "fitup/internal/ui/pane/mounts"), "internal/ui/pane/mounts"},
		"pane to geometry":                 {in("internal/ui/pane/jobs", "fitup/internal/geom/shaft"), "internal/geom/shaft"},
		"the shared pane code to one pane": {in("internal/ui/pane", "fitup/internal/ui/pane/jobs"), "internal/ui/pane/jobs"},
		"the command to geometry":          {in("cmd/fitup", "fitup/internal/geom"), "imports internal/geom,"},
		"a screen library below the screen": {in("internal/project/quantity",
			"github.com/muesli/termenv"), "needs github.com/muesli/termenv"},
		"a room nobody planned": {in("internal/attic"), "is in no room"},
		"a room below a room":   {in("internal/project/attic"), "is in no room"},

		"a screen library by a long road": {listed{ImportPath: "fitup/internal/assess",
			Deps: []string{"example.org/pretty", "github.com/charmbracelet/lipgloss"}},
			"needs github.com/charmbracelet/lipgloss"},
		"a test to the wrong room": {listed{ImportPath: "fitup/internal/geom/seat",
			TestImports: []string{"fitup/internal/project"}}, "test imports internal/project,"},
		"an outer test to the wrong room": {listed{ImportPath: "fitup/internal/ui/pane/jobs",
			XTestImports: []string{"fitup/internal/ui/pane/mounts"}}, "test imports internal/ui/pane/mounts,"},
		"a test with a screen library": {listed{ImportPath: "fitup/internal/geom/seat",
			TestImports: []string{"github.com/charmbracelet/lipgloss"}}, "needs github.com/charmbracelet/lipgloss"},
		"a test with a testing library": {listed{ImportPath: "fitup/internal/geom/seat",
			TestImports: []string{"github.com/stretchr/testify/require", "os"}}, ""},
		"a pane's test with a whole build": {listed{ImportPath: "fitup/internal/ui/pane/jobs",
			TestImports: []string{"fitup/internal/project/starter"}}, ""},
		"a pane with a whole build": {in("internal/ui/pane/jobs", "fitup/internal/project/starter"), "internal/project/starter"},
		"an outer test of the package itself": {listed{ImportPath: "fitup/internal/project/keep",
			XTestImports: []string{"fitup/internal/project/keep"}}, ""},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			found := breaches([]listed{c.pkg})
			if c.want == "" {
				assert.Empty(t, found)
				return
			}
			require.Len(t, found, 1)
			assert.Contains(t, found[0], c.want)
		})
	}
}

// Every room of the plan is found by its own name: an exact name written after
// its family would never be reached.
func TestRoomsAreReachable(t *testing.T) {
	for _, want := range rooms {
		got, ok := roomOf(strings.Replace(want.folder, "...", "somewhere", 1))
		require.True(t, ok, want.folder)
		assert.Equal(t, want.folder, got.folder)
	}
}

func listPackages(t *testing.T, root string) []listed {
	t.Helper()
	out := json.NewDecoder(strings.NewReader(output(t, root, "go", "list",
		"-json=ImportPath,Imports,TestImports,XTestImports,Deps", "./...")))
	var packages []listed
	for {
		var p listed
		err := out.Decode(&p)
		if errors.Is(err, io.EOF) {
			return packages
		}
		require.NoError(t, err)
		packages = append(packages, p)
	}
}

// breaches holds packages against the plan and returns one sentence for each
// import that must not be.
func breaches(packages []listed) []string {
	var found []string
	for _, p := range packages {
		folder := strings.TrimPrefix(p.ImportPath, module)
		r, ok := roomOf(folder)
		if !ok {
			found = append(found, folder+" is in no room: give it one in this test's table, with the folders it may import")
			continue
		}
		inner := append(slices.Clone(p.TestImports), p.XTestImports...)
		if strings.HasPrefix(folder, "internal/") && !strings.HasPrefix(folder, "internal/ui") {
			for _, dep := range sorted(slices.Concat(p.Deps, p.Imports, inner)) {
				if under(dep, screenLibraries) {
					found = append(found, fmt.Sprintf("%s needs %s, but only internal/ui knows there is a screen", folder, dep))
				}
			}
		}
		for _, path := range sorted(p.Imports) {
			if why := r.refuses(path); why != "" {
				found = append(found, fmt.Sprintf("%s imports %s, %s", folder, strings.TrimPrefix(path, module), why))
			}
		}
		for _, path := range sorted(inner) {
			own := strings.HasPrefix(path, module) && path != p.ImportPath
			if own && !matches(path, slices.Concat(r.may, r.testsMay, anyTest)) {
				found = append(found, fmt.Sprintf("%s: a test imports %s, %s", folder, strings.TrimPrefix(path, module), noArrow))
			}
		}
	}
	return found
}

const noArrow = "and no arrow goes there"

// refuses says why a room may not import a package, or nothing when it may.
func (r room) refuses(path string) string {
	switch {
	case strings.HasPrefix(path, module):
		if !matches(path, r.may) {
			return noArrow
		}
	case under(path, screenLibraries) && (strings.HasPrefix(r.folder, "internal/geom") || strings.HasPrefix(r.folder, "internal/project")):
		return "" // said already, as one of all its needs
	case under(path, r.never):
		return "but a calculation reads no file, no clock and no dice"
	case strings.Contains(path, ".") && r.outside != nil && !under(path, r.outside):
		return "but from outside it takes only " + strings.Join(r.outside, ", ")
	}
	return ""
}

// roomOf finds the room of a folder: the first in the plan that fits.
func roomOf(folder string) (room, bool) {
	for _, r := range rooms {
		if fits(folder, r.folder) {
			return r, true
		}
	}
	return room{}, false
}

// fits tells whether a folder is the named one, or for a name ending in "/..."
// whether it is below it.
func fits(folder, name string) bool {
	if above, family := strings.CutSuffix(name, "..."); family {
		return strings.HasPrefix(folder, above)
	}
	return folder == name
}

func matches(path string, names []string) bool {
	return slices.ContainsFunc(names, func(name string) bool { return fits(strings.TrimPrefix(path, module), name) })
}

// under tells whether a package is one of those named or below one.
func under(path string, names []string) bool {
	return slices.ContainsFunc(names, func(name string) bool { return path == name || strings.HasPrefix(path, name+"/") })
}

func sorted(paths []string) []string {
	paths = slices.Clone(paths)
	slices.Sort(paths)
	return slices.Compact(paths)
}
