package plan

import (
	"maps"

	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// stakeForm is one stake. Distances to the lot line are null where there is no
// lot, longitude and latitude where the site has none.
type stakeForm struct {
	Number    string          `json:"number"`
	Kind      PostKind        `json:"kind"`
	State     string          `json:"state"`
	Measured  *measuredForm   `json:"measured,omitempty"`
	Fence     string          `json:"fence"`
	M         measure.Length  `json:"m"`
	On        []onForm        `json:"on"`
	X         metresForm      `json:"x"`
	Y         metresForm      `json:"y"`
	Lon       *onEarth        `json:"lon"`
	Lat       *onEarth        `json:"lat"`
	Hole      holeForm        `json:"hole"`
	ToLotLine *measure.Length `json:"to_lot_line"`
	FaceToLot *measure.Length `json:"face_to_lot_line"`
	HoleToLot *measure.Length `json:"hole_to_lot_line"`
	SDAcross  metresForm      `json:"sd_across"`
	Ties      []tieForm       `json:"ties"`
	Quality   *qualityForm    `json:"quality"`
	Along     measure.Bearing `json:"along"`
	Face      measure.Length  `json:"face"`
	Across    measure.Length  `json:"across"`
	Remarks   []string        `json:"remarks"`
}

type measuredForm struct {
	At   *measure.Length `json:"at"`
	Off  measure.Length  `json:"off"`
	Side string          `json:"side"`
}

func formOfMeasured(m *Measured) *measuredForm {
	if m == nil {
		return nil
	}
	f := &measuredForm{Off: m.Off, Side: m.Side}
	if m.HasAt {
		f.At = &m.At
	}
	return f
}

func (f *measuredForm) measured() *Measured {
	if f == nil {
		return nil
	}
	m := &Measured{Off: f.Off, Side: f.Side}
	if f.At != nil {
		m.HasAt, m.At = true, *f.At
	}
	return m
}

type onForm struct {
	Run      int            `json:"run"`
	Distance measure.Length `json:"distance"`
}

type holeForm struct {
	Across  measure.Length `json:"across"`
	Deep    measure.Length `json:"deep"`
	HandDig bool           `json:"hand_dig"`
}

type tieForm struct {
	From     string         `json:"from"`
	Distance measure.Length `json:"distance"`
}

type qualityForm struct {
	OneZero  metresForm `json:"one_zero"`
	BayByBay metresForm `json:"bay_by_bay"`
	TwoTies  metresForm `json:"two_ties"`
	Best     string     `json:"best"`
}

// formOfStake prints stakes of a site with that frame.
func formOfStake(frame survey.Frame) func(Stake) stakeForm {
	return func(s Stake) stakeForm {
		f := stakeForm{Number: s.Number, Kind: s.Kind, State: s.State, Measured: formOfMeasured(s.Measured), Fence: s.Fence, M: s.M,
			On: forms(s.On, func(o OnRun) onForm { return onForm(o) }),
			X:  nearestForm(s.At.E), Y: nearestForm(s.At.N), Hole: holeForm(s.Hole),
			ToLotLine: toLot(s.ToLotLine, s.HasToLotLine), FaceToLot: toLot(s.FaceToLotLine, s.HasToLotLine),
			HoleToLot: toLot(s.HoleToLotLine, s.HasToLotLine), SDAcross: nearestForm(s.SDAcross),
			Ties:  forms(s.Ties, func(t Tie) tieForm { return tieForm(t) }),
			Along: s.Along, Face: s.Face, Across: s.Across, Remarks: survey.Listed(s.Remarks)}
		f.Lon, f.Lat = lonLat(frame, s.At)
		if q := s.Quality; q != nil {
			f.Quality = &qualityForm{nearestForm(q.OneZero), nearestForm(q.BayByBay), nearestForm(q.TwoTies), q.Best}
		}
		return f
	}
}

// onEarth is a longitude or latitude in degrees; eleven decimals are 1 µm.
type onEarth float64

func (d onEarth) MarshalJSON() ([]byte, error) { return measure.AppendDecimal(nil, float64(d), 11) }

// lonLat is a point's longitude and latitude, nil where the site has none.
func lonLat(frame survey.Frame, at ground.Point) (lon, lat *onEarth) {
	if !frame.Geographic {
		return nil, nil
	}
	x, y := frame.LonLat(toNanometre(at))
	return (*onEarth)(&x), (*onEarth)(&y)
}

func (f stakeForm) stake() Stake {
	s := Stake{Number: f.Number, Kind: f.Kind, State: f.State, Measured: f.Measured.measured(), Fence: f.Fence, M: f.M,
		On: values(f.On, func(o onForm) OnRun { return OnRun(o) }),
		At: ground.Point{E: float64(f.X), N: float64(f.Y)}, Hole: HoleAt(f.Hole),
		HasToLotLine: f.ToLotLine != nil, ToLotLine: fromLot(f.ToLotLine), FaceToLotLine: fromLot(f.FaceToLot),
		HoleToLotLine: fromLot(f.HoleToLot), SDAcross: float64(f.SDAcross),
		Ties:  values(f.Ties, func(t tieForm) Tie { return Tie(t) }),
		Along: f.Along, Face: f.Face, Across: f.Across, Remarks: survey.Unlisted(f.Remarks)}
	if q := f.Quality; q != nil {
		s.Quality = &Quality{float64(q.OneZero), float64(q.BayByBay), float64(q.TwoTies), q.Best}
	}
	return s
}

type zoneForm struct {
	Kind    string         `json:"kind"`
	Polygon []pointForm    `json:"polygon"`
	Height  measure.Length `json:"height"`
	Source  string         `json:"source"`
}

func formOfZone(z Zone) zoneForm {
	return zoneForm{z.Kind, forms(z.Polygon, formOfPoint), z.Height, z.Source}
}

func (f zoneForm) zone() Zone {
	return Zone{f.Kind, values(f.Polygon, pointForm.point), f.Height, f.Source}
}

type obstacleForm struct {
	Name   string         `json:"name"`
	At     pointForm      `json:"at"`
	Radius measure.Length `json:"radius"`
	Clear  measure.Length `json:"clear"`
	Pass   string         `json:"pass"`
	Role   string         `json:"role"`
}

func formOfObstacle(o Obstacle) obstacleForm {
	return obstacleForm{o.Name, formOfPoint(o.At), o.Radius, o.Clear, o.Pass, o.Role}
}

func (f obstacleForm) obstacle() Obstacle {
	return Obstacle{f.Name, f.At.point(), f.Radius, f.Clear, f.Pass, f.Role}
}

type countsForm struct {
	Posts    map[PostKind]int `json:"posts"`
	Bays     int              `json:"bays"`
	Panels   int              `json:"panels"`
	Boards   int              `json:"boards"`
	Concrete metresForm       `json:"concrete"`
	CutFrom  int              `json:"cut_from"`
}

func formOfCounts(c Counts) countsForm {
	posts := maps.Clone(c.Posts)
	if posts == nil {
		posts = map[PostKind]int{}
	}
	return countsForm{posts, c.Bays, c.Panels, c.Boards, nearestForm(c.Concrete), c.CutFrom}
}

func (f countsForm) counts() Counts {
	posts := f.Posts
	if len(posts) == 0 {
		posts = nil
	}
	return Counts{Posts: posts, Bays: f.Bays, Panels: f.Panels, CutFrom: f.CutFrom, Boards: f.Boards, Concrete: float64(f.Concrete)}
}

type stepForm struct {
	Step   int      `json:"step"`
	Do     string   `json:"do"`
	Stakes []string `json:"stakes"`
}

func formOfOrder(order []Step) []stepForm {
	out := make([]stepForm, len(order))
	for i, s := range order {
		out[i] = stepForm{i + 1, s.Do, survey.Listed(s.Stakes)}
	}
	return out
}

type itemForm struct {
	Item    string `json:"item"`
	Shown   bool   `json:"shown"`
	Lacking string `json:"lacking"`
}

type movedForm struct {
	Stake string         `json:"stake"`
	By    measure.Length `json:"by"`
	X     metresForm     `json:"x"`
	Y     metresForm     `json:"y"`
	Run   int            `json:"run"`
	From  measure.Length `json:"from"`
	To    measure.Length `json:"to"`
}

func formOfMoved(m Moved) movedForm {
	return movedForm{m.Stake, m.By, nearestForm(m.Was.E), nearestForm(m.Was.N), m.Run, m.From, m.To}
}

func (f movedForm) moved() Moved {
	return Moved{f.Stake, f.By, ground.Point{E: float64(f.X), N: float64(f.Y)}, f.Run, f.From, f.To}
}

type retiredForm struct {
	Stake string         `json:"stake"`
	X     metresForm     `json:"x"`
	Y     metresForm     `json:"y"`
	Now   bool           `json:"now"`
	Run   int            `json:"run"`
	From  measure.Length `json:"from"`
}

func formOfRetired(r Retired) retiredForm {
	return retiredForm{r.Stake, nearestForm(r.At.E), nearestForm(r.At.N), r.Now, r.Run, r.From}
}

func (f retiredForm) retired() Retired {
	return Retired{f.Stake, ground.Point{E: float64(f.X), N: float64(f.Y)}, f.Now, f.Run, f.From}
}
