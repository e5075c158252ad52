package resolve

// Where a search has not proven what is best, it is done again with a wider
// margin, but for passages that have taken too many nodes.

// mostWiderTimes is by how much a margin grows at once: cheaper ways that turn
// up in one passage make less necessary in the next.
const mostWiderTimes = 3

// widen searches again so that what is not found costs so much more at least.
func (st *stage) widen(more int) {
	nodes := st.nodes
	needed := st.next + more - 1 - st.trials[0].cost
	st.margin = min(max(needed, st.margin+1), mostWiderTimes*st.margin)
	st.searchAgain()
	st.r.widened += st.nodes - nodes
}

// searchAgain searches again; what was found before stands where that takes too many
// nodes.
func (st *stage) searchAgain() {
	trials, next := st.trials, st.next
	st.again, st.broken = true, false
	if st.search(); st.broken || len(st.trials) == 0 {
		st.trials, st.next = trials, next
	}
}

// mayWiden reports whether a passage may be searched with a wider margin.
func (st *stage) mayWiden(stages int) bool {
	return !st.spent() && len(st.trials) < mostTrials && st.next < never && st.r.widened < mostWidened+mostWidenedEach*min(stages, mostWidenedFor)
}

// widen searches passages again where a way through all of them takes
// wildcards, and reports whether it could. Each stretch of them is widened by
// what it lacks of the trials that are kept.
func (r *resolver) widen(stages []*stage, path []int) (wider bool) {
	for start := 0; start < len(path); start++ {
		end := start
		for end < len(path) && path[end] == wildcard {
			end++
		}
		if end == start {
			continue
		}
		lack, n := r.lack(stages, path, start, end), end-start
		for ; start < end; start++ {
			if st := stages[start]; st.mayWiden(len(stages)) {
				st.widen((lack + n - 1) / n)
				wider = true
			}
		}
	}
	return wider
}

// lack is how much less the wildcards of the passages from start to before end
// cost than the cheapest way by trials that are kept, before and after which the
// path goes on.
func (r *resolver) lack(stages []*stage, path []int, start, end int) int {
	wild := 0
	var cost []int // of the way to each trial of the passage before
	for i := start; i < end; i++ {
		st := stages[i]
		wild += st.next
		now := make([]int, len(st.trials))
		for k, t := range st.trials {
			now[k] = t.cost
			switch {
			case i > start:
				way := barred
				for q, before := range stages[i-1].trials {
					way = min(way, cost[q]+r.change(before, t, i, never))
				}
				now[k] += way
			case i > 0:
				now[k] += r.change(stages[i-1].trials[path[i-1]], t, i, never)
			}
		}
		cost = now
	}
	least := barred
	for k, c := range cost {
		if end < len(stages) {
			c += r.change(stages[end-1].trials[k], stages[end].trials[path[end]], end, never)
		}
		least = min(least, c)
	}
	return least - wild
}
