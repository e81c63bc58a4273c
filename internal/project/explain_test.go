package project

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Every key and table says what it is, what it takes, and how that may be written.
func TestTheSchemaExplainsItself(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range Schema() {
		assert.False(t, seen[k.Path], "%s stands twice", k.Path)
		seen[k.Path] = true
		assert.NotEmpty(t, k.About, k.Path)
		switch k.Shape {
		case TableShape, TablesShape, NamedTablesShape:
			assert.Empty(t, k.Takes(), k.Path)
			continue
		}
		assert.NotEmpty(t, k.Takes(), k.Path)
		assert.NotEmpty(t, k.Example(), k.Path)
		path := strings.NewReplacer(".N.", ".1.", "NAME", "rear").Replace(k.Path)
		found, ok := KeyAt(path)
		assert.True(t, ok, path)
		assert.Equal(t, path, found.Path)
	}
	for _, path := range SchemaPaths() {
		assert.True(t, seen[path], path)
	}
	for _, path := range []string{"units.length", "loads.friction", "loads.case.N.name", "job.N.relied.N.basis", "weld.N.side.NAME.state"} {
		assert.True(t, seen[path], path)
	}
}

func TestAKeyIsFoundByWhatAPersonWrites(t *testing.T) {
	k := Key{Path: "line.NAME.shaft.N.outside"}
	for path, want := range map[string][2]bool{
		"line": {true, false}, "line.rear": {true, false}, "line.rear.shaft": {true, false}, "line.rear.shaft.2": {true, false},
		"line.rear.shaft.2.outside": {true, true}, "line.rear.shaft.outside": {true, true}, "line.rear.shaft.2.wall": {false, false},
		"line.rear.shaft.2.outside.x": {false, false}, "lin": {false, false}, "line.two words": {false, false}, "": {false, false},
	} {
		under, exact := k.Under(path)
		assert.Equal(t, want, [2]bool{under, exact}, path)
	}
	assert.Equal(t, "line.rear.shaft.2.outside", k.Named("line.rear.shaft.2").Path)
	assert.Equal(t, "line.rear.shaft.N.outside", k.Named("line.rear.shaft.outside").Path)
	assert.Equal(t, "line.NAME.shaft.N.outside", k.Named("line").Path)
	_, ok := KeyAt("line.rear.shaft[1].outside")
	assert.True(t, ok)
	_, ok = KeyAt("nowhere")
	assert.False(t, ok)
}
