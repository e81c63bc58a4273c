package rail

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// engineers is said wherever a strength is.
const engineers = "Screening figure: frame work is for a licensed engineer, the maker's body-builder rules and the local rules to decide."

// Findings are the verdicts on the rails of which the file says something.
func (r *Result) Findings() []finding.Finding {
	if !r.Given() {
		return nil
	}
	var out []finding.Finding
	for _, b := range r.Rails {
		out = append(out, r.bendingFinding(b))
		for i := range b.Joints {
			out = append(out, r.spliceFinding(b, i))
		}
		for i := range b.PlateEnds {
			out = append(out, r.plateFinding(b, i))
		}
		out = append(out, r.stepFinding(b), r.detailFinding(b))
	}
	for _, t := range r.Twist.Rails {
		out = append(out, r.twistFinding(t))
	}
	return out
}

func (r *Result) use(b *Bent, id, title string, p Place) finding.Finding {
	f := finding.Finding{ID: id, Title: title, Assumes: b.Assumes}
	f.Judge(p.Use, r.build.Limit("rail_use"), false)
	return f
}

// place says where a stress is and what it comes to.
func (b *Bent) place(p Place) string {
	way := "its top is pressed and its bottom pulled"
	if p.Moment < 0 {
		way = "its bottom is pressed and its top pulled"
	}
	return fmt.Sprintf("%s at %s, where %s: %s over a bump of %s times the weight. ", capital(p.What), b.station(p.At), way,
		b.text(quantity.Stress, p.Stress), quantity.Format(quantity.Number, b.Bump, b.unit, 1))
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func (r *Result) bendingFinding(b *Bent) finding.Finding {
	f := r.use(b, finding.RailBending(string(b.Side)), b.label()+", screening use of strength: bending over a bump", b.Bending)
	if m := r.build.Limit("rail_use").Value; f.Status == finding.OK && (!b.Sheared.Use.Known || b.Sheared.Use.V > m) {
		f.Unknown(fmt.Sprintf("bending is within the limit, but its web is sheared by %s at %s, %s of what it yields at, and this screening has no verdict on a web: move the support or the load, or have it worked out",
			b.text(quantity.Stress, b.Sheared.Stress), b.station(b.Sheared.At), quantity.Format(quantity.Number, b.Sheared.Use.V, b.unit, 2)))
	}
	if f.Status == finding.OK && b.Uncounted != "" {
		f.Unknown(b.Uncounted)
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		at := b.place(b.Bending)
		return map[finding.Status]string{
			finding.OK:   at + engineers,
			finding.Over: at + "Too weak there: a deeper or plated rail, a support nearer to the load, or less load. " + engineers,
		}
	})
	return f
}

func (r *Result) spliceFinding(b *Bent, i int) finding.Finding {
	p, s := b.Joints[i], &b.Splices[i]
	f := r.use(b, finding.RailSplice(string(b.Side), i+1), fmt.Sprintf("%s, screening use of strength: %s", b.label(), s.Words), p)
	if m := r.build.Limit("rail_use").Value; f.Status == finding.OK && p.Sheared > m {
		if math.IsInf(p.Sheared, 1) {
			f.Unknown("bending is within the limit, but nothing of what carries in the joint stands upright to take the shear there: put plates on the web, or have it worked out")
		} else {
			f.Unknown(fmt.Sprintf("bending is within the limit, but the joint is sheared by %s of what it yields at, and this screening has no verdict on that: put it where the rail is sheared less, or have it worked out",
				quantity.Format(quantity.Number, p.Sheared, b.unit, 2)))
		}
	}
	switch s.Spec.Kind {
	case project.FishPlate, project.Sleeve:
		f.Assumes = append(f.Assumes[:len(f.Assumes):len(f.Assumes)], "the plates alone carry, for the rail's own ends are not welded to each other; their welds are not judged")
	case project.ButtAndPlate, project.ButtSplice:
		f.Assumes = append(f.Assumes[:len(f.Assumes):len(f.Assumes)], "the butt weld is as good as the rail: through the whole wall, ground and inspected")
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		at := b.place(p)
		if p.Share > 0 && p.Share < 1 {
			at += fmt.Sprintf("Of the moment in the joint its plates carry %.0f %%. ", p.Share*100)
		}
		return map[finding.Status]string{
			finding.OK:   at + engineers,
			finding.Over: at + "Too weak: longer or thicker plates, or put the joint where the rail bends less. " + engineers,
		}
	})
	return f
}

