// Package section is the cross-section of what is cut from stock or stands under a
// vehicle: the tables of stock sections, figures of tubes, bars, channels and angles
// by the formulas of their standards, and figures of any section put together from
// plates and outlines.
//
// # Frames
//
// A stock shape has the width B along y (or U) and the height H along z (or V); "about
// y" is the EN 1993 strong-axis bending of a section that is higher than wide. A
// section put together (Built) has x to the right and y up, as seen along the member;
// angles are from x toward y. Units are mm and powers of mm.
//
// # Screening figures
//
// Stresses and utilisations are screening figures: they say whether a design is plainly
// too weak. They know nothing of fatigue, heat-affected metal, workmanship or warping.
//
// # Errors
//
// Every error names the part it is about (geom.PartError) and says what to do. Finite
// input never gives NaN or an infinity.
package section
