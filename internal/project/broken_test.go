package project

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var updateBroken = flag.Bool("update", false, "write the generated files of testdata/broken and all wanted messages anew")

const brokenDir = "../../testdata/broken"

// goWords are words that only a programmer would know what to do with.
var goWords = regexp.MustCompile(`strconv|reflect|tomltext|interface|float64|int64|struct|nil\b|unmarshal|parser|byte offset|0x[0-9a-f]{6}`)

// Files that are no build file: those that generated makes, and beside them
// any that were put there by hand. Each has the message that a person gets.
func TestBrokenFiles(t *testing.T) {
	if *updateBroken {
		for name, text := range generated() {
			require.NoError(t, os.WriteFile(filepath.Join(brokenDir, name+".toml"), text, 0o644))
		}
	}
	for name, text := range generated() {
		src, err := os.ReadFile(filepath.Join(brokenDir, name+".toml"))
		require.NoError(t, err, "`go test ./internal/project -run Broken -update` writes it")
		assert.Equal(t, text, src, "%s is not what the generator makes", name)
	}
	names, err := filepath.Glob(filepath.Join(brokenDir, "*.toml"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(names), 200)
	for _, path := range names {
		name := filepath.Base(path)
		t.Run(strings.TrimSuffix(name, ".toml"), func(t *testing.T) {
			src, err := os.ReadFile(path)
			require.NoError(t, err)
			_, err = Parse(name, src)
			require.Error(t, err)
			got := err.Error()
			for line := range strings.Lines(got) {
				line = strings.TrimSuffix(line, "\n")
				assert.Equal(t, Printable(line), line)
				assert.True(t, strings.HasPrefix(line, name+":"), line)
				assert.Less(t, len(line), 700)
			}
			assert.False(t, goWords.MatchString(got), got)
			want := strings.TrimSuffix(path, ".toml") + ".want"
			if *updateBroken {
				require.NoError(t, os.WriteFile(want, []byte(got+"\n"), 0o644))
			}
			golden, err := os.ReadFile(want)
			require.NoError(t, err)
			assert.Equal(t, string(golden), got+"\n")
		})
	}
	wants, err := filepath.Glob(filepath.Join(brokenDir, "*.want"))
	require.NoError(t, err)
	assert.Len(t, wants, len(names), "a message without its file")
}

// What is too large to be stored.
func TestHugeBrokenFiles(t *testing.T) {
	var keys strings.Builder
	keys.WriteString("format = 3\n[vehicle]\n")
	for i := range 200_000 {
		fmt.Fprintf(&keys, "k%d = 1\n", i)
	}
	for name, c := range map[string]struct{ text, want string }{
		"a heap of keys":       {keys.String(), "more than 100000 keys"},
		"a heap of entries":    {"format = 3\nx = [" + strings.Repeat("1,", 200_000) + "]\n", "more than 100000 keys"},
		"too long":             {"format = 3\n#" + strings.Repeat("x", MaxSize), "at most"},
		"lists without end":    {"format = 3\nx = " + strings.Repeat("[", 1_000_000), "list"},
		"tables without end":   {"format = 3\nx = " + strings.Repeat("{a=", 500_000), "table"},
		"a key without end":    {"format = 3\n" + strings.Repeat("a.", 1_000_000) + "b = 1\n", "deep"},
		"a number without end": {"format = 3\n[placement]\nrear = " + strings.Repeat("9", 1_000_000) + "\n", "number"},
		"a text without end":   {"format = 3\nname = \"" + strings.Repeat("x", 1_000_000) + "\"\n", "at most 4000 fit"},
		"quotes without end":   {"format = 3\nname = " + strings.Repeat(`"`, 1_000_001) + "\n", ""},
		"headers without end":  {"format = 3\n" + strings.Repeat("[[job]]\n", 300_000), "more than 100000 keys"},
		"zeros":                {string(make([]byte, 1_000_000)), "zero byte"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("b.toml", []byte(c.text))
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
			first, _, _ := strings.Cut(err.Error(), "\n")
			assert.Less(t, len(first), 700, first)
		})
	}
}

