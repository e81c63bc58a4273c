package project

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// a gauge of no uncertainty would make every tight ok.
func TestNoInstrumentIsExact(t *testing.T) {
	for _, text := range []string{
		"[gauge]\naccuracy = \"0 deg\"\n",
		"[[reading]]\nof = \"powertrain\"\nshown = \"85 deg\"\nplus_minus = \"0 deg\"\n",
		"[[measure]]\nof = \"x\"\nlengths = [100]\nplus_minus = 0\n",
		"[[measure]]\nof = \"x\"\nangles = [\"1 deg\"]\nangle_plus_minus = \"0 deg\"\n",
	} {
		_, err := Parse("a.toml", []byte("format = 3\n"+text))
		assert.ErrorContains(t, err, "no instrument is exact", text)
	}
	_, err := Parse("a.toml", []byte("format = 3\n[gauge]\naccuracy = \"0.05 deg\"\nzero = \"0 deg\"\n"))
	assert.NoError(t, err)
}

// one line cannot hand every judgement over.
func TestElsewhereNamesASubject(t *testing.T) {
	for _, of := range []string{"**", "*", "*.rear"} {
		_, err := Parse("a.toml", []byte("format = 3\n[[elsewhere]]\nof = \""+of+"\"\nby = \"x\"\nwhy = \"y\"\n"))
		assert.ErrorContains(t, err, "everything over at once", of)
	}
}
