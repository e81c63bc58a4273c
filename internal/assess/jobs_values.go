package assess

import (
	"math"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// jobs lists what the job list, the maps and the measurements have in numbers.
func listJobs(l *finding.List, a *Assessment) {
	done, total := a.Progress()
	l.Add("jobs.done", quantity.Number, float64(done))
	l.Add("jobs.total", quantity.Number, float64(total))
	l.Add("jobs.held", quantity.Number, float64(len(a.JobsIn(Held))))
	l.Add("jobs.prove_again", quantity.Number, float64(len(a.JobsIn(ProveAgain))))
	l.Add("engine_out.open", quantity.Number, float64(len(a.EngineOut)))
	for _, j := range a.Jobs {
		for _, r := range j.Relied {
			f, ok := a.Finding(r.Finding)
			if !ok || r.Value == "" {
				continue
			}
			if then, u, err := a.relied(f, r); err == nil {
				name, k := "job."+j.ID+".relied."+r.Finding, finding.Unsigned(f.Kind)
				l.Add(name, f.Kind, then)
				l.Put(name+".moved", k, math.Abs(f.Value-then), f.HasValue)
				l.Add(name+".uncertainty", k, u)
			}
		}
	}
	for _, w := range a.Welds {
		l.Number(w.ID+".carries", quantity.Length, w.Carries)
		l.Number(w.ID+".length", quantity.Length, w.AllSides)
	}
	for _, f := range a.Fasteners {
		id := "fastener." + strconv.Itoa(f.Index+1)
		l.Number(id+".torque", quantity.Torque, f.Torque)
		l.Number(id+".torque.computed", quantity.Torque, f.Computed)
		l.Number(id+".preload", quantity.Force, f.Preload)
	}
	for _, m := range a.Measurements {
		id := "measure." + strconv.Itoa(m.Index+1)
		l.Number(id+".mean", m.Kind, m.Mean)
		l.Add(id+".spread", m.Kind, m.Spread)
		l.Add(id+".repeats", quantity.Number, float64(m.Count))
		l.Uncertainty(id, m.Kind, m.Mean)
	}
}
