package house

import (
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// documents are the papers for whoever uses the program, and the one for
// whoever changes it.
func documents(t *testing.T, root string) []string {
	t.Helper()
	return append(papers(t, root), "DEVELOPERS.md")
}

func TestDocumentsNameRealPaths(t *testing.T) {
	root := moduleRoot(t)
	files := allFiles(t, root)
	for _, name := range documents(t, root) {
		assert.Empty(t, deadPaths(path.Dir(name), read(t, root, name), files), "%s names these, and they are not in the tree", name)
	}
}

func TestLinksLeadToHeadings(t *testing.T) {
	root := moduleRoot(t)
	pages := map[string]string{}
	for _, name := range documents(t, root) {
		pages[name] = read(t, root, name)
	}
	for name := range pages {
		assert.Empty(t, deadAnchors(name, pages), "%s has links to these, and there is no such heading", name)
	}
}

func TestDeadAnchorsAreFound(t *testing.T) {
	pages := map[string]string{
		"README.md":  "# A job list\n[a](#a-job-list) [b](#b) [c](docs/a.md#the-one-a) [d](docs/a.md#two) [e](docs/a.md)\n",
		"docs/a.md":  "## The ±, one (`a`)\n[up](../README.md#a-job-list) [down](../README.md#two)\n",
		"docs/b.md":  "```\n# no heading\n```\n[x](#no-heading) [y](https://example.org/#x)",
		"docs/c.txt": "",
	}
	assert.Equal(t, []string{"#b", "docs/a.md#the-one-a", "docs/a.md#two"}, deadAnchors("README.md", pages))
	assert.Equal(t, []string{"../README.md#two"}, deadAnchors("docs/a.md", pages))
	assert.Equal(t, []string{"#no-heading"}, deadAnchors("docs/b.md", pages))
}

var anchored = regexp.MustCompile(`\]\(([^)#\s:]*)#([^)\s]+)\)`)

// deadAnchors returns the links of a page that lead to a heading which the page
// they name does not have.
func deadAnchors(name string, pages map[string]string) []string {
	var dead []string
	for _, m := range anchored.FindAllStringSubmatch(pages[name], -1) {
		target := name
		if m[1] != "" {
			target = path.Join(path.Dir(name), m[1])
		}
		var there []string
		for _, h := range heading.FindAllStringSubmatch(fenced.ReplaceAllString(pages[target], ""), -1) {
			there = append(there, anchorOf(h[1]))
		}
		if !slices.Contains(there, m[2]) {
			dead = append(dead, m[1]+"#"+m[2])
		}
	}
	return dead
}

// anchorOf is the name that a Markdown viewer gives a heading: small letters,
// digits and hyphens, a hyphen for each blank.
func anchorOf(heading string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == ' ':
			return '-'
		case r == '-' || r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r):
			return unicode.ToLower(r)
		}
		return -1
	}, heading)
}

// The checker is shown a document with paths that lead nowhere, and must find
// those and no others.
func TestDeadPathsAreFound(t *testing.T) {
	files := []string{
		"README.md", "go.mod", ".ci/run", "cmd/fitup/main.go", "internal/geom/pose.go",
		"internal/ui/pane/jobs/jobs.go", "testdata/example.toml",
	}
	cases := map[string]struct {
		text string
		want []string
	}{
		"a file":                       {"see `internal/geom/pose.go`", nil},
		"a file that is gone":          {"see `internal/geom/pole.go`", []string{"internal/geom/pole.go"}},
		"a folder":                     {"in `internal/geom/` and `./internal/ui`", nil},
		"a folder that is gone":        {"in `internal/geometry/`", []string{"internal/geometry/"}},
		"part of a folder's name":      {"in `internal/ge`", []string{"internal/ge"}},
		"all below a folder":           {"`internal/ui/...`, `internal/uy/...`", []string{"internal/uy/..."}},
		"a file by its bare name":      {"`pose.go` is short; `prose.go` is not", []string{"prose.go"}},
		"a bare word":                  {"`geom` and `make`", nil},
		"a line in a file":             {"`cmd/fitup/main.go:12` `cmd/fitup/mane.go:12`", []string{"cmd/fitup/mane.go:12"}},
		"a hidden folder":              {"`.ci/run` `.ci/walk`", []string{".ci/walk"}},
		"a star":                       {"`testdata/*.toml` `testdata/*.json`", []string{"testdata/*.json"}},
		"braces":                       {"`internal/{geom,ui}` `internal/{geom,you}`", []string{"internal/{geom,you}"}},
		"a command":                    {"`go test ./nowhere/...` `fitup check nothing.toml`", nil},
		"a placeholder":                {"`internal/ui/pane/NAME/NAME.go`, `FILE.toml`, `internal/<room>/x.go`", nil},
		"a document in capitals":       {"`README.md` `MISSING.md`", []string{"MISSING.md"}},
		"a place on the reader's disk": {"`~/.config/fitup/keys.toml`, `$HOME/x.toml`, `/dev/tty`", nil},
		"a module and a package":       {"`github.com/charmbracelet/bubbletea` `encoding/json` `path/filepath`", nil},
		"a key, a unit and a fraction": {"`/` `kg/m^3` `16 1/4` `1/4` `N/mm` `rad/s` `mm/m`", nil},
		"in a block of code":           {"before\n```\n`nothing/here.go`\n```\nafter `nothing/there.go`", []string{"nothing/there.go"}},
		"over a line's end":            {"an odd ` mark\nand `nothing/there.go`", []string{"nothing/there.go"}},
		"a link":                       {"[a](README.md#top), [b](cmd/fitup), [c](gone.md), [d](https://example.org/x.md), [e](#top)", []string{"gone.md"}},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			assert.Equal(t, c.want, deadPaths(".", c.text, files))
		})
	}
}

