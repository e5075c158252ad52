package resolve

// A candidate is a part that may still be chosen beside those that have been.
type candidate struct {
	*Part
	beside pairing // what it costs beside them
}

func (c *candidate) whole() int { return c.Cost + c.beside.whole() }

// open is a choice that is still to be made.
type open struct {
	candidates []candidate // in the order of what they cost by themselves
	least      int         // of what they cost
}

// open are the choices of a version with nothing chosen yet.
func (v *version) open() []open {
	var out []open
	for _, c := range v.choices {
		o := open{least: c.parts[0].Cost}
		for _, p := range c.parts {
			o.candidates = append(o.candidates, candidate{Part: p})
		}
		out = append(out, o)
	}
	return out
}

func leastOf(choices []open) int {
	sum := 0
	for i := range choices {
		sum += choices[i].least
	}
	return sum
}

// combine goes through the choices that are open by branch and bound: what the
// parts chosen cost beside one another, and the cheapest of those that can
// still be chosen beside them, is the bound.
func (st *stage) combine(v *version, parts []*Part, choices []open, sum int) {
	if st.nodes++; st.exhausted() {
		st.broken = true
		return
	}
	if len(choices) == 0 {
		st.complete(v, parts, sum)
		return
	}
	rest := leastOf(choices[1:])
	for i := range choices[0].candidates {
		c := &choices[0].candidates[i]
		if bound := sum + c.Cost + rest; bound > st.bar() {
			st.next = min(st.next, bound)
			return // what follows costs no less
		}
		if bound := sum + c.whole() + rest; bound > st.bar() {
			st.next = min(st.next, bound)
			continue
		}
		used, narrower := len(st.room), len(st.narrower)
		if st.narrow(v, c.Part, choices[1:], sum+c.whole()) {
			st.combine(v, append(parts, c.Part), st.narrower[narrower:], sum+c.whole())
		}
		if st.room, st.narrower = st.room[:used], st.narrower[:narrower]; st.broken {
			return
		}
	}
}

// narrow leaves of the open choices what can be given beside a part, within the
// limit, and reports whether that is something of each. What has been chosen,
// the part among it, costs sum.
func (st *stage) narrow(v *version, q *Part, choices []open, sum int) bool {
	bound := sum + leastOf(choices)
	for i := range choices {
		bound -= choices[i].least
		from, least := len(st.room), never
		for k := range choices[i].candidates {
			c := choices[i].candidates[k]
			if bound+c.Cost > st.bar() {
				st.next = min(st.next, bound+c.Cost)
				break
			}
			x, ok := pair(v.p, q, c.Part)
			if !ok {
				continue
			}
			c.beside = c.beside.with(x)
			if whole := c.whole(); bound+whole > st.bar() {
				st.next = min(st.next, bound+whole)
			} else {
				least = min(least, whole)
				st.room = append(st.room, c)
			}
		}
		if least == never {
			return false
		}
		st.narrower = append(st.narrower, open{st.room[from:len(st.room):len(st.room)], least})
		bound += least
	}
	return true
}

// complete tries parts for all choices.
func (st *stage) complete(v *version, parts []*Part, sum int) {
	lost, ok := st.r.shared(parts, st.joinings)
	switch {
	case !ok || !joinedRightly(parts):
	case sum+lost > st.bar():
		st.next = min(st.next, sum+lost)
	default:
		if t := v.put(&st.tried, parts, sum+lost); v.swap == nil || v.swap.reaches(t) {
			st.keep(t)
		}
	}
}
