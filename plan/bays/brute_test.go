package bays

import (
	"math/rand/v2"
	"slices"
)

// This file judges layouts by the words of the rule alone. It shares nothing
// with the solver but the declared types.

// verdict is a layout's figures in the order of its rule, smaller first.
type verdict []int64

// judge finds a layout's verdict; posts are those of the divided length. ok is
// false where the layout breaks a limit or stands on a keep-out.
func judge(p Problem, posts []int) (v verdict, cut []bool, ok bool) {
	n, length := len(posts)-1, posts[len(posts)-1]
	least := max(p.Least, 1)
	var squares, stray, late, offFull, shortest, cuts int64
	for i := 0; i < n; i++ {
		bay := posts[i+1] - posts[i]
		grown, top := bay, 1<<60
		if i == 0 {
			grown += p.Ends[0]
			if p.EndMost[0] > 0 {
				top = p.EndMost[0]
			}
		}
		if i == n-1 {
			grown += p.Ends[1]
			if p.EndMost[1] > 0 {
				top = min(top, p.EndMost[1])
			}
		}
		if n == 1 && p.OneMost > 0 {
			top = min(top, p.OneMost)
		}
		if i > 0 {
			for _, b := range p.Blocked {
				if m := posts[i] + p.Ends[0]; b.From <= m && m <= b.To {
					return nil, nil, false
				}
			}
			stray += abs(int64(n)*int64(posts[i]) - int64(i)*int64(length))
		}
		squares += int64(bay) * int64(bay)
		if p.Rule == Even {
			if bay < least || grown < least || bay > p.Most || grown > p.Most || grown > top {
				return nil, nil, false
			}
			continue
		}
		isCut := bay < p.Full-p.Short
		cut = append(cut, isCut)
		switch {
		case bay > p.Full+p.Long || grown > top || grown < 1:
			return nil, nil, false
		case isCut && (bay < least || grown < least):
			return nil, nil, false
		case isCut:
			if cuts == 0 || int64(bay) < shortest {
				shortest = int64(bay)
			}
			cuts++
			late += int64(length - posts[i])
		default:
			offFull += int64(bay-p.Full) * int64(bay-p.Full)
		}
	}
	if p.Rule == Even {
		return verdict{int64(n), squares, stray}, nil, true
	}
	return verdict{cuts, -shortest, int64(n), late, offFull}, cut, true
}

func abs(n int64) int64 { return max(n, -n) }

// bruteForce tries every division there is; nil where none holds.
func bruteForce(p Problem) (posts []int, v verdict) {
	length := p.Length - p.Ends[0] - p.Ends[1]
	if length < 1 {
		return nil, nil
	}
	longest := p.Most
	if p.Rule == Panels {
		longest = p.Full + p.Long
	}
	shortest := max(1, min(p.Least, longest))
	if p.Rule == Panels {
		shortest = max(1, min(p.Least, p.Full-p.Short))
	}
	var best, halved struct {
		posts []int
		v     verdict
	}
	row := []int{0}
	single := false
	var try func()
	try = func() {
		at := row[len(row)-1]
		if at == length {
			v, cut, ok := judge(p, row)
			if !ok {
				return
			}
			single = single || len(row) == 2 && len(cut) == 1 && cut[0]
			if best.posts == nil || better(v, row, best.v, best.posts) {
				best.posts, best.v = slices.Clone(row), v
			}
			if !isHalved(row, cut) {
				return
			}
			v = slices.Clone(v)
			v[3] = 0 // halving stands in the place of lateness
			if halved.posts == nil || better(v, row, halved.v, halved.posts) {
				halved.posts, halved.v = slices.Clone(row), v
			}
			return
		}
		for b := shortest; b <= longest && at+b <= length; b++ {
			row = append(row, at+b)
			try()
			row = row[:len(row)-1]
		}
	}
	try()
	if p.SplitBoth && best.posts != nil && best.v[0] >= 1 && best.v[0] <= 2 && !single && halved.posts != nil {
		return halved.posts, halved.v
	}
	return best.posts, best.v
}

// isHalved: the first and last bay alone are cut, the last no shorter and at
// most a mark longer.
func isHalved(posts []int, cut []bool) bool {
	n := len(cut)
	if n < 2 || !cut[0] || !cut[n-1] || slices.Contains(cut[1:n-1], true) {
		return false
	}
	odd := (posts[n] - posts[n-1]) - posts[1]
	return odd == 0 || odd == 1
}

func better(v verdict, posts []int, o verdict, than []int) bool {
	if c := slices.Compare(v, o); c != 0 {
		return c < 0
	}
	return slices.Compare(posts, than) < 0
}

// smallRun makes a run that brute force can try out.
func smallRun(r *rand.Rand, rule Rule, length int) Problem {
	p := Problem{Rule: rule, Length: length}
	least := length/6 + 1
	if length <= 14 {
		least = 1
	}
	p.Least = least + r.IntN(6)
	p.Most = p.Least + r.IntN(14)
	if rule == Panels {
		p.Most = 0
		p.Short, p.Long = r.IntN(2)*r.IntN(4), r.IntN(4)
		p.Full = p.Least + p.Short + r.IntN(12)
		p.SplitBoth = r.IntN(3) == 0
	}
	dress(r, &p)
	return p
}

// dress gives a run end allowances, caps and keep-outs, each now and then.
func dress(r *rand.Rand, p *Problem) {
	for i := range p.Ends {
		if r.IntN(3) == 0 {
			p.Ends[i] = r.IntN(7) - 3
		}
		if r.IntN(5) == 0 {
			p.EndMost[i] = max(p.Most, p.Full) - r.IntN(4)
		}
	}
	if r.IntN(5) == 0 {
		p.OneMost = max(p.Most, p.Full) - r.IntN(9)
	}
	for range r.IntN(5) {
		from := r.IntN(p.Length+4) - 2
		p.Blocked = append(p.Blocked, Interval{from, from + r.IntN(1+p.Length/8)})
	}
}
