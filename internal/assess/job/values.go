package job

import (
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// Values lists what the job list has in numbers.
func (res *Result) Values(l *finding.List) {
	done, total := res.Progress()
	l.Add("jobs.done", quantity.Count, float64(done))
	l.Add("jobs.total", quantity.Count, float64(total))
	l.Add("jobs.held", quantity.Count, float64(len(res.In(Held))))
	l.Add("jobs.prove_again", quantity.Count, float64(len(res.In(ProveAgain))))
	l.Add(finding.EngineOut, quantity.Count, float64(len(res.EngineOut)))
	for _, j := range res.Jobs {
		for _, r := range j.Relied {
			f, ok := res.grounds.finding(r.Finding)
			if !ok || r.Value == "" {
				continue
			}
			if then, u, err := res.relied(f, r); err == nil {
				name, k := "job."+j.ID+".relied."+r.Finding, finding.Unsigned(f.Kind)
				l.Add(name, f.Kind, then)
				l.Put(name+".moved", k, math.Abs(f.Value-then), f.HasValue)
				l.Add(name+".uncertainty", k, u)
			}
		}
	}
}
