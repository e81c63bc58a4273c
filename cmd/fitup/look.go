package main

import (
	"os"
	"path/filepath"
	"strings"

	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

// lookFlags are the flags of everything that opens the bench.
type lookFlags struct {
	theme, glyphs, keys string
	ask                 bool // nobody has chosen colours: the terminal is asked what suits
	mouse               bool
}

func (l *lookFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&l.theme, "theme", "", "colours: "+strings.Join(theme.Names(), ", ")+"; by the terminal's background when left out, plain when NO_COLOR is set")
	cmd.Flags().StringVar(&l.glyphs, "glyphs", "", "signs: unicode, or ascii for any terminal")
	cmd.Flags().BoolVar(&l.mouse, "mouse", false, "a click chooses a pane or a row, the wheel moves over rows; the terminal's own selection then wants shift")
	cmd.Flags().StringVar(&l.keys, "keys", "", "file of key settings; see fitup help keys")
	_ = cmd.RegisterFlagCompletionFunc("theme", cobra.FixedCompletions(theme.Names(), cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("glyphs", cobra.FixedCompletions([]cobra.Completion{"unicode", "ascii"}, cobra.ShellCompDirectiveNoFileComp))
}

// settle fills in what no flag says from the surroundings, and refuses what
// means nothing before anything is opened.
func (l lookFlags) settle(getenv func(string) string) (lookFlags, error) {
	if l.theme == "" {
		l.theme, l.ask = usualTheme(getenv)
	}
	if l.glyphs == "" {
		l.glyphs = usualGlyphs(getenv)
	}
	if l.keys == "" {
		l.keys = usualKeys(getenv)
	}
	glyphs, err := theme.GlyphsNamed(l.glyphs)
	if err == nil {
		_, err = theme.New(l.theme, glyphs)
	}
	if err != nil {
		return l, fail(exitUsage, err)
	}
	return l, nil
}

// usualTheme goes by NO_COLOR, and until the terminal answers by the background
// that some name in COLORFGBG (of the sixteen colours 0 to 6 and 8 are the dark
// ones). What has no way to answer is not asked.
func usualTheme(getenv func(string) string) (name string, ask bool) {
	if getenv("NO_COLOR") != "" {
		return "plain", false
	}
	term := getenv("TERM")
	ask = term != "" && term != "linux" && !strings.HasPrefix(term, "vt")
	parts := strings.Split(getenv("COLORFGBG"), ";")
	switch parts[len(parts)-1] {
	case "0", "1", "2", "3", "4", "5", "6", "8":
		return "dark", ask
	case "7", "9", "10", "11", "12", "13", "14", "15":
		return "light", ask
	}
	if term == "linux" { // its console is black
		return "dark", false
	}
	return "both", ask
}

// usualGlyphs goes by the locale, as POSIX orders its variables. The console of
// Linux itself has no font for the drawing.
func usualGlyphs(getenv func(string) string) string {
	if getenv("TERM") == "linux" {
		return "ascii"
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		v := strings.ToLower(getenv(name))
		if v == "" {
			continue
		}
		if strings.Contains(v, "utf-8") || strings.Contains(v, "utf8") {
			return "unicode"
		}
		return "ascii"
	}
	return "unicode"
}

// addGlyphs gives a command that prints for people its choice of signs.
func addGlyphs(cmd *cobra.Command, glyphs *string) {
	cmd.Flags().StringVar(glyphs, "glyphs", *glyphs, "signs of the text: unicode, or ascii; by the locale when left out")
}

// signs are the glyphs of a text for people: by name, or by the surroundings. An
// unknown name is a wrong use of the command.
func (a *app) signs(name string) (theme.Glyphs, error) {
	if name == "" {
		name = usualGlyphs(a.env.Getenv)
	}
	g, err := theme.GlyphsNamed(name)
	if err != nil {
		return g, fail(exitUsage, err)
	}
	return g, nil
}

// usualKeys is where a person's key settings lie, "" when there are none.
func usualKeys(getenv func(string) string) string {
	dir := getenv("XDG_CONFIG_HOME")
	if dir == "" {
		home := getenv("HOME")
		if home == "" {
			return ""
		}
		dir = filepath.Join(home, ".config")
	}
	path := filepath.Join(dir, "fitup", "keys.toml")
	if _, err := os.Stat(path); err != nil {
		return ""
	}
	return path
}
