// Package grown has the demo made large, for what is measured: copies of its own
// parts, whose numbers mean nothing.
package grown

import (
	"fmt"
	"regexp"
	"strings"

	"fitup/internal/project/starter"
)

// excerpt is what stands in s from one text up to another, which must be there.
func excerpt(s, from, end string) string {
	i := strings.Index(s, from)
	n := strings.Index(s[i:], end)
	return s[i : i+n]
}

var shown = regexp.MustCompile(`shown = "[^"]*"`)

// Build returns the demo with that many drivelines, mounts on brackets and
// readings, or nearly.
func Build(lines, mounts, readings int) string {
	src := string(starter.Demo())
	line := excerpt(src, "[line.rear]", "\n[gauge]")
	leg := excerpt(src, "[mount.left_front]\n", "\n[mount.right_front]\n")
	reading := excerpt(src, "[[reading]]\nof = \"powertrain\"", "\n[[reading]]")
	var more strings.Builder
	for i := 1; i < lines; i++ {
		more.WriteString("\n" + strings.ReplaceAll(line, "line.rear", fmt.Sprintf("line.r%d", i)))
	}
	src = strings.Replace(src, line, line+more.String(), 1)
	more.Reset()
	for i := 2; i < mounts; i++ {
		one := strings.ReplaceAll(leg, "left_front", fmt.Sprintf("m%d", i))
		head := fmt.Sprintf("[mount.m%d]\n", i)
		more.WriteString("\n" + strings.Replace(one, head, fmt.Sprintf("%sat = [%d, -250, -60]\n", head, 500+20*i), 1) + "\n")
	}
	src = strings.Replace(src, "\n[mount.rear]\n", more.String()+"\n[mount.rear]\n", 1)
	more.Reset()
	for i := 3; i < readings; i++ {
		more.WriteString("\n" + shown.ReplaceAllString(reading, fmt.Sprintf(`shown = "%.2f deg"`, 85.6+0.01*float64(i%10))) + "\n")
	}
	return strings.Replace(src, "\n[limits]\n", more.String()+"\n[limits]\n", 1)
}

// Large is the build that the figures for a large one are of.
func Large() string { return Build(12, 40, 300) }

// Parts returns the demo with n pieces more on its powertrain.
func Parts(n int) string {
	var more strings.Builder
	for i := range n {
		fmt.Fprintf(&more, "\n[[powertrain.part]]\nname = \"piece %d\"\nfrom = [%d, -40, 10]\nto = [%d, 40, 60]\n", i, i, i+5)
	}
	return string(starter.Demo()) + more.String()
}
