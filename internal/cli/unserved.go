package cli

import (
	"stakerow/internal/source"
	"stakerow/plan"
)

// unserved complains of what a job asks for and no room below does yet: better
// refused than left out in silence.
func unserved(s plan.Spec) error {
	var all source.Errors
	const without = "leave it out"
	for _, r := range s.Rules.Given {
		all.Add(r.Pos, "rules: "+r.Key+": this version checks with its own figures alone", without+", and hold the plan to the local figure yourself")
	}
	for _, o := range s.Obstacles {
		if o.Pass == "jog" || o.Pass == "stop" {
			all.Add(o.Pos, "obstacle "+o.Name+": pass: "+o.Pass+": this version does not lead a fence round an obstacle or stop it there",
				"lead the path round it by points of your own, or write pass: shift")
		}
	}
	for _, f := range s.Fences {
		if f.JogSide != "" || f.PostPrice != 0 {
			all.Add(f.Pos, "fence "+f.Name+": jog_side and post_price: this version makes no jogs", without)
		}
	}
	for _, b := range s.Builds {
		if b.Pool {
			all.Add(b.Pos, "build "+b.Name+": pool: true: this version does not check pool barriers", without+", and hold the plan to the pool code yourself")
		}
	}
	return all.Err()
}
