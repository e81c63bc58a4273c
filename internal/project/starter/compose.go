package starter

import (
	_ "embed" // for the pieces below
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed pieces.txt
var piecesText string

// pieces are the parts that a file can begin with, by name.
var pieces = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for part := range strings.SplitSeq(strings.TrimPrefix(piecesText, "#= "), "\n#= ") {
		name, text, _ := strings.Cut(part, "\n")
		out[name] = strings.TrimRight(text, "\n") + "\n"
	}
	return out
})

// Compose returns the text of a build file that begins what the answers say, with
// everything about the vehicle still to be filled in. Without an answer it is the
// starter. The answers are those of Questions, as Read gave them.
func Compose(a Answers) []byte {
	c := &composer{string(New())}
	if a.said("layout") || a.said("drives") || a.said("axle") || a.said("front-axle") || a.said("shaft") {
		c.swap("# One table for each driveline", "[gauge]", lines(a)+"\n[gauge]")
	}
	c.head(a)
	c.mounts(a)
	c.jobs(a)
	if a.is("units", "inch") {
		c.swap("system = \"metric\"", "# or \"inch\"\n", "system = \"inch\"                 # or \"metric\"\n")
		c.inches()
	}
	return []byte(c.text)
}

// composer changes the starter's text.
type composer struct{ text string }

// swap puts with in the place of what stands from one text to the end of another.
// Both are in the starter, which a test holds.
func (c *composer) swap(from, to, with string) {
	i := strings.Index(c.text, from)
	if i < 0 {
		panic("the starter has no " + strconv.Quote(from))
	}
	behind := i + len(from)
	n := strings.Index(c.text[behind:], to)
	if n < 0 {
		panic("the starter has no " + strconv.Quote(to) + " behind " + strconv.Quote(from))
	}
	c.text = c.text[:i] + with + c.text[behind+n+len(to):]
}

func piece(name, of string) string {
	text, ok := pieces()[name]
	if !ok {
		panic("there is no piece " + strconv.Quote(name))
	}
	return strings.NewReplacer("NAME", of, "LABEL", strings.ReplaceAll(of, "_", " ")).Replace(text)
}

// lines are the drivelines.
func lines(a Answers) string {
	var out []string
	for _, l := range a.lines() {
		switch {
		case l.direct:
			out = append(out, piece("half shaft line", l.name))
			continue
		case l.name == "front":
			out = append(out, piece("front shaft line", l.name))
		default:
			out = append(out, piece("shaft line", l.name))
		}
		if l.shaft != "" {
			out = append(out, piece(l.shaft+"-piece shaft", l.name))
		}
		if l.axle != "" {
			out = append(out, atAxle(piece(l.axle, l.name), l.name))
		}
	}
	return strings.Join(out, "\n")
}

// pieceWheelbase is how far behind the front axle the pieces have theirs, mm.
const pieceWheelbase = 3300

var stationIn = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`= \[\d+,`) })

// atAxle puts the points that a piece shows at the axle that it is about.
func atAxle(text, name string) string {
	if name != "front" {
		return text
	}
	return stationIn().ReplaceAllStringFunc(text, func(s string) string {
		v, _ := strconv.Atoi(s[len("= [") : len(s)-1])
		return fmt.Sprintf("= [%d,", v-pieceWheelbase)
	})
}

// head writes what is said of the powertrain itself.
func (c *composer) head(a Answers) {
	said := ""
	if a.is("layout", "across") {
		said += "layout = \"transaxle\"            # the crankshaft lies across; X points to the rear all the same\n"
	}
	if how := a.of("fixing"); how != "" {
		said += fmt.Sprintf("fixing = %-23s# how mounts and crossmember hold to the frame\n", strconv.Quote(how))
	}
	c.swap("[powertrain]\n", "", "[powertrain]\n"+said)
}

func (c *composer) mounts(a Answers) {
	chosen := a.list("mounts")
	if len(chosen) == 0 {
		return
	}
	var out []string
	for _, name := range padNames {
		switch {
		case !slices.Contains(chosen, name):
			out = append(out, piece("fit-up only", name))
			continue
		default:
			out = append(out, piece("mount", name))
		}
		switch {
		case name == "rear":
		case name == "right_front" && slices.Contains(chosen, "left_front"):
			out = append(out, piece("second leg", name))
		default:
			out = append(out, piece("leg", name))
		}
	}
	c.swap("# The bracket of a front mount", "# match = \"left_front\"\n", strings.Join(out, "\n"))
}

// jobs fits what the jobs wait for to the lines: the built-in list knows it where
// there is more than one shaft, or none.
func (c *composer) jobs(a Answers) {
	if lines := a.lines(); len(lines) > 1 || lines[0].direct || lines[0].name != "rear" || lines[0].shaft == "two" {
		c.swap("hold = [\"line.rear.powertrain.read\"", "]\n", "")
		c.swap("hold = [\"line.rear.joint.1.max\"", "]\n", "")
	}
	if a.is("fixing", "bolted") {
		c.swap("from = \"tack-first\"\ntitle = \"", "Tack or bolt", "from = \"bolt-first\"\ntitle = \"Bolt")
		c.swap("[[job]]\nid = \"weld-mounts\"", "inspect them.\"\n", piece("bolted job", ""))
	}
}

var (
	exampleLine = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?m)^# [a-z_]+ = [^"\n]*?(?:#|$)`) })
	bareNumber  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`-?\d+(?:\.\d+)?`) })
	pureNumber  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^# (?:ratio|reduction|share|cylinders|count) = `) })
)

// inches turns the lengths of the lines that show how a value is written.
func (c *composer) inches() {
	c.text = exampleLine().ReplaceAllStringFunc(c.text, func(line string) string {
		if pureNumber().MatchString(line) {
			return line
		}
		value, comment := line, ""
		if i := strings.LastIndexByte(line, '#'); i > 0 {
			value, comment = line[:i], line[i:]
		}
		out := bareNumber().ReplaceAllStringFunc(strings.TrimRight(value, " "), inchOf)
		if comment == "" {
			return out
		}
		return fmt.Sprintf("%-31s %s", out, comment)
	})
}

// inchOf is a length in mm as a rule in inches would show it.
func inchOf(mm string) string {
	v, _ := strconv.ParseFloat(mm, 64)
	step := 0.25
	switch size := math.Abs(v); {
	case size < 10:
		step = 0.005
	case size < 50:
		step = 0.0625
	}
	return strconv.FormatFloat(math.Round(v/25.4/step)*step+0, 'f', -1, 64)
}
