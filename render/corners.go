package render

import "stakerow/render/ink"

// intoCorners sets blocks that found no room in the columns into free corners
// of the drawing, framed, and returns those that found none there either.
func (s *plot) intoCorners(blocks []block) (left []block) {
	var taken []rect
	for _, b := range blocks {
		lines := b.lines(columnWidth)
		box, ok := s.freeCorner(columnWidth+2*padding, heightOf(lines)+2*padding, taken)
		if !ok {
			left = append(left, b)
			continue
		}
		taken = append(taken, box)
		s.d.Stroke(layerSheet, "corner", ink.Rect(box.x, box.y, box.w, box.h), penThin)
		column, y := box.shrunk(padding), 0.0
		for _, l := range lines {
			y = l.set(s.d, column, y)
		}
	}
	return left
}

// cornerGap is the room between frames in one corner, mm.
const cornerGap = 2.5

// freeCorner finds a corner of the window where a rectangle of w by h covers
// nothing drawn so far, or a place below or above one that is taken.
func (s *plot) freeCorner(w, h float64, taken []rect) (rect, bool) {
	win := s.window
	if w > win.w || h > win.h {
		return rect{}, false
	}
	right, bottom := win.x+win.w-w, win.y+win.h-h
	places := []rect{{right, bottom, w, h}, {win.x, bottom, w, h}, {right, win.y, w, h}, {win.x, win.y, w, h}}
	for _, t := range taken {
		places = append(places, rect{t.x, t.y + t.h + cornerGap, w, h}, rect{t.x, t.y - h - cornerGap, w, h})
	}
	for _, r := range places {
		if r.y >= win.y && r.y <= bottom && s.isFree(r.box().Grow(1)) {
			return r, true
		}
	}
	return rect{}, false
}

// isFree reports whether a box covers nothing drawn: outlines count by the
// straight pieces that they are made of, fills and texts by their bounds.
func (s *plot) isFree(box ink.Box) bool {
	for _, op := range s.d.Ops {
		if op.Subject == "border" {
			continue
		}
		if op.Stroke != nil {
			for _, c := range op.Stroke.Path.Flatten(0.2) {
				pts := contourLine(c)
				for i := 1; i < len(pts); i++ {
					if box.Overlaps(ink.BoxAlong(pts[i-1], pts[i], op.Stroke.Pen.Width)) {
						return false
					}
				}
			}
			continue
		}
		if least, most, ok := op.Bounds(); ok && box.Overlaps(ink.BoxOf(least, most)) {
			return false
		}
	}
	return true
}
