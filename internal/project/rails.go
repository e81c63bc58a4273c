package project

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/geom/section"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
)

// Rails are the two frame rails. They need not be alike.
type Rails struct {
	Left  Rail       `toml:"left" doc:"the rail on the left"`
	Right Rail       `toml:"right" doc:"the rail on the right"`
	Loads []RailLoad `toml:"load" doc:"what rests on the rails beside the powertrain: cab, bed, tank, payload"`
}

// Rail is one frame rail, given along its inner top edge from front to rear.
type Rail struct {
	Points   []Point          `toml:"points" doc:"inner top edge, front to rear: [station, offset, height] each" how:"Along the inner top edge, from the front: level, plumb line and tape at each point where the rail bends." need:"yes"`
	Height   quantity.LengthQ `toml:"height" doc:"depth of the section" min:"0" how:"Caliper or tape over the section, outside." from:"outside to outside" need:"yes"`
	Width    quantity.LengthQ `toml:"width" doc:"width of the section" min:"0" how:"Caliper or tape over the section, outside." from:"outside to outside" need:"yes"`
	Like     Side             `toml:"like" doc:"left or right: the other rail, where this one has the same lengths, splices, holes and supports" how:"Only where both were looked at and are the same."`
	Lengths  []RailLength     `toml:"length" doc:"the rail as it is, front to rear: a length of one section"`
	Splices  []RailSplice     `toml:"splice" doc:"a place where the rail was cut and joined"`
	Holes    []RailHole       `toml:"hole" doc:"a hole larger than its rivets and bolts, or any in a flange"`
	Supports []RailSupport    `toml:"support" doc:"a place where a spring carries the rail: a hanger or a tower"`
}

// RailLength is a length of a rail with one section, or one that tapers to another.
type RailLength struct {
	To        quantity.LengthQ   `toml:"to" doc:"station at which this length ends; the end of the rail when left out of the last" how:"Tape along the rail to where its section, plate or sideways place changes." from:"the vehicle's zero, to the rear"`
	Section   string             `toml:"section" doc:"its section: one of the table such as PFC 150x75x18, or its own sizes such as channel 150x60x5, box 100x50x4, angle 60x60x6; of a folded one with across and up any name" how:"Caliper: height, width and wall, over paint that was scraped off." need:"yes" offers:"sections"`
	ToSection string             `toml:"to_section" doc:"the section that it has tapered to at its rear end, when it tapers" how:"Caliper at the rear end, as for section." offers:"sections"`
	Bend      quantity.LengthQ   `toml:"bend" doc:"inside radius of the bends of a pressed channel, box or angle given by its sizes; the wall's thickness when left out, 0 for corners that are sharp outside" min:"0" how:"Radius gauge inside the bend." from:"the bend's own centre"`
	Across    []quantity.LengthQ `toml:"across" doc:"of any other folded section: where its middle line bends, to the right as one looks to the front, point by point" how:"Draw the section, the middle of the metal, and measure each corner." from:"any corner of the section, to the right"`
	Up        []quantity.LengthQ `toml:"up" doc:"the same points upward" how:"As for across, in the same order." from:"the same corner, up"`
	Wall      quantity.LengthQ   `toml:"wall" doc:"thickness of that folded section" min:"0" how:"Caliper on a cut edge." from:"face to face"`
	Plated    Plating            `toml:"plated" doc:"where plates lie that are welded all round: outside or inside of the web, both sides, boxed over the open side, top, bottom, or top and bottom" how:"Look at it from both sides and from below."`
	Plate     quantity.LengthQ   `toml:"plate" doc:"thickness of those plates" min:"0" how:"Caliper on the edge." from:"face to face"`
	PlateWide quantity.LengthQ   `toml:"plate_width" doc:"how wide they are, seen along the rail; as wide as what they lie on when left out" min:"0" how:"Tape or caliper, across the rail." from:"edge to edge"`
	PlateEnds PlateEnds          `toml:"plate_ends" doc:"how the plates end: square, sloped or fish mouth" how:"Look at the end of the plate from the side."`
	Was       string             `toml:"was" doc:"the section that was there before, when it is another than section without its plates" how:"What was cut out, by caliper." offers:"sections"`
	Widened   quantity.LengthQ   `toml:"widened" doc:"how far this rail was moved out here; negative is in" how:"What was put between the rails, divided as it was." from:"where this rail was before"`
	Stretched quantity.LengthQ   `toml:"stretched" doc:"how much of this length was put in" min:"0" how:"The length of the piece that was let in." from:"its front joint"`
	Steel     Steel              `toml:"steel" doc:"S235, S275 or S355; S235 when left out" how:"The mill's certificate or the maker's frame data; S235 where nobody knows."`
	Yield     quantity.StressQ   `toml:"yield" doc:"its yield strength, when it is another steel" min:"0" how:"The mill's certificate." from:"no load"`
}

