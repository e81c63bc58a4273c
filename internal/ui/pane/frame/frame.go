// Package frame is the pane of the frame: its survey, whether it is square, its
// rails, and what hangs on it.
package frame

import (
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
)

// Pane is the state of the Frame pane.
type Pane struct{ pane.Leaves }

// pages are those of the pane, in order. A page more is a file with a function that
// makes it, and a line here. A page without anything says what to type.
func pages() []pane.Leaf {
	return []pane.Leaf{
		surveyPage(),
		squarePage(),
		railsPage(),
		sectionsPage(),
		subframePage(),
		steeringPage(),
		pickupsPage(),
	}
}

// New makes the pane.
func New() *Pane {
	return &Pane{pane.Leaves{Name: "Frame", Foot: pane.Foot{Least: 3}, Pages: pages()}}
}

// shown is the Key of a page on which nothing is changed: Enter leads to the values
// behind the row.
func shown(id action.ID, _ pane.Item, _ int, _ pane.View) pane.Intent {
	switch id {
	case pane.Less, pane.More:
		return pane.Say{Text: "Nothing is moved on this page: it shows what follows. m takes a measurement, Enter shows the values behind a row."}
	case pane.Enter:
		return pane.ShowData{}
	}
	return nil
}

// Words are what the sideways arrows and Enter do, for the footer.
func (p *Pane) Words(pane.View) (sides, enter string) { return "", "data" }
