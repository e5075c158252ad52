package musicxml

// A Score is the music of a document.
type Score struct {
	Version  string // as the root element says; "1.0" where it says nothing
	Timewise bool

	Title    string // work and movement title, else the title printed on the first page
	Subtitle string // printed on the first page under the title

	WorkNumber, WorkTitle         string
	MovementNumber, MovementTitle string

	Creators []Creator
	Rights   []string
	Software []string // the programs that wrote the file, <encoding><software>
	Credits  []Credit
	Groups   []PartGroup
	Parts    []*Part
}

// Part is the part with an id, nil if there is none.
func (s *Score) Part(id string) *Part {
	for _, p := range s.Parts {
		if p.ID == id {
			return p
		}
	}
	return nil
}

// A Creator is a composer, arranger, lyricist and so on; Type may be empty.
type Creator struct{ Type, Name string }

// A Credit is text printed on a page beside the music: titles, names, and
// often a registration at the head of a piece.
type Credit struct {
	Page    int      // from 1
	Types   []string // <credit-type>: title, subtitle, composer…; mostly empty
	Words   []TextPiece
	Text    string   // the pieces joined as printed, with their line breaks
	X, Y    *float64 // in tenths from the page's lower left corner; nil where the file gives none
	Justify string   // left, center, right or empty
	Elem    Element
}

// A TextPiece is a run of text in one font.
type TextPiece struct {
	Text       string
	Italic     bool
	Bold       bool
	FontFamily string
	FontSize   float64  // points; 0 where the file gives none, or a word such as "large"
	Enclosure  string   // rectangle, circle…; empty for none
	Justify    string   // left, center, right or empty
	Lang       string   // xml:lang
	X, Y       *float64 // default-x and default-y in tenths; nil where the file gives none
	RelX, RelY *float64 // relative-x and relative-y in tenths; nil where the file gives none
	Elem       Element
}

// A PartGroup is a bracket or brace over several parts.
type PartGroup struct {
	Number, Name, Abbreviation string
	First, Last                int // indexes into Score.Parts
}

// A Part is one part of the score, of one or more staves.
type Part struct {
	Score        *Score
	ID           string
	Index        int    // in Score.Parts
	Name         string // <part-name>, or how it is displayed if that is empty
	Abbreviation string
	Instruments  []string // names and sounds of its <score-instrument>s
	Groups       []string // names of the groups it stands in, outermost first
	Staves       int      // at least 1

	Measures     []*Measure
	Notes        []*Note       // sorted by Onset, then in file order; grace notes before the note they belong to
	Directions   []*Direction  // sorted by Time, then in file order
	Clefs        []Clef        // sorted by Time
	Keys         []Key         // sorted by Time
	Transposes   []Transpose   // sorted by Time
	OctaveShifts []OctaveShift // sorted by Start
	Hairpins     []Hairpin     // sorted by Start
	Tempos       []Tempo       // sorted by Time

	Elem Element // the <score-part>; nil where the part list lacks the part

	doc    *Document
	places directionGroups
}

// A Clef is a change of clef. A Staff of 0 does not occur.
type Clef struct {
	Staff        int
	Sign         string // G, F, C, percussion, TAB, none
	Line         int    // from the bottom; 0 where the file gives none
	OctaveChange int
	Time         Time
	Elem         Element
}

// A Key is a change of key signature.
type Key struct {
	Staff  int // 0: all staves of the part
	Fifths int // sharps, or flats where negative
	Mode   string
	Time   Time
}

// A Transpose says how what is written differs from what sounds. It does not
// move keys: an organist plays what is written.
type Transpose struct {
	Staff        int // 0: all staves of the part
	Diatonic     int
	Chromatic    int
	OctaveChange int
	Time         Time
}

// An OctaveShift is an octave line over notes. The pitch data of the notes
// under it are the keys played: type "down" means that they are printed lower.
type OctaveShift struct {
	Staff      int
	Type       string // up, down
	Size       int    // 8, 15, 22
	Number     int
	Start, End Time
	Direction  *Direction // that which starts it
}

// A Hairpin is a crescendo or diminuendo sign.
type Hairpin struct {
	Staff      int
	Type       string // crescendo, diminuendo
	Number     int
	Start, End Time
	Direction  *Direction // that which starts it
}

// A Tempo is a change of speed.
type Tempo struct {
	Time    Time
	Quarter float64 // quarter notes per minute, positive
}

