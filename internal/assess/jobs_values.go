package assess

import (
	"math"
	"strconv"

	"fitup/internal/project/quantity"
)

// jobs lists what the job list, the maps and the measurements have in numbers.
func (l *valueList) jobs(a *Assessment) {
	done, total := a.Progress()
	l.add("jobs.done", quantity.Number, float64(done))
	l.add("jobs.total", quantity.Number, float64(total))
	l.add("jobs.held", quantity.Number, float64(len(a.JobsIn(Held))))
	l.add("jobs.prove_again", quantity.Number, float64(len(a.JobsIn(ProveAgain))))
	l.add("engine_out.open", quantity.Number, float64(len(a.EngineOut)))
	for _, j := range a.Jobs {
		for _, r := range j.Relied {
			f, ok := a.Finding(r.Finding)
			if !ok || r.Value == "" {
				continue
			}
			if then, u, err := a.relied(f, r); err == nil {
				name, k := "job."+j.ID+".relied."+r.Finding, unsignedKind(f.Kind)
				l.add(name, f.Kind, then)
				*l = append(*l, Value{name + ".moved", k, math.Abs(f.Value - then), f.HasValue})
				l.add(name+".uncertainty", k, u)
			}
		}
	}
	for _, w := range a.Welds {
		l.measure(w.ID+".carries", quantity.Length, w.Carries)
		l.measure(w.ID+".length", quantity.Length, w.AllSides)
	}
	for _, f := range a.Fasteners {
		id := "fastener." + strconv.Itoa(f.Index+1)
		l.measure(id+".torque", quantity.Torque, f.Torque)
		l.measure(id+".torque.computed", quantity.Torque, f.Computed)
		l.measure(id+".preload", quantity.Force, f.Preload)
	}
	for _, m := range a.Measurements {
		id := "measure." + strconv.Itoa(m.Index+1)
		l.measure(id+".mean", m.Kind, m.Mean)
		l.add(id+".spread", m.Kind, m.Spread)
		l.add(id+".repeats", quantity.Number, float64(m.Count))
		l.uncertainty(id, m.Kind, m.Mean)
	}
}
