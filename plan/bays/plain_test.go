package bays

import (
	"math/rand/v2"
	"slices"
)

// Plain dynamic programming over all bays of all marks: slow, and simple
// enough to be believed.

// largerRun is a run beyond brute force.
func largerRun(r *rand.Rand, rule Rule) Problem {
	p := Problem{Rule: rule, Length: 60 + r.IntN(300)}
	p.Most = 8 + r.IntN(40)
	p.Least = 1 + r.IntN(p.Most)
	if r.IntN(4) > 0 {
		p.Least = p.Most / 2
	}
	if rule == Panels {
		p.Full, p.Most = p.Most, 0
		p.Short, p.Long = r.IntN(2)*r.IntN(min(4, p.Full)), r.IntN(4)
	}
	dress(r, &p)
	for range r.IntN(8) {
		from := r.IntN(p.Length)
		p.Blocked = append(p.Blocked, Interval{from, from + r.IntN(10)})
	}
	return p
}

// judged holds what every bay is, by place (first, last) and size.
type judged [2][2][]struct{ ok, cut bool }

func judgeBays(p Problem, length int) judged {
	var j judged
	for first := range 2 {
		for last := range 2 {
			q := p
			q.Blocked = nil
			if first == 0 {
				q.Ends[0], q.EndMost[0], q.OneMost = 0, 0, 0
			}
			if last == 0 {
				q.Ends[1], q.EndMost[1], q.OneMost = 0, 0, 0
			}
			bays := make([]struct{ ok, cut bool }, length+1)
			for size := 1; size <= length; size++ {
				_, cut, ok := judge(q, []int{0, size})
				bays[size].ok, bays[size].cut = ok, ok && p.Rule == Panels && cut[0]
			}
			j[first][last] = bays
		}
	}
	return j
}

func (j judged) bay(a, b, length int) (cut, ok bool) {
	first, last := 0, 0
	if a == 0 {
		first = 1
	}
	if b == length {
		last = 1
	}
	is := j[first][last][b-a]
	return is.cut, is.ok
}

func kept(p Problem, s, length int) bool {
	if s == 0 || s == length {
		return false
	}
	for _, b := range p.Blocked {
		if b.From <= s+p.Ends[0] && s+p.Ends[0] <= b.To {
			return true
		}
	}
	return false
}

// plainCount is the fewest bays, 0 where there is no division.
func plainCount(p Problem, j judged, length int) int {
	count := make([]int, length+1)
	for b := 1; b <= length; b++ {
		for a := max(0, b-p.Most); a < b && !kept(p, b, length); a++ {
			if _, ok := j.bay(a, b, length); !ok || a > 0 && count[a] == 0 {
				continue
			}
			if count[b] == 0 || count[a]+1 < count[b] {
				count[b] = count[a] + 1
			}
		}
	}
	return count[length]
}

// plainEven fills a table of the best rest of every mark by bays left.
func plainEven(p Problem) []int {
	length := p.divided()
	if length < 1 {
		return nil
	}
	j := judgeBays(p, length)
	n := plainCount(p, j, length)
	if n == 0 {
		return nil
	}
	type rest struct {
		squares, stray int64
		ok             bool
	}
	stray := func(i, a int) int64 { return abs(int64(n)*int64(a) - int64(i)*int64(length)) }
	table := make([][]rest, n+1) // table[i][a]: post i stands at a
	for i := range table {
		table[i] = make([]rest, length+1)
	}
	table[n][length].ok = true
	for i := n - 1; i >= 0; i-- {
		for a := range table[i] {
			if i == 0 && a > 0 || i > 0 && a == 0 || kept(p, a, length) {
				continue
			}
			for b := a + 1; b <= min(length, a+p.Most); b++ {
				r := table[i+1][b]
				if _, ok := j.bay(a, b, length); !r.ok || !ok {
					continue
				}
				r.squares += int64(b-a) * int64(b-a)
				r.stray += stray(i, a)
				if t := table[i][a]; !t.ok || r.squares < t.squares || r.squares == t.squares && r.stray < t.stray {
					table[i][a] = r
				}
			}
		}
	}
	posts := []int{0}
	for i, a := 0, 0; i < n; i++ {
		want := table[i][a]
		for b := a + 1; ; b++ {
			r := table[i+1][b]
			_, ok := j.bay(a, b, length)
			if ok && r.ok && r.squares+int64(b-a)*int64(b-a) == want.squares && r.stray+stray(i, a) == want.stray {
				a = b
				break
			}
		}
		posts = append(posts, a)
	}
	return posts
}

// plainPanels tries every least cut bay, longest first, until the cuts are as
// few as they can be.
func plainPanels(p Problem) []int {
	if p.divided() < 1 {
		return nil
	}
	fewest, posts := plainOver(p, 0)
	if posts == nil || fewest == 0 {
		return posts
	}
	for over := p.Full; ; over-- {
		if cuts, posts := plainOver(p, over); posts != nil && cuts == fewest {
			return posts
		}
	}
}

// plainOver is the best division without a cut bay under over.
func plainOver(p Problem, over int) (cuts int64, posts []int) {
	length := p.divided()
	j := judgeBays(p, length)
	best := make([][4]int64, length+1) // cuts, bays, late, squares off full
	after := make([]int, length+1)
	for a := length - 1; a >= 0; a-- {
		if kept(p, a, length) {
			continue
		}
		for b := a + 1; b <= min(length, a+p.Full+p.Long); b++ {
			cut, ok := j.bay(a, b, length)
			if !ok || b < length && after[b] == 0 || cut && b-a < over {
				continue
			}
			v := best[b]
			v[1]++
			if cut {
				v[0]++
				v[2] += int64(length - a)
			} else {
				v[3] += int64(b-a-p.Full) * int64(b-a-p.Full)
			}
			if after[a] == 0 || slices.Compare(v[:], best[a][:]) < 0 {
				best[a], after[a] = v, b
			}
		}
	}
	if after[0] == 0 {
		return 0, nil
	}
	posts = []int{0}
	for a := 0; a < length; {
		a = after[a]
		posts = append(posts, a)
	}
	return best[0][0], posts
}
