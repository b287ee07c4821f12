package plan

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey/ground"
)

// ReadSince reads the plan.json that a new plan is to follow. Numbers painted
// on stakes hang on it, so that one that was changed since it was written is
// refused, even where it still makes sense. The error is a source.Errors with
// the file's name.
func ReadSince(name string, data []byte) (Plan, error) {
	p, err := Read(name, data)
	if err != nil {
		return Plan{}, err
	}
	form, err := decodePlan(data)
	if err != nil {
		return Plan{}, wrongFile(name, data, err)
	}
	if form.Seal == "" || form.Seal != sealOf(form) {
		var errs source.Errors
		errs.Add(source.Pos{File: name}, "a plan that was changed since it was written: its seal does not fit what it says",
			"give the plan.json that stakerow plan wrote, as it wrote it; what has become of stakes goes into the job, under set")
		return Plan{}, errs.Err()
	}
	return p, nil
}

// sealOf is the digest of a plan without its seal, whatever its line ends and
// indents are.
func sealOf(f planForm) string {
	f.Seal = ""
	data, err := json.Marshal(f)
	if err != nil {
		return "" // what cannot be printed has no seal that fits
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// sameGround is how far in metres a corner of the lot may move between two plans
// of one lot: better readings move corners by as much as a map is off, other
// lots lie further.
const sameGround = 3.0

// sameJob complains of an earlier plan that is of another job.
func (p *planner) sameJob() {
	old := p.since.plan
	pos := source.Pos{File: p.spec.Pos.File}
	if old.Mark != p.spec.Mark {
		p.errs.Add(pos, fmt.Sprintf("a mark of %s, and the plan that this one is to follow was staked to %s", p.spec.Mark, old.Mark), "write the same mark, or plan afresh without --since")
	}
	var were, are []string
	shared := false
	for _, f := range old.Fences {
		were = append(were, family(f.Name))
	}
	for _, f := range p.spec.Fences {
		are = append(are, f.Name)
		shared = shared || slices.Contains(were, f.Name)
	}
	if !shared {
		p.errs.Add(pos, fmt.Sprintf("fences %s, and the plan that this one is to follow has %s: it is of another job", strings.Join(are, ", "), strings.Join(slices.Compact(were), ", ")),
			"give the plan.json of this job")
		return
	}
	if away, corner, ok := p.furthestCorner(); ok && away > sameGround {
		p.errs.Add(pos, fmt.Sprintf("a lot with corner %s %.2f m from where the plan that this one is to follow has it: it is of another job, or of another survey", corner, away),
			"give the plan.json of this job; after a new survey, plan afresh without --since")
	}
}

// furthestCorner is the corner of the lot that is furthest from where the
// earlier plan has it; ok is false where the two lots share none, or have none.
func (p *planner) furthestCorner() (away float64, corner string, ok bool) {
	was := map[string]ground.Point{}
	for _, q := range p.since.plan.Survey.Points {
		was[q.Name] = q.At
	}
	for _, q := range p.site.Points {
		at, known := was[q.Name]
		if !known || !slices.Contains(p.site.Lot.Corners, q.Name) {
			continue
		}
		if d := at.Dist(q.At); !ok || d > away {
			away, corner, ok = d, q.Name, true
		}
	}
	return away, corner, ok
}
