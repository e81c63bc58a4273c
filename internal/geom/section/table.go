package section

import ()

// Published figures of a section as a table prints them, in powers of Unit
// (mm: 10 for centimetre tables, 25.4 for inch tables). Zero means the figure
// is not held here, not that it is nought. Mass is kg/m.
type Published struct {
	Unit                         float64
	Area, Iy, Wy, Iz, Wz, It, Wt float64
	Mass                         float64
	Source                       string
}

// Entry is a stock section. Published is nil where no published figures are
// held; the formulas then stand alone.
type Entry struct {
	Shape
	Standard  string
	Published *Published
}

// Titles of the standards and tables named in the entries.
const (
	stdCold = "EN 10219-2, cold formed"
	stdHot  = "EN 10210-2, hot finished"
	stdHSS  = "ASTM A500, AISC design wall"
	stdPFC  = "EN 10365, parallel flange channel"
	stdC    = "ASTM A6, tapered flange channel"
	stdTube = "plain tube by its nominal size"
	stdL    = "EN 10056-1, equal leg angle"
	stdFlat = "EN 10058, flat bar"

	srcEN   = "section property tables to EN 10210-2 and EN 10219-2"
	srcPFC  = "section property tables, parallel flange channels"
	srcL    = "section property tables, equal leg angles"
	srcAISC = "AISC Shapes Database v15"
)

// Table returns the stock sections, square tubes first. Dimensions are those
// of the standards; the figures that are published are marked with their
// source and all others come from the formulas.
func Table() []Entry {
	var t []Entry
	for _, part := range [][]Entry{
		coldSquares(), coldRects(), hotTubes(), roundTubes(), hssTubes(), inchTubes(), channels(), angles(), flats(),
	} {
		t = append(t, part...)
	}
	return t
}

func box(name string, c Corner, b, h, wall float64, p *Published) Entry {
	std := stdCold
	switch c {
	case CornerHot:
		std = stdHot
	case CornerHSS:
		std = stdHSS
	}
	return Entry{Shape{Name: name, Kind: RectTube, Corner: c, B: b, H: h, T: wall}, std, p}
}

func coldSquares() []Entry {
	p := map[string]*Published{
		"SHS 50x50x3 cold":   {Area: 5.41, Iy: 19.5, Wy: 7.79, It: 32.1, Wt: 11.8, Mass: 4.25},
		"SHS 60x60x4 cold":   {Area: 8.55, Iy: 43.6, Wy: 14.5, It: 72.6, Wt: 22.0, Mass: 6.71},
		"SHS 100x100x8 cold": {Area: 27.2, Iy: 366, Wy: 73.2, It: 645, Wt: 114, Mass: 21.4},
	}
	return metric(p, CornerCold, []size{
		{"SHS 20x20x2 cold", 20, 20, 2}, {"SHS 25x25x2 cold", 25, 25, 2},
		{"SHS 25x25x2.5 cold", 25, 25, 2.5}, {"SHS 30x30x2 cold", 30, 30, 2},
		{"SHS 30x30x2.5 cold", 30, 30, 2.5}, {"SHS 30x30x3 cold", 30, 30, 3},
		{"SHS 40x40x2 cold", 40, 40, 2}, {"SHS 40x40x2.5 cold", 40, 40, 2.5},
		{"SHS 40x40x3 cold", 40, 40, 3}, {"SHS 40x40x4 cold", 40, 40, 4},
		{"SHS 50x50x2 cold", 50, 50, 2}, {"SHS 50x50x2.5 cold", 50, 50, 2.5},
		{"SHS 50x50x3 cold", 50, 50, 3}, {"SHS 50x50x4 cold", 50, 50, 4},
		{"SHS 50x50x5 cold", 50, 50, 5}, {"SHS 60x60x3 cold", 60, 60, 3},
		{"SHS 60x60x4 cold", 60, 60, 4}, {"SHS 60x60x5 cold", 60, 60, 5},
		{"SHS 70x70x3 cold", 70, 70, 3}, {"SHS 70x70x4 cold", 70, 70, 4},
		{"SHS 80x80x3 cold", 80, 80, 3}, {"SHS 80x80x4 cold", 80, 80, 4},
		{"SHS 80x80x5 cold", 80, 80, 5}, {"SHS 100x100x4 cold", 100, 100, 4},
		{"SHS 100x100x5 cold", 100, 100, 5}, {"SHS 100x100x8 cold", 100, 100, 8},
	})
}