// RailSplice is where a rail was cut and joined.
type RailSplice struct {
	At        quantity.LengthQ `toml:"at" doc:"station of the joint" how:"Tape along the rail to the middle of the joint." from:"the vehicle's zero, to the rear" need:"yes"`
	Kind      SpliceKind       `toml:"kind" doc:"butt, butt with plates, fish plate (the rail's ends not welded to each other), or sleeve" how:"Look what holds the two ends together." need:"yes"`
	Cut       SpliceCut        `toml:"cut" doc:"how the rail was cut: square, sloped or stepped" how:"Look at the weld from the side; on a sloped or stepped one, web and flanges part at different stations."`
	Length    quantity.LengthQ `toml:"length" doc:"how long its plates or its sleeve are, along the rail" min:"0" how:"Tape along the rail." from:"end to end"`
	Plated    Plating          `toml:"plated" doc:"where its plates lie, as for a length; outside when left out" how:"Look at it from both sides and from below."`
	Plate     quantity.LengthQ `toml:"plate" doc:"thickness of its plates or of its sleeve's wall" min:"0" how:"Caliper on the edge." from:"face to face"`
	PlateWide quantity.LengthQ `toml:"plate_width" doc:"how wide they are; as wide as what they lie on when left out" min:"0" how:"Tape or caliper, across the rail." from:"edge to edge"`
	PlateEnds PlateEnds        `toml:"plate_ends" doc:"how they end: square, sloped or fish mouth" how:"Look at the end of the plate from the side."`
}

// RailHole is a hole in a rail.
type RailHole struct {
	At       quantity.LengthQ `toml:"at" doc:"station of its centre" how:"Tape along the rail to its centre." from:"the vehicle's zero, to the rear" need:"yes"`
	In       RailPart         `toml:"in" doc:"web, top flange or bottom flange" how:"Look." need:"yes"`
	Diameter quantity.LengthQ `toml:"diameter" doc:"of the hole" min:"0" how:"Caliper or the drill's diameter." from:"edge to edge" need:"yes"`
	Up       quantity.LengthQ `toml:"up" doc:"of a hole in the web: its centre above the rail's bottom; half the rail's height when left out" min:"0" how:"Tape from the rail's bottom." from:"the rail's bottom, up"`
	Through  RailWalls        `toml:"through" doc:"one wall (only the one named), or both walls (plates over it and the wall opposite too); both of a box and through plates when left out" how:"Look from the other side, or through it with a light."`
}

// RailSupport is where a spring carries a rail.
type RailSupport struct {
	Name string           `toml:"name" doc:"what carries it here: rear hanger of the front spring" need:"yes"`
	At   quantity.LengthQ `toml:"at" doc:"station of its pin, eye or seat" how:"Tape along the rail, plumbed down to the middle of the pin." from:"the vehicle's zero, to the rear" need:"yes"`
	Kind SupportKind      `toml:"kind" doc:"hanger of a leaf spring, or tower over a coil or air spring" how:"Look."`
	Axle AxleEnd          `toml:"axle" doc:"front or rear: which axle its spring is on; hangers of one axle share its load" how:"Follow the spring."`
}

// RailLoad is a weight that rests on the rails.
type RailLoad struct {
	Name string           `toml:"name" doc:"what it is: cab, bed, tank, payload" need:"yes"`
	Mass quantity.MassQ   `toml:"mass" doc:"all of it, on both rails together unless on says one" min:"0" how:"Scales, the type plate, or a guess on the heavy side." from:"an empty hook" need:"yes"`
	At   quantity.LengthQ `toml:"at" doc:"station at which it rests; of a spread load where it begins" how:"Tape along the rail to its mount." from:"the vehicle's zero, to the rear" need:"yes"`
	To   quantity.LengthQ `toml:"to" doc:"station at which a spread load ends" how:"Tape along the rail to its last mount or edge." from:"the vehicle's zero, to the rear"`
	On   Side             `toml:"on" doc:"left or right, when only that rail carries it; half on each when left out" how:"Look which rail it stands on."`
}

// Plating is where the plates of a rail lie, as the file spells it.
type Plating string

// PlateEnds is how a plate ends, as the file spells it.
type PlateEnds string

// SpliceKind is what joins a rail, as the file spells it.
type SpliceKind string

// SpliceCut is how a rail was cut, as the file spells it.
type SpliceCut string

// RailWalls is what a hole goes through, as the file spells it.
type RailWalls string

// RailPart is a part of a rail's section, as the file spells it.
type RailPart string

// SupportKind is what carries a rail, as the file spells it.
type SupportKind string

