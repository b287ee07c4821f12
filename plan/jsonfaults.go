package plan

import (
	"fmt"
	"math"

	"stakerow/internal/source"
	"stakerow/plan/boards"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// faults are what a plan read from a file says that no plan says: names of
// what is not there, bays that do not fill their run.
func (p Plan) faults() source.Errors {
	c := faultFinder{plan: p, stakes: map[string]bool{}, fences: map[string]bool{}, builds: map[string]bool{}}
	if p.Mark <= 0 {
		c.wrong("the mark is %s", p.Mark)
	}
	c.listNames()
	c.lot()
	for _, f := range p.Fences {
		c.fence(f)
	}
	for i, r := range p.Runs {
		c.run(i, r)
	}
	c.posts()
	for _, s := range p.Stakes {
		c.stake(s)
	}
	for _, g := range p.Gates {
		c.gate(g)
	}
	for _, b := range p.Boards {
		c.known(c.builds, "build", b.Build, "the boards")
		for _, piece := range b.Pieces {
			if piece.Count < 0 || piece.Count > boards.MostBoards || piece.Times < 0 {
				c.wrong("the boards of %s count %d, %d times over", piece.Where, piece.Count, piece.Times)
			}
		}
	}
	for i, s := range p.Order {
		for _, n := range s.Stakes {
			c.known(c.stakes, "stake", n, fmt.Sprintf("step %d", i+1))
		}
	}
	for _, m := range p.Moved {
		c.known(c.stakes, "stake", m.Stake, "the list of moved stakes")
		c.runThere(m.Run, "the list of moved stakes")
	}
	for _, r := range p.Retired {
		c.runThere(r.Run, "the list of retired stakes")
		if c.stakes[r.Stake] {
			c.wrong("stake %q is retired, and there", r.Stake)
		}
	}
	return c.errs
}

// faultFinder collects the faults of one plan.
type faultFinder struct {
	plan                   Plan
	stakes, fences, builds map[string]bool
	errs                   source.Errors
}

func (c *faultFinder) wrong(format string, args ...any) {
	c.errs.Add(source.Pos{}, fmt.Sprintf(format, args...), "plan again from the job, rather than mend plan.json by hand")
}

func (c *faultFinder) known(names map[string]bool, what, name, where string) {
	if !names[name] {
		c.wrong("%s names %s %q, which the plan does not have", where, what, name)
	}
}

// runThere complains of a run that is not there; 0 names none.
func (c *faultFinder) runThere(run int, where string) {
	if run < 0 || run > len(c.plan.Runs) {
		c.wrong("%s names run %d of %d", where, run, len(c.plan.Runs))
	}
}

func (c *faultFinder) listNames() {
	once := func(names map[string]bool, what, name string) {
		if names[name] {
			c.wrong("%s %q is there twice", what, name)
		}
		names[name] = true
	}
	for _, b := range c.plan.Builds {
		once(c.builds, "build", b.Name)
	}
	for _, f := range c.plan.Fences {
		once(c.fences, "fence", f.Name)
	}
	for _, s := range c.plan.Stakes {
		once(c.stakes, "stake", s.Number)
	}
}

// lot faults a lot that no survey gives: corners that are no points, sides that
// do not go round it. A plan without a lot has neither.
func (c *faultFinder) lot() {
	lot, points := c.plan.Survey.Lot, map[string]bool{}
	for _, p := range c.plan.Survey.Points {
		points[p.Name] = true
	}
	if n := len(lot.Corners); n != len(lot.Sides) || n == 1 || n == 2 && lot.Sides[0].Arc == nil {
		c.wrong("the lot has %d corners and %d sides", n, len(lot.Sides))
		return
	}
	for i, name := range lot.Corners {
		c.known(points, "point", name, "the lot")
		if s := lot.Sides[i]; s.From != name || s.To != lot.Corners[(i+1)%len(lot.Corners)] {
			c.wrong("side %s–%s of the lot does not go from corner %s to the next", s.From, s.To, name)
		}
	}
}

func (c *faultFinder) fence(f Fence) {
	where := fmt.Sprintf("fence %q", f.Name)
	c.known(c.builds, "build", f.Build, where)
	if len(f.Legs) == 0 || len(f.Line) < 2 {
		c.wrong("%s has no line", where)
	}
	for _, v := range f.Line {
		c.place(where, v.At)
	}
	last := measure.Length(0)
	for _, g := range f.Legs {
		c.place(where, g.From.At)
		c.place(where, g.To.At)
		c.arc(where, g.Arc)
		if g.From.M < last || g.To.M < g.From.M || g.To.M > f.Length {
			c.wrong("%s has a leg from %s to %s on a length of %s", where, g.From.M, g.To.M, f.Length)
		}
		last = g.To.M
	}
}

func (c *faultFinder) run(i int, r Run) {
	where := fmt.Sprintf("run %d", i+1)
	if r.Number != i+1 {
		c.wrong("%s is numbered %d", where, r.Number)
	}
	c.known(c.fences, "fence", r.Fence, where)
	for _, n := range []string{r.From, r.To} {
		if n != "" { // a bracket has no stake
			c.known(c.stakes, "stake", n, where)
		}
	}
	if r.Start != startFrom && r.Start != startTo {
		c.wrong("%s starts at %q, neither from nor to", where, r.Start)
	}
	if !c.lengthAdds(r) {
		c.wrong("%s is %s long, and its %d marks with a rest of %s are not", where, r.Length, r.Marks, r.Rest)
	}
	if r.ToM-r.FromM != r.Length {
		c.wrong("%s runs from %s to %s, which is not its length of %s", where, r.FromM, r.ToM, r.Length)
	}
	c.arc(where, r.Arc)
	c.bays(where, r)
}

// furthest is how far in metres a place may be from the site's origin: no site
// is a thousand kilometres wide, and drawing needs numbers that stay numbers.
const furthest = 1e6

func (c *faultFinder) place(where string, at ground.Point) {
	if max(math.Abs(at.E), math.Abs(at.N)) > furthest {
		c.wrong("%s has a place %.3g m east and %.3g m north, which is on no site", where, at.E, at.N)
	}
}

func (c *faultFinder) arc(where string, a *ground.Arc) {
	if a == nil {
		return
	}
	for _, at := range []ground.Point{a.From, a.To, a.Center} {
		c.place(where, at)
	}
	if a.Radius <= 0 || a.Sweep <= 0 || a.Sweep >= 2*math.Pi {
		c.wrong("%s has an arc of radius %.3g m through %.3g°, which is none", where, a.Radius, a.Sweep*180/math.Pi)
	}
}

// lengthAdds reports whether marks and rest make the run's length, without
// overflow.
func (c *faultFinder) lengthAdds(r Run) bool {
	return c.plan.Mark > 0 && r.Length >= 0 && r.Rest.Abs() <= c.plan.Mark &&
		(r.Length-r.Rest)%c.plan.Mark == 0 && int64((r.Length-r.Rest)/c.plan.Mark) == int64(r.Marks)
}

func (c *faultFinder) bays(where string, r Run) {
	switch r.Layout {
	case layoutNone:
		if len(r.Bays) > 0 {
			c.wrong("%s has no layout, and bays", where)
		}
		return
	case layoutEven, layoutPanels, layoutFiller:
	default:
		c.wrong("%s is laid out by %q, which is no rule", where, r.Layout)
	}
	left := r.Marks
	for _, b := range r.Bays {
		if b <= 0 || b > left {
			c.wrong("the bays of %s do not fill its %d marks", where, r.Marks)
			return
		}
		left -= b
	}
	if left != 0 && len(r.Bays) > 0 || len(r.Bays) == 0 && r.Marks > 0 {
		c.wrong("the bays of %s leave %d of its %d marks", where, left, r.Marks)
	}
	for _, i := range r.CutBays {
		if i < 0 || i >= len(r.Bays) {
			c.wrong("%s cuts bay %d of %d", where, i+1, len(r.Bays))
		}
	}
	if r.Closing < 1 || r.Closing > max(len(r.Bays), 1) {
		c.wrong("%s closes with bay %d of %d", where, r.Closing, len(r.Bays))
	}
}

func (c *faultFinder) stake(s Stake) {
	where := fmt.Sprintf("stake %q", s.Number)
	c.known(c.fences, "fence", s.Fence, where)
	c.place(where, s.At)
	if kindRank(s.Kind) < 0 {
		c.wrong("%s is a %q, which is no kind of post", where, s.Kind)
	}
	for _, o := range s.On {
		if o.Run < 1 || o.Run > len(c.plan.Runs) {
			c.wrong("%s is on run %d of %d", where, o.Run, len(c.plan.Runs))
			continue
		}
		if r := c.plan.Runs[o.Run-1]; o.Distance < 0 || o.Distance > r.Length {
			c.wrong("%s is %s along run %d, which is %s long", where, o.Distance, o.Run, r.Length)
		}
	}
}

func (c *faultFinder) gate(g Gate) {
	where := fmt.Sprintf("gate %q", g.Name)
	c.known(c.fences, "fence", g.Fence, where)
	for _, n := range g.Posts {
		c.known(c.stakes, "stake", n, where)
	}
	for _, n := range g.Hinges {
		if n != g.Posts[0] && n != g.Posts[1] {
			c.wrong("%s hangs on stake %q, which is none of its posts", where, n)
		}
	}
	for _, leaf := range g.Leaves {
		for _, at := range []ground.Point{leaf.Pin, leaf.Shut, leaf.Open} {
			c.place(where, at)
		}
	}
	if len(g.Leaves) == 0 || len(g.Leaves) != len(g.HingeAt) || len(g.Leaves) != len(g.Hinges) {
		c.wrong("%s has %d leaves on %d pins", where, len(g.Leaves), len(g.HingeAt))
	}
}