// A rectangular tube is listed with its long side as the height H.
func coldRects() []Entry {
	p := map[string]*Published{
		"RHS 60x40x3 cold": {Area: 5.41, Iy: 25.4, Wy: 8.46, Iz: 13.4, Wz: 6.72,
			It: 29.3, Wt: 11.2, Mass: 4.25},
		"RHS 100x50x5 cold": {Area: 13.4, Iy: 158, Wy: 31.6, Iz: 52.5, Wz: 21.0,
			It: 135, Wt: 36.8, Mass: 10.5},
	}
	return metric(p, CornerCold, []size{
		{"RHS 40x20x2 cold", 20, 40, 2}, {"RHS 50x30x2 cold", 30, 50, 2},
		{"RHS 50x30x3 cold", 30, 50, 3}, {"RHS 60x40x2 cold", 40, 60, 2},
		{"RHS 60x40x3 cold", 40, 60, 3}, {"RHS 60x40x4 cold", 40, 60, 4},
		{"RHS 80x40x3 cold", 40, 80, 3}, {"RHS 80x40x4 cold", 40, 80, 4},
		{"RHS 80x60x3 cold", 60, 80, 3}, {"RHS 80x60x4 cold", 60, 80, 4},
		{"RHS 100x50x3 cold", 50, 100, 3}, {"RHS 100x50x4 cold", 50, 100, 4},
		{"RHS 100x50x5 cold", 50, 100, 5}, {"RHS 100x60x4 cold", 60, 100, 4},
		{"RHS 120x60x5 cold", 60, 120, 5},
	})
}

func hotTubes() []Entry {
	p := map[string]*Published{
		"SHS 50x50x4 hot":   {Area: 7.19, Iy: 25.0, Wy: 9.99, It: 40.4, Wt: 14.5, Mass: 5.64},
		"SHS 100x100x8 hot": {Area: 28.8, Iy: 400, Wy: 79.9, It: 646, Wt: 116, Mass: 22.6},
	}
	return metric(p, CornerHot, []size{
		{"SHS 40x40x3 hot", 40, 40, 3}, {"SHS 50x50x3 hot", 50, 50, 3},
		{"SHS 50x50x4 hot", 50, 50, 4}, {"SHS 60x60x5 hot", 60, 60, 5},
		{"SHS 80x80x5 hot", 80, 80, 5}, {"SHS 100x100x8 hot", 100, 100, 8},
		{"RHS 60x40x4 hot", 40, 60, 4}, {"RHS 100x50x5 hot", 50, 100, 5},
	})
}

type size struct {
	name    string
	b, h, t float64
}

func metric(p map[string]*Published, c Corner, sizes []size) []Entry {
	out := make([]Entry, 0, len(sizes))
	for _, s := range sizes {
		out = append(out, box(s.name, c, s.b, s.h, s.t, sourced(p[s.name], 10, srcEN)))
	}
	return out
}

func sourced(p *Published, unit float64, source string) *Published {
	if p != nil {
		p.Unit, p.Source = unit, source
	}
	return p
}

func roundTubes() []Entry {
	p := map[string]*Published{
		"CHS 48.3x3": {Area: 4.27, Iy: 11.0, Wy: 4.55, It: 22.0, Wt: 9.11, Mass: 3.35},
		"CHS 60.3x4": {Area: 7.07, Iy: 28.2, Wy: 9.34, It: 56.3, Wt: 18.7, Mass: 5.55},
		"CHS 42.4x3": {Area: 3.71, Iy: 7.25, Wy: 3.42, It: 14.5, Mass: 2.91},
		"CHS 88.9x5": {Area: 13.2, Iy: 116, Wy: 26.2, It: 233},
	}
	var out []Entry
	for _, s := range []size{
		{"CHS 21.3x2.6", 0, 21.3, 2.6}, {"CHS 26.9x2.6", 0, 26.9, 2.6},
		{"CHS 33.7x2.6", 0, 33.7, 2.6}, {"CHS 33.7x3.2", 0, 33.7, 3.2},
		{"CHS 42.4x2.6", 0, 42.4, 2.6}, {"CHS 42.4x3", 0, 42.4, 3}, {"CHS 42.4x3.2", 0, 42.4, 3.2},
		{"CHS 48.3x3", 0, 48.3, 3}, {"CHS 48.3x4", 0, 48.3, 4},
		{"CHS 60.3x3", 0, 60.3, 3}, {"CHS 60.3x4", 0, 60.3, 4},
		{"CHS 76.1x3", 0, 76.1, 3}, {"CHS 76.1x4", 0, 76.1, 4},
		{"CHS 88.9x4", 0, 88.9, 4}, {"CHS 88.9x5", 0, 88.9, 5}, {"CHS 114.3x4", 0, 114.3, 4},
	} {
		out = append(out, Entry{Shape{Name: s.name, Kind: RoundTube, H: s.h, T: s.t},
			stdCold, sourced(p[s.name], 10, srcEN)})
	}
	return out
}

