package adjust

// Parts tells which of n things hang together (union-find).
type Parts []int

// NewParts has n things, each for itself.
func NewParts(n int) Parts {
	p := make(Parts, n)
	for i := range p {
		p[i] = i
	}
	return p
}

// Of is the part that i belongs to, named by its least member.
func (p Parts) Of(i int) int {
	for p[i] != i {
		p[i] = p[p[i]]
		i = p[i]
	}
	return i
}

// Join puts all of them, one at least, in one part.
func (p Parts) Join(all ...int) {
	for _, i := range all[1:] {
		a, b := p.Of(all[0]), p.Of(i)
		p[max(a, b)] = min(a, b)
	}
}