func TestLinksLeadOnFromTheDocumentsFolder(t *testing.T) {
	files := []string{"README.md", "docs/keys.md"}
	text := "[a](../README.md), [b](keys.md), [c](README.md), [d](../../out.md)"
	assert.Equal(t, []string{"README.md", "../../out.md"}, deadPaths("docs", text, files))
}

var (
	fenced      = regexp.MustCompile("(?ms)^ *```.*?^ *```")
	inBackticks = regexp.MustCompile("`([^`\n]+)`")
	linked      = regexp.MustCompile(`\]\(([^)#\s]+)(?:#[^)\s]*)?\)`)
	lineNumber  = regexp.MustCompile(`:\d+$`)
	braces      = regexp.MustCompile(`\{([^{}]*)\}`)
	// A word in capitals stands for a name of the reader's own.
	placeholder = regexp.MustCompile(`(^|[^A-Za-z])[A-Z][A-Z0-9]*($|[^A-Za-z0-9])|[<>$~^]`)
	// Documents at the top of a tree have names in capitals.
	capitalDocument = regexp.MustCompile(`^[A-Z]+\.md$`)
	// Fractions, and units such as rad/s.
	measure = regexp.MustCompile(`^([0-9/]+|[a-z]{1,3}/[a-z]{1,2}[0-9]?)$`)
)

// deadPaths returns the paths a Markdown text names, between backticks or as
// the target of a link, that are not among files, in the order of the text. A
// link leads on from dir, the document's folder; other paths from the root.
func deadPaths(dir, text string, files []string) []string {
	text = fenced.ReplaceAllString(text, "")
	var dead []string
	for _, m := range inBackticks.FindAllStringSubmatch(text, -1) {
		if looksLikePath(m[1]) && !isThere(m[1], files) {
			dead = append(dead, m[1])
		}
	}
	for _, m := range linked.FindAllStringSubmatch(text, -1) {
		if !strings.Contains(m[1], ":") && !isThere("./"+path.Join(dir, m[1]), files) {
			dead = append(dead, m[1])
		}
	}
	return dead
}

// looksLikePath tells a path in this tree from the other things that stand
// between backticks: commands, keys, units, packages, places outside the tree.
func looksLikePath(s string) bool {
	switch {
	case strings.ContainsAny(s, " \t\"'()=") || path.IsAbs(s) || measure.MatchString(s):
		return false
	case placeholder.MatchString(s) && !capitalDocument.MatchString(s):
		return false
	case !strings.Contains(s, "/"):
		return slices.Contains([]string{".go", ".toml", ".md"}, path.Ext(s))
	}
	first, _, _ := strings.Cut(s, "/")
	if strings.Contains(strings.TrimLeft(first, "."), ".") {
		return false // a module's host
	}
	return !standardPackages[s]
}

// standardPackages are packages of Go that a document of ours may well name.
var standardPackages = map[string]bool{
	"encoding/json": true, "go/ast": true, "io/fs": true, "math/rand": true,
	"os/exec": true, "os/signal": true, "path/filepath": true, "text/tabwriter": true,
	"text/template": true, "unicode/utf8": true,
}

// isThere tells whether every path a name stands for is a file or a folder. A
// name without a slash may be that of a file anywhere in the tree.
func isThere(name string, files []string) bool {
	if m := braces.FindStringSubmatchIndex(name); m != nil {
		for choice := range strings.SplitSeq(name[m[2]:m[3]], ",") {
			if !isThere(name[:m[0]]+choice+name[m[1]:], files) {
				return false
			}
		}
		return true
	}
	name = lineNumber.ReplaceAllString(name, "")
	anywhere := !strings.Contains(name, "/") && !capitalDocument.MatchString(name)
	name = path.Clean(strings.TrimSuffix(name, "..."))
	if name == "." {
		return true
	}
	return slices.ContainsFunc(files, func(file string) bool {
		if anywhere {
			if ok, _ := path.Match(name, path.Base(file)); ok {
				return true
			}
		}
		for ; file != "."; file = path.Dir(file) {
			if ok, _ := path.Match(name, file); ok {
				return true
			}
		}
		return false
	})
}

// A pattern that path.Match cannot read would match nothing and look like a
// dead path; the documents have none, and this says what happens if they do.
func TestUnreadablePatternIsNotThere(t *testing.T) {
	_, err := path.Match("a/[", "a/b")
	require.Error(t, err)
	assert.False(t, isThere("a/[", []string{"a/b"}))
}
