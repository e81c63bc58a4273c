package assess

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/example"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// builds are all builds that can be read: those in testdata, the starters and
// the rare ones.
func builds(t *testing.T) map[string]*project.Build {
	t.Helper()
	out := map[string]*project.Build{}
	for name, text := range buildTexts(t) {
		if f, err := project.Parse(name, []byte(text)); err == nil {
			out[name] = f.Build
		} else {
			assert.Contains(t, name, "testdata/broken/", "%v", err)
		}
	}
	return out
}

// buildTexts are their texts, and those of builds that are broken on purpose.
func buildTexts(t *testing.T) map[string]string {
	t.Helper()
	texts := map[string]string{"demo": string(starter.Demo()), "starter": string(starter.New())}
	for name, text := range example.Rare() {
		texts[name] = text
	}
	require.NoError(t, filepath.WalkDir("../../testdata", func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".toml" {
			return err
		}
		text, err := os.ReadFile(path)
		texts[path] = string(text)
		return err
	}))
	return texts
}

// someOf are the names of those that are tried: by default some from each folder, and of
// those that have none.
func someOf[B any](t *testing.T, all map[string]B, every int) []string {
	t.Helper()
	return inturn.Kinds(t, slices.Sorted(maps.Keys(all)), every, filepath.Dir)
}

// Every finding and every fact has exactly one row in the table of ids and is made
// by the trade that stands there; every row is made by some build.
func TestTableOfIDs(t *testing.T) {
	made := map[string]bool{}
	check := func(build, id string, by finding.Trade, fact bool) {
		var rows []finding.Row
		for _, r := range finding.Table() {
			if finding.Matches(r.Shape, strings.TrimSuffix(id, ".planned")) {
				rows = append(rows, r)
			}
		}
		if !assert.Len(t, rows, 1, "%s: %s wants its one row in internal/assess/finding/table.go", build, id) {
			return
		}
		made[rows[0].Shape] = true
		assert.Equal(t, rows[0].Trade, by, "%s: %s", build, id)
		assert.Equal(t, rows[0].Fact, fact, "%s: %s", build, id)
		assert.Equal(t, by, finding.TradeOf(id))
	}
	for name, b := range builds(t) {
		a := Run(b)
		for _, f := range a.Findings {
			check(name, f.ID, f.By, false)
		}
		for _, f := range a.Plans {
			check(name, f.ID, f.By, false)
		}
		for _, f := range a.Facts {
			check(name, f.ID, f.By, true)
		}
	}
	for _, r := range finding.Table() {
		assert.True(t, made[r.Shape], "%s is made by no build here; take the row out, or put a build into internal/project/example", r.Shape)
	}
}

// A finding's row leads to the code: its function is in its trade's folder.
func TestTableLeadsToTheCode(t *testing.T) {
	functions := map[finding.Trade]map[string]bool{}
	in := func(trade finding.Trade) map[string]bool {
		if functions[trade] == nil {
			folder := string(trade)
			if trade == finding.Declared {
				folder = "."
			}
			functions[trade] = functionsIn(t, folder)
		}
		return functions[trade]
	}
	for _, r := range finding.Table() {
		assert.True(t, in(r.Trade)[r.Func], "%s: internal/assess/%s has no %s", r.Shape, r.Trade, r.Func)
		assert.True(t, strings.HasSuffix(r.Judges, ".") && r.Judges[0] >= 'A' && r.Judges[0] <= 'Z', "%s: %q is a sentence", r.Shape, r.Judges)
	}
	assert.False(t, in(finding.LineTrade)["judge.nothing"])
}

// functionsIn are the functions and methods of a folder, methods as
// "Type.method"; tests are not counted.
func functionsIn(t *testing.T, folder string) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	paths, err := filepath.Glob(filepath.Join(folder, "*.go"))
	require.NoError(t, err)
	require.NotEmpty(t, paths, folder)
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		require.NoError(t, err)
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			name := f.Name.Name
			if f.Recv != nil {
				on := f.Recv.List[0].Type
				if star, ok := on.(*ast.StarExpr); ok {
					on = star.X
				}
				name = on.(*ast.Ident).Name + "." + name
			}
			out[name] = true
		}
	}
	return out
}
