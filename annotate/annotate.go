// Package annotate is the job from end to end: from a score and an organ to a
// plan, and from the plan to the marked score.
package annotate

import (
	"errors"
	"slices"

	"stopgap/annotate/mark"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
)

// Options are what the player chooses, for reading the score, for resolving
// it and for marking it.
type Options struct {
	Read    passage.Options
	Resolve resolve.Options
	Pedal   mark.PedalMarks
	Propose bool // stops are proposed from the dynamics where the score names none
	Replace bool // the score's own directions give way to the marks
}

// A Result is a plan and the score that it was made for.
type Result struct {
	Plan     *resolve.Plan
	Score    *musicxml.Score
	Findings []Finding
	Marks    []mark.Mark

	WrittenFor *registry.Organ // the organ that the composer wrote for, nil where none is chosen

	doc   *musicxml.Document // without marks
	given *musicxml.Document // as it was read
}

// Plan reads a score and works out how to play it on the organ. Marks of an
// earlier run do not count: they are taken out first.
func Plan(doc *musicxml.Document, organ *registry.Organ, opts Options) (*Result, error) {
	clean, err := Clean(doc)
	if err != nil {
		return nil, err
	}
	clean, plan, err := withoutUnsigned(clean, organ, opts)
	if err != nil {
		return nil, err
	}
	r := &Result{Plan: plan, Score: clean.Score(), Marks: mark.Of(plan, opts.Pedal), WrittenFor: opts.Resolve.WrittenFor, doc: clean, given: doc}
	r.Findings = findings(clean, plan)
	return r, nil
}

// planOf works out how to play a score that was read.
func planOf(asked *passage.Score, organ *registry.Organ, opts Options) (*resolve.Plan, error) {
	if opts.Propose {
		asked.Propose()
	}
	if err := resolve.CheckPins(asked, organ, opts.Resolve); err != nil {
		return nil, err
	}
	return resolve.Resolve(asked, organ, opts.Resolve), nil
}

// withoutUnsigned takes out the marks whose instructions another program has
// dropped, and plans what remains. Those count as marks that the tool would
// write just so; the others are the score's own, and stay.
func withoutUnsigned(doc *musicxml.Document, organ *registry.Organ, opts Options) (*musicxml.Document, *resolve.Plan, error) {
	asked, err := passage.Read(doc.Score(), opts.Read)
	if err != nil {
		return nil, nil, err
	}
	layout := asked.Layout
	const mostTries = 4 // each is a plan of its own; a marked score takes two at most
	tries := 0
	for unsigned := mark.FindUnsigned(layout); len(unsigned) > 0; {
		clean, ok := without(doc, layout, unsigned)
		if !ok {
			break
		}
		rest, err := passage.Read(clean.Score(), opts.Read)
		if err != nil {
			return nil, nil, err
		}
		plan, err := planOf(rest, organ, opts)
		if err != nil {
			return nil, nil, err
		}
		written := mark.Written{}
		written.Add(mark.Of(plan, mark.OctaveLine))
		written.Add(mark.Of(plan, mark.WrittenOut))
		ours := slices.DeleteFunc(slices.Clone(unsigned), func(u mark.Unsigned) bool { return !written.Has(u) })
		if len(ours) == len(unsigned) {
			return clean, plan, nil
		}
		if tries++; tries == mostTries {
			break
		}
		unsigned = ours
	}
	plan, err := planOf(asked, organ, opts)
	return doc, plan, err
}

// without is the document without some unsigned marks; ok is false where they
// cannot be taken out.
func without(doc *musicxml.Document, l *passage.Layout, unsigned []mark.Unsigned) (clean *musicxml.Document, ok bool) {
	edits, err := mark.TakeOut(doc, l, unsigned)
	if err != nil {
		return nil, false
	}
	data, err := doc.Apply(edits)
	if err != nil {
		return nil, false
	}
	clean, err = musicxml.Read(doc.Name(), data)
	return clean, err == nil
}

// Write is the marked score, in the bytes of its file. Where there is nothing
// to mark it is the file without marks, which for an unmarked file is the file.
func (r *Result) Write(opts Options, organ string) ([]byte, error) {
	edits, err := mark.Edits(r.doc, r.Marks, mark.Options{Organ: organ, Replace: opts.Replace})
	if err != nil {
		return nil, err
	}
	data, err := r.doc.ApplyKeeping(edits)
	if err != nil || r.given == r.doc || !r.given.Archived() {
		return data, err
	}
	// An archive that is packed anew differs though the score in it does not:
	// what is marked already as it should be stays as it is.
	if again, err := musicxml.Read(r.given.Name(), data); err == nil && again.Text() == r.given.Text() {
		return r.given.Apply(nil)
	}
	return data, nil
}

// Strip is the document without marks, and how many there were.
func Strip(doc *musicxml.Document) ([]byte, int, error) {
	edits, n := mark.Strip(doc)
	out, err := doc.Apply(edits)
	if err != nil {
		return nil, 0, brokenMarks(doc, err)
	}
	return out, n, nil
}

// brokenMarks says that the marks in a file cannot be taken out: something
// other than the tool has changed them.
func brokenMarks(doc *musicxml.Document, err error) error {
	var e *musicxml.Error
	if !errors.As(err, &e) || e.ID == "limit" {
		return err
	}
	return &musicxml.Error{
		ID: "broken-marks", File: doc.Name(), Line: e.Line, Column: e.Column,
		Text:   "the marks in this score have been changed so that they cannot be taken out again",
		Remedy: "take what begins with <?" + mark.Target + " out by hand, or begin with the score as it was before it was marked",
	}
}

// Clean is the document without marks: itself where it has none.
func Clean(doc *musicxml.Document) (*musicxml.Document, error) {
	edits, n := mark.Strip(doc)
	if n == 0 && len(edits) == 0 {
		return doc, nil
	}
	out, err := doc.Apply(edits)
	if err != nil {
		return nil, brokenMarks(doc, err)
	}
	clean, err := musicxml.Read(doc.Name(), out)
	if err != nil {
		return nil, brokenMarks(doc, err)
	}
	return clean, nil
}
