package assess

import (
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/steer"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// To the steering trade: the build, and what its file and its survey leave open of the
// steering shaft's points. It rests on nothing that moves, so it is made once. From
// it: its joints and shafts, for the drawing.

// What is said of the steering shaft goes by the same names here.
type (
	// Steering is what is known of the steering shaft; nil where the file has none.
	Steering = steer.Result
	// SteeringShaft is one of its shafts between two joints.
	SteeringShaft = steer.Shaft
)

// SteeringCaution goes with whatever is said of the steering shaft.
const SteeringCaution = steer.Caution

// prepareSteering works it out, after what the file states is known.
func (p *Prepared) prepareSteering(b *project.Build) {
	s := &b.Steering
	if !s.Given() {
		return
	}
	rests := map[string]bool{}
	for path, point := range s.Places() {
		for _, t := range b.TermsOf(path, point) {
			rests[t.Path] = true
		}
	}
	var beside []finding.Beside[*project.Build]
	for i := range p.stated.Each {
		v := &p.stated.Each[i]
		if !rests[v.Path] && !strings.HasPrefix(v.Path, "steering.") {
			continue
		}
		by := v.Error()
		varied, err := b.Varied(v.Path, by.U())
		if err != nil {
			varied = nil // it cannot be that far off, and nobody knows what it leaves open
		}
		beside = append(beside, finding.Beside[*project.Build]{V: varied, By: by})
	}
	for _, shift := range p.places.shifts {
		for _, point := range s.Places() {
			if shift.Moves(point) != (r3.Vec{}) {
				beside = append(beside, finding.Beside[*project.Build]{V: b.WithPlaces(p.places.moved(shift, 1)), By: shift.By})
				break
			}
		}
	}
	p.steering = steer.Of(b, beside)
}

func (a *Assessment) steering() {
	if a.Steering = a.ready.steering; a.Steering != nil {
		a.take(finding.SteerTrade, a.Steering.Findings)
	}
}