// A Measure is one measure of one part. Its Elem holds the music: the
// <measure> of a partwise score, the <part> inside it of a timewise one.
type Measure struct {
	Part   *Part
	Index  int    // in Part.Measures
	Number string // the file's own: "12", "12a", "X1", "0"

	Implicit bool // the file says that the number is not printed
	Start    Time
	End      Time
	Beat     Time // which beat of a full measure it starts on: 1, more for a pickup

	Signature            Signature // in force at the start
	NewPage              bool
	NewSystem            bool
	BarlineLeft, Barline string // bar-style at the left and at the right; empty for an ordinary one

	RepeatStart bool
	RepeatEnd   bool
	Times       int   // how often the repeat that ends here is played; 2 unless the file says more
	EndingStart []int // numbers of the ending (volta) that starts here
	EndingStop  []int // numbers of the ending that stops here

	Segno, Coda      bool // the sign stands here: where a D.S. goes, where "to coda" goes
	DaCapo, DalSegno bool // after this measure back to the start, to the segno
	ToCoda, Fine     bool // after this measure on to the coda, or end, when it is the last time
	ForwardRepeat    bool // <sound forward-repeat>: a repeat start that is implied

	Elem Element

	quarter   Time // how long one division is at the start
	reach     Time // how far its notes, rests and forwards come
	restReach Time // how far its rests for a whole measure come
	slots     slots

	// How many of the part's notes and so on belong to the measure.
	firstNote, lastNote             int
	firstDirection, lastDirection   int
	clefs, keys, transposes, tempos int
}

// A Signature is a time signature.
type Signature struct {
	Beats       string     // "4", or "3+2"
	BeatType    string     // "4"
	Parts       []Fraction // the same as numbers: 3+2/8 is {3 8} {2 8}; empty for none
	SenzaMisura bool
	Symbol      string // common, cut, single-number…
}

// A Fraction is one summand of a time signature.
type Fraction struct{ Beats, BeatType int }

// A Note is a note, a rest, or one note of a chord.
type Note struct {
	Part    *Part
	Measure *Measure
	Staff   int
	Voice   string

	Onset    Time // of a grace note: that of the note which it leads to
	Duration Time // 0 for a grace note

	Pitch    Pitch // the key played; only if HasPitch
	HasPitch bool  // false for rests and for unpitched notes

	Rest        bool
	Grace       bool
	Cue         bool
	Chord       bool // sounds together with the note before it
	MeasureRest bool
	Hidden      bool // print-object="no"

	TieStart, TieStop     bool
	SlurStarts, SlurStops int
	Fermata               bool
	BreathMark            bool // breath mark or caesura
	Heel, Toe             bool
	HasLyric              bool   // is sung
	Type                  string // quarter, eighth…
	Elem                  Element
}

// A Pitch is a key: step, alteration and octave. C4 is middle C.
type Pitch struct {
	Step   byte // 'A' to 'G'
	Alter  int  // semitones; a quarter tone is rounded towards the natural
	Octave int
}

// A Kind says what a direction holds; a direction may hold several.
type Kind uint32

const (
	KindWords Kind = 1 << iota
	KindRehearsal
	KindOther // <other-direction>
	KindDynamics
	KindWedge
	KindOctaveShift
	KindMetronome
	KindPedal // a piano's damper pedal
	KindSegno
	KindCoda
	KindSound // only a <sound>
	KindElse  // dashes, brackets, eyeglasses, symbols…
)

// A Direction is one <direction>.
type Direction struct {
	Part      *Part
	Measure   *Measure // the measure that the file has it in
	Time      Time     // cursor + offset
	Staff     int      // 1 where the file gives none
	HasStaff  bool     // the file gives the staff
	Voice     string
	Placement string // above or below: as the file says, else by default-y, else empty

	Kind         Kind
	Pieces       []TextPiece // words, rehearsal marks and other directions, in file order
	Text         string      // joined as printed, with line breaks; the dynamics that begin the direction left out
	Rehearsal    string
	Dynamics     string // the first: "p", "ff", "sfz"; empty for none
	DynamicsLead bool   // the dynamics stand before the text
	Wedges       []Wedge
	Shift        *OctaveShiftMark
	Tempo        float64 // quarter notes per minute, 0 for none

	Elem Element
}

// A Wedge is a hairpin's start or end.
type Wedge struct {
	Type   string // crescendo, diminuendo, stop, continue
	Number int
}

// An OctaveShiftMark is the start or end of an octave line.
type OctaveShiftMark struct {
	Type   string // up, down, stop, continue
	Size   int
	Number int
}
