package survey

import (
	"encoding/json"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// siteForm is a Site in JSON: metres, degrees clockwise from north.
type siteForm struct {
	Frame      frameForm      `json:"frame"`
	Points     []pointForm    `json:"points"`
	Readings   []resultForm   `json:"readings"`
	Lot        lotForm        `json:"lot"`
	Closure    *closureForm   `json:"closure"`
	Adjustment adjustmentForm `json:"adjustment"`
	Features   []featureForm  `json:"features"`
	Findings   []Finding      `json:"findings"`
	Unplaced   []string       `json:"unplaced"`
	Tape       *tapeForm      `json:"tape"` // null where unknown
}

// tapeForm is a TapeAccuracy in JSON.
type tapeForm struct {
	Fixed measure.Length `json:"fixed"`
	Part  measure.Length `json:"part"`
	Per   measure.Length `json:"per"`
}

type frameForm struct {
	Origin       [2]float64 `json:"origin"`
	GroundHeight float64    `json:"ground_height"`
	North        string     `json:"north"`
	Geographic   bool       `json:"geographic"`
}

type pointForm struct {
	Name    string      `json:"name"`
	X       metres      `json:"x"`
	Y       metres      `json:"y"`
	SDX     metres      `json:"sd_x"`
	SDY     metres      `json:"sd_y"`
	Ellipse ellipseForm `json:"ellipse"`
	Found   string      `json:"found"`
	Taped   bool        `json:"taped"`
	Assumed bool        `json:"assumed"`
	Cov     [3]float64  `json:"cov"` // EE, EN, NN
}

// ellipseForm is the standard error ellipse.
type ellipseForm struct {
	Major   metres          `json:"major"`
	Minor   metres          `json:"minor"`
	Bearing measure.Bearing `json:"bearing"`
}

type closureForm struct {
	North    metres   `json:"north"`
	East     metres   `json:"east"`
	Distance metres   `json:"distance"`
	Ratio    *float64 `json:"ratio"` // null for a perfect closure
}

type adjustmentForm struct {
	Redundancy int     `json:"redundancy"`
	Sigma0     float64 `json:"sigma0"`
	Chi2       float64 `json:"chi2"`
	Passed     bool    `json:"passed"`
}

// MarshalJSON gives everything in the site but the covariances between points.
func (s Site) MarshalJSON() ([]byte, error) {
	form := siteForm{
		Frame:    frameForm{[2]float64{s.Frame.Lon, s.Frame.Lat}, s.Frame.GroundHeight, s.Frame.North, s.Frame.Geographic},
		Points:   make([]pointForm, len(s.Points)),
		Readings: make([]resultForm, len(s.Readings)),
		Lot:      formOfLot(s.Lot),
		Features: make([]featureForm, len(s.Features)),
		Findings: Listed(s.Findings),
		Unplaced: Listed(s.Unplaced),
		Adjustment: adjustmentForm{
			s.Adjustment.Redundancy, s.Adjustment.Sigma0, s.Adjustment.Chi2, s.Adjustment.Passed},
	}
	if s.Tape.Known() {
		form.Tape = (*tapeForm)(&s.Tape)
	}
	for i, p := range s.Points {
		form.Points[i] = formOfPoint(p)
	}
	for i, r := range s.Readings {
		form.Readings[i] = formOfResult(r)
	}
	for i, f := range s.Features {
		form.Features[i] = formOfFeature(f)
	}
	if c := s.Closure; c != nil {
		form.Closure = &closureForm{North: metres(c.North), East: metres(c.East), Distance: metres(c.Distance)}
		if c.Ratio != 0 {
			form.Closure.Ratio = &c.Ratio
		}
	}
	return json.Marshal(form)
}

// UnmarshalJSON reads what MarshalJSON gives.
func (s *Site) UnmarshalJSON(data []byte) error {
	var form siteForm
	if err := json.Unmarshal(data, &form); err != nil {
		return err
	}
	site := Site{
		Frame: Frame{Geographic: form.Frame.Geographic, Lon: form.Frame.Origin[0], Lat: form.Frame.Origin[1],
			GroundHeight: form.Frame.GroundHeight, North: form.Frame.North},
		Findings: Unlisted(form.Findings),
		Unplaced: Unlisted(form.Unplaced),
		Adjustment: Adjustment{
			form.Adjustment.Redundancy, form.Adjustment.Sigma0, form.Adjustment.Chi2, form.Adjustment.Passed},
	}
	if form.Tape != nil {
		site.Tape = TapeAccuracy(*form.Tape)
	}
	at := make(map[string]ground.Point, len(form.Points))
	for _, p := range form.Points {
		site.Points = append(site.Points, p.point())
		at[p.Name] = ground.Point{E: float64(p.X), N: float64(p.Y)}
	}
	for _, r := range form.Readings {
		site.Readings = append(site.Readings, r.result())
	}
	for _, f := range form.Features {
		feature, err := f.feature()
		if err != nil {
			return err
		}
		site.Features = append(site.Features, feature)
	}
	site.Lot = form.Lot.lot(at)
	if c := form.Closure; c != nil {
		site.Closure = &Closure{North: float64(c.North), East: float64(c.East), Distance: float64(c.Distance)}
		if c.Ratio != nil {
			site.Closure.Ratio = *c.Ratio
		}
	}
	*s = site
	return nil
}

func formOfPoint(p Point) pointForm {
	e := p.Cov.Ellipse()
	return pointForm{
		Name: p.Name, X: metres(p.At.E), Y: metres(p.At.N),
		SDX: metres(p.Cov.Along(ground.Vector{E: 1})), SDY: metres(p.Cov.Along(ground.Vector{N: 1})),
		Ellipse: ellipseForm{metres(e.Major), metres(e.Minor), e.Bearing},
		Found:   p.Found, Taped: p.Taped, Assumed: p.Assumed,
		Cov: [3]float64{p.Cov.EE, p.Cov.EN, p.Cov.NN},
	}
}

func (p pointForm) point() Point {
	return Point{
		Name: p.Name, At: ground.Point{E: float64(p.X), N: float64(p.Y)},
		Cov:   ground.Covariance{EE: p.Cov[0], EN: p.Cov[1], NN: p.Cov[2]},
		Found: p.Found, Taped: p.Taped, Assumed: p.Assumed,
	}
}
