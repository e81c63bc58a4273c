package house

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the generated parts of README.md and docs anew")

// The papers say what the program itself says about its keys, limits, commands
// and words. What it says is asked of the program, as a reader would ask it.
func TestReadmeAndDocsAgreeWithTheProgram(t *testing.T) {
	root := moduleRoot(t)
	allFiles(t, root)
	fitup := filepath.Join(t.TempDir(), "fitup.exe")
	output(t, root, "go", "build", "-ldflags", "-s -w", "-o", fitup, "./cmd/fitup")
	ask := func(args ...string) string { return output(t, root, fitup, args...) }

	names := commandNames(ask("help"))
	require.Contains(t, names, "check")
	for page, parts := range map[string]map[string]string{
		"docs/keys.md":   {"keys": ask("keys", "--markdown")},
		"docs/limits.md": {"limits": ask("limits", "--markdown")},
		"docs/words.md":  {"statuses": table("word", pairs(statusLine, ask("help", "check")))},
		"docs/jobs.md":   {"boxes": table("box", pairs(boxLine, ask("help", "jobs")))},
		"docs/commands.md": {
			"commands":   commandTable(names, ask),
			"exit codes": table("code", pairs(exitCodeLine, ask("help", "exit-codes"))),
			"help":       helpPages(names, ask),
		},
	} {
		holdParts(t, filepath.Join(root, filepath.FromSlash(page)), parts)
	}

	for _, page := range papers(t, root) {
		text := read(t, root, page)
		t.Run("files of "+page, func(t *testing.T) {
			for _, m := range tomlBlock.FindAllStringSubmatch(text, -1) {
				build := filepath.Join(t.TempDir(), "build.toml")
				require.NoError(t, os.WriteFile(build, []byte(m[1]), 0o644))
				check(t, fitup, build)
			}
		})
		t.Run("commands of "+page, func(t *testing.T) {
			for _, c := range commandsIn(text) {
				help := ask("help", c.name)
				for _, option := range c.options {
					assert.Regexp(t, `(?m)^ +(-\w, )?`+option+`\b`, help, "fitup %s has no %s", c.name, option)
				}
			}
		})
	}
	require.NotEmpty(t, commandsIn(read(t, root, "README.md")))
	require.Regexp(t, tomlBlock, read(t, root, "docs/file.md"), "there is a piece of a build file")
}

// papers are the README and the pages behind it, for whoever uses the program.
func papers(t *testing.T, root string) []string {
	t.Helper()
	pages, err := filepath.Glob(filepath.Join(root, "docs", "*.md"))
	require.NoError(t, err)
	require.NotEmpty(t, pages)
	names := []string{"README.md"}
	for _, page := range pages {
		names = append(names, "docs/"+filepath.Base(page))
	}
	return names
}

func read(t *testing.T, root, name string) string {
	t.Helper()
	content, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
	require.NoError(t, err)
	return string(content)
}

// holdParts compares the generated parts of a page with what they are to be, or
// writes them.
func holdParts(t *testing.T, path string, parts map[string]string) {
	t.Helper()
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	page := string(content)
	for name, want := range parts {
		got, err := between(page, name)
		require.NoError(t, err, path)
		if *update {
			page = strings.Replace(page, marker(name)+got, marker(name)+want, 1)
			continue
		}
		assert.Equal(t, want, got, "%s, %s; `go test ./internal/house -run Readme -update` writes it anew", filepath.Base(path), name)
	}
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(page), 0o644))
	}
}

// The README is read on a bench, before anything is measured: what it does, how
// to begin, what to mind. Everything else has a page in docs.
func TestReadmeIsShortAndInOrder(t *testing.T) {
	root := moduleRoot(t)
	readme := read(t, root, "README.md")
	assert.Less(t, len(strings.Fields(readme)), 1500, "words in README.md; what is looked up belongs in docs")
	var headings []string
	for _, m := range heading.FindAllStringSubmatch(readme, -1) {
		headings = append(headings, m[1])
	}
	assert.Equal(t, []string{"fitup", "Set up", "The screen", "The first five minutes", "Cautions", "Licence"}, headings)
	for _, page := range papers(t, root)[1:] {
		assert.Contains(t, readme, "]("+page+")", "the README leads to every page")
	}
}

