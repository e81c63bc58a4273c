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

var update = flag.Bool("update", false, "write the generated tables of README.md anew")

// The README says what the program itself says about its keys, exit codes and
// limits. What it says is asked of the program, as a reader would ask it.
func TestReadmeAgreesWithTheProgram(t *testing.T) {
	root := moduleRoot(t)
	allFiles(t, root)
	path := filepath.Join(root, "README.md")
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	readme := string(content)

	fitup := filepath.Join(t.TempDir(), "fitup.exe")
	output(t, root, "go", "build", "-o", fitup, "./cmd/fitup")

	tables := map[string]string{
		"keys":       output(t, root, fitup, "keys", "--markdown"),
		"limits":     output(t, root, fitup, "limits", "--markdown"),
		"exit codes": exitCodeTable(output(t, root, fitup, "help", "exit-codes")),
	}
	for name, want := range tables {
		got, err := between(readme, name)
		require.NoError(t, err)
		if *update {
			readme = strings.Replace(readme, marker(name)+got, marker(name)+want, 1)
			continue
		}
		assert.Equal(t, want, got, "the table of %s; `go test ./internal/house -update` writes it anew", name)
	}
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(readme), 0o644))
	}

	t.Run("file", func(t *testing.T) {
		m := tomlBlock.FindStringSubmatch(readme)
		require.NotNil(t, m, "there is a piece of a build file")
		build := filepath.Join(t.TempDir(), "build.toml")
		require.NoError(t, os.WriteFile(build, []byte(m[1]), 0o644))
		check(t, fitup, build)
	})
	t.Run("commands", func(t *testing.T) {
		named := commandsIn(readme)
		require.Contains(t, named, "check")
		for _, name := range named {
			output(t, root, fitup, "help", name)
		}
	})
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

func TestExitCodeTable(t *testing.T) {
	help := "It ends with:\n\n   0  done; all of it\n  70  a bug\n\nUsage:\n"
	assert.Equal(t, "| code | what it means |\n|---|---|\n| 0 | done; all of it |\n| 70 | a bug |\n", exitCodeTable(help))
}

func TestCommandsAreFound(t *testing.T) {
	text := "run `fitup check truck.toml`, not `fitup truck.toml` or `fitup FILE`\n" +
		"```sh\ngo run ./cmd/fitup demo\nfitup new truck.toml\n```\nfitup helps"
	assert.Equal(t, []string{"check", "demo", "new"}, commandsIn(text))
}

func marker(name string) string { return "<!-- " + name + " -->\n" }

// between returns what stands between the two markers of a name.
func between(text, name string) (string, error) {
	_, rest, ok := strings.Cut(text, marker(name))
	inner, _, closed := strings.Cut(rest, "<!-- end of "+name+" -->")
	if !ok || !closed {
		return "", fmt.Errorf("README.md has no part between the markers of %q", name)
	}
	return inner, nil
}

var exitCodeLine = regexp.MustCompile(`(?m)^ +(\d+)  (\S.*)$`)

// exitCodeTable turns the help about exit codes into a Markdown table.
func exitCodeTable(help string) string {
	var b strings.Builder
	b.WriteString("| code | what it means |\n|---|---|\n")
	for _, m := range exitCodeLine.FindAllStringSubmatch(help, -1) {
		fmt.Fprintf(&b, "| %s | %s |\n", m[1], m[2])
	}
	return b.String()
}

var (
	tomlBlock   = regexp.MustCompile("(?ms)^```toml\n(.*?)^```")
	codeBlock   = regexp.MustCompile("(?ms)^```sh\n(.*?)^```")
	command     = regexp.MustCompile(`(?m)^(?:go run \./cmd/)?fitup ([a-z-]+)(?: .*)?$`)
	commandSpan = regexp.MustCompile("`(fitup [^`\n]+)`")
)

// commandsIn returns the names of the commands of fitup in a Markdown text:
// in blocks of shell and between backticks.
func commandsIn(text string) []string {
	var lines []string
	for _, m := range codeBlock.FindAllStringSubmatch(text, -1) {
		lines = append(lines, m[1])
	}
	for _, m := range commandSpan.FindAllStringSubmatch(text, -1) {
		lines = append(lines, m[1])
	}
	var names []string
	for _, m := range command.FindAllStringSubmatch(strings.Join(lines, "\n"), -1) {
		names = append(names, m[1])
	}
	return sorted(names)
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
