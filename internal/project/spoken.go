package project

import "fitup/internal/project/tomltext"

// SpokenPath is a path of the text as a person writes it and Resolve takes it: entries of
// lists by their number from 1.
func SpokenPath(path string) string { return Printable(tomltext.Spoken(path)) }
