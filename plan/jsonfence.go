package plan

import (
	"stakerow/survey"
	"stakerow/survey/measure"
)

// fenceForm is one fence line; to_lot_line is null where there is no lot.
type fenceForm struct {
	Name      string           `json:"name"`
	Build     string           `json:"build"`
	Closed    bool             `json:"closed"`
	Length    measure.Length   `json:"length"`
	Height    measure.Length   `json:"height"`
	Inset     []measure.Length `json:"inset"`
	Line      []vertexForm     `json:"line"`
	WKT       string           `json:"wkt"`
	ToLotLine *clearForm       `json:"to_lot_line"`
	Legs      []legForm        `json:"legs"`
	Ends      [2]EndKind       `json:"ends"`
}

type clearForm struct {
	Start measure.Length `json:"start"`
	Least measure.Length `json:"least"`
	End   measure.Length `json:"end"`
}

type legForm struct {
	From       vertexForm     `json:"from"`
	To         vertexForm     `json:"to"`
	Arc        *arcForm       `json:"arc"`
	Side       [2]string      `json:"side"`
	Inset      measure.Length `json:"inset"`
	InwardLeft bool           `json:"inward_left"`
	Drop       measure.Length `json:"drop"`
}

func formOfFence(v Fence) fenceForm {
	f := fenceForm{Name: v.Name, Build: v.Build, Closed: v.Closed, Length: v.Length, Height: v.Height, Inset: survey.Listed(v.Insets),
		Line: forms(v.Line, formOfVertex), WKT: wkt(v),
		Legs: forms(v.Legs, formOfLeg), Ends: [2]EndKind{v.Start, v.End}}
	if v.HasToLotLine {
		c := clearForm(v.ToLotLine)
		f.ToLotLine = &c
	}
	return f
}

func formOfLeg(g Leg) legForm {
	return legForm{formOfVertex(g.From), formOfVertex(g.To), formOfArc(g.Arc), g.Side, g.Inset, g.InwardLeft, g.Drop}
}

func (f fenceForm) fence() Fence {
	v := Fence{Name: f.Name, Build: f.Build, Closed: f.Closed, Length: f.Length, Height: f.Height, Insets: survey.Unlisted(f.Inset),
		Line: values(f.Line, func(v vertexForm) Vertex { return Vertex(v) }),
		Legs: values(f.Legs, legForm.leg), Start: f.Ends[0], End: f.Ends[1]}
	if f.ToLotLine != nil {
		v.HasToLotLine = true
		v.ToLotLine = struct{ Start, Least, End measure.Length }(*f.ToLotLine)
	}
	return v
}

func (f legForm) leg() Leg {
	return Leg{Vertex(f.From), Vertex(f.To), f.Arc.arc(), f.Side, f.Inset, f.InwardLeft, f.Drop}
}

// runForm is one run. cut_bays counts them; cut lists them, counted from 1.
type runForm struct {
	Run           int            `json:"run"`
	Fence         string         `json:"fence"`
	From          string         `json:"from"`
	To            string         `json:"to"`
	Length        measure.Length `json:"length"`
	Marks         int            `json:"marks"`
	Rest          measure.Length `json:"rest"`
	EndAllowances [2]int         `json:"end_allowances"`
	Layout        string         `json:"layout"`
	Bays          []int          `json:"bays"`
	CutBays       int            `json:"cut_bays"`
	Start         string         `json:"start"`
	ClosingBay    int            `json:"closing_bay"`
	LeftToClose   measure.Length `json:"left_to_close"`
	Tolerance     measure.Length `json:"tolerance"`
	NoLess        bool           `json:"no_less,omitempty"`
	Naive         naiveForm      `json:"naive"`
	KeepOuts      []keepOutForm  `json:"keep_outs"`
	Curve         *arcForm       `json:"curve"`
	Jog           bool           `json:"jog"`
	FromM         measure.Length `json:"from_m"`
	ToM           measure.Length `json:"to_m"`
	Cut           []int          `json:"cut"`
	Drop          measure.Length `json:"drop"`
	Why           string         `json:"why"`
}

type naiveForm struct {
	From string         `json:"from"`
	Left measure.Length `json:"left"`
	Text string         `json:"text"`
}

type keepOutForm struct {
	From measure.Length `json:"from"`
	To   measure.Length `json:"to"`
	Why  string         `json:"why"`
}

