package direction

// A Reading is what a text was understood as.
type Reading struct {
	Statements []Statement
	Unread     []Unread // words of a registration that were not understood
	Lang       string   // the language that the text was read in, "" where nothing tells
	Recall     bool     // the text calls an earlier registration back ("as before")
	Ahead      []bool   // for each statement, whether it is made ready for later, not played now ("Prepare Sw. Oboe"); nil where none is
	Reduce     bool     // the text reduces what is drawn: what it sets is what is left of it ("reduce to 8 ft.", "8 ft. only")
}

// Unread is a run of words that looks like registration and was not read.
type Unread struct {
	Text       string
	Start, End int // byte offsets in the text
}

// A Context is what the reader may take from outside the text itself.
type Context struct {
	Lang  string // language of the score's other texts: "en", "fr", …; "" unknown
	Pedal bool   // the text stands at the pedal's staff
}
