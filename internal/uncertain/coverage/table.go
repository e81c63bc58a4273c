package coverage

import (
	"fmt"
	"io"
	"math"
	"text/tabwriter"
)

// Confidence is that of the bounds in the table and in Fails.
const Confidence = 0.95

// Write prints the report as a table. Shares are in per cent, each limit with its
// upper bound (can it still be what was promised), the false ok with its lower
// one (is it proved to be more).
func (r Report) Write(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(t, "%d builds\tjudged\tknown\tlower holds\t(at most)\tupper holds\t(at most)\twidth\tok\tfalse ok\t(at least)\t\n", r.Builds)
	for _, row := range r.Rows {
		fmt.Fprintf(t, "%s\t%d\t%s\t%s\t%s\t%s\t%s\t%.4g\t%s\t%s\t%s\t\n", row.Of, row.Outcomes,
			percent(row.Known.Value()), percent(row.Above.Value()), upper(row.Above), percent(row.Below.Value()), upper(row.Below),
			row.Width, percent(row.OK.Value()), percent(row.False.Value()), percent(row.False.Lower(Confidence)))
	}
	if err := t.Flush(); err != nil {
		return fmt.Errorf("write the table of coverage: %w", err)
	}
	return nil
}

func upper(s Share) string {
	if s.Of == 0 {
		return "-"
	}
	return percent(s.Upper(Confidence))
}

func percent(v float64) string {
	if math.IsNaN(v) {
		return "-"
	}
	return fmt.Sprintf("%.2f", 100*v)
}

// Fails says in a sentence each what the simulation proves wrong, at the
// confidence of the table: a limit that holds less often than promised (0.975),
// and an ok that is false more often than 1 - promised.
func (r Report) Fails(promised float64) []string {
	var out []string
	for _, row := range r.Rows {
		if s := row.Above; s.Of > 0 && s.Upper(Confidence) < promised {
			out = append(out, fmt.Sprintf("%s: the lower limit holds in %s %% of %d cases", row.Of, percent(s.Value()), s.Of))
		}
		if s := row.Below; s.Of > 0 && s.Upper(Confidence) < promised {
			out = append(out, fmt.Sprintf("%s: the upper limit holds in %s %% of %d cases", row.Of, percent(s.Value()), s.Of))
		}
		if s := row.False; s.Lower(Confidence) > 1-promised {
			out = append(out, fmt.Sprintf("%s: of %d called ok %s %% are not", row.Of, s.Of, percent(s.Value())))
		}
	}
	return out
}
