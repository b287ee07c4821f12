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
	return all.Err()
}
