package source

// Pos is a place in an input file. Line and Col count from 1; Col counts
// characters (runes), not bytes. Line 0 means the file as a whole, Col 0 the
// line as a whole. The zero Pos is "nowhere".
type Pos struct {
	File      string
	Line, Col int
}

// Error is one complaint about an input: where, what was found, what to do.
type Error struct {
	Pos   Pos
	Found string // what was found, with what was wanted
	Do    string // what to do about it
	Line  string // the text of the line, for the caret; may be empty
}

// Errors is every complaint about the inputs of one call, in reading order.
type Errors []*Error
