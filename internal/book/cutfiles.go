package book

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book/paper"
)

// CutoutFiles are the templates of a mount, or of all mounts where none is named:
// one PDF on sheets of a size, and each as SVG and DXF. Left says of each leg
// without one why. It fails where there is none at all.
func CutoutFiles(a *assess.Assessment, mount string, size PaperSize, from Origin) (out []Output, left []string, err error) {
	cs, left, err := Cutouts(a, mount)
	if err != nil {
		return nil, nil, err
	}
	if len(cs) == 0 {
		return nil, left, fmt.Errorf("there is nothing to make a template of: %s", strings.Join(left, " "))
	}
	doc := paper.Document{Title: "Templates: " + from.Foot(), Date: from.Date}
	for i := range cs {
		c := &cs[i]
		c.clean()
		doc.Pages = append(doc.Pages, c.Pages(size, from)...)
		// Many cutting tables ask for no unit: the name says it.
		out = append(out,
			Output{c.Name + "-mm.svg", []byte(c.Page(from).SVG())},
			Output{c.Name + "-mm.dxf", []byte(c.DXF())})
	}
	pdf, err := doc.PDF()
	if err != nil {
		return nil, left, err
	}
	return append([]Output{{"templates.pdf", pdf}}, out...), left, nil
}
