package book

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book/paper"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
)

// Closely is how closely the powertrain has to be placed.
type Closely struct {
	Half map[string]float64 // ± mm, by the dotted names of rows of the placement
	Free map[string]bool    // more would do: it is only not looked for
	Sure float64            // the least probability with which all that is held holds then
	Why  string             // why there is none; "" where there is
}

// BenchSheet is one page for under the vehicle: the step in hand with what done
// means, what it takes and what to mind; the placement and the joint angles with
// room to write, and how closely each has to be met; what is over.
func BenchSheet(a *assess.Assessment, within Closely, size PaperSize, from Origin) ([]Output, error) {
	m := &maker{a: a, u: a.Build.Units, size: size, from: from}
	var pages []*paper.Page
	for _, most := range []int{12, 6, 2} { // joints, and half as many findings
		var s Sheet
		m.inHand(&s)
		m.toMeasure(&s, within, most)
		m.trouble(&s, most/2)
		s.add("Notes", table(0, 0, make([][]string, 4)))
		s = s.clean()
		if pages = Pages([]Chapter{{Key: "sheet", Title: "Bench sheet", Sections: s.Sections}}, size, from); len(pages) == 1 {
			break
		}
	}
	if len(pages) > 1 {
		pages[0].Type(r2.Vec{X: bookLeft, Y: 11.5}, "There is more than one page has room for: the rest is in the book.", 2.6, true)
	}
	pdf, err := paper.Document{Title: "Bench sheet: " + from.Foot(), Date: from.Date, Pages: pages[:1]}.PDF()
	if err != nil {
		return nil, err
	}
	return []Output{{"sheet.pdf", pdf}}, nil
}

// inHand is the first job that can be done now.
func (m *maker) inHand(s *Sheet) {
	a := m.a
	var job *assess.Job
	for _, state := range []assess.JobState{assess.ProveAgain, assess.Open, assess.Held} {
		if js := a.JobsIn(state); len(js) > 0 {
			job = &js[0]
			break
		}
	}
	if job == nil {
		why := "No jobs are in the file yet: `fitup jobs --add FILE` puts the built-in list in."
		if len(a.Jobs) > 0 {
			why = "Every job of the list is done."
		}
		s.add("The step in hand", text(0, why)...)
		return
	}
	r := m.job(*job)
	rows := [][]string{{"step", tickBox(false) + " " + r[1]}, {"done when", r[2]}, {"state", r[3]}}
	if r[4] != "" {
		rows = append(rows, []string{"mind", r[4]})
	}
	if j, b, ok := a.NextHoldPoint(); ok {
		rows = append(rows, []string{"next hold point", sentence(j.Title) + " " + b.Text})
	}
	s.add("The step in hand", table(0, 0, rows))
}

func (m *maker) toMeasure(s *Sheet, within Closely, most int) {
	var rows [][]string
	for _, r := range m.a.Rows {
		met := ""
		if half, ok := within.Half[r.Name]; ok && r.Now.Known {
			const least = 0.1 // mm: rounded down, never up
			met = "± " + Magnitude(quantity.Length, math.Floor(half/least)*least, m.u)
			if within.Free[r.Name] {
				met += " or more"
			}
		}
		rows = append(rows, []string{r.Label, m.number(r.Kind, r.Now), met})
	}
	n := 0
	for i := range m.a.Lines {
		l := &m.a.Lines[i]
		for _, j := range l.Joints {
			if n++; n <= most {
				v, st := m.a.JointAt(l, j)
				rows = append(rows, []string{fmt.Sprintf("%s line, joint %d", l.Name, j.Number), m.number(quantity.Angle, v) + ", " + st.String(), ""})
			}
		}
	}
	if n > most {
		rows = append(rows, []string{fmt.Sprintf("and %d more joints", n-most), "in the book", ""})
	}
	if len(rows) > 0 {
		items := []Item{written(1, []string{"what", "now", "within", "measured"}, rows)}
		switch {
		case len(within.Half) > 0:
			items = append(items, text(0, fmt.Sprintf("Placed within these, all that moves with the powertrain stays within its limits with at least %.0f %%, each place in them as likely as any other.", 100*within.Sure))...)
		case within.Why != "":
			items = append(items, text(0, "How closely the mounts have to be placed is not known: "+sentence(within.Why))...)
		}
		s.add("To hold and to read", items...)
	}
}

func (m *maker) trouble(s *Sheet, most int) {
	var rows [][]string
	more := 0
	for _, st := range []assess.Status{assess.Over, assess.NotKnown} {
		for _, f := range m.a.Findings {
			if f.Status != st {
				continue
			}
			if len(rows) == most {
				more++
				continue
			}
			rows = append(rows, []string{f.Title, st.String(), strings.TrimPrefix(m.value(f), "-"), m.limit(f)})
		}
	}
	if len(rows) == 0 {
		return
	}
	items := []Item{grid([]string{"finding", "verdict", "value", "limit"}, rows)}
	if more > 0 {
		items = append(items, text(0, fmt.Sprintf("And %d more that are over or not known: they are in the book.", more))...)
	}
	s.add("Over or not known", items...)
}
