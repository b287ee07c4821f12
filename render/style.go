package render

import "stakerow/render/ink"

// The layers of a sheet, lowest first.
const (
	layerGround = "ground" // streets, walks, drives, water, easements
	layerZones  = "zones"  // yards, setbacks, sight triangles, hand-dig zones
	layerSite   = "site"   // buildings, trees, obstacles, utilities
	layerLot    = "lot"    // lot lines and corners
	layerFence  = "fence"  // fence lines
	layerGates  = "gates"  // leaves and swings
	layerStakes = "stakes" // post symbols
	layerLabels = "labels" // words and numbers of the drawing
	layerFlags  = "flags"  // places of findings
	layerSheet  = "sheet"  // border, title block, legend
)

// Layers lists the layers of a plot plan, lowest first, by the names that a
// job's sheet takes.
func Layers() []string {
	return []string{layerGround, layerZones, layerSite, layerLot, layerFence, layerGates, layerStakes, layerLabels, layerFlags, layerSheet}
}

// The inks: dark enough to print in black and white, and told apart by line
// and shape as well. The hues are those of Okabe and Ito's palette for
// colour-blind readers (2008, from memory), darkened.
var (
	black    = ink.Color{}
	white    = ink.Color{R: 255, G: 255, B: 255}
	grey     = ink.Color{R: 110, G: 110, B: 110}
	pale     = ink.Color{R: 225, G: 225, B: 225}
	faint    = ink.Color{R: 240, G: 240, B: 240}
	seaBlue  = ink.Color{R: 0, G: 82, B: 136}
	paleBlue = ink.Color{R: 214, G: 232, B: 243}
	leaf     = ink.Color{R: 0, G: 110, B: 80}
	rust     = ink.Color{R: 170, G: 66, B: 0}
)

// Line widths in mm, the lot line the heaviest (Trenton OH asks that).
var (
	penLot      = ink.Pen{Color: black, Width: 0.7, Dash: []float64{10, 1.5, 2, 1.5, 2, 1.5}}
	penFence    = ink.Pen{Color: seaBlue, Width: 0.5}
	penOldFence = ink.Pen{Color: grey, Width: 0.4, Dash: []float64{4, 1.2}}
	penBuilding = ink.Pen{Color: black, Width: 0.35}
	penHatch    = ink.Pen{Color: grey, Width: 0.13}
	penThin     = ink.Pen{Color: black, Width: 0.18}
	penSwing    = ink.Pen{Color: seaBlue, Width: 0.18, Dash: []float64{1.2, 0.8}}
	penLeaf     = ink.Pen{Color: seaBlue, Width: 0.4}
	penEasement = ink.Pen{Color: grey, Width: 0.25, Dash: []float64{3, 1.5}}
	penWalk     = ink.Pen{Color: grey, Width: 0.25, Dash: []float64{0.8, 0.8}}
	penStreet   = ink.Pen{Color: grey, Width: 0.25}
	penUtility  = ink.Pen{Color: rust, Width: 0.35, Dash: []float64{5, 1, 1, 1}}
	penTree     = ink.Pen{Color: leaf, Width: 0.25}
	penWater    = ink.Pen{Color: seaBlue, Width: 0.25}
	penObstacle = ink.Pen{Color: rust, Width: 0.35}
	penBorder   = ink.Pen{Color: black, Width: 0.5}
	penRule     = ink.Pen{Color: black, Width: 0.25}
	penSymbol   = ink.Pen{Color: black, Width: 0.25}
)

// Lettering, as the height of capitals in mm: 2.5 on the drawing (0.10 in,
// Marblehead OH 153.058), never under 2.
const (
	capsDrawing = 2.5
	capsSmall   = 2.0
	capsTitle   = 3.6
)

// em is the type size whose capitals are caps mm high.
func em(face ink.Face, caps float64) float64 { return caps / ink.CapHeight(face, 1) }
