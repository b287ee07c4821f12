package ground

// stack keeps the edges cut by a sweep line in order from south to north: a
// treap (Seidel and Aragon, "Randomized search trees", 1996) whose priorities
// come from a fixed hash, with its nodes also linked in order. Edges and nodes
// are numbered 0 to n−1; −1 is none.
type stack struct {
	root  int32
	nodes []stackNode
	of    []int32 // the node of an edge, −1 where it is not cut
	free  []int32
}

type stackNode struct {
	edge                int32
	left, right, parent int32
	south, north        int32
	priority            uint32
}

func newStack(n int) *stack {
	s := &stack{root: -1, of: make([]int32, n)}
	for i := range s.of {
		s.of[i] = -1
	}
	return s
}

func (s *stack) has(e int32) bool { return s.of[e] >= 0 }

// neighbours are the edges just south and just north of e.
func (s *stack) neighbours(e int32) (south, north int32) {
	n := s.nodes[s.of[e]]
	return s.edgeOf(n.south), s.edgeOf(n.north)
}

func (s *stack) edgeOf(node int32) int32 {
	if node < 0 {
		return -1
	}
	return s.nodes[node].edge
}

// replace puts edge e in the place of old.
func (s *stack) replace(old, e int32) {
	n := s.of[old]
	s.of[old], s.of[e] = -1, n
	s.nodes[n].edge = e
}

// insert adds edge e; above tells whether it lies north of an edge.
func (s *stack) insert(e int32, above func(f int32) bool) {
	n := s.node(e)
	south, north, parent := int32(-1), int32(-1), int32(-1)
	for at := s.root; at >= 0; {
		parent = at
		if above(s.nodes[at].edge) {
			south, at = at, s.nodes[at].right
		} else {
			north, at = at, s.nodes[at].left
		}
	}
	s.nodes[n].parent, s.nodes[n].south, s.nodes[n].north = parent, south, north
	if south >= 0 {
		s.nodes[south].north = n
	}
	if north >= 0 {
		s.nodes[north].south = n
	}
	switch parent {
	case -1:
		s.root = n
	case south:
		s.nodes[parent].right = n
	default:
		s.nodes[parent].left = n
	}
	for p := parent; p >= 0 && s.nodes[p].priority < s.nodes[n].priority; p = s.nodes[n].parent {
		s.raise(n)
	}
}

// remove takes edge e out.
func (s *stack) remove(e int32) {
	n := s.of[e]
	for {
		l, r := s.nodes[n].left, s.nodes[n].right
		if l < 0 && r < 0 {
			break
		}
		if r < 0 || l >= 0 && s.nodes[l].priority > s.nodes[r].priority {
			s.raise(l)
		} else {
			s.raise(r)
		}
	}
	node := s.nodes[n]
	s.hang(node.parent, n, -1)
	if node.south >= 0 {
		s.nodes[node.south].north = node.north
	}
	if node.north >= 0 {
		s.nodes[node.north].south = node.south
	}
	s.of[e] = -1
	s.free = append(s.free, n)
}

// node is a fresh leaf for edge e.
func (s *stack) node(e int32) int32 {
	n := int32(len(s.nodes))
	if last := len(s.free) - 1; last >= 0 {
		n, s.free = s.free[last], s.free[:last]
	} else {
		s.nodes = append(s.nodes, stackNode{})
	}
	h := uint32(e)*2654435769 + 1 // Knuth's multiplicative hash, mixed once more
	h = (h ^ h>>15) * 2246822519
	s.nodes[n] = stackNode{edge: e, left: -1, right: -1, parent: -1, south: -1, north: -1, priority: h ^ h>>13}
	s.of[e] = n
	return n
}

// raise turns node n over its parent.
func (s *stack) raise(n int32) {
	p := s.nodes[n].parent
	s.hang(s.nodes[p].parent, p, n)
	if s.nodes[p].left == n {
		inner := s.nodes[n].right
		s.nodes[p].left, s.nodes[n].right = inner, p
		s.adopt(inner, p)
	} else {
		inner := s.nodes[n].left
		s.nodes[p].right, s.nodes[n].left = inner, p
		s.adopt(inner, p)
	}
	s.nodes[p].parent = n
}

// hang puts node n (or none) where old hung below parent.
func (s *stack) hang(parent, old, n int32) {
	switch {
	case parent < 0:
		s.root = n
	case s.nodes[parent].left == old:
		s.nodes[parent].left = n
	default:
		s.nodes[parent].right = n
	}
	s.adopt(n, parent)
}

func (s *stack) adopt(n, parent int32) {
	if n >= 0 {
		s.nodes[n].parent = parent
	}
}
