package mounts

import "fitup/internal/ui/pane"

// table is a pane's table with the rows that only brackets and loads have.
type table struct{ *pane.Table }

func newTable(w, figures int, v pane.View) *table { return &table{pane.NewTable(w, figures, v)} }
