// Package starter holds the two build files that come with the program: the
// commented starter a new build begins with, and the invented build of the
// demo.
package starter

import _ "embed" // for the two texts below

//go:embed starter.toml
var newText string

//go:embed demo.toml
var demoText string

// New returns the text of the starter: a valid build file in which nothing
// about the vehicle is known yet, with a comment at each key that says what
// goes there. The slice is the caller's own.
func New() []byte { return []byte(newText) }

// Demo returns the text of the demo: an invented farm flatbed in which one
// joint angle is just past its limit until the rear mount is raised a few
// millimetres. The slice is the caller's own.
func Demo() []byte { return []byte(demoText) }
