package direction

import (
	"strings"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// A clause is a list of stops with one verb, on the divisions named before it
// or after it.
type clause struct {
	entry    *entry
	lead     []division.Role
	leadWeak bool // they were named for other stops
	colon    bool // a colon stands after the divisions
	verb     Verb
	given    bool // the text has a word for the verb
	ended    bool // a verb stood after it: only its division may still follow
	named    bool // its division stood after it: only its verb may still follow
	items    []item
	without  []item  // what it leaves out
	infix    int     // how many items there were when a division was named between name and pitch
	before   *clause // the list that an "and" joins this one to
}

// takesVerb reports whether a verb at the present place can belong to a list
// before it.
func (r *reader) takesVerb() bool {
	if r.gap.line || r.gap.semicolon {
		return false
	}
	return r.hasItems() || r.clause != nil && r.clause.named && !r.gap.broken()
}

// hasItems reports whether a list of stops is being read.
func (r *reader) hasItems() bool {
	return r.clause != nil && len(r.clause.items) > 0 && !r.clause.ended
}

// addItem takes an item into the list that is being read, or begins one.
func (r *reader) addItem(it item) {
	if r.limit && r.hasItems() {
		r.addException(it)
		return
	}
	if r.clause != nil && r.clause.ended {
		r.closeClause()
	}
	if r.clause == nil {
		r.openClause(it)
	}
	c := r.clause
	if n := len(c.items); n > 1 && it.kind == pitchItem && it.gap.close && !it.gap.broken() && c.items[n-1].gap.or && len(c.items[n-1].feet) == 0 {
		c.items[n-2].feet, c.items[n-1].feet = it.feet, it.feet // "Krummhorn (oder Oboe) 8'"
		r.rest(c.entry, it.from, it.to)
		r.take(it.to)
		return
	}
	if n := len(c.items); n > 0 && it.kind == pitchItem && it.gap == (gap{}) && c.infix == n && len(c.items[n-1].feet) == 0 {
		c.items[n-1].feet = it.feet // "Anches Péd. 16"
		r.rest(c.entry, it.from, it.to)
		r.take(it.to)
		return
	}
	if it.kind == pitchItem && it.strength == "" && len(c.items) > 0 && !it.gap.line {
		if last := c.items[len(c.items)-1]; last.kind == pitchItem && (it.gap.and || it.gap.comma) {
			it.strength = last.strength
		}
	}
	if n := len(c.items); n > 0 && it.gap.open && !it.gap.broken() && len(it.feet) == 0 && (it.kind == stopItem || it.kind == familyItem) &&
		c.items[n-1].kind == pitchItem && len(c.items[n-1].feet) == 1 && r.mark(it.to) == markClose {
		last := c.items[n-1] // "16 ft. (Bourdon)"
		it.feet, it.strength, it.gap = last.feet, last.strength, last.gap
		c.items = c.items[:n-1]
	}
	if it.strength == "" {
		it.strength = r.strength
	}
	r.strength = ""
	c.items = append(c.items, it)
	r.rest(c.entry, it.from, it.to)
	if (it.kind == stopItem || it.kind == familyItem) && len(it.feet) > 0 && it.feet[0].Cmp(pitch.Foot(8)) >= 0 && !r.at(it.lexeme+1).token.marked {
		c.entry.content++ // a name with the pitch of a ground
	}
	r.take(it.to)
}

// openClause begins a list on the divisions that the text is about.
func (r *reader) openClause(first item) {
	c := &clause{lead: r.scope, leadWeak: r.scopeWeak, verb: r.verb, given: r.verb != ""}
	if r.head != nil {
		c.colon = r.head.colon
		c.entry = r.head.entry
		if r.head.letters {
			// "G.P.R. Fonds 8": on each, and all sounding together
			c.entry.statements = coupledTogether(r.head.divisions, 0).statements(Couple)
		}
		r.head = nil
	} else {
		c.entry = r.emit(first.from, first.from)
	}
	if r.with && first.kind == groupItem && first.group == Tutti {
		c.verb, c.given = "", false // "mit vollem Werk"
	}
	if r.prepare {
		c.entry.ahead = true
		c.given = true
		c.verb = Set
		if r.lang != "en" && first.kind == familyItem && r.family(first) == Reed && !r.voicesNamed(first) {
			c.verb = Prep // "préparez les Anches"
		}
	}
	if c.verb == "" {
		c.verb = Set
	}
	if r.with {
		r.verb, r.with = "", false
	}
	c.before, r.joined = r.joined, nil
	r.clause = c
}

// voicesNamed reports whether a division has been named for the list.
func (r *reader) voicesNamed(item) bool { return len(r.scope) > 0 }

// family is the family of a family word.
func (r *reader) family(it item) Group {
	if it.kind != familyItem {
		return ""
	}
	return Group(firstWord(r.value(it.lexeme, classFamily)))
}

// addException takes an item as what the group before it leaves out.
func (r *reader) addException(it item) {
	c := r.clause
	last := &c.items[len(c.items)-1]
	if g := r.family(it); g != "" && len(it.feet) == 0 {
		last.except = append(last.except, g)
	} else if it.kind == stopItem && len(it.feet) == 0 && r.isMixture(it.lexeme) {
		last.except = append(last.except, Mixture)
	} else {
		c.without = append(c.without, it)
	}
	r.rest(c.entry, it.from, it.to)
	r.take(it.to)
}

// chunkStart is the first item after the last mark that parts the list.
func (c *clause) chunkStart() int {
	for i := len(c.items) - 1; i > 0; i-- {
		if g := c.items[i].gap; g.comma || g.semicolon || g.line && !g.and || g.with || g.open {
			return i
		}
	}
	return 0
}

// groupsApart is where "les Fonds avec les Anches" parts, since a division
// named after it is that of the Anches; 0 where the list does not part so.
func (c *clause) groupsApart() int {
	if len(c.items) > 1 && c.items[0].kind == groupItem && c.items[0].group == Tutti && c.items[1].gap.comma {
		return 1 // "Tutti, 16 et 32 à la Péd."
	}
	for i := len(c.items) - 1; i > 0; i-- {
		if it := c.items[i]; it.gap.with && it.kind == familyItem && c.items[i-1].kind == familyItem {
			return i
		}
	}
	return 0
}

// splitClause closes the items before k as a list of their own.
func (r *reader) splitClause(k int) {
	c := r.clause
	tail := &clause{lead: c.lead, leadWeak: c.leadWeak, colon: c.colon, verb: c.verb, given: c.given}
	tail.items = append(tail.items, c.items[k:]...)
	c.items = c.items[:k]
	r.closeClause()
	tail.entry = r.emit(tail.items[0].from, tail.items[0].from)
	for _, it := range tail.items {
		r.rest(tail.entry, it.from, it.to)
	}
	r.clause = tail
}

// applyVerb gives the end of the list the verb that stands after it.
func (r *reader) applyVerb(v Verb) {
	c := r.clause
	k := c.chunkStart()
	if v == Prep {
		// "Fonds et Anches préparées": the Anches only
		for i := len(c.items) - 1; i > k && r.removable(c.items[i:]) && !r.removable(c.items[k:i]); i-- {
			if !r.removable(c.items[i-1 : i]) {
				k = i
				break
			}
		}
	}
	if k > 0 && v != Prep && (len(c.lead) == 0 || r.removable(c.items[:k])) && !c.given {
		k = 0
	}
	if k > 0 {
		r.splitClause(k)
	}
	r.clause.verb, r.clause.given = v, true
	if b := r.clause.before; b != nil && !b.given && b.entry.bareReeds {
		for i := range b.entry.statements {
			b.entry.statements[i].Verb = v // "Gt. Reeds and Ped. Reeds off"
		}
	}
	r.rest(r.clause.entry, r.i, r.i+1)
	r.clause.ended = true
}

// removable reports whether items are all such as are put on and off: reeds,
// mixtures, single pitches.
func (r *reader) removable(items []item) bool {
	for _, it := range items {
		if f := r.family(it); it.kind != pitchItem && f != Reed && f != Mixture {
			return false
		}
	}
	return true
}

// closeClause turns the list that is being read into statements.
func (r *reader) closeClause() {
	c := r.clause
	r.clause = nil
	if c == nil || len(c.items) == 0 {
		return
	}
	r.sharePitches(c.items)
	lead := c.lead
	if len(lead) == 0 {
		lead = []division.Role{division.None}
	}
	for _, d := range lead {
		s := Statement{Verb: c.verb, Division: d}
		pedal := d == division.Pedal || d == division.None && r.ctx.Pedal
		if s.All = c.verb == Off && c.items[0].kind == allItem; !s.All {
			s.Voices = r.joinVoices(c.items, pedal)
		}
		for i := range s.Voices {
			if s.Voices[i].Group == Tutti && enclosable(d) {
				s.Voices[i].Group = Full // "Schwellwerk volles Werk"
			}
		}
		c.entry.statements = append(c.entry.statements, s)
	}
	for _, d := range lead {
		if len(c.without) > 0 {
			s := Statement{Verb: Off, Division: d, Voices: r.joinVoices(c.without, d == division.Pedal)}
			c.entry.statements = append(c.entry.statements, s)
		}
	}
	c.entry.bareReeds = !c.given && !c.colon && !c.items[0].gap.at && r.bareReeds(c.items)
	r.mergeBack(c.entry)
}

// joinVoices are the voices of items, those after an "or" as alternatives.
func (r *reader) joinVoices(items []item, pedal bool) []Voice {
	var all []Voice
	for _, it := range items {
		voices := r.voices(it, pedal)
		if it.gap.or && len(all) > 0 {
			last := &all[len(all)-1]
			last.Or = append(last.Or, voices[0])
			voices = voices[1:]
		}
		if n := len(all); n > 0 && len(voices) > 0 && voices[0].Group == Plenum && all[n-1].Group == Plenum {
			voices = voices[1:] // "Principal Chorus to Mixture"
		}
		all = append(all, voices...)
	}
	return all
}

// sharePitches gives group words that "and" joins to another the pitches of
// that: "les Fonds et les Anches de 8 et 4".
func (r *reader) sharePitches(items []item) {
	for i := len(items) - 1; i > 0; i-- {
		it, before := &items[i], &items[i-1]
		if r.family(*before) == Foundation && len(before.feet) == 0 && it.kind == stopItem && len(it.feet) == 1 && it.feet[0] == pitch.Foot(8) && it.gap.and {
			before.feet = it.feet // "Fonds et Hautbois de 8 pieds"
		}
		if r.family(*before) == Foundation && len(before.feet) == 0 && len(it.feet) > 0 && it.gap.and && (it.kind == stopItem || it.kind == familyItem) && r.isMixture(it.lexeme) {
			before.feet = it.feet // "Fonds et Mixt. 16, 8, 4"
		}
		if it.kind == familyItem && before.kind == familyItem && r.takesAll(*it) && r.takesAll(*before) &&
			len(before.feet) == 0 && (it.gap.and || len(items) > 2 && it.gap.comma && i < len(items)-1) && !it.gap.or {
			before.feet = it.feet
		}
	}
}

// takesAll reports whether a family word stands for all pitches of its kind.
func (r *reader) takesAll(it item) bool {
	usual := strings.Fields(r.value(it.lexeme, classFamily))
	return len(usual) == 2 && usual[1] == "*"
}

// bareReeds reports whether a list is nothing but a word for the reeds or the
// mixtures, which is how they are called for on top of what is drawn.
func (r *reader) bareReeds(items []item) bool {
	for _, it := range items {
		if f := r.family(it); f != Reed && f != Mixture || len(it.feet) > 0 || !r.takesAll(it) || len(it.except) > 0 || it.strength != "" {
			return false
		}
	}
	return true
}

// mergeBack joins a list to the one before it if that has the same verb and
// the same division, so that the second does not undo the first.
func (r *reader) mergeBack(e *entry) {
	if len(r.out) < 2 || r.out[len(r.out)-1] != e || len(e.statements) != 1 {
		return
	}
	before := r.out[len(r.out)-2]
	if len(before.statements) != 1 {
		return
	}
	a, b := &before.statements[0], e.statements[0]
	if a.Verb != b.Verb || a.Division != b.Division || a.All || b.All || len(a.Voices) == 0 || len(b.Voices) == 0 {
		return
	}
	a.Voices = append(a.Voices, b.Voices...)
	before.bareReeds = before.bareReeds && e.bareReeds
	before.content += e.content
	before.strong = before.strong || e.strong
	e.statements = nil
	r.out = r.out[:len(r.out)-1]
}
