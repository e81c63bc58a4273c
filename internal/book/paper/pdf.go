package paper

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"sync"
	"time"

	"fitup/internal/scene"

	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/gonum/spatial/r2"
)

// Document is what a PDF says of itself. The same pages, title and date make
// the same bytes.
type Document struct {
	Title string
	Date  string // of the printing, YYYY-MM-DD
	Pages []*Page
}

// perPoint is mm in a point of 1/72 in.
const perPoint = 25.4 / 72

// PDF writes the document. Places are rounded to 0.01 pt, 0.004 mm. It asks the
// program that prints it not to fit the page to the sheet.
func (d Document) PDF() ([]byte, error) {
	if len(d.Pages) == 0 {
		return nil, errors.New("a document without a page cannot be written")
	}
	date, err := time.Parse(time.DateOnly, d.Date)
	if err != nil {
		return nil, fmt.Errorf("the date of the printing is read as %q and wanted like 2026-01-31: %w", d.Date, err)
	}
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetCreationDate(date)
	pdf.SetModificationDate(date)
	pdf.SetCatalogSort(true)
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	title, _ := Regular().Settle(d.Title)
	pdf.SetTitle(title, true)
	pdf.SetCreator("fitup", true)
	pdf.AddUTF8FontFromBytes("face", "", Regular().ttf)
	pdf.SetFont("face", "", Letters/perPoint)
	pdf.SetLineCapStyle("butt")
	for _, p := range d.Pages {
		pdf.AddPageFormat("P", fpdf.SizeType{Wd: p.Wide, Ht: p.High})
		for _, m := range p.Marks {
			text, _ := Regular().Settle(m.Text)
			pdf.Bookmark(text, m.Level, 0)
		}
		p.Play(&brush{pdf: pdf, high: p.High})
	}
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		return nil, fmt.Errorf("the pages cannot be written as PDF: %w", err)
	}
	return unscaled(out.Bytes())
}

var (
	catalog = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?s)\n(\d+) 0 obj\n<<\s*/Type /Catalog(.*?)>>\s*endobj`)
	})
	startxref = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`startxref\s+(\d+)\s+%%EOF\s*$`) })
	trailer   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?s)trailer\s*<<(.*?)>>\s*startxref`) })
)

// unscaled adds to a document that it is to be printed as large as it is: an
// incremental update of its catalog (ISO 32000-1, 7.5.6 and 12.2).
func unscaled(doc []byte) ([]byte, error) {
	c, x, t := catalog().FindSubmatch(doc), startxref().FindSubmatch(doc), trailer().FindSubmatch(doc)
	if c == nil || x == nil || t == nil {
		return nil, errors.New("the PDF has no catalog where one was looked for")
	}
	number, err := strconv.Atoi(string(c[1]))
	if err != nil {
		return nil, fmt.Errorf("the PDF's catalog has no number: %w", err)
	}
	out := bytes.TrimRight(doc, "\r\n")
	out = append(out, '\n')
	at := len(out)
	out = fmt.Appendf(out, "%d 0 obj\n<<\n/Type /Catalog%s/ViewerPreferences << /PrintScaling /None >>\n>>\nendobj\n", number, c[2])
	table := len(out)
	out = fmt.Appendf(out, "xref\n%d 1\n%010d 00000 n \ntrailer\n<<%s/Prev %s\n>>\nstartxref\n%d\n%%%%EOF\n", number, at, t[1], x[1], table)
	return out, nil
}

// boldBy is the stroke round a bold letter, of its size.
const boldBy = 0.03

// brush paints on a page of a PDF, whose y runs down.
type brush struct {
	pdf  *fpdf.Fpdf
	high float64
}

func (b *brush) y(v float64) float64 { return b.high - v }

func (b *brush) set(s scene.Style) {
	b.pdf.SetLineWidth(scene.LineWidth(s.Role))
	b.pdf.SetDashPattern(scene.Dash(s.Kind), 0)
}

func (b *brush) run(points []r2.Vec, s scene.Style, closed bool) {
	b.set(s)
	for i, p := range points {
		if i == 0 {
			b.pdf.MoveTo(p.X, b.y(p.Y))
			continue
		}
		b.pdf.LineTo(p.X, b.y(p.Y))
	}
	if closed {
		b.pdf.ClosePath()
	}
	b.pdf.DrawPath("D")
}

func (b *brush) Line(points []r2.Vec, s scene.Style)    { b.run(points, s, false) }
func (b *brush) Polygon(points []r2.Vec, s scene.Style) { b.run(points, s, true) }

// Arc draws cubics of at most 45 degrees, which leave the circle by less than
// 1e-5 of its radius.
func (b *brush) Arc(at r2.Vec, radius float64, from, to float64, s scene.Style) {
	full := to-from >= 2*math.Pi
	if full {
		to = from + 2*math.Pi
	}
	n := max(1, int(math.Ceil(math.Abs(to-from)/(math.Pi/4))))
	each := (to - from) / float64(n)
	arm := radius * 4 / 3 * math.Tan(each/4)
	on := func(a float64) (p, t r2.Vec) {
		sin, cos := math.Sincos(a)
		return r2.Add(at, r2.Vec{X: radius * cos, Y: radius * sin}), r2.Vec{X: -sin, Y: cos}
	}
	b.set(s)
	p, t := on(from)
	b.pdf.MoveTo(p.X, b.y(p.Y))
	for i := range n {
		q, v := on(from + float64(i+1)*each)
		c, d := r2.Add(p, r2.Scale(arm, t)), r2.Sub(q, r2.Scale(arm, v))
		b.pdf.CurveBezierCubicTo(c.X, b.y(c.Y), d.X, b.y(d.Y), q.X, b.y(q.Y))
		p, t = q, v
	}
	if full {
		b.pdf.ClosePath()
	}
	b.pdf.DrawPath("D")
}

func (b *brush) Sign(at r2.Vec, s scene.Style) { scene.DrawSign(b, at, s) }

func (b *brush) Text(n scene.Note) {
	if n.Clear {
		const above, below, aside = 0.85, 0.2, 0.3 // of its letters, mm aside
		b.pdf.SetFillColor(255, 255, 255)
		b.pdf.Rect(n.At.X-aside, b.y(n.At.Y+above*Letters), Regular().Width(n.Text, Letters)+2*aside, (above+below)*Letters, "F")
		b.pdf.SetFillColor(0, 0, 0)
	}
	b.Type(n.At, n.Text, Letters, false)
}

func (b *brush) Type(at r2.Vec, text string, size float64, bold bool) {
	b.pdf.SetFontSize(size / perPoint)
	if bold { // filled, and drawn round
		b.pdf.SetLineWidth(boldBy * size)
		b.pdf.SetDashPattern(nil, 0)
		b.pdf.SetTextRenderingMode(2)
		defer b.pdf.SetTextRenderingMode(0)
	}
	b.pdf.Text(at.X, b.y(at.Y), visual(text))
}

func (b *brush) Clip(box r2.Box) {
	b.pdf.ClipRect(box.Min.X, b.y(box.Max.Y), box.Max.X-box.Min.X, box.Max.Y-box.Min.Y, false)
}

func (b *brush) Unclip() { b.pdf.ClipEnd() }