// sample is a small whole build; the generator spoils copies of it.
const sample = `format = 3
name = "flatbed"
[vehicle]
wheelbase = 3400
[powertrain]
mass = "320 kg"
output = [1395, 0, 0]
gears = [3.9, 2.2, 1.0]
[[powertrain.part]]
name = 'block'
from = [-220, -170, -90]
[placement]
rear = -289.5
offset = "6 mm right"
[line.rear.pinion]
slope = "4.8 deg down to the rear"
[[reading]]
of = "powertrain"
shown = "85.7 deg"
taken = 2026-05-02
placed = { rear = -289.5, setback = 260 }
[limits]
joint_max = { value = "2.5 deg", source = "maker" }
[[job]]
id = "hang"
title = "Hang it"
done = true
`

func TestSampleIsWhole(t *testing.T) {
	_, err := Parse("b.toml", []byte(sample))
	require.NoError(t, err)
}

// generated makes broken files by rules, so that a new kind of value gets its
// share. The name says what is wrong.
func generated() map[string][]byte {
	out := map[string][]byte{}
	add := func(name, format string, args ...any) { out[name] = []byte(fmt.Sprintf(format, args...)) }
	cutOff(out)
	wrongTypes(add)
	strangeNumbers(add)
	strangeBytes(out)
	twice(add)
	unsure(add)
	return out
}

// cutOff stops the sample where a flat battery might: behind signs that want
// more.
func cutOff(out map[string][]byte) {
	for i, r := range sample {
		text := []byte(sample[:i+1])
		if !strings.ContainsRune("=[{\"',", r) {
			continue
		}
		if _, err := Parse("b.toml", text); err != nil {
			out[fmt.Sprintf("cut-%03d", i)] = text
		}
	}
}

func wrongTypes(add func(string, string, ...any)) {
	wrong := map[string]string{"true": "true", "text": `"x"`, "number": "3", "date": "2026-05-14", "list": "[1, 2]", "table": "{ a = 1 }"}
	for path, good := range map[string]string{
		"placement.rear": "number", "vehicle.tyre_diameter": "number", "powertrain.mass": "number", "line.rear.pinion.slope": "",
		"name": "text", "powertrain.pads.rear": "", "line.rear.joint": "", "powertrain.gears": "list",
		"line.rear.toward": "", "gauge.accuracy": "number", "units.length": "", "limits.joint_max": "number", "reading": "", "vehicle": "",
	} {
		for kind, lit := range wrong {
			if kind != good {
				add(fmt.Sprintf("type-%s-%s", strings.ReplaceAll(path, ".", "-"), kind), "format = 3\n%s = %s\n", path, lit)
			}
		}
	}
	for kind, lit := range wrong {
		if kind != "number" {
			add("type-format-"+kind, "format = %s\n", lit)
		}
		if kind != "date" {
			add("type-taken-"+kind, "format = 3\n[[reading]]\nof = \"powertrain\"\nshown = 3\ntaken = %s\n", lit)
		}
		if kind != "true" {
			add("type-done-"+kind, "format = 3\n[[job]]\nid = \"a\"\ntitle = \"b\"\ndone = %s\n", lit)
		}
	}
}

func strangeNumbers(add func(string, string, ...any)) {
	for name, lit := range map[string]string{
		"nan": "nan", "inf": "inf", "minus-inf": "-inf", "overflow": "1e400", "int-overflow": "9223372036854775808",
		"far": "1e12", "text-far": `"1e12 mm"`, "text-overflow": `"1e999 mm"`, "leading-zero": "0123", "two-points": "1.2.3",
		"comma": "1,5", "underscore": "1__5", "plus-minus": "+-5", "hex-float": "0x1.8p3", "no-digits": "0x", "point-first": ".5",
		"point-last": "5.", "words": "twelve", "unit-bare": "12 mm", "unit-unknown": `"12 furlongs"`, "unit-other": `"12 kg"`,
		"fraction-zero": `"1/0 in"`, "empty": `""`, "two-numbers": `"12 13 mm"`, "emoji": `"🔧"`, "escape": `"\u001b[31m"`, "turned": `"\u202e12 mm"`,
	} {
		add("number-"+name, "format = 3\n[placement]\nrear = %s\n", lit)
	}
	for name, lit := range map[string]string{
		"month": "2026-13-01", "day": "2026-02-30", "short": "2026-5-1", "hour": "2026-05-14T25:00:00", "zone": "2026-05-14T10:00:00+25:00",
		"words": "yesterday", "dots": "14.05.2026", "slashes": "14/05/2026", "minute": "12:60", "year-zero": "0000-00-00",
	} {
		add("date-"+name, "format = 3\n[[reading]]\nof = \"powertrain\"\nshown = 3\ntaken = %s\n", lit)
	}
	for name, n := range map[string]int{"lists": 40, "tables": 40, "keys": 40} {
		lit := strings.Repeat("[", n) + strings.Repeat("]", n)
		switch name {
		case "tables":
			lit = strings.Repeat("{ a = ", n) + "1" + strings.Repeat(" }", n)
		case "keys":
			add("deep-"+name, "format = 3\n%sb = 1\n", strings.Repeat("a.", n))
			continue
		}
		add("deep-"+name, "format = 3\nname = %s\n", lit)
	}
	for _, v := range []string{"0", "-1", "4", "99", "1.0", "2.0", "9223372036854775807", "\"2\""} {
		add("format-"+strings.Trim(v, `"`)+strings.Repeat("-text", strings.Count(v, `"`)/2), "format = %s\nmystery = 1\n", v)
	}
}

