package source

import "strings"

// longestCompared is how many characters of a word are compared with those
// that may stand there.
const longestCompared = 64

// Nearest is the known word that takes the fewest single characters changed,
// put in, left out or swapped with their neighbour to make of what was found;
// of equals the first. It is "" where none is known.
func Nearest(found string, known []string) string {
	best, least := "", 0
	for i, k := range known {
		if d := edits(found, k); i == 0 || d < least {
			best, least = k, d
		}
	}
	return best
}

// Meant is the known word that was likely meant, whatever its capitals; "" where
// none is near: at most one character in three, and no more than three, differ.
func Meant(found string, known []string) string {
	near := Nearest(strings.ToLower(found), known)
	if near == "" || edits(strings.ToLower(found), near) > min(3, (len([]rune(found))+2)/3) {
		return ""
	}
	return near
}

// edits counts the single characters to change, put in, leave out, or swap with
// their neighbour between two words (Damerau's distance by Wagner and Fischer's
// table, from memory).
func edits(from, to string) int {
	a, b := []rune(from), []rune(to)
	a = a[:min(len(a), longestCompared)]
	older, old := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range old {
		old[j] = j
	}
	for i, x := range a {
		row := make([]int, len(b)+1)
		row[0] = i + 1
		for j, y := range b {
			change := old[j]
			if x != y {
				change++
			}
			row[j+1] = min(change, old[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && x == b[j-1] && a[i-1] == y {
				row[j+1] = min(row[j+1], older[j-1]+1)
			}
		}
		older, old = old, row
	}
	return old[len(b)]
}