func TestBetweenMarkers(t *testing.T) {
	text := "a\n<!-- keys -->\n| x |\n<!-- end of keys -->\nb\n"
	got, err := between(text, "keys")
	require.NoError(t, err)
	assert.Equal(t, "| x |\n", got)
	_, err = between(text, "limits")
	require.Error(t, err)
	_, err = between("<!-- keys -->\n| x |\n", "keys")
	require.Error(t, err)
}

func TestTableOfHelp(t *testing.T) {
	exits := "It ends with:\n\n   0  done; all of it\n  70  a bug\n\nUsage:\n"
	assert.Equal(t, "| code | what it means |\n|---|---|\n| 0 | done; all of it |\n| 70 | a bug |\n", table("code", pairs(exitCodeLine, exits)))
	words := "Print:\n\n  ok         within\n  not known  something is missing; the line\n             below says what\n  judged elsewhere\n             apart\n\nThe  end of it.\n\nUsage:\n  fitup check FILE  x\n"
	assert.Equal(t, [][2]string{{"ok", "within"}, {"not known", "something is missing; the line below says what"}, {"judged elsewhere", "apart"}}, pairs(statusLine, words))
	boxes := "Print:\n\n  [x]  done\n  [?]  in doubt\n\nUsage:\n"
	assert.Equal(t, [][2]string{{"[x]", "done"}, {"[?]", "in doubt"}}, pairs(boxLine, boxes))
}

func TestCommandsAreFound(t *testing.T) {
	text := "run `fitup check --json truck.toml`, not `fitup truck.toml` or `fitup FILE`\n" +
		"```sh\ngo run ./cmd/fitup demo\nfitup set -o a.toml --reason \"x\" b.toml p=-1\n```\nfitup helps"
	assert.Equal(t, []invocation{
		{"demo", nil}, {"set", []string{"-o", "--reason"}}, {"check", []string{"--json"}},
	}, commandsIn(text))
	assert.Equal(t, []string{"check", "cuts"}, commandNames("Examples:\n  fitup check x   y\n\nAvailable Commands:\n  check       Print\n  cuts        Print\n\nFlags:\n  -h, --help   x\n"))
}

func marker(name string) string { return "<!-- " + name + " -->\n" }

// between returns what stands between the two markers of a name.
func between(text, name string) (string, error) {
	_, rest, ok := strings.Cut(text, marker(name))
	inner, _, closed := strings.Cut(rest, "<!-- end of "+name+" -->")
	if !ok || !closed {
		return "", fmt.Errorf("%s has no part between its markers", name)
	}
	return inner, nil
}

var (
	heading      = regexp.MustCompile(`(?m)^#+ (.+)$`)
	exitCodeLine = regexp.MustCompile(`(?m)^ +(\d+)  (\S.*)$`)
	boxLine      = regexp.MustCompile(`(?m)^  (\[.\])  (\S.*)$`)
	// A word in a column of its own, or on a line of its own, and behind it what
	// it means, which may go on in the lines below.
	statusLine = regexp.MustCompile(`(?m)^  ([a-z][a-z ]*?)(?:  +|\n {13})(\S.*(?:\n {13}\S.*)*)$`)
	commandRow = regexp.MustCompile(`(?m)^  ([a-z]+) +\S.*$`)
)

// pairs returns what the two groups of a pattern find in a help text, above its
// usage, with lines that go on joined.
func pairs(line *regexp.Regexp, help string) [][2]string {
	help, _, _ = strings.Cut(help, "\nUsage:")
	var out [][2]string
	for _, m := range line.FindAllStringSubmatch(help, -1) {
		out = append(out, [2]string{m[1], strings.Join(strings.Fields(m[2]), " ")})
	}
	return out
}

