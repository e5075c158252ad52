package passage

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
	"stopgap/registry/division"
)

// A partFinder decides which parts of a score are the organ's.
type partFinder struct {
	score  *musicxml.Score
	choice Choice
	asks   func(*musicxml.Part) bool
	parts  []*scorePart
}

// A scorePart is what is known of one part.
type scorePart struct {
	*musicxml.Part
	name  kinds // by its name or abbreviation
	group kinds // by the names of the groups that it stands in
	sound kind
	sung  bool
	role  division.Role // the division that it is called after, None if none
	stops bool          // its name lists stops

	organ bool
	why   string // why it is the organ's, "" where its name says so
}

// findParts returns the organ's parts in score order and the names of the
// others. A name decides where it says something, then the name of a group,
// then the sound that the file has it played with, then what stands in it and
// where it stands; programs give parts that nobody named a name of their own
// ("Piano", "Part 1"), which says nothing.
func (f *partFinder) findParts() (organ []*scorePart, others []string) {
	for _, p := range f.score.Parts {
		if len(p.Measures) == 0 { // where nothing can be printed, nor be put
			others = append(others, strings.TrimSpace(p.Name))
			continue
		}
		f.parts = append(f.parts, f.look(p))
	}
	f.takeChosen()
	f.takeNamed()
	if !f.any() {
		f.takeUnnamed()
	}
	if f.any() {
		f.takeHands()
		f.takePedal()
		f.takeAsking()
	}
	for _, p := range f.parts {
		if p.organ {
			organ = append(organ, p)
		} else {
			others = append(others, strings.TrimSpace(p.Name))
		}
	}
	return organ, others
}

func (f *partFinder) look(part *musicxml.Part) *scorePart {
	p := &scorePart{Part: part, name: kindsOf(part.Name), group: kindsOf(strings.Join(part.Groups, " ")), sound: soundOf(part)}
	if len(p.name) == 0 {
		p.name = kindsOf(part.Abbreviation)
	}
	p.sung = slices.ContainsFunc(part.Notes, func(n *musicxml.Note) bool { return n.HasLyric })
	// One letter may be a singer's ("S.").
	name := strings.Trim(part.Name, " .\n\t")
	if role := roleOf(name); len([]rune(name)) > 1 || role.Number() > 0 {
		p.role = role
	}
	for _, st := range direction.Read(part.Name, direction.Context{}).Statements {
		p.stops = p.stops || st.Verb == direction.Set && len(st.Voices) > 0
	}
	return p
}

// roleOf is the division that a name is of, None if it is none.
func roleOf(name string) division.Role {
	r, ok := division.RoleOf(name, "")
	if !ok {
		return division.None
	}
	return r
}

func (p *scorePart) take(format string, args ...any) {
	if !p.organ {
		p.organ, p.why = true, fmt.Sprintf(format, args...)
	}
}

func (f *partFinder) any() bool {
	return slices.ContainsFunc(f.parts, func(p *scorePart) bool { return p.organ })
}

// takeChosen takes the parts whose staves are named by hand.
func (f *partFinder) takeChosen() {
	for _, id := range []string{f.choice.Pedal, f.choice.RH, f.choice.LH} {
		part, _, ok := splitStaffID(f.score, id)
		for _, p := range f.parts {
			if ok && p.Part == part {
				p.take("")
			}
		}
	}
}

// takeNamed takes the parts whose own name, group or sound is the organ's.
func (f *partFinder) takeNamed() {
	for _, p := range f.parts {
		switch {
		case p.name[organKind]:
			p.take("")
		case p.name[pianoKind], p.name[singerKind], p.name[instrumentKind]:
		case p.name[pedalKind], p.name[manualKind]:
			p.take("")
		case (p.name[rightKind] || p.name[leftKind]) && p.sound != pianoKind:
			p.take("")
		case p.role == division.Pedal:
			p.take("")
		}
	}
	for _, p := range f.parts {
		foreign := p.name[singerKind] || p.name[instrumentKind]
		switch {
		case p.sung || foreign && !p.stops:
		case p.group[organKind] && !p.group[singerKind] && !p.group[instrumentKind]:
			p.take("it stands in the group %q", strings.Join(p.Groups, ", "))
		case p.sound == organKind && !foreign:
			p.take("it is played with the sound of an organ")
		}
	}
	// Voices that are played with the sound of an organ and not sung are an
	// organ's chorale, if there is no other organ.
	if !f.any() {
		for _, p := range f.parts {
			if p.sound == organKind && !p.sung {
				p.take("it is played with the sound of an organ")
			}
		}
	}
	// "Rückpositiv", "G.O.", "II" beside what is the organ's. "Choir", "Solo",
	// "Echo" and numbers are only if some other part is called after a manual,
	// or nobody else plays the manuals.
	if !f.any() {
		return
	}
	hands := f.hasHands()
	for _, p := range f.parts {
		if p.role == division.None || p.sung || p.name[instrumentKind] {
			continue
		}
		doubtful := p.role.Number() > 0 || p.role == division.Choir || p.role == division.Solo || p.role == division.Echo
		if !doubtful || !hands || f.calledAfterManuals() {
			p.take("")
		}
	}
}

// calledAfterManuals reports whether some part is called after a manual and
// nothing else.
func (f *partFinder) calledAfterManuals() bool {
	return slices.ContainsFunc(f.parts, func(p *scorePart) bool {
		switch p.role {
		case division.None, division.Choir, division.Solo, division.Echo, division.Pedal:
			return false
		}
		return p.role.Number() == 0 && !p.sung
	})
}

