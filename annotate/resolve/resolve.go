package resolve

import (
	"slices"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/sound"
	"stopgap/registry/stopname"
)

// Options are what the player says about how to resolve.
type Options struct {
	Numbering  Numbering // "" takes what the score tells, else the usual one for its language
	Few        bool      // as few changes by hand as can be
	Prefer     Preference
	TwoVoices  bool            // where the feet take a hand's part, they may take two voices of it
	Pins       []Pin           // see CheckPins
	WrittenFor *registry.Organ // the organ that the composer wrote for, nil where none is chosen

	// OnlyPlayed leaves out what only a sheet tells: the ways to fall back on,
	// which are two thirds of the memory of a plan, and how the lines sound
	// against what is asked.
	OnlyPlayed bool
}

// A Preference shifts the order between the manual that is named and the kind
// of stop; "" leaves it as usual.
type Preference string

// The preferences.
const (
	PreferManual Preference = "manual"
	PreferColour Preference = "colour"
)

type resolver struct {
	organ     *registry.Organ
	lang      string
	numbering Numbering
	few       bool
	prefer    Preference

	writtenFor *registry.Organ // nil where none is chosen
	twoVoices  bool

	sounds     map[*registry.Stop]*sound.Stop
	soundCosts map[soundKey]int
	meant      map[meantKey]*sound.Stop
	names      map[nameKey]stopname.Known
	ears       map[*passage.Played]*ear
	hearings   []*desk  // those that are ready for hearing
	listed     []*stage // those whose parts are kept
	drownings  []*desk  // those of which it is known how far solos stand out
	lends      map[*registry.Division][]*Path
	fittings   map[fittingKey][]fittingStop
	ways       ways
	givings    givings
	pairs      map[pairKey]int
	canon      map[string]*Part // what words that come back are held to
	settled    map[string]bool  // those of them that are held to what a plan gave
	recurs     map[fixedKey]recurrence
	widened    int    // nodes looked at in wider searches
	grows      []bool // whether the score takes nothing away from the hands, at the start of each passage
	moveCost   []int  // of one knob, at the start of each passage

	follows   map[*passage.Passage][]Follow // what follows the hands, unprinted
	fixed     map[fixedKey][]*fixed         // the choices that pins fix
	softPedal map[*passage.Passage]bool     // where a loud pedal gives way to soft hands
	swapped   map[*passage.Passage][]*swap  // hand and feet change parts
	swapIn    map[*passage.Passage]*swap    // the swap that a passage was made for
	others    map[fixedKey][]*Part          // what an ask could be given elsewhere, for remedies
	layout    *passage.Layout
	brief     map[fixedKey]bool // where what is asked of a division holds for a bar or two

	board *board
}

// soundKey is a voice against a stop that sounds shift octaves higher.
type soundKey struct {
	group direction.Group
	name  string
	pitch pitch.Feet
	pedal bool
	was   *registry.Stop // on the organ that the composer wrote for
	stop  *registry.Stop
	shift int
}

func newResolver(organ *registry.Organ, lang string, numbering Numbering) *resolver {
	r := &resolver{
		organ: organ, lang: lang, numbering: numbering,
		sounds:     map[*registry.Stop]*sound.Stop{},
		soundCosts: map[soundKey]int{},
		meant:      map[meantKey]*sound.Stop{},
		names:      map[nameKey]stopname.Known{},
		ears:       map[*passage.Played]*ear{},
		lends:      map[*registry.Division][]*Path{},
		fittings:   map[fittingKey][]fittingStop{},
		givings:    givings{},
		pairs:      map[pairKey]int{},
		canon:      map[string]*Part{},
		settled:    map[string]bool{},
		recurs:     map[fixedKey]recurrence{},
		fixed:      map[fixedKey][]*fixed{},
		follows:    map[*passage.Passage][]Follow{},
		softPedal:  map[*passage.Passage]bool{},
		swapped:    map[*passage.Passage][]*swap{},
		swapIn:     map[*passage.Passage]*swap{},
		others:     map[fixedKey][]*Part{},
		brief:      map[fixedKey]bool{},
		board:      newBoard(organ),
	}
	r.ways.r = r
	if r.numbering == "" {
		r.numbering = NumberingOf(lang)
	}
	return r
}

// mostAlternatives is how many ways to fall back on are told for each passage.
const mostAlternatives = 2

// resolverFor is a resolver with what the player says.
func resolverFor(asked *passage.Score, organ *registry.Organ, opts Options) *resolver {
	r := newResolver(organ, asked.Lang, opts.NumberingOf(asked))
	r.few, r.prefer, r.twoVoices, r.layout, r.writtenFor = opts.Few, opts.Prefer, opts.TwoVoices, asked.Layout, opts.WrittenFor
	return r
}

