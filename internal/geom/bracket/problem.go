package bracket

import (
	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// bad builds an error that names its part (geom.PartError).
func bad(kind, name, format string, args ...any) error {
	return geom.PartFault(kind, name, format, args...)
}

func finiteVec(vs ...r3.Vec) bool {
	for _, v := range vs {
		if !geom.Finite(v.X, v.Y, v.Z) {
			return false
		}
	}
	return true
}