func hssTubes() []Entry {
	p := map[string]*Published{
		"HSS 2x2x1/8":  {Area: 0.840, Iy: 0.486, Wy: 0.486, It: 0.796},
		"HSS 3x2x3/16": {Area: 1.54, Iy: 1.77, Wy: 1.18, Iz: 0.932, Wz: 0.932, It: 2.05},
		"HSS 4x2x1/8":  {Area: 1.30, Iy: 2.65, Wy: 1.32, Iz: 0.898, Wz: 0.898, It: 2.20},
		"HSS 4x4x1/4":  {Area: 3.37, Iy: 7.80, Wy: 3.90, Iz: 7.80, Wz: 3.90, It: 12.8},
		"HSS 6x2x3/16": {Area: 2.58, Iy: 10.5, Wy: 3.49, Iz: 1.80, Wz: 1.80, It: 5.24},

		"HSS 2x1x1/8":          {Area: 0.608, Iy: 0.280, Wy: 0.280, Iz: 0.0922, Wz: 0.184, It: 0.238},
		"HSS 2-1/2x2-1/2x3/16": {Area: 1.54, Iy: 1.35, Wy: 1.08, It: 2.25},
		"HSS 4x2x1/4":          {Area: 2.44, Iy: 4.49, Wy: 2.25, Iz: 1.48, Wz: 1.48, It: 3.82},
	}
	var out []Entry
	for _, s := range []size{
		{"HSS 1-1/2x1-1/2x1/8", 1.5, 1.5, 1. / 8}, {"HSS 2x2x1/8", 2, 2, 1. / 8},
		{"HSS 2x2x3/16", 2, 2, 3. / 16}, {"HSS 2x2x1/4", 2, 2, 1. / 4},
		{"HSS 2x1x1/8", 1, 2, 1. / 8}, {"HSS 2-1/2x2-1/2x3/16", 2.5, 2.5, 3. / 16},
		{"HSS 3x2x3/16", 2, 3, 3. / 16}, {"HSS 3x3x3/16", 3, 3, 3. / 16},
		{"HSS 3x3x1/4", 3, 3, 1. / 4}, {"HSS 4x2x1/8", 2, 4, 1. / 8},
		{"HSS 4x2x3/16", 2, 4, 3. / 16}, {"HSS 4x2x1/4", 2, 4, 1. / 4}, {"HSS 4x4x1/4", 4, 4, 1. / 4},
		{"HSS 6x2x3/16", 2, 6, 3. / 16},
	} {
		out = append(out, box(s.name, CornerHSS, s.b*inch, s.h*inch, s.t*inch,
			sourced(p[s.name], inch, srcAISC)))
	}
	hss := func(name string, d, t float64, p *Published) Entry {
		return Entry{Shape{Name: name, Kind: RoundTube, Corner: CornerHSS, H: d * inch, T: t * inch},
			stdHSS, sourced(p, inch, srcAISC)}
	}
	return append(out,
		hss("HSS 3.000x0.250", 3, 0.250, &Published{Area: 2.03, Iy: 1.95, Wy: 1.30, It: 3.90}),
		hss("HSS 3.500x0.125", 3.5, 0.125, &Published{Area: 1.23, Iy: 1.77, Wy: 1.01, It: 3.53}),
		hss("Pipe 2 STD", 2.375, 0.154, &Published{Area: 1.02, Iy: 0.627, Wy: 0.528, It: 1.25}))
}

