package project

import "fitup/internal/project/tomltext"

// Draft returns the File of another text without the checks: what a change of
// several values goes through on its way, as when the first key of a new entry
// stands there and the second does not. What cannot be read is not known in it.
// It says what paths lead to and is never saved; With is for what is to stand.
func (f *File) Draft(doc *tomltext.Doc) *File {
	b := &binder{file: f.Name}
	said := b.build(doc.Root())
	build := *said
	return &File{Name: f.Name, Build: &build, From: f.From, doc: doc, names: &pathNames{}, said: said, facts: build.Facts()}
}

// TopKeys lists the keys at the top of a build file in the order in which its
// tables are written.
func TopKeys() []string {
	var out []string
	for _, key := range layoutOf(buildType).keys {
		out = append(out, key)
		switch key { // those that are not read by the types of the schema alone
		case "note":
			out = append(out, "units")
		case "old_powertrain":
			out = append(out, "loads")
		case "reading":
			out = append(out, "limits")
		}
	}
	return out
}
