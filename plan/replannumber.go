package plan

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"stakerow/survey/measure"
)

// class groups the kinds of post that one stake may be after the other: what
// was staked for a gate does not become a corner.
func class(k PostKind) PostKind {
	switch k {
	case PostHinge, PostLatch:
		return PostHinge
	case PostCorner, PostBend:
		return PostCorner
	default:
		return k
	}
}

// keepNumbers gives the stakes their numbers: those of the earlier stakes that
// they are, and new ones.
func (p *planner) keepNumbers() {
	p.was = make([]int, len(p.plan.Stakes))
	for i := range p.was {
		p.was[i] = -1
	}
	taken := map[int]bool{}
	for li := range p.lines {
		l := &p.lines[li]
		for m, i := range l.stakes {
			if h := p.heldStake(l, m); h != nil && p.was[i] < 0 && !taken[h.stake] {
				p.was[i], taken[h.stake] = h.stake, true
			}
		}
	}
	var done []string
	for li := range p.lines {
		name := family(p.lines[li].fence.Name)
		if slices.Contains(done, name) {
			continue
		}
		done = append(done, name)
		p.matchFence(name, taken)
	}
	for i, old := range p.was {
		if old >= 0 {
			p.plan.Stakes[i].Number = p.since.plan.Stakes[old].Number
		}
	}
	p.newNumbers()
}

// matchFence matches the stakes of one fence with the earlier ones in order
// along it, in parts between those that are matched already.
func (p *planner) matchFence(name string, taken map[int]bool) {
	var before, now []int
	for i, s := range p.since.plan.Stakes {
		if family(s.Fence) == name {
			before = append(before, i)
		}
	}
	for i, s := range p.plan.Stakes {
		if family(s.Fence) == name {
			now = append(now, i)
		}
	}
	p.matchStanding(before, now, taken)
	a, last := 0, -1 // the parts begin at now[a] and behind before[last]
	for k := 0; k <= len(now); k++ {
		at := len(before)
		if k < len(now) {
			at = slices.Index(before, p.was[now[k]])
			if at <= last { // not matched, or out of order
				continue
			}
		}
		p.matchPart(before[last+1:at], now[a:k], taken)
		a, last = k+1, at
	}
}

// matchStanding matches the stakes that stand where one stood.
func (p *planner) matchStanding(before, now []int, taken map[int]bool) {
	places := placeIndex{within: p.unmoved()}
	for _, i := range before {
		if !taken[i] {
			places.add(p.since.plan.Stakes[i].At, i)
		}
	}
	for _, i := range now {
		old := places.find(p.plan.Stakes[i].At)
		if p.was[i] < 0 && old >= 0 && !taken[old] && p.alike(p.since.plan.Stakes[old], p.plan.Stakes[i]) {
			p.was[i], taken[old] = old, true
		}
	}
}

// matchPart matches in order what is not matched yet: as many as can stay where
// they stand, then as many as can, then with the least way between them. It is
// the alignment of two sequences by dynamic programming (Needleman and Wunsch
// 1970, from memory).
func (p *planner) matchPart(before, now []int, taken map[int]bool) {
	before = slices.DeleteFunc(slices.Clone(before), func(i int) bool { return taken[i] })
	now = slices.DeleteFunc(slices.Clone(now), func(i int) bool { return p.was[i] >= 0 })
	steps := p.align(before, now)
	for i, j := len(before), len(now); i > 0 || j > 0; {
		switch steps[i*(len(now)+1)+j] {
		case retires:
			i--
		case begins:
			j--
		default:
			i, j = i-1, j-1
			p.was[now[j]], taken[before[i]] = before[i], true
		}
	}
}

// The steps of an alignment: an old stake retires, a new one begins, two are one.
const (
	retires = 'r'
	begins  = 'b'
	matches = 'm'
)

// align finds the last step to every pair of places in two sequences, row by
// row.
func (p *planner) align(before, now []int) []byte {
	cols := len(now) + 1
	steps := make([]byte, (len(before)+1)*cols)
	last, row := make([]alignment, cols), make([]alignment, cols)
	for j := 1; j < cols; j++ {
		steps[j] = begins
	}
	for i := 1; i <= len(before); i++ {
		row[0], steps[i*cols] = alignment{}, retires
		for j := 1; j < cols; j++ {
			here, step := last[j], byte(retires)
			if row[j-1].compare(here) < 0 {
				here, step = row[j-1], begins
			}
			if c, ok := p.pair(last[j-1], before[i-1], now[j-1]); ok && c.compare(here) <= 0 {
				here, step = c, matches
			}
			row[j], steps[i*cols+j] = here, step
		}
		last, row = row, last
	}
	return steps
}

// alignment is how well the stakes up to some place are matched.
type alignment struct {
	stay, matched int
	way           float64 // metres
}

func (a alignment) compare(b alignment) int {
	return cmp.Or(cmp.Compare(b.stay, a.stay), cmp.Compare(b.matched, a.matched), cmp.Compare(a.way, b.way))
}

// pair matches two stakes of one class.
func (p *planner) pair(a alignment, old, now int) (alignment, bool) {
	was, is := p.since.plan.Stakes[old], p.plan.Stakes[now]
	if !p.alike(was, is) {
		return a, false
	}
	way := was.At.Dist(is.At)
	if way <= p.unmoved() {
		a.stay++
	}
	a.matched++
	a.way += way
	return a, true
}

