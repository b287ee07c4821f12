package survey

import (
	"cmp"
	"strings"
)

// compareNames orders names as people count: H2 before H10, digits before letters,
// capitals before small letters. Names that differ in leading zeros alone
// (H2, H02) come shortest number first. It is a strict total order.
func compareNames(a, b string) int {
	restA, restB := a, b
	for restA != "" && restB != "" {
		headA, tailA := nextPiece(restA)
		headB, tailB := nextPiece(restB)
		if c := comparePieces(headA, headB); c != 0 {
			return c
		}
		restA, restB = tailA, tailB
	}
	return cmp.Or(cmp.Compare(len(restA), len(restB)), cmp.Compare(len(a), len(b)), cmp.Compare(a, b))
}

// nextPiece cuts the first run of digits, or else the first byte, off s.
func nextPiece(s string) (head, tail string) {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	n = max(n, 1)
	return s[:n], s[n:]
}

func comparePieces(a, b string) int {
	if !isDigit(a[0]) || !isDigit(b[0]) {
		return cmp.Compare(a[0], b[0])
	}
	a, b = strings.TrimLeft(a, "0"), strings.TrimLeft(b, "0")
	return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b))
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }
