package finding

import (
	"strings"

	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// Stated are the sources behind every ± that a build states: one for each value, by
// its path, shared by all that rests on it. The zero Stated has none.
type Stated struct {
	Each []StatedSource // in the order of the schema
	at   map[string]int
}

// StatedSource is a stated value and the error behind its ±.
type StatedSource struct {
	project.StatedValue
	Of Estimate // its ends are those of the ±
}

// StatedIn adds the sources of a build to s.
func StatedIn(b *project.Build, s *uncertain.Sources) *Stated {
	t := &Stated{}
	for _, v := range b.StatedValues() {
		if t.at == nil {
			t.at = map[string]int{}
		}
		t.at[v.Path] = len(t.Each)
		t.Each = append(t.Each, StatedSource{v, EstimateIn(s, labelOf(v))})
	}
	return t
}

// labelOf is what a source is called; the numbers of a point go by one name.
func labelOf(v project.StatedValue) string {
	what := v.Path
	if strings.HasSuffix(what, "]") {
		what = what[:strings.LastIndexByte(what, '[')]
	}
	what = project.SpokenPath(what)
	if v.Tool != "" {
		return "the ± of " + what + " by " + v.Tool
	}
	return "the ± typed of " + what
}

// By returns the error of the value at path, 0 with its ±; false where none was
// stated of it.
func (t *Stated) By(path string) (uncertain.Number, bool) {
	v, ok := t.Value(path)
	if !ok {
		return uncertain.Number{}, false
	}
	return v.Error(), true
}

// Value returns the value at path with its source; false where no ± was stated of it.
func (t *Stated) Value(path string) (*StatedSource, bool) {
	if t == nil {
		return nil, false
	}
	i, ok := t.at[path]
	if !ok {
		return nil, false
	}
	return &t.Each[i], true
}

// Error is the error of the value, 0 with its ±.
func (s *StatedSource) Error() uncertain.Number { return s.Of.Within(0, s.Half).Number }