// AxleEnd is an axle of the vehicle, as the file spells it.
type AxleEnd string

// The words the file uses.
const (
	PlatedOutside   Plating = "outside"
	PlatedInside    Plating = "inside"
	PlatedBoth      Plating = "both sides"
	PlatedBoxed     Plating = "boxed"
	PlatedTop       Plating = "top"
	PlatedBottom    Plating = "bottom"
	PlatedTopBottom Plating = "top and bottom"

	SquareEnds    PlateEnds = "square"
	SlopedEnds    PlateEnds = "sloped"
	FishMouthEnds PlateEnds = "fish mouth"

	ButtSplice   SpliceKind = "butt"
	ButtAndPlate SpliceKind = "butt with plates"
	FishPlate    SpliceKind = "fish plate"
	Sleeve       SpliceKind = "sleeve"

	SquareCut  SpliceCut = "square"
	SlopedCut  SpliceCut = "sloped"
	SteppedCut SpliceCut = "stepped"

	OneWall   RailWalls = "one wall"
	BothWalls RailWalls = "both walls"

	InWeb          RailPart = "web"
	InTopFlange    RailPart = "top flange"
	InBottomFlange RailPart = "bottom flange"

	SpringHanger SupportKind = "hanger"
	SpringTower  SupportKind = "tower"

	FrontAxle AxleEnd = "front"
	RearAxle  AxleEnd = "rear"
)

// Words lists where plates can lie.
func (Plating) Words() []string {
	return []string{string(PlatedOutside), string(PlatedInside), string(PlatedBoth), string(PlatedBoxed), string(PlatedTop), string(PlatedBottom), string(PlatedTopBottom)}
}

// Words lists how plates can end.
func (PlateEnds) Words() []string {
	return []string{string(SquareEnds), string(SlopedEnds), string(FishMouthEnds)}
}

// Words lists what can join a rail.
func (SpliceKind) Words() []string {
	return []string{string(ButtSplice), string(ButtAndPlate), string(FishPlate), string(Sleeve)}
}

// Words lists how a rail can be cut.
func (SpliceCut) Words() []string {
	return []string{string(SquareCut), string(SlopedCut), string(SteppedCut)}
}

// Words lists what a hole can go through.
func (RailWalls) Words() []string { return []string{string(OneWall), string(BothWalls)} }

// Words lists the parts of a rail's section.
func (RailPart) Words() []string {
	return []string{string(InWeb), string(InTopFlange), string(InBottomFlange)}
}

// Words lists what can carry a rail.
func (SupportKind) Words() []string { return []string{string(SpringHanger), string(SpringTower)} }

// Words lists the axles.
func (AxleEnd) Words() []string { return []string{string(FrontAxle), string(RearAxle)} }

// Described reports whether the file says what the rail is made of and carried by.
func (r Rail) Described() bool {
	return r.Like != "" || len(r.Lengths)+len(r.Splices)+len(r.Holes)+len(r.Supports) > 0
}

// Rail returns the rail of a side, with the lengths, splices, holes and supports of the
// other where the file says that it is like that one.
func (r Rails) Rail(side Side) Rail {
	own, other := r.Left, r.Right
	if side == RightSide {
		own, other = other, own
	}
	if r.Source(side) != side {
		own.Lengths, own.Splices, own.Holes, own.Supports = other.Lengths, other.Splices, other.Holes, other.Supports
	}
	return own
}

// Source is the side at which the file has the lengths, splices, holes and supports of a
// rail: the other one where it says that it is like that.
func (r Rails) Source(side Side) Side {
	like := r.Left.Like
	if side == RightSide {
		like = r.Right.Like
	}
	if like != "" {
		return like
	}
	return side
}

// Span is from where to where a rail runs, by its edge; false without two points.
func (r Rail) Span() (from, to float64, ok bool) {
	edge := r.Edge()
	if len(edge) < 2 {
		return 0, 0, false
	}
	return edge[0].X, edge[len(edge)-1].X, true
}

// Ends are the stations at which the lengths of a rail end. The last ends with the
// rail where it does not say; false for one whose end is not known.
func (r Rail) Ends() ([]float64, bool) {
	out := make([]float64, len(r.Lengths))
	_, last, ok := r.Span()
	for i, l := range r.Lengths {
		v, known := l.To.Get()
		switch {
		case known:
			out[i] = v
		case i == len(r.Lengths)-1 && ok:
			out[i] = last
		default:
			return nil, false
		}
	}
	return out, true
}

// Strengths are the yield and tensile strength of a length's steel, MPa.
func (l RailLength) Strengths() (yield, tensile float64) {
	return BracketMade{Steel: l.Steel, Yield: l.Yield}.Strengths()
}

