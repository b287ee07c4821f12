package plan

import (
	"fmt"
	"strconv"
	"strings"

	"stakerow/plan/boards"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// Boards are ripped to whole steps, and spreads of gaps up to evenGap count as
// equal: what a tape and a saw in these units can tell apart.
const (
	ripStepFeet   = measure.Inch / 16
	ripStepMetres = measure.Millimetre
	evenGapFeet   = measure.Inch / 16
	evenGapMetres = 1500 * measure.Micrometre
)

// width is one kind of clear width to be boarded: times of them in one place.
type width struct {
	where string
	piece boards.Piece
	times int
	leaf  bool
}

// layBoards chooses the boards of every build that has them.
func (p *planner) layBoards() {
	for _, b := range p.spec.Builds {
		if b.Boards == nil || b.Kind != KindBoards {
			continue
		}
		widths := p.widths(b)
		if len(widths) == 0 {
			continue
		}
		p.plan.Boards = append(p.plan.Boards, p.fillWidths(b, widths))
	}
}

// fillWidths fills a build's clear widths together.
func (p *planner) fillWidths(b Build, widths []width) BoardLayout {
	var pieces []boards.Piece
	for _, w := range widths {
		for range w.times {
			pieces = append(pieces, w.piece)
		}
	}
	choice := boards.Choose(pieces, p.stock(b))
	out := BoardLayout{Build: b.Name, Spread: choice.Spread}
	at := 0
	for _, w := range widths {
		f := choice.Fills[at]
		at += w.times
		if !f.OK {
			p.noBoards(b, w)
		}
		out.Pieces = append(out.Pieces, BoardPiece{Where: w.where, Clear: w.piece.Clear, Count: f.Count, Gap: f.Gap, Ripped: f.Ripped, Times: w.times, Ends: w.piece.Ends})
		if w.leaf && f.OK {
			p.boltPads(b, w, f)
		}
	}
	return out
}

func (p *planner) stock(b Build) boards.Stock {
	s := boards.Stock{Face: b.Boards.Face, Least: b.Boards.GapLeast, Best: b.Boards.GapBest, Most: b.Boards.GapMost, Step: ripStepFeet, Equal: evenGapFeet}
	if p.spec.Units == measure.Metres {
		s.Step, s.Equal = ripStepMetres, evenGapMetres
	}
	return s
}

// widths lists what a build's boards must fill: runs or their bays, then the
// leaves of its gates.
func (p *planner) widths(b Build) []width {
	var out []width
	for li := range p.lines {
		l := &p.lines[li]
		if l.build.Name != b.Name {
			continue
		}
		for _, r := range l.runs {
			if len(r.Bays) == 0 || r.Layout == layoutNone {
				continue
			}
			if b.Boards.Over == "bay" {
				out = append(out, p.bayWidths(l, r)...)
			} else if w, ok := l.runWidth(r); ok {
				out = append(out, w)
			}
		}
		for _, g := range l.gates {
			if w := g.leafWidth(); w > 0 {
				n := 1
				if g.doubleLeaf() {
					n = 2
				}
				out = append(out, width{where: fmt.Sprintf("gate %s", g.spec.Name), piece: boards.Piece{Clear: w}, times: n, leaf: true})
			}
		}
	}
	return out
}

// runWidth is the clear width of a run that boards pass from end to end: face
// to face, or over the faces where an end is flush. Where the fence goes on
// through a post its boards meet on the centre, with one gap between them.
func (l *laidLine) runWidth(r laidRun) (width, bool) {
	a, b := l.posts[r.from], l.posts[r.to]
	w := width{where: "run " + strconv.Itoa(r.Number), piece: boards.Piece{Clear: r.Length}, times: 1}
	flush := l.build.Boards.Ends == "flush"
	for i, f := range []fixedPost{a, b} {
		half := l.build.faceOf(f) / 2
		switch {
		case f.through():
			if i == 0 {
				w.piece.Ends++
			}
		case flush:
			w.piece.Clear += half
			if i == 1 && l.laps(r) {
				w.piece.Clear += l.build.Boards.Thick
			}
		default:
			w.piece.Clear -= half
			w.piece.Ends++
		}
	}
	return w, w.piece.Clear > 0
}

// laps reports whether the last board of a run laps the boards of the next leg:
// at a corner that turns away from the good side.
func (l *laidLine) laps(r laidRun) bool {
	if l.posts[r.to].kind != PostCorner {
		return false
	}
	in, okIn := l.legEndingAt(r.ToM)
	next := r.ToM
	if l.fence.Closed && next == l.fence.Length {
		next = 0
	}
	out, okOut := l.legFrom(next)
	if !okIn || !okOut || in.Side == [2]string{} {
		return false
	}
	goodLeft := in.InwardLeft == (l.build.GoodSide == "in")
	turn := legDirection(in, r.ToM).Turn(legDirection(out, next))
	return goodLeft && turn < 0 || !goodLeft && turn > 0
}

func (l *laidLine) legEndingAt(m measure.Length) (Leg, bool) {
	for _, g := range l.fence.Legs {
		if g.To.M == m {
			return g, true
		}
	}
	return Leg{}, false
}

func (l *laidLine) legFrom(m measure.Length) (Leg, bool) {
	for _, g := range l.fence.Legs {
		if g.From.M == m {
			return g, true
		}
	}
	return Leg{}, false
}

// bayWidths are the clear widths of a run's bays, like ones together.
func (p *planner) bayWidths(l *laidLine, r laidRun) []width {
	zero, far := l.posts[r.from], l.posts[r.to]
	if r.Start == startTo {
		zero, far = far, zero
	}
	ends := 2
	if l.build.Boards.Ends == "flush" {
		ends = 0
	}
	var clear []measure.Length
	for i, bay := range r.Bays {
		c := measure.Length(bay) * p.spec.Mark
		first, last := l.build.Post.Face, l.build.Post.Face
		if i == 0 {
			first = l.build.faceOf(zero)
		}
		if i == len(r.Bays)-1 {
			last = l.build.faceOf(far)
			c += r.Rest
		}
		clear = append(clear, c-first/2-last/2)
	}
	var out []width
	for i, c := range clear {
		if c <= 0 || firstLike(clear, i) < i {
			continue
		}
		same := likeBays(clear, c)
		where := fmt.Sprintf("run %d, %s", r.Number, bayNames(same))
		out = append(out, width{where: where, piece: boards.Piece{Clear: c, Ends: ends}, times: len(same)})
	}
	return out
}

func firstLike(clear []measure.Length, i int) int {
	for j, c := range clear {
		if c == clear[i] {
			return j
		}
	}
	return i
}

// likeBays are the bays, counted from 1, that are c wide.
func likeBays(clear []measure.Length, c measure.Length) []int {
	var out []int
	for i, d := range clear {
		if d == c {
			out = append(out, i+1)
		}
	}
	return out
}

// listedBays is the most stretches of bays that are listed one by one.
const listedBays = 10

// bayNames prints bays in words: "bay 3", "bays 1–4 and 6"; very many by their
// number alone.
func bayNames(bays []int) string {
	parts := ranges(bays)
	if len(parts) > listedBays {
		return fmt.Sprintf("%d of its bays", len(bays))
	}
	return plural(len(bays), "bay", "bays") + " " + listed(parts)
}

// ranges prints ascending numbers with neighbours joined: "1–4", "6".
func ranges(n []int) []string {
	var parts []string
	for i := 0; i < len(n); {
		j := i
		for j+1 < len(n) && n[j+1] == n[j]+1 {
			j++
		}
		switch {
		case j == i:
			parts = append(parts, strconv.Itoa(n[i]))
		case j == i+1:
			parts = append(parts, strconv.Itoa(n[i]), strconv.Itoa(n[j]))
		default:
			parts = append(parts, fmt.Sprintf("%d–%d", n[i], n[j]))
		}
		i = j + 1
	}
	return parts
}

// listed joins words as a sentence does: "a, b and c".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// boltPads tells of hinge bolts that fall between two boards of a leaf and so
// need a pad behind them.
func (p *planner) boltPads(b Build, w width, f boards.Fill) {
	for _, h := range b.Hinges {
		if !onBoard(h.Offset, w.piece.Clear, b.Boards.Face, f) {
			p.boltPad(b, w.where, h)
		}
	}
}

// onBoard reports whether a bolt so far from a leaf's hinge edge falls on a
// board. Both ends of a leaf are flush.
func onBoard(offset, clear, face measure.Length, f boards.Fill) bool {
	for i, edge := range boards.Edges(f, clear, face, false) {
		wide := face
		if f.Ripped > 0 && (i == 0 || i == f.Count-1) {
			wide = f.Ripped
		}
		if edge <= offset && offset <= edge+wide {
			return true
		}
	}
	return false
}

// gateCentre is where a gate's findings point.
func (l *laidLine) gateCentre(g placedGate) ground.Point {
	a, _ := l.at(g.m[0])
	b, _ := l.at(g.m[1])
	return a.Mid(b)
}