// table turns words and what they mean into a Markdown table.
func table(head string, rows [][2]string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "| %s | what it means |\n|---|---|\n", head)
	for _, r := range rows {
		word := r[0]
		if strings.HasPrefix(word, "[") {
			word = "`" + word + "`"
		}
		fmt.Fprintf(&b, "| %s | %s |\n", word, r[1])
	}
	return b.String()
}

// commandNames lists the commands that the program's help lists.
func commandNames(help string) []string {
	_, list, _ := strings.Cut(help, "Available Commands:\n")
	list, _, _ = strings.Cut(list, "\n\n")
	var names []string
	for _, m := range commandRow.FindAllStringSubmatch(list+"\n", -1) {
		names = append(names, m[1])
	}
	return names
}

// commandTable has how each command is called and what the list of commands
// says of it.
func commandTable(names []string, ask func(...string) string) string {
	list := ask("help")
	var b strings.Builder
	b.WriteString("| command | what it does |\n|---|---|\n")
	for _, name := range names {
		about := regexp.MustCompile(`(?m)^  ` + name + ` +(\S.*)$`).FindStringSubmatch(list)[1]
		fmt.Fprintf(&b, "| [`fitup %s`](#%s) | %s |\n", usage(name, ask("help", name)), name, about)
	}
	return b.String()
}

var flagsOfUsage = strings.NewReplacer(" [flags]", "", " [command]", " SHELL")

func usage(name, help string) string {
	_, line, _ := strings.Cut(help, "Usage:\n  fitup ")
	line, _, _ = strings.Cut(line, "\n")
	if !strings.HasPrefix(line, name) {
		return name
	}
	return flagsOfUsage.Replace(line)
}

// helpPages has the whole help of each command, and of what else help is about.
func helpPages(names []string, ask func(...string) string) string {
	var b strings.Builder
	for _, name := range append(names, "json") {
		fmt.Fprintf(&b, "### %s\n\n```text\n%s\n```\n\n", name, strings.TrimSpace(ask("help", name)))
	}
	return b.String()
}

var (
	tomlBlock   = regexp.MustCompile("(?ms)^```toml\n(.*?)^```")
	codeBlock   = regexp.MustCompile("(?ms)^```sh\n(.*?)^```")
	command     = regexp.MustCompile(`(?m)^(?:go run \./cmd/)?fitup ([a-z][a-z-]*)( .*)?$`)
	commandSpan = regexp.MustCompile("`(fitup [^`\n]+)`")
	optionWord  = regexp.MustCompile(`(?:^| )(--?[a-z][a-z-]*)`)
)

// invocation is a command of fitup as a document has it, with its options.
type invocation struct {
	name    string
	options []string
}

// commandsIn returns the commands of fitup in a Markdown text: in blocks of
// shell and between backticks.
func commandsIn(text string) []invocation {
	var lines []string
	for _, m := range codeBlock.FindAllStringSubmatch(text, -1) {
		lines = append(lines, m[1])
	}
	for _, m := range commandSpan.FindAllStringSubmatch(text, -1) {
		lines = append(lines, m[1])
	}
	var found []invocation
	for _, m := range command.FindAllStringSubmatch(strings.Join(lines, "\n"), -1) {
		c := invocation{name: m[1]}
		for _, o := range optionWord.FindAllStringSubmatch(m[2], -1) {
			c.options = append(c.options, o[1])
		}
		found = append(found, c)
	}
	return found
}

// check returns the findings of a build file as JSON. The file must be in
// order; whether its findings are ok is no matter here.
func check(t *testing.T, fitup, path string) []byte {
	t.Helper()
	var complaint strings.Builder
	cmd := exec.Command(fitup, "check", "--json", path)
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 1 {
		require.NoError(t, err, complaint.String())
	}
	return out
}