// alike reports whether an earlier stake can be one of this plan. A bend post
// that was a line post set off the line may be a line post again.
func (p *planner) alike(was, is Stake) bool {
	return class(was.Kind) == class(is.Kind) || was.Kind == PostBend && is.Kind == PostLine
}

// unmoved is how far apart in metres two places of one stake may be: half a
// mark lies unprinted.
func (p *planner) unmoved() float64 { return (p.spec.Mark / 2).Metres() }

// newNumbers numbers the stakes that no earlier plan had. One between two
// earlier stakes of its fence takes the number before it with the next letter
// that was never given; any other the next number.
func (p *planner) newNumbers() {
	given := map[string]bool{}
	highest := map[bool]int{} // by whether it is of an existing post
	give := func(number string) {
		given[number] = true
		existing := strings.HasPrefix(number, existingPrefix)
		highest[existing] = max(highest[existing], baseOf(number))
	}
	for _, s := range p.since.plan.Stakes {
		give(s.Number)
	}
	for _, r := range p.since.plan.Retired {
		give(r.Stake)
	}
	for i := range p.plan.Stakes {
		s := &p.plan.Stakes[i]
		if p.was[i] >= 0 {
			continue
		}
		existing := s.Kind == PostExisting
		before, between := p.between(i)
		switch {
		case between && !existing:
			s.Number = nextLetter(strconv.Itoa(baseOf(before)), given)
		case existing:
			s.Number = existingPrefix + strconv.Itoa(highest[true]+1)
		default:
			s.Number = strconv.Itoa(highest[false] + 1)
		}
		give(s.Number)
	}
}

// between is the number before a new stake; ok is false where it does not stand
// between two earlier stakes of its fence.
func (p *planner) between(i int) (before string, ok bool) {
	stakes := p.plan.Stakes
	earlier := func(j int) bool {
		return p.was[j] >= 0 && stakes[j].Kind != PostExisting && family(stakes[j].Fence) == family(stakes[i].Fence)
	}
	for j := i - 1; j >= 0 && before == ""; j-- {
		if earlier(j) {
			before = stakes[j].Number
		}
	}
	for j := i + 1; j < len(stakes) && !ok; j++ {
		ok = earlier(j)
	}
	l := slices.IndexFunc(p.lines, func(l laidLine) bool { return l.fence.Name == stakes[i].Fence })
	return before, before != "" && (ok || l >= 0 && p.lines[l].fence.Closed)
}

// baseOf is the figure of a stake's number.
func baseOf(number string) int {
	n, _ := strconv.Atoi(strings.TrimRight(strings.TrimPrefix(number, existingPrefix), "ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
	return n
}

// CompareNumbers orders the numbers of stakes as they are counted: 7, 7A, 7B, 8;
// those of existing posts come after.
func CompareNumbers(a, b string) int {
	order := func(number string) (existing, letters int) {
		if strings.HasPrefix(number, existingPrefix) {
			existing, number = 1, strings.TrimPrefix(number, existingPrefix)
		}
		return existing, len(strings.TrimLeft(number, "0123456789"))
	}
	existingA, lettersA := order(a)
	existingB, lettersB := order(b)
	return cmp.Or(cmp.Compare(existingA, existingB), cmp.Compare(baseOf(a), baseOf(b)), cmp.Compare(lettersA, lettersB), cmp.Compare(a, b))
}

// nextLetter is a number with the first of A, B, … Z, AA, … that was not given.
func nextLetter(base string, given map[string]bool) string {
	for n := 1; ; n++ {
		letters := ""
		for k := n; k > 0; k = (k - 1) / 26 {
			letters = string(rune('A'+(k-1)%26)) + letters
		}
		if !given[base+letters] {
			return base + letters
		}
	}
}

// keepRunNumbers gives runs the numbers of the earlier runs that they are, or
// that they begin like; what is left of a run that was cut comes after all
// others.
func (p *planner) keepRunNumbers(runs []*laidRun) {
	type ends struct{ fence, from, to string }
	exact, begun := map[ends]int{}, map[ends]int{}
	endsOf := func(r Run) ends { return ends{family(r.Fence), r.From, r.To} }
	begin := func(r Run) ends {
		if r.StartsAtTo() {
			return ends{family(r.Fence), "", r.To}
		}
		return ends{family(r.Fence), r.From, ""}
	}
	for _, r := range p.since.plan.Runs {
		exact[endsOf(r)], begun[begin(r)] = r.Number, r.Number
	}
	wanted := make([]int, len(runs))
	taken := map[int]bool{}
	claim := func(k, number int) {
		if number > 0 && wanted[k] == 0 && !taken[number] {
			wanted[k], taken[number] = number, true
		}
	}
	for k, r := range runs {
		claim(k, exact[endsOf(r.Run)])
	}
	for k, r := range runs {
		claim(k, begun[begin(r.Run)])
	}
	order := make([]int, len(runs))
	for k := range runs {
		order[k] = k
		if wanted[k] == 0 {
			wanted[k] = len(p.since.plan.Runs) + 1 + k
		}
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(wanted[a], wanted[b]) })
	for n, k := range order {
		runs[k].Number = n + 1
	}
}

// runAt is the run that a place along a line lies on, and how far from its
// zero.
func (p *planner) runAt(l *laidLine, m measure.Length) (run int, from measure.Length) {
	for _, r := range l.runs {
		if m < r.FromM || m > r.ToM {
			continue
		}
		return r.Number, r.FromZero(m)
	}
	return 0, 0
}
