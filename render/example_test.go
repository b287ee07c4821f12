package render_test

import (
	"fmt"
	"io"
	"log"

	"stakerow/plan"
	"stakerow/render"
	"stakerow/render/png"
	"stakerow/survey"
	"stakerow/survey/geojson"
	"stakerow/survey/measure"
)

// lot is what a map gives: one polygon, longitude before latitude.
const lot = `{"type": "Polygon", "coordinates": [[[-98.3512, 39.8427], [-98.3509, 39.8427],
	[-98.3509, 39.8430], [-98.3512, 39.8430], [-98.3512, 39.8427]]]}`

// From a lot to its plot plan: one fence, half a metre inside the side from B
// to C, on square posts of 10 cm.
func Example() {
	notes, err := geojson.Read("lot.geojson", []byte(lot), geojson.Options{})
	if err != nil {
		log.Fatal(err)
	}
	site, err := survey.Locate([]survey.Notes{notes}, survey.Options{Units: measure.Metres})
	if err != nil {
		log.Fatal(err)
	}
	const cm = measure.Centimetre
	post := plan.PostSize{Core: 10 * cm, Face: 10 * cm, Across: 10 * cm, Terminal: 10 * cm, Gate: 10 * cm}
	build := plan.Build{Name: "rail", Kind: plan.KindBoards, Mount: plan.MountFace, Height: 120 * cm, GoodSide: "out", Post: post,
		Bay: plan.BaySize{Most: 240 * cm, Least: 120 * cm}, Hole: plan.Hole{Across: 30 * cm, Deep: 80 * cm}, Set: "tamped", Split: "closing"}
	fence := plan.FenceSpec{Name: "back", Build: "rail", Insets: []plan.Inset{{By: 50 * cm}}, Ends: [2]plan.EndKind{plan.EndFree, plan.EndFree},
		Path: []plan.Element{{Kind: plan.AtPoint, Name: "B"}, {Kind: plan.AtPoint, Name: "C"}}}
	p, err := plan.Make(site, plan.Spec{Title: "Back fence", Units: measure.Metres, Mark: cm / 2,
		Builds: []plan.Build{build}, Fences: []plan.FenceSpec{fence}, Sheet: plan.Sheet{Paper: "a4"}})
	if err != nil {
		log.Fatal(err)
	}
	sheets, err := render.PlotPlan(p)
	if err != nil {
		log.Fatal(err)
	}
	err = png.Write(io.Discard, sheets[0], png.Options{DPI: 150}) // a file takes its place
	fmt.Println(len(p.Stakes), "stakes; bays in marks of 5 mm:", p.Runs[0].Bays, err)
	// Output:
	// 15 stakes; bays in marks of 5 mm: [462 461 462 461 462 461 462 462 461 462 461 462 461 462] <nil>
}
