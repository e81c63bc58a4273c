package finding

// The shapes of the ids of a subframe.
const (
	subframeFitID       = "subframe.*.fit"
	subframeHiddenID    = "subframe.*.hidden"
	subframeSquareID    = "subframe.*.square"
	subframeWheelbaseID = "subframe.*.wheelbase"
	subframeCentreID    = "subframe.*.centre"
	subframeHeightID    = "subframe.*.height"
	subframeLevelID     = "subframe.*.level"
	subframeRakeID      = "subframe.*.rake"
	subframeCornerID    = "subframe.*.corner.*"
)

// SubframeFit is the id of how well what was measured to a subframe fits together.
func SubframeFit(name string) string { return fill(subframeFitID, name) }

// SubframeHidden is the id of the slip that those measurements could hide.
func SubframeHidden(name string) string { return fill(subframeHiddenID, name) }

// SubframeSquare is the id of how far a subframe is turned from the centre line.
func SubframeSquare(name string) string { return fill(subframeSquareID, name) }

// SubframeWheelbase is the id of how far it hangs before or behind its place.
func SubframeWheelbase(name string) string { return fill(subframeWheelbaseID, name) }

// SubframeCentre is the id of how far its middle lies beside the centre line.
func SubframeCentre(name string) string { return fill(subframeCentreID, name) }

// SubframeHeight is the id of how far it hangs above or below its place.
func SubframeHeight(name string) string { return fill(subframeHeightID, name) }

// SubframeLevel is the id of how far it leans to one side.
func SubframeLevel(name string) string { return fill(subframeLevelID, name) }

// SubframeRake is the id of how far it leans to the front or rear from its rake.
func SubframeRake(name string) string { return fill(subframeRakeID, name) }

// SubframeCorner is the id of how far a corner has to move; point is its path.
func SubframeCorner(name, point string) string {
	return fill(subframeCornerID, name, Slug(afterDot(point)))
}

func afterDot(path string) string {
	for i := range path {
		if path[i] == '.' {
			return path[i+1:]
		}
	}
	return path
}
