package source

// longestCompared is how many characters of a word are compared with those
// that may stand there.
const longestCompared = 64

// Nearest is the known word that takes the fewest single characters changed,
// put in or left out to make of what was found; of equals the first. It is ""
// where none is known.
func Nearest(found string, known []string) string {
	best, least := "", 0
	for i, k := range known {
		if d := edits(found, k); i == 0 || d < least {
			best, least = k, d
		}
	}
	return best
}

// edits counts the single characters to change, put in or leave out between
// two words (Levenshtein 1966, from memory).
func edits(a, b string) int {
	from, to := []rune(a), []rune(b)
	from = from[:min(len(from), longestCompared)]
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i, ca := range from {
		diagonal := row[0]
		row[0] = i + 1
		for j, cb := range to {
			change := diagonal
			if ca != cb {
				change++
			}
			diagonal, row[j+1] = row[j+1], min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(to)]
}
