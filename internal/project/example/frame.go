package example

import _ "embed"

// Frame is the survey of a frame that was widened at the rear by unequal amounts,
// 56 mm on the left and 44 on the right, whose right rail stands 4 mm behind the
// left one, and one of whose tapes was misread by a centimetre: from the first
// point on the left to the third on the right. Its axles stand square.
//
//go:embed frame.toml
var Frame string

// axled is a survey of two axles and the rails between them.
//
//go:embed axled.toml
var axled string
