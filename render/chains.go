package render

import (
	"fmt"
	"math"
	"slices"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// chain is the dimensions of one straight run: a line of its bays with a
// stroke at every post, and beyond it a line of its whole length.
type chain struct {
	run      plan.Run
	from, to ink.Pt    // the run's ends on paper, in walking order
	posts    []float64 // the places of posts from there, mm, both ends among them
	bays     []spanText
	whole    string // "" where the line of bays says it
}

// spanText is a text over a stretch of a dimension line.
type spanText struct {
	from, to float64 // the stretch, mm
	text     string
	at       float64 // the middle of the text
}

// How texts stand on a dimension line, mm: their room to the line, the least
// room between two, how far one may reach beyond its stretch, how far it stays off
// the line's ends, and how near to each other posts have strokes.
const (
	textOverLine = 1.1
	betweenTexts = 2.5
	mostOverhang = 1.2
	beforeEnd    = 0.6
	betweenPosts = 2.2
)

func dimensionWidth(text string) float64 {
	return ink.Advance(ink.Regular, text, em(ink.Regular, capsSmall))
}

// chainOf makes the chain of a run along a straight leg; ok is false where its
// texts have no room along it.
func (s *plot) chainOf(r plan.Run, g plan.Leg) (chain, bool) {
	if g.Arc != nil || len(r.Bays) == 0 || r.Marks <= 0 || g.To.M <= g.From.M {
		return chain{}, false
	}
	at := func(m measure.Length) ink.Pt {
		t := float64(m-g.From.M) / float64(g.To.M-g.From.M)
		return s.view.at(g.From.At.Add(g.To.At.Sub(g.From.At).Scale(t)))
	}
	c := chain{run: r, from: at(r.FromM), to: at(r.ToM)}
	length := distance(c.from, c.to)
	widths := slices.Clone(r.Bays) // in walking order
	if r.StartsAtTo() {
		slices.Reverse(widths)
	}
	c.posts = []float64{0}
	sum := 0
	for _, b := range widths {
		sum += b
		c.posts = append(c.posts, length*float64(sum)/float64(r.Marks))
	}
	return c, c.say(s, widths, length)
}

// say chooses the texts of a chain, the fullest that fit: every bay, the bays
// in one, or on the one line of the whole run how many there are, or its length
// alone, without strokes at the posts between.
func (c *chain) say(s *plot, widths []int, length float64) bool {
	whole := s.tape(c.run.Length)
	alone := func(text string) []spanText { return []spanText{{to: length, text: text}} }
	if many := fmt.Sprintf("%s in %s", whole, bays(len(widths))); len(widths) > 1 {
		if length/float64(c.run.Marks)*float64(slices.Min(widths)) < betweenPosts {
			c.posts = []float64{0, length}
			set, ok := spread(alone(many), length)
			c.bays = set
			return ok
		}
		for _, texts := range [][]spanText{s.exactBays(c.posts, widths), alone(s.baysInOne(widths))} {
			if set, ok := spread(texts, length); ok {
				c.bays, c.whole = set, whole
				return true
			}
		}
		if set, ok := spread(alone(many), length); ok {
			c.bays = set
			return true
		}
	}
	c.posts = []float64{0, length}
	set, ok := spread(alone(whole), length)
	c.bays = set
	return ok
}

// exactBays tells every bay, neighbours that are equal once.
func (s *plot) exactBays(posts []float64, widths []int) []spanText {
	var out []spanText
	for i := 0; i < len(widths); {
		j := i
		for j < len(widths) && widths[j] == widths[i] {
			j++
		}
		text := s.tape(s.plan.Mark * measure.Length(widths[i]))
		if j-i > 1 {
			text = fmt.Sprintf("%d × %s", j-i, text)
		}
		out = append(out, spanText{from: posts[i], to: posts[j], text: text})
		i = j
	}
	return out
}

// baysInOne tells the bays by their number, the narrowest and the widest.
func (s *plot) baysInOne(widths []int) string {
	bay := func(marks int) string { return s.tape(s.plan.Mark * measure.Length(marks)) }
	if slices.Min(widths) == slices.Max(widths) {
		return fmt.Sprintf("%d × %s", len(widths), bay(widths[0]))
	}
	return fmt.Sprintf("%d of %s to %s", len(widths), bay(slices.Min(widths)), bay(slices.Max(widths)))
}

// tape prints a length as it is set out.
func (s *plot) tape(l measure.Length) string { return s.plan.Units.Tape(l, s.plan.Mark) }

// spread sets texts along a line of a length, each over the middle of its
// stretch or as near as its neighbours leave it. ok is false where they do not
// all fit.
func spread(texts []spanText, length float64) (set []spanText, ok bool) {
	set = slices.Clone(texts)
	edge := beforeEnd
	for i := range set {
		half := dimensionWidth(set[i].text) / 2
		set[i].at = math.Max((set[i].from+set[i].to)/2, edge+half)
		edge = set[i].at + half + betweenTexts
	}
	edge = length - beforeEnd
	for i := len(set) - 1; i >= 0; i-- {
		half := dimensionWidth(set[i].text) / 2
		set[i].at = math.Min(set[i].at, edge-half)
		edge = set[i].at - half - betweenTexts
		over := math.Max(set[i].from-(set[i].at-half), set[i].at+half-set[i].to)
		if over > mostOverhang || set[i].at-half < beforeEnd-1e-9 {
			return nil, false
		}
	}
	return set, len(set) > 0
}

// outsideLeft reports whether the outside of a fence lies to the left of a leg:
// away from the lot where it follows a side, else away from the ground that the
// fence goes round.
func outsideLeft(f plan.Fence, g plan.Leg) bool {
	if g.Side != [2]string{} {
		return !g.InwardLeft
	}
	return ground.Ring(f.Points()).Area() < 0 // clockwise: the inside is on the right
}
