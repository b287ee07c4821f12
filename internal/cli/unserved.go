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
	for _, b := range s.Builds {
		if b.Pool {
			all.Add(b.Pos, "build "+b.Name+": pool: true: this version does not check pool barriers", without+", and hold the plan to the pool code yourself")
		}
	}
	return all.Err()
}