func (r *Result) plateFinding(b *Bent, i int) finding.Finding {
	p := b.PlateEnds[i]
	f := r.use(b, finding.RailPlate(string(b.Side), b.plateOf[i]+1), fmt.Sprintf("%s, screening use of strength: where the plates of length %d stop", b.label(), b.plateOf[i]+1), p)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		at := b.place(p)
		return map[finding.Status]string{
			finding.OK:   at + engineers,
			finding.Over: at + "Run the plates on to where the rail bends less, and let them end sloped or like a fish's mouth. " + engineers,
		}
	})
	return f
}

// stepFinding is the verdict on where a rail is stiffer on one side than on the other.
func (r *Result) stepFinding(b *Bent) finding.Finding {
	f := finding.Finding{ID: finding.RailStep(string(b.Side)), Title: b.label() + ", change of stiffness in bending at one place"}
	worst, m := Step{Ratio: 1}, finding.Exact(1)
	for _, s := range b.Steps {
		if s.Ratio > worst.Ratio {
			worst, m = s, finding.Exact(s.Ratio)
		}
	}
	if b.Rail.Why != "" {
		m = finding.Missing(b.Rail.Why)
	}
	for _, s := range b.Splices {
		if s.Why != "" && m.Known {
			m = finding.Missing(s.Why)
		}
	}
	f.Judge(m, r.build.Limit("rail_step"), false)
	f.Assumes = append(f.Assumes, "plates that end sloped or like a fish's mouth end little by little, and make no step")
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		at := ""
		if worst.What != "" {
			at = fmt.Sprintf("%s at %s, %.2f to 1. ", capital(worst.What), b.station(worst.At), worst.Ratio)
		}
		return map[finding.Status]string{
			finding.OK:   at + engineers,
			finding.Over: at + "A frame cracks where a stiff piece stops all at once: let the plates end sloped or like a fish's mouth, and at different stations left and right of the web. " + engineers,
		}
	})
	return f
}

// detailFinding counts what is prone to crack.
func (r *Result) detailFinding(b *Bent) finding.Finding {
	f := finding.Finding{ID: finding.RailDetails(string(b.Side)), Title: b.label() + ", details that are prone to crack"}
	f.Judge(finding.Exact(float64(len(b.Details))), project.Rule{Kind: quantity.Count, Source: finding.Practice + ": no weld across a flange, no plate end square to the rail, no hole in a flange"}, false)
	switch {
	case len(b.Details) > 0:
	case len(b.Spec.Lengths) == 0:
		f.Unknown("not in the file yet: " + b.path + ".length, what the rail is made of")
	case len(b.Unsaid) > 0:
		f.Unknown("not in the file yet: " + b.Unsaid[0])
	}
	f.Assumes = append(f.Assumes, "what the file does not name was looked for and is not there: look along both flanges for holes, plates and welds")
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "Of what the file says of its joints, plates and holes nothing is prone to crack. " + engineers,
			finding.Over: strings.Join(b.Details, " ") + " A crack begins there: slope or step the cut, let plates end like a fish's mouth, keep holes in the web. " + engineers,
		}
	})
	return f
}

func (r *Result) twistFinding(t RailTwist) finding.Finding {
	w := &r.Twist
	f := finding.Finding{ID: finding.RailTwist(string(t.Side)), Title: string(t.Side) + " rail, screening use of strength: shear in torsion, one wheel up"}
	f.Assumes = append(f.Assumes, w.assumesOf...)
	f.Assumes = append(f.Assumes, "the rails alone twist, evenly between the axles: crossmembers make the frame stiffer")
	if t.Open {
		f.Assumes = append(f.Assumes, "only the shear of torsion is judged: in an open rail the flanges are bent sideways besides at every crossmember (warping), which is not")
	}
	f.Judge(t.Use, r.build.Limit("rail_use"), false)
	if f.Status == finding.OK && t.Uncounted != "" {
		f.Unknown(t.Uncounted)
	}
	b := r.Of(t.Side)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		how := fmt.Sprintf("One front wheel %s up twists the frame by %s between the axles; both rails together take %s for each degree. %s in the length that begins at %s. ",
			b.text(quantity.Length, w.Lift), b.text(quantity.Angle, w.Angle), b.text(quantity.Torque, w.Now*degree), capital(b.text(quantity.Stress, t.Shear)), b.station(t.At))
		if w.Was > 0 && w.Now > 1.05*w.Was {
			how += fmt.Sprintf("That is %.1f times as stiff as without its plates: what is bolted across the rails has to follow less, and the joints carry more. ", w.Now/w.Was)
		}
		return map[finding.Status]string{
			finding.OK:   how + engineers,
			finding.Over: how + "Too much for its walls: an open rail gives more and carries less. Leave it open between the axles, or box all of it. " + engineers,
		}
	})
	return f
}

const degree = 0.017453292519943295 // rad
