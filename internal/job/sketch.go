package job

import (
	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// Sketch is the plan of a lot without a job: boards on the face of posts at
// even bays, along the proposed fences of the site or else round all sides of
// the lot, and stamped SKETCH. The fence stands 6 ft (1.8 m) high, 12 in
// (300 mm) inside the lot line, its bays at most 8 ft (2.4 m). Units other than
// metres are feet. The error is a source.Errors where there is nothing to fence.
func Sketch(title string, units measure.Units, site survey.Site) (plan.Spec, error) {
	if units != measure.Metres {
		units = measure.Feet
	}
	r := &reader{units: units}
	paths := sketchPaths(site)
	if len(paths) == 0 {
		var es source.Errors
		es.Add(source.Pos{}, "the site has neither a lot nor a proposed fence", `give the lot's outline, or a line with role "fence" and proposed true`)
		return plan.Spec{}, es.Err()
	}
	b := r.sketchBuild()
	s := plan.Spec{
		Title: title, Units: units, Mark: r.either(measure.Inch/8, 5*measure.Millimetre), Sketch: true,
		Builds: []plan.Build{b}, Sheet: r.sheet(nil),
	}
	for _, p := range paths {
		s.Fences = append(s.Fences, plan.FenceSpec{
			Pos: p.pos, Name: p.name, Build: b.Name, Path: p.path, Ends: [2]plan.EndKind{plan.EndFree, plan.EndFree},
			Insets:    []plan.Inset{{By: r.either(12*measure.Inch, 300*measure.Millimetre)}},
			WallGap:   r.either(measure.Inch, 25*measure.Millimetre),
			Tolerance: r.tolerance(b),
			PostPrice: r.postPrice(),
		})
	}
	return s, nil
}

// sketchPath is one fence to sketch.
type sketchPath struct {
	pos  source.Pos
	name string
	path []plan.Element
}

// sketchPaths are the proposed fences, or the lot's outline.
func sketchPaths(site survey.Site) []sketchPath {
	var out []sketchPath
	names := map[string]int{}
	for _, f := range site.Features {
		if f.Role != survey.RoleFence || !f.Proposed || len(f.Vertices) < 2 {
			continue
		}
		vertices := f.Vertices
		if f.Form == survey.Outline {
			vertices = append(append([]string(nil), vertices...), vertices[0])
		}
		name := f.Name
		if name == "" {
			name = "fence"
		}
		names[name]++
		if n := names[name]; n > 1 {
			name += " " + string(rune('A'-1+min(n, 26)))
		}
		out = append(out, sketchPath{f.Pos, name, atPoints(f.Pos, vertices)})
	}
	if len(out) > 0 || len(site.Lot.Corners) < 3 {
		return out
	}
	corners := append(append([]string(nil), site.Lot.Corners...), site.Lot.Corners[0])
	return []sketchPath{{name: "lot", path: atPoints(source.Pos{}, corners)}}
}

func atPoints(pos source.Pos, names []string) []plan.Element {
	out := make([]plan.Element, len(names))
	for i, n := range names {
		out[i] = plan.Element{Pos: pos, Kind: plan.AtPoint, Name: n}
	}
	return out
}

// sketchBuild is the build of a sketch: 4x4 posts (American Softwood Lumber
// Standard PS 20: 3-1/2 in) and 5/8 × 5-1/2 in boards, or their metric kin.
func (r *reader) sketchBuild() plan.Build {
	const mm = measure.Millimetre
	post := r.either(measure.Inch*7/2, 90*mm)
	most := r.either(8*measure.Foot, 2400*mm)
	return plan.Build{
		Name: "boards", Kind: plan.KindBoards, Mount: plan.MountFace, Height: r.either(6*measure.Foot, 1800*mm), GoodSide: "out",
		Post: plan.PostSize{Core: post, Face: post, Across: post, Terminal: post, Gate: post},
		Bay:  plan.BaySize{Most: most, Least: most / 2},
		Boards: &plan.BoardStock{Face: r.either(measure.Inch*11/2, 140*mm), Thick: r.either(measure.Inch*5/8, 16*mm), Over: "run", Ends: "gap",
			GapBest: r.either(measure.Inch/4, 6*mm), GapMost: r.either(measure.Inch/2, 12*mm)},
		Rails: &plan.Rails{Stock: 2 * most, Thick: r.either(measure.Inch*3/2, 38*mm)},
		Hole:  plan.Hole{Across: r.either(12*measure.Inch, 300*mm), Deep: r.either(30*measure.Inch, 750*mm)},
		Set:   "concrete", Split: "closing", Bend: bendUnder, EvenWithin: r.either(3*measure.Inch, 75*mm),
	}
}
