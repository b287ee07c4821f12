package render

import (
	"fmt"
	"strings"

	"stakerow/plan"
	"stakerow/plan/boards"
	"stakerow/render/ink"
	"stakerow/survey/measure"
)

// drawBoards draws the boards of a bay at their true places: those of the bay,
// or those of its run that begin in the bay.
func (v rowView) drawBoards(i int) {
	sp := v.s.spans[i]
	where := fmt.Sprintf("run %d", sp.run.Number)
	pieces := v.pieces(where)
	if len(pieces) == 0 || v.s.build.Boards == nil {
		return
	}
	if v.s.build.Boards.Over == "bay" {
		from, to := v.clearOf(i)
		p := likest(pieces, to-from)
		v.boardsOf(p, from, from, to+1, v.spanSubject(i))
		return
	}
	from, to := v.s.posts[i].m, v.s.posts[i+1].m
	if v.runEnds(i, true) {
		from -= sp.run.Length
	}
	if v.runEnds(i, false) {
		to += sp.run.Length
	}
	v.boardsOf(pieces[0], v.runBoardsStart(i), from, to, v.spanSubject(i))
}

// likest is the piece whose clear width is nearest to the one wanted.
func likest(pieces []plan.BoardPiece, clear measure.Length) plan.BoardPiece {
	best := pieces[0]
	for _, p := range pieces[1:] {
		if (p.Clear - clear).Abs() < (best.Clear - clear).Abs() {
			best = p
		}
	}
	return best
}

// runBoardsStart is where the boards of the run of span i begin: on the centre
// of a post that the fence passes, at the outer face where ends are flush, else
// at the inner face.
func (v rowView) runBoardsStart(i int) measure.Length {
	for i > 0 && !v.runEnds(i, true) {
		i--
	}
	half := v.s.posts[i].stake.Face / 2
	switch {
	case goesOn(v.s, i):
		return v.s.posts[i].m
	case v.s.build.Boards.Ends == "flush":
		return v.s.posts[i].m - half
	}
	return v.s.posts[i].m + half
}

// boardsOf draws the boards of a piece that starts at start, those alone whose
// left edge lies in from ≤ edge < to.
func (v rowView) boardsOf(p plan.BoardPiece, start, from, to measure.Length, subject string) {
	face := v.s.build.Boards.Face
	edges := boards.Edges(filled(p), p.Clear, face, true)
	bottom := v.ground - v.mm(groundClear)
	for k, edge := range edges {
		wide := face
		if p.Ripped > 0 && (k == 0 || k == len(edges)-1) {
			wide = p.Ripped
		}
		if left := start + edge; from <= left && left < to {
			shape := ink.Rect(v.x(left), v.top, v.mm(wide), bottom-v.top)
			v.d.Fill(layerFence, subject, shape, white)
			v.d.Stroke(layerFence, subject, shape, penBoard)
		}
	}
}

// pieces are the board pieces of the plan whose place begins with where.
func (v rowView) pieces(where string) []plan.BoardPiece {
	var out []plan.BoardPiece
	for _, b := range v.plan.Boards {
		if b.Build != v.s.build.Name {
			continue
		}
		for _, p := range b.Pieces {
			if p.Where == where || strings.HasPrefix(p.Where, where+",") {
				out = append(out, p)
			}
		}
	}
	return out
}

// filled is a piece as the board layouts gave it.
func filled(p plan.BoardPiece) boards.Fill {
	return boards.Fill{Count: p.Count, Gaps: p.Count - 1 + p.Ends, Gap: p.Gap, Ripped: p.Ripped, OK: p.Count > 0}
}
