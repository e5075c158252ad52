package resolve

import "stopgap/annotate/passage"

// How wide the search is in one passage: it looks for all settings that cost
// at most margin more than the cheapest, and for three at least, so that there
// are two to fall back on. Where that turns out not to prove the best of the
// whole, the margin is widened there (widen.go), until so many nodes have been
// looked at in the passage. A first search goes on for longer: only where very
// much is as good as the rest is it given up with what was found until then.
const (
	marginFirst = 24
	marginFar   = 192  // while there are not three
	marginAny   = 6000 // for something to fall back on, where much has to be given up
	keepAtLeast = 3
	mostNodes   = 100_000
	mostFirst   = 1_000_000 // in the first search
	mostTrials  = 400       // that are kept

	// How many nodes wider searches may look at in a whole score: so many, and so
	// many more for each passage, up to as many passages as musicians write.
	mostWidened, mostWidenedEach, mostWidenedFor = 150_000, 2000, 300

	// To compare so many words of two trials takes about as long as to look at a
	// node. On an organ that has dozens of stops of a kind very many trials cost
	// the same.
	wordsPerNode = 256

	// nodesToFallBack is how many nodes a passage may have taken for it to be
	// searched again for something to fall back on.
	nodesToFallBack = 5_000
)

// slackWide is how much more than the cheapest ways may cost that are looked
// at for remedies.
const slackWide = 960

// A stage is a passage as it is searched.
type stage struct {
	r        *resolver
	versions []*version
	margin   int
	far      int // the margin while there are not three
	nodes    int

	joinings map[joining]int // what is lost by those that have been met
	room     []candidate     // the candidates of all choices that are open
	narrower []open          // those choices

	again  bool     // it has been searched before
	broken bool     // the search took too long, and was given up
	tried  trial    // the one at hand, until it turns out to be worth keeping
	better int      // where in trials the last one stood that was better than another
	trials []*trial // those worth keeping, cheapest first
	most   int      // what they may cost at most, as far as an earlier search tells
	next   int      // what every other one costs at least, but for those that one of trials is better than whatever stands before and after
	edges
}

// A version is the passage as it stands, or with a hand and the feet changing
// parts.
type version struct {
	*desk
	base    int // what it costs to change parts
	choices []*choice
	least   int // what a trial costs at least
}

// A choice is the parts that are looked at for one thing that is asked.
type choice struct {
	ask   *ask
	slack int     // within which parts are looked at
	parts []*Part // nil where they are forgotten
	cut   cut     // what any other part costs at least
	held  *Part   // the way that the words are held to
}

func (r *resolver) stage(p *passage.Passage, e edges) *stage {
	st := r.stageAsPinned(p, e)
	if len(st.trials) == 0 && r.unpin(p) { // CheckPins has said why
		st = r.stageAsPinned(p, e)
	}
	if len(st.trials) == 0 {
		st.lookAtAll()
	}
	return st
}

// lookAtAll searches among all parts within the slack, where of those that are
// as good as one another none was looked at that goes with the others.
func (st *stage) lookAtAll() {
	for _, v := range st.versions {
		for _, c := range v.choices {
			c.ask.everyPart = true
			st.choose(v, c)
		}
	}
	st.search()
}

// version adds a version of the passage, if it can be played at all.
func (st *stage) version(p *passage.Passage, base int) {
	v := &version{desk: st.r.desk(p), base: base}
	for _, k := range v.asks {
		c := &choice{ask: k, slack: st.margin, held: st.r.canon[k.key]}
		if st.choose(v, c); len(c.parts) == 0 {
			return
		}
		v.choices = append(v.choices, c)
	}
	v.least = base
	for _, c := range v.choices {
		v.least += c.parts[0].Cost
	}
	st.versions = append(st.versions, v)
}

// choose finds the parts of a choice within its slack.
func (st *stage) choose(v *version, c *choice) {
	st.list(v, c)
	st.nodes += len(c.parts)
}

func (st *stage) list(v *version, c *choice) {
	c.parts, c.cut = st.r.choices(v.p, c.ask, c.slack)
	if len(c.parts) == 0 && !c.ask.swapped {
		c.parts, c.cut = []*Part{st.r.nothing(c.ask)}, cut{never, never}
	}
}

