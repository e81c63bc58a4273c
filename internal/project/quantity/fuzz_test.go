package quantity

import (
	"math"
	"strings"
	"testing"
	"unicode"
)

// FuzzParse feeds any text to every kind. Accepted text gives a finite size
// within the kind's limits, takes nothing behind it, and can be printed and
// respelled; refused text gives a message that is safe on a terminal.
func FuzzParse(f *testing.F) {
	for k, texts := range oldTexts {
		for _, s := range texts {
			f.Add(uint8(k), s)
			f.Add(uint8(k), s+" ± 0.1")
		}
	}
	for _, k := range Kinds() {
		f.Add(uint8(k), k.info().bound)
	}
	f.Fuzz(func(t *testing.T, kind uint8, text string) {
		k := Kind(kind % uint8(kindCount))
		for _, u := range []Units{Metric(), Inch()} {
			stated, err := ParseStated(k, text, u)
			if err != nil {
				checkMessage(t, err.Error())
				continue
			}
			v := stated.V
			if _, err := Parse(k, text, u); (err == nil) != (stated.Half == 0) || stated.Half < 0 || math.IsInf(stated.Half, 0) {
				t.Fatalf("%s %q is ± %v, and without: %v", k, text, stated.Half, err)
			}
			if math.IsNaN(v) || math.IsInf(v, 0) || !k.info().inRange(v) {
				t.Fatalf("%s %q gave %v", k, text, v)
			}
			for _, more := range []string{" 5", " zz", " mm 5", ";", " right x"} {
				if got, err := ParseStated(k, strings.TrimRight(text, " ")+more, u); err == nil {
					t.Fatalf("%s %q with %q behind it gave %v", k, text, more, got)
				}
			}
			if _, err := Parse(k, Format(k, v, u, 12), u); err != nil {
				t.Fatalf("%s %q printed: %v", k, text, err)
			}
			checkRespell(t, k, v, text, u)
			checkRespell(t, k, 0.75*v, text, u)
		}
	})
}

func checkMessage(t *testing.T, msg string) {
	t.Helper()
	for _, r := range msg {
		if !unicode.IsPrint(r) {
			t.Fatalf("message %q carries %q", msg, r)
		}
	}
}

// checkRespell gives a text another value: what comes out has to read back as
// that value, to the finest decimal of its unit.
func checkRespell(t *testing.T, k Kind, v float64, text string, u Units) {
	t.Helper()
	again, _ := Respell(k, v, text, false, u)
	stated, err := ParseStated(k, again, u)
	got := stated.V
	if stated.Half > 0 && again != text {
		t.Fatalf("%s %q respelled as %q claims a ± of another value", k, text, again)
	}
	if err != nil {
		t.Fatalf("%s %q respelled as %q: %v", k, text, again, err)
	}
	slack := 1e-6 * u.For(k).row.factor
	if _, r, err := parse(k, text, u); err == nil && len(r.terms) > 0 {
		_, s := r.respell(k, v, u)
		slack = max(slack, s)
	}
	if math.Abs(got-v) > slack+1e-9*math.Abs(v) {
		t.Fatalf("%s %q is %v, respelled as %q it is %v", k, text, v, again, got)
	}
}