// Folded reports whether a length's section is given by its middle line.
func (l RailLength) Folded() bool { return len(l.Across)+len(l.Up) > 0 }

// Line is the middle line of a folded section.
func (l RailLength) Line() []r2.Vec {
	out := make([]r2.Vec, min(len(l.Across), len(l.Up)))
	for i := range out {
		out[i] = r2.Vec{X: l.Across[i].V(), Y: l.Up[i].V()}
	}
	return out
}

// RailShape is the section that a text names for a part: one of the table, or of its
// own sizes behind a word: channel, box, angle, flat by height, width and wall, tube by
// diameter and wall. What is pressed has bends of that inside radius (mm; 0 for sharp
// corners, below 0 for one wall). The error says what is wrong, and what would do.
func RailShape(part, text string, bend float64, u quantity.Units) (section.Shape, error) {
	word, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	want, own := map[string]int{"channel": 3, "box": 3, "angle": 3, "tube": 2, "flat": 2}[strings.ToLower(word)]
	sizes, err := quantity.Sizes(strings.TrimSpace(rest), u)
	switch {
	case !own || sizes == nil && err == nil:
		e, err := section.Find(part, text)
		if err != nil {
			err = fmt.Errorf("%w; or give its sizes, such as channel 150x60x5, box 100x50x4, angle 60x60x6, tube 60x3", err)
		}
		return e.Shape, err
	case err != nil:
		return section.Shape{}, fmt.Errorf("section of the %s: %w", part, err)
	case len(sizes) != want:
		return section.Shape{}, fmt.Errorf("section of the %s: %q has %d sizes; want %s", part, Printable(text), len(sizes), map[int]string{
			3: "height, width and wall", 2: "two: diameter and wall of a tube, height and thickness of a flat"}[want])
	}
	s := section.Shape{Name: text, H: sizes[0]}
	if want == 3 {
		s.B, s.T = sizes[1], sizes[2]
		if bend < 0 {
			bend = s.T
		}
		if bend > 0 {
			s.InnerRadius, s.OuterRadius = bend, bend+s.T
		}
	}
	switch strings.ToLower(word) {
	case "channel":
		s.Kind, s.Flange = section.Channel, s.T
	case "box":
		s.Kind = section.RectTube
	case "angle":
		s.Kind = section.Angle
	case "tube":
		s.Kind, s.T = section.RoundTube, sizes[1]
	case "flat":
		s.Kind, s.B = section.FlatBar, sizes[1]
	}
	return s, s.Check()
}

// PlatesOf puts plates of one thickness and width where a word says; no width is as
// wide as what they lie on.
func PlatesOf(s section.Shape, at Plating, t, wide float64) section.Plated {
	p, plate := section.Plated{Shape: s}, section.Plate{T: t, Size: wide}
	on := func(words ...Plating) section.Plate {
		if slices.Contains(words, at) {
			return plate
		}
		return section.Plate{}
	}
	p.Outside = on(PlatedOutside, PlatedBoth)
	p.Inside = on(PlatedInside, PlatedBoth)
	p.Boxed = on(PlatedBoxed)
	p.Top = on(PlatedTop, PlatedTopBottom)
	p.Bottom = on(PlatedBottom, PlatedTopBottom)
	return p
}

// Built is what a length is made of at a part of its way, 0 at its front end and 1 at
// its rear, without or with its plates.
func (l RailLength) Built(part string, way float64, plated bool, u quantity.Units) (section.Built, error) {
	if l.Folded() {
		return section.Profile(part, l.Line(), l.Wall.V())
	}
	p, err := l.rolled(part, way, plated, u)
	if err != nil {
		return section.Built{}, err
	}
	return p.Built()
}

// check reports what Built would fail with.
func (l RailLength) check(part string, way float64, u quantity.Units) error {
	if l.Folded() {
		_, err := section.Profile(part, l.Line(), l.Wall.V())
		return err
	}
	p, err := l.rolled(part, way, true, u)
	if err != nil {
		return err
	}
	return p.Check()
}

// rolled is the shape of a length with its plates.
func (l RailLength) rolled(part string, way float64, plated bool, u quantity.Units) (section.Plated, error) {
	bend := l.Bend.Or(-1)
	s, err := RailShape(part, l.Section, bend, u)
	if err != nil {
		return section.Plated{}, err
	}
	if l.ToSection != "" && way > 0 {
		end, err := RailShape(part, l.ToSection, bend, u)
		if err != nil {
			return section.Plated{}, err
		}
		if s, err = s.Toward(end, way); err != nil {
			return section.Plated{}, err
		}
	}
	s.Name = part
	if plated && l.Plated != "" {
		return PlatesOf(s, l.Plated, l.Plate.V(), l.PlateWide.V()), nil
	}
	return section.Plated{Shape: s}, nil
}