// unnamed reports whether a part's name says nothing of who plays it, or only
// what a program says of any part for keyboards.
func (p *scorePart) unnamed() bool {
	return !p.sung && !p.name[singerKind] && !p.name[instrumentKind] && !p.group[singerKind] && !p.group[instrumentKind] &&
		(p.sound != singerKind && p.sound != instrumentKind)
}

// takeUnnamed finds the organ in a score that names none: by what is printed
// above it, by what its parts ask for, or by how its staves are.
func (f *partFinder) takeUnnamed() {
	titled := f.titled()
	alone := 0
	for _, p := range f.parts {
		if p.unnamed() {
			alone++
		}
	}
	for i, p := range f.parts {
		if !p.unnamed() {
			continue
		}
		below := i+1 < len(f.parts) && f.parts[i+1].couldBePedal()
		switch {
		case p.asks(f):
			p.take("directions for an organ stand in it")
		case titled != "" && (p.Staves >= 2 || alone == len(f.parts)):
			p.take("%q is printed above the music", titled)
		case p.Staves >= 3 && lowestCouldBePedal(p.Part):
			p.take("it has %d staves, the lowest for the feet", p.Staves)
		case p.Staves >= 3 && !p.name[pianoKind]:
			p.take("it has %d staves", p.Staves)
		case p.Staves == 2 && below:
			p.take("it has two staves, and one for the feet stands under it")
			f.parts[i+1].take("it stands under the manuals' staves")
		case p.Staves == 2 && !p.name[pianoKind] && p.sound != pianoKind && len(f.parts) <= 3:
			p.take("it is the only part for a keyboard, and its name does not say which")
		}
	}
	if f.any() {
		return
	}
	// Names of singers and instruments over music that only an organ can follow.
	for _, p := range f.parts {
		if !p.sung && p.asks(f) {
			p.take("directions for an organ stand in it")
		}
	}
}

func (p *scorePart) asks(f *partFinder) bool { return f.asks(p.Part) }

// titled is what is printed above the music that names the organ: the title,
// a subtitle, another text on the first page.
func (f *partFinder) titled() string {
	texts := []string{f.score.WorkTitle, f.score.MovementTitle}
	for _, c := range f.score.Credits {
		if c.Page <= 1 {
			texts = append(texts, c.Text)
		}
	}
	for _, text := range texts {
		if kindsOf(text)[organKind] && len(text) < 200 {
			return strings.Join(strings.Fields(text), " ")
		}
	}
	return ""
}

// takeHands finds whose the hands are where only a pedal part is known: the
// staves right above it, whether nothing names them or their names are stops.
func (f *partFinder) takeHands() {
	for i, p := range f.parts {
		if !p.organ || !p.isPedalPart() || f.hasHands() {
			continue
		}
		staves := 0
		for j := i - 1; j >= 0 && staves < 2; j-- {
			above := f.parts[j]
			if above.sung || !above.unnamed() && !above.stops && !above.name[rightKind] && !above.name[leftKind] {
				break
			}
			if above.Staves > 2 || staves > 0 && above.Staves > 1 {
				break
			}
			staves += above.Staves
			above.take("it stands right above the pedal part")
		}
	}
}

func (p *scorePart) isPedalPart() bool {
	return (p.name[pedalKind] || p.role == division.Pedal) && !p.name[manualKind] && p.Staves <= 2
}

// hasHands reports whether some organ part is not the pedal's.
func (f *partFinder) hasHands() bool {
	return slices.ContainsFunc(f.parts, func(p *scorePart) bool { return p.organ && !p.isPedalPart() })
}

// takePedal finds a pedal part that nothing names: right under the organ's
// last staff, where the organ has no pedal yet.
func (f *partFinder) takePedal() {
	last, staves := -1, 0
	for i, p := range f.parts {
		if p.organ {
			last = i
			staves += p.Staves
			if p.isPedalPart() || p.Staves >= 3 {
				return
			}
		}
	}
	if staves < 2 || last+1 >= len(f.parts) || len(f.parts[last].name) == 0 && f.parts[last].Staves == 1 && staves > 2 {
		return
	}
	if next := f.parts[last+1]; next.unnamed() && next.couldBePedal() && !next.name[pianoKind] {
		next.take("it stands right under the organ's staves")
	}
}

// takeAsking takes what else asks for an organ: a part that nothing names, or
// one whose name is that of a stop as well as of an instrument.
func (f *partFinder) takeAsking() {
	for _, p := range f.parts {
		if !p.organ && !p.sung && (p.unnamed() || p.name[instrumentKind] || p.name[singerKind]) && p.asks(f) {
			p.take("directions for an organ stand in it")
		}
	}
}

// couldBePedal reports whether a part is one staff in the bass, within a
// pedalboard's range.
func (p *scorePart) couldBePedal() bool {
	if p.Staves != 1 || !p.unnamed() || !lowClef(p.Part, 1) {
		return false
	}
	return (&Staff{Part: p.Part, Number: 1}).inPedalRange()
}

func lowestCouldBePedal(p *musicxml.Part) bool {
	s := &Staff{Part: p, Number: p.Staves}
	return lowClef(p, p.Staves) && s.inPedalRange()
}