// Resolve plans the whole score on the organ.
func Resolve(asked *passage.Score, organ *registry.Organ, opts Options) *Plan {
	r := resolverFor(asked, organ, opts)
	plan, stages := r.plan(asked, opts.Pins)
	if len(opts.Pins) > 0 {
		// A pin may ask for what the search would never offer, and what that
		// costs is a guess: it is no less than what it takes the place of.
		free, _ := resolverFor(asked, organ, opts).plan(asked, nil)
		plan.Cost, plan.Bound = max(plan.Cost, free.Cost), max(plan.Bound, free.Bound)
	}
	// One passage after another, so that what only the search needs of it can go.
	for i, s := range plan.Settings {
		if !opts.OnlyPlayed {
			changes := slices.ContainsFunc(s.Parts, func(p *Part) bool { return p.Changes() || r.moved(p) })
			for _, t := range stages[i].others(s.trial, mostAlternatives, changes) {
				s.Alternatives = append(s.Alternatives, t.desk.setting(t))
			}
		}
		stages[i] = nil
		if i > 0 {
			r.linger(plan.Settings[i-1], s)
		}
		r.explain(s)
		for _, alt := range s.Alternatives {
			r.explain(alt)
			alt.Why = r.whyNot(s, alt)
		}
		if !opts.OnlyPlayed {
			r.compare(s)
		}
		r.tellTried(s)
		r.problems(s)
		s.settle()
	}
	return plan
}

// plan searches the whole score, divided where that helps.
func (r *resolver) plan(asked *passage.Score, pins []Pin) (plan *Plan, stages []*stage) {
	plan = &Plan{Organ: r.organ, Asked: asked, numbering: r.numbering}
	passages := r.prepare(asked, pins)
	at := r.findCuts(passages)
	for again := true; again; again = at.dropIdle(asked, plan.Settings) {
		if now := at.divided(asked); now != plan.Asked {
			plan.Asked, passages = now, r.prepare(now, pins)
		}
		plan.Settings, stages = nil, nil // not to be kept while it is searched anew
		plan.Settings, stages, plan.Cost, plan.Bound = r.solve(passages, nil)
		if r.settleWords(plan.Settings) {
			plan.Settings = nil
			plan.Settings, stages, plan.Cost, plan.Bound = r.solve(passages, stages)
		}
	}
	plan.heldTo = r.canon
	return plan, stages
}

// prepare makes the passages ready for the search: what follows the hands,
// the pins, and what it costs to change between them.
func (r *resolver) prepare(asked *passage.Score, pins []Pin) []*passage.Passage {
	passages := r.follow(asked.Passages)
	clear(r.fixed)
	_ = r.place(passages, pins) // CheckPins tells of pins that cannot be placed
	r.findBrief(passages)
	r.moveCost, r.grows = nil, nil
	for i, p := range passages {
		r.moveCost = append(r.moveCost, r.costOfMoving(asked.Layout, p))
		r.grows = append(r.grows, i > 0 && growsInto(passages[i-1], p))
	}
	r.findRecurrences(passages)
	return passages
}

// costOfMoving is what it costs to move one knob at the start of a passage:
// more where no hand rests.
func (r *resolver) costOfMoving(l *passage.Layout, p *passage.Passage) int {
	cost := costMove
	if !l.RestsBefore(passage.RH, p.Start) && !l.RestsBefore(passage.LH, p.Start) {
		cost = costMoveBusy
	}
	if r.few {
		cost += costMoveFew
	}
	return cost
}

// Moved reports whether a part has another home than the score names.
func (p *Plan) Moved(part *Part) bool { return p.resolver().moved(part) }

// Named reports whether a division of the organ is the one that the score's
// name means on it.
func (p *Plan) Named(d passage.Division, host *registry.Division) bool {
	return !p.resolver().moved(&Part{Asked: &passage.Asked{Division: d}, Host: host})
}

// Coupled is what is given for a coupler that the score asks for: the coupler,
// or the first of those that carry on to one another, nil if there is none; and
// the divisions that it joins.
func (p *Plan) Coupled(s *Setting, c passage.Coupling) (given *registry.Coupler, from, to *registry.Division) {
	r := p.resolver()
	from, to = r.ends(s, c)
	if from == nil || to == nil {
		return nil, from, to
	}
	given = r.coupler(from, to, c.Octave)
	if given == nil {
		if via := r.chain(s.knobs, from, to, c.Octave); via != nil {
			given = via[0]
		}
	}
	return given, from, to
}

// resolver is one for questions about the plan, not for resolving.
func (p *Plan) resolver() *resolver {
	if p.asking == nil {
		p.asking = newResolver(p.Organ, p.Asked.Lang, p.numbering)
	}
	return p.asking
}

// moved reports whether a part has another home than the score names.
func (r *resolver) moved(p *Part) bool {
	d := p.Asked.Division
	if p.Host == nil || d == passage.Pedal || d.Role == division.None {
		return false
	}
	if n := d.Role.Number(); n > 0 {
		return r.numbered(n) != p.Host
	}
	return p.Host.Role != d.Role
}
