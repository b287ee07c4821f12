package ink

// Pt is a place on paper, millimetres from the upper left corner, y down.
type Pt struct{ X, Y float64 }

// Color is an opaque ink.
type Color struct{ R, G, B uint8 }

// Face is one of the fonts.
type Face uint8

// The faces.
const (
	Regular Face = iota
	Bold
	Mono
)

// Verb is one step of a Path.
type Verb uint8

// The verbs, with how many points each takes from Path.Pts.
const (
	Move   Verb = iota // 1
	LineTo             // 1
	Cubic              // 3
	Close              // 0
)

// Path is an outline of lines and cubics.
type Path struct {
	Verbs []Verb
	Pts   []Pt
}

// Pen strokes a path. Dash lengths are millimetres, on, off, …; Offset starts
// the pattern that far in, afresh for each subpath. Ends are butt, joins mitre
// (bevelled past four widths) unless Round.
type Pen struct {
	Color  Color
	Width  float64 // mm
	Dash   []float64
	Offset float64
	Round  bool
}

// Op is one thing drawn: exactly one of Fill, Stroke and Text is set.
type Op struct {
	Layer string
	// Subject ties the mark to what it shows ("stake 7", "bearing A–B"), for
	// tests and for grouping; "" for furniture.
	Subject string
	Fill    *Fill
	Stroke  *Stroke
	Text    *Text
}

// Fill fills a path, nonzero winding or even-odd.
type Fill struct {
	Path    Path
	Color   Color
	EvenOdd bool
}

// Stroke draws along a path.
type Stroke struct {
	Path Path
	Pen  Pen
}

// Text is one line of text. At is the anchor: AlignX 0 left, 0.5 middle, 1
// right; AlignY 0 baseline, 0.5 middle of the capitals, 1 top of the capitals.
type Text struct {
	S              string
	At             Pt
	Angle          float64 // radians clockwise
	Size           float64
	Face           Face
	AlignX, AlignY float64
	Color          Color
}

// Drawing is one sheet.
type Drawing struct {
	W, H    float64 // mm
	Title   string
	Subject string
	Layers  []string // in order of drawing
	Ops     []Op     // in order of drawing
}