func strangeBytes(out map[string][]byte) {
	put := func(name string, parts ...string) { out["bytes-"+name] = []byte(strings.Join(parts, "")) }
	const bom, broken = "\xef\xbb\xbf", "format = 3\nname = 3\n"
	put("bom", bom, broken)
	put("bom-twice", bom, bom, "format = 3\n")
	put("bom-inside", "format = 3\n", bom, "name = \"x\"\n")
	put("bom-only", bom)
	put("crlf", strings.ReplaceAll(broken, "\n", "\r\n"))
	put("crlf-cut", "format = 3\r\nname = \"x\r\n")
	put("cr-only", strings.ReplaceAll(broken, "\n", "\r"))
	put("nul", "format = 3\nname = \"a\x00b\"\n")
	put("escape", "format = 3\nname = \"\x1b[2J\"\n")
	put("escape-comment", "format = 3 # \x1b]0;x\a\n")
	put("delete", "format = 3\nname = \"\x7f\"\n")
	put("c1", "format = 3\nname = \"\u009b31m\"\n")
	put("bell-key", "format = 3\n\a = 1\n")
	put("utf8-key", "format = 3\n\xffname = 1\n")
	put("utf8-text", "format = 3\nname = \"\xc3\x28\"\n")
	put("utf8-comment", "format = 3\n# caf\xe9\n")
	put("utf8-overlong", "format = 3\nname = \"\xc0\xaf\"\n")
	put("utf8-surrogate", "format = 3\nname = \"\xed\xa0\x80\"\n")
	put("utf8-cut", "format = 3\nname = \"\xe2\x82")
	put("latin1", "format = 3\nname = \"Tr\xe4ger\"\n")
	var le, be bytes.Buffer
	for _, u := range utf16.Encode([]rune("\ufeff" + broken)) {
		le.Write([]byte{byte(u), byte(u >> 8)})
		be.Write([]byte{byte(u >> 8), byte(u)})
	}
	put("utf16-le", le.String())
	put("utf16-be", be.String())
	put("empty", "")
	put("blank", " \n\t\n")
	put("comment-only", "# nothing here\n")
	put("page", "<!DOCTYPE html>\n<html><body>404</body></html>\n")
	put("braces", "{ \"format\": 2 }\n")
	put("archive", "PK\x03\x04\x14\x00")
	put("picture", "\x89PNG\r\n\x1a\n")
	put("colon", "format: 2\nname: flatbed\n")
	put("nbsp", "format = 3\nname\u00a0= \"x\"\n")
	put("curly-quotes", "format = 3\nname = \u201cflatbed\u201d\n")
	put("turned-key", "format = 3\n\"\u202eeman\" = \"x\"\n")
	put("turned-line", "format = 3\n[line.\"re\u200bar\"]\n")
}

