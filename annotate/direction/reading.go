package direction

// A Reading is what a text was understood as.
type Reading struct {
	Statements []Statement
	Unread     []Unread // words of a registration that were not understood
	Lang       string   // the language that the text was read in, "" where nothing tells
	Recall     bool     // the text calls an earlier registration back ("as before")
	Ahead      bool     // the text has stops made ready for later, not played now ("Prepare Sw. Oboe")
}

// Unread is a run of words that looks like registration and was not read.
type Unread struct {
	Text       string
	Start, End int      // byte offsets in the text
	Near       []string // the nearest known words
}

// A Context is what the reader may take from outside the text itself.
type Context struct {
	Lang  string // language of the score's other texts: "en", "fr", …; "" unknown
	Pedal bool   // the text stands at the pedal's staff
}