func formOfRun(r Run) runForm {
	return runForm{Run: r.Number, Fence: r.Fence, From: r.From, To: r.To, Length: r.Length, Marks: r.Marks, Rest: r.Rest,
		EndAllowances: r.Ends, Layout: r.Layout, Bays: survey.Listed(r.Bays), CutBays: len(r.CutBays), Start: r.Start,
		ClosingBay: r.Closing, LeftToClose: r.LeftToClose, Tolerance: r.Tolerance, NoLess: r.NoLess, Naive: naiveForm(r.Naive),
		KeepOuts: forms(r.KeepOuts, func(k KeepOut) keepOutForm { return keepOutForm(k) }),
		Curve:    formOfArc(r.Arc), Jog: r.Jog, FromM: r.FromM, ToM: r.ToM,
		Cut: forms(r.CutBays, func(i int) int { return i + 1 }), Drop: r.Drop, Why: r.Why}
}

func (f runForm) runValue() Run {
	return Run{Number: f.Run, Fence: f.Fence, From: f.From, To: f.To, FromM: f.FromM, ToM: f.ToM, Length: f.Length,
		Marks: f.Marks, Rest: f.Rest, Ends: f.EndAllowances, Layout: f.Layout, Bays: survey.Unlisted(f.Bays),
		CutBays: values(f.Cut, func(i int) int { return i - 1 }), Start: f.Start, Closing: f.ClosingBay,
		LeftToClose: f.LeftToClose, Tolerance: f.Tolerance, NoLess: f.NoLess, Naive: Naive(f.Naive),
		KeepOuts: values(f.KeepOuts, func(k keepOutForm) KeepOut { return KeepOut(k) }),
		Arc:      f.Curve.arc(), Jog: f.Jog, Drop: f.Drop, Why: f.Why}
}

// gateForm is one gate.
type gateForm struct {
	Name      string           `json:"name"`
	Posts     [2]string        `json:"posts"`
	Hinges    []string         `json:"hinges"`
	Clear     measure.Length   `json:"clear"`
	Leaves    []leafForm       `json:"leaves"`
	Slid      measure.Length   `json:"slid"`
	Swing     string           `json:"swing"`
	HingeAt   []measure.Length `json:"hinge_at"`
	Fence     string           `json:"fence"`
	SwingLeft bool             `json:"swing_left"`
	HingeGap  measure.Length   `json:"hinge_gap"`
	LatchGap  measure.Length   `json:"latch_gap"`
	MiddleGap measure.Length   `json:"middle_gap"`
	LeafThick measure.Length   `json:"leaf_thick"`
}

type leafForm struct {
	Width measure.Length `json:"width"`
	Pin   pointForm      `json:"pin"`
	Shut  pointForm      `json:"shut"`
	Open  pointForm      `json:"open"`
}

func formOfGate(g Gate) gateForm {
	return gateForm{Name: g.Name, Posts: g.Posts, Hinges: survey.Listed(g.Hinges), Clear: g.Clear,
		Leaves: forms(g.Leaves, func(l Leaf) leafForm {
			return leafForm{l.Width, formOfPoint(l.Pin), formOfPoint(l.Shut), formOfPoint(l.Open)}
		}),
		Slid: g.Slid, Swing: g.Swing, HingeAt: survey.Listed(g.HingeAt), Fence: g.Fence, SwingLeft: g.SwingLeft,
		HingeGap: g.HingeGap, LatchGap: g.LatchGap, MiddleGap: g.MiddleGap, LeafThick: g.LeafThick}
}

func (f gateForm) gate() Gate {
	return Gate{Name: f.Name, Fence: f.Fence, Posts: f.Posts, Hinges: survey.Unlisted(f.Hinges), Clear: f.Clear,
		Leaves: values(f.Leaves, func(l leafForm) Leaf {
			return Leaf{l.Width, l.Pin.point(), l.Shut.point(), l.Open.point()}
		}),
		Slid: f.Slid, Swing: f.Swing, SwingLeft: f.SwingLeft, HingeAt: survey.Unlisted(f.HingeAt),
		HingeGap: f.HingeGap, LatchGap: f.LatchGap, MiddleGap: f.MiddleGap, LeafThick: f.LeafThick}
}

// boardsForm is one build's boards.
type boardsForm struct {
	Build  string         `json:"build"`
	Spread measure.Length `json:"spread"`
	Pieces []pieceForm    `json:"pieces"`
}

type pieceForm struct {
	Where  string         `json:"where"`
	Clear  measure.Length `json:"clear"`
	Count  int            `json:"count"`
	Gap    measure.Length `json:"gap"`
	Ripped measure.Length `json:"ripped"`
	Ends   int            `json:"ends"`
	Times  int            `json:"times"`
}

func formOfBoards(b BoardLayout) boardsForm {
	return boardsForm{b.Build, b.Spread, forms(b.Pieces, func(p BoardPiece) pieceForm { return pieceForm(p) })}
}

func (f boardsForm) boards() BoardLayout {
	return BoardLayout{f.Build, f.Spread, values(f.Pieces, func(p pieceForm) BoardPiece { return BoardPiece(p) })}
}
