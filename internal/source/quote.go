package source

// mostQuoted is how much of a text a complaint repeats, in characters.
const mostQuoted = 40

// Quote is a text as a complaint repeats it, cut where it is long: in
// guillemets, because lengths hold both kinds of quotation mark.
func Quote(s string) string {
	if r := []rune(s); len(r) > mostQuoted {
		s = string(r[:mostQuoted]) + "…"
	}
	return "«" + s + "»"
}
