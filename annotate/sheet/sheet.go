// Package sheet writes a plan for people and programs: what to set before the
// first note and what to change, where and by which cue, as text for a
// terminal, as a page, and as data.
//
// What an organist does at the console is worked out once, for all formats:
// console.go says how the knobs stand in every passage, entries.go what is
// moved and where, moments.go how much time there is and by which notes the
// place is known, pistons.go which changes go on pistons, words.go how it is
// all said.
package sheet

import (
	"stopgap/annotate"
	"stopgap/annotate/resolve"
)

// A Reader is who the sheet is for.
type Reader string

// The player reads what to do and why; the one who draws the stops, only what
// to pull and push; a student also what the words mean.
const (
	Player     Reader = "player"
	Registrant Reader = "registrant"
	Student    Reader = "student"
)

// Options say how a sheet is written.
type Options struct {
	For     Reader // "" is Player
	Figures bool   // give figures for how given and asked differ in sound
	Width   int    // columns of the terminal, for text; 0 for an ordinary page's
	Bold    bool   // the terminal shows bold letters
}

// Caution stands under every sheet.
const Caution = "These are proposals: the player and the organ's keeper decide. Copy only music that may be copied."

// A sheet is a plan as what is done at the console.
type sheet struct {
	*annotate.Result
	plan    *resolve.Plan
	opts    Options
	moments *moments
	states  []*state // of each of the plan's settings
	entries []*entry // the first is what is set before the first note
	pistons *pistons // nil where the organ has no generals, or nothing changes
}

func newSheet(r *annotate.Result, opts Options) *sheet {
	s := &sheet{Result: r, plan: r.Plan, opts: opts}
	if len(s.plan.Settings) == 0 {
		return s
	}
	s.moments = newMoments(r)
	s.states = statesOf(s.plan, s.moments)
	s.entries = s.findEntries()
	s.pistons = assignPistons(s.plan.Organ, s.entries)
	return s
}

func (s *sheet) title() string {
	if s.Score.Title == "" {
		return "Untitled score"
	}
	return s.Score.Title
}

// nothing is what is said of a score without an organ part.
const nothing = "The score has no organ part: nothing to register."