// Drawn round tube is sold by outside diameter and true wall.
func inchTubes() []Entry {
	var out []Entry
	for _, s := range []size{
		{"Tube 1 x 0.083", 0, 1, 0.083}, {"Tube 1-1/4 x 0.095", 0, 1.25, 0.095},
		{"Tube 1-1/2 x 0.095", 0, 1.5, 0.095}, {"Tube 1-1/2 x 0.120", 0, 1.5, 0.120},
		{"Tube 1-3/4 x 0.095", 0, 1.75, 0.095}, {"Tube 1-3/4 x 0.120", 0, 1.75, 0.120},
		{"Tube 2 x 0.120", 0, 2, 0.120}, {"Tube 3 x 0.083", 0, 3, 0.083},
	} {
		out = append(out, Entry{Shape{Name: s.name, Kind: RoundTube, H: s.h * inch, T: s.t * inch}, stdTube, nil})
	}
	return out
}

func channels() []Entry {
	pfc := func(name string, h, b, tw, tf, r float64, p *Published) Entry {
		return Entry{Shape{Name: name, Kind: Channel, H: h, B: b, T: tw, Flange: tf, Root: r},
			stdPFC, sourced(p, 10, srcPFC)}
	}
	return []Entry{
		pfc("PFC 100x50x10", 100, 50, 5, 8.5, 9, &Published{Area: 13.0, Iy: 208, Wy: 41.5,
			Iz: 32.3, Wz: 9.89, It: 2.53, Mass: 10.2}),
		pfc("PFC 125x65x15", 125, 65, 5.5, 9.5, 12, &Published{Area: 18.8, Iy: 483, Wy: 77.3,
			Iz: 80.0, Wz: 18.8, It: 4.72}),
		pfc("PFC 150x75x18", 150, 75, 5.5, 10, 12, &Published{Area: 22.8, Iy: 861, Wy: 115,
			Iz: 131, Wz: 26.6, It: 6.10, Mass: 17.9}),
		{Shape{Name: "C4x5.4", Kind: Channel, H: 4 * inch, B: 1.58 * inch, T: 0.184 * inch, Flange: 0.296 * inch, Taper: 1. / 6},
			stdC, sourced(&Published{Area: 1.58, Iy: 3.85, Wy: 1.92, Iz: 0.312, It: 0.0399}, inch, srcAISC)},
		{Shape{Name: "C6x8.2", Kind: Channel, H: 6 * inch, B: 1.92 * inch, T: 0.200 * inch, Flange: 0.343 * inch, Taper: 1. / 6},
			stdC, sourced(&Published{Area: 2.39, Iy: 13.1, Wy: 4.35, Iz: 0.687, Wz: 0.488, It: 0.0736}, inch, srcAISC)},
	}
}

// Root radii of EN 10056-1, from memory; toes are rounded by half of them.
func angles() []Entry {
	p := map[string]*Published{
		"L 40x40x4": {Area: 3.08, Iy: 4.47, Wy: 1.55, Iz: 4.47, Wz: 1.55, It: 0.188},
		"L 50x50x5": {Area: 4.80, Iy: 11.0, Wy: 3.05, Iz: 11.0, Wz: 3.05, It: 0.450},
	}
	var out []Entry
	for _, s := range []struct {
		name    string
		b, t, r float64
	}{
		{"L 25x25x3", 25, 3, 3.5}, {"L 30x30x3", 30, 3, 5}, {"L 40x40x4", 40, 4, 6}, {"L 50x50x5", 50, 5, 7},
		{"L 60x60x6", 60, 6, 8}, {"L 80x80x8", 80, 8, 10},
	} {
		out = append(out, Entry{Shape{Name: s.name, Kind: Angle, H: s.b, B: s.b, T: s.t, Root: s.r}, stdL, sourced(p[s.name], 10, srcL)})
	}
	return out
}

// Flats stand on edge, so that y is their strong axis.
func flats() []Entry {
	var out []Entry
	for _, s := range []size{
		{"Flat 30x5", 5, 30, 0}, {"Flat 40x5", 5, 40, 0}, {"Flat 40x6", 6, 40, 0}, {"Flat 50x5", 5, 50, 0}, {"Flat 50x6", 6, 50, 0},
		{"Flat 50x8", 8, 50, 0}, {"Flat 60x6", 6, 60, 0}, {"Flat 60x8", 8, 60, 0}, {"Flat 80x6", 6, 80, 0}, {"Flat 80x8", 8, 80, 0},
		{"Flat 80x10", 10, 80, 0}, {"Flat 100x6", 6, 100, 0}, {"Flat 100x8", 8, 100, 0}, {"Flat 100x10", 10, 100, 0},
	} {
		out = append(out, Entry{Shape{Name: s.name, Kind: FlatBar, B: s.b, H: s.h}, stdFlat, nil})
	}
	return out
}