func twice(add func(string, string, ...any)) {
	for name, text := range map[string]string{
		"key": "name = \"a\"\nname = \"b\"\n", "table": "[vehicle]\n[vehicle]\n", "case": "[vehicle]\nname = \"a\"\nName = \"b\"\n",
		"value-then-table": "placement = 3\n[placement]\nrear = 1\n", "table-then-list": "[job]\n[[job]]\n", "list-then-table": "[[job]]\nid = \"a\"\n[job]\n",
		"inline-then-key": "units = { system = \"inch\" }\nunits.length = \"mm\"\n", "dotted": "vehicle.name = \"a\"\n[vehicle]\nname = \"b\"\n",
		"format": "format = 3\n", "inline": "[[reading]]\nplaced = { rear = 1, rear = 2 }\n",
	} {
		add("twice-"+name, "format = 3\n%s", text)
	}
	for name, text := range map[string]string{
		"no-format": "name = \"x\"\n", "near": "format = 3\n[placement]\nsetbak = 4\n", "far": "format = 3\n[gauge]\nqqqqqqqq = 4\n",
		"old": "format = 3\n[vehicle]\nwheel_diameter = 4\n", "old-and-new": "format = 1\n[vehicle]\nwheel_diameter = 4\ntyre_diameter = 5\n",
		"old-unit": "format = 1\n[vehicle]\nwheel_diameter = \"4 kg\"\n", "line": "format = 3\n[line.\"two words\"]\n", "line-empty": "format = 3\n[line.\"\"]\n",
		"line-long": "format = 3\n[line." + strings.Repeat("x", 41) + "]\n", "limit": "format = 3\n[limits]\njoint_mx = 3\n",
		"limit-minus": "format = 3\n[limits]\njoint_max = -3\n", "limit-bare": "format = 3\n[limits]\njoint_max = { source = \"x\" }\n",
		"unit": "format = 3\n[units]\nlength = \"kg\"\n", "system": "format = 3\n[units]\nsystem = \"imperial\"\n",
		"minus": "format = 3\n[vehicle]\nwheelbase = -3\n", "slope-bare": "format = 3\n[line.rear.pinion]\nslope = 4.8\n",
		"slope-way": "format = 3\n[line.rear.pinion]\nslope = \"4.8 deg\"\n",
		"word":      "format = 3\n[[reading]]\nof = \"powertrain\"\nshown = 3\non = \"top\"\n", "reading-of": "format = 3\n[[reading]]\nof = \"gearbox\"\nshown = 3\n",
		"reading-nothing": "format = 3\n[[reading]]\n", "reading-far": "format = 3\n[[reading]]\nof = \"powertrain\"\nshown = 200\n",
		"job-id": "format = 3\n[[job]]\ntitle = \"x\"\n", "job-title": "format = 3\n[[job]]\nid = \"x\"\n",
		"job-twice":     "format = 3\n[[job]]\nid = \"x\"\ntitle = \"a\"\n[[job]]\nid = \"x\"\ntitle = \"b\"\n",
		"pads-in-line":  "format = 3\n[powertrain.pads]\nleft_front = [0, 0, 0]\nright_front = [1, 1, 0]\nrear = [2, 2, 0]\n",
		"pads-swapped":  "format = 3\n[powertrain.pads]\nleft_front = [0, 300, 0]\nright_front = [0, -300, 0]\nrear = [900, 0, 0]\n",
		"rail-one":      "format = 3\n[rails.left]\npoints = [[1, 2, 3]]\n",
		"rail-backward": "format = 3\n[rails.left]\npoints = [[5, 0, 0], [1, 0, 0]]\n",
		"point-two":     "format = 3\n[powertrain]\noutput = [1, 2]\n", "point-words": "format = 3\n[powertrain]\noutput = [\"a\", 2, 3]\n",
		"joint-one":  "format = 3\n[[line.rear.joint]]\nkind = \"cardan\"\n",
		"joint-kind": "format = 3\n[[line.rear.joint]]\nkind = \"ball\"\n[[line.rear.joint]]\n",
		"wall":       "format = 3\n[[line.rear.shaft]]\noutside = 60\nwall = 40\n", "slip": "format = 3\n[[line.rear.shaft]]\nslip_closed = 900\nslip_open = 800\n",
		"many": "format = 3\nname = 3\n[placement]\nrear = true\nleft_front = \"x\"\nqqq = 1\n[powertrain]\nmass = -3\n",
	} {
		add("meaning-"+name, "%s", text)
	}
}