// partsKept is of how many passages all parts are kept that were looked at,
// some tens of kilobytes each, in case they are searched again.
var partsKept = 20

// searched ends a search.
func (st *stage) searched() {
	st.tried, st.joinings, st.room, st.narrower = trial{}, nil, nil, nil
	st.r.listed = kept(st.r.listed, st, partsKept, (*stage).forget)
}

// forget lets the parts go that were looked at, but for those of the trials.
func (st *stage) forget() {
	for _, v := range st.versions {
		for _, c := range v.choices {
			c.parts, c.ask.sketches = nil, nil
		}
	}
}

// recall lists the parts again that were looked at before.
func (st *stage) recall() {
	for _, v := range st.versions {
		for _, c := range v.choices {
			if c.parts == nil {
				st.list(v, c)
			}
		}
	}
}

// holds reports whether the words of the passage are held to what they were
// when the stage was made.
func (st *stage) holds() bool {
	for _, v := range st.versions {
		for _, c := range v.choices {
			if st.r.canon[c.ask.key] != c.held {
				return false
			}
		}
	}
	return true
}

// nothing is what is given where the organ has no keyboard for it.
func (r *resolver) nothing(k *ask) *Part {
	p := &Part{Asked: k.asked, Cost: missBassSixteen, played: len(k.lines) > 0, ask: k, soft: k.softened}
	r.board.number(p)
	return p
}

// spent reports whether no more nodes may be looked at for something better.
func (st *stage) spent() bool { return st.nodes > mostNodes }

// exhausted reports whether the search at hand has to be given up: at once
// where the passage has been searched before, late where it has not.
func (st *stage) exhausted() bool {
	return st.nodes > mostNodes && st.again || st.nodes > mostFirst && len(st.trials) > 0
}

// search finds the trials within the margin, with as many parts as it takes.
// What an earlier search found says how far to look.
func (st *stage) search() {
	st.recall()
	st.joinings = map[joining]int{}
	defer st.searched()
	for len(st.trials) > 0 && st.stretch() {
	}
	for {
		st.most = never - 1
		st.most = st.limit()
		st.trials, st.next = nil, never
		for _, v := range st.versions {
			st.combine(v, make([]*Part, 0, len(v.choices)), v.open(), v.base)
		}
		if st.sift(); st.broken {
			st.next = min(st.next, st.least())
			return
		}
		if !st.stretch() {
			return
		}
	}
}

// least is what any trial costs at least.
func (st *stage) least() int {
	least := never
	for _, v := range st.versions {
		least = min(least, v.least)
	}
	return least
}

// stretch looks for more parts where one that was left out could be in a trial
// within the limit: such a trial costs at least that part and the cheapest of
// the others.
func (st *stage) stretch() (wider bool) {
	for _, v := range st.versions {
		for _, c := range v.choices {
			others := v.least - c.parts[0].Cost
			if c.cut.alike < never {
				st.next = min(st.next, others+c.cut.alike)
			}
			if c.cut.far >= never {
				continue
			}
			if reach := others + c.cut.far; reach > st.limit() || st.spent() && len(st.trials) > 0 {
				st.next = min(st.next, reach)
				continue
			}
			c.slack = min(max(st.limit()-v.least, c.slack+1), 4*c.slack)
			st.choose(v, c)
			wider = true
		}
	}
	return wider
}

// bar is the cost up to which trials are worth looking at: where there are
// mostTrials, only cheaper ones.
func (st *stage) bar() int {
	if len(st.trials) < mostTrials {
		return st.limit()
	}
	return min(st.limit(), st.trials[mostTrials-1].cost-1)
}

// limit is the cost up to which trials are looked for.
func (st *stage) limit() int {
	switch {
	case len(st.trials) == 0:
		return st.most
	case len(st.trials) < keepAtLeast && st.margin < st.far:
		return min(st.most, st.trials[0].cost+st.far)
	}
	return min(st.most, max(st.trials[0].cost+st.margin, st.trials[min(keepAtLeast, len(st.trials))-1].cost))
}
