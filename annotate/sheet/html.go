package sheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"stopgap/annotate"
	"stopgap/annotate/resolve"
	"stopgap/registry/division"
	"stopgap/registry/sound"
)

//go:embed page.html
var pageHTML string

//go:embed style.css
var styleCSS string

var page = template.Must(template.New("page").Parse(pageHTML))

// A pageView is what the page shows.
type pageView struct {
	Style                  template.CSS
	Title, By, Organ       string
	ScoreLang, OrganLang   string
	Registrant, Student    bool
	Explained              string
	StartPiston            int
	Start                  []row
	StartPulls             []pull
	StartTexts             []pageAsked
	StartSee               []pageReason
	Entries                []pageEntry
	Generals               []pageGeneral
	ByHand                 string
	Strip, Pedal           []template.HTML
	Others                 []substitution
	Cautions               []pageCaution
	Terms                  []term
	Caution, Nothing, Many string
}

type pageEntry struct {
	Where, Heading string
	Does           []string
	Piston         int
	Pulls          []pull
	Asked          []pageAsked
	See            []pageReason // of the substitutions that begin here
	Hurried        string
	Whole          []row
}

type pageReason struct {
	Number int
	Text   string
}

type pageAsked struct{ Where, Text, Lang string }

type pageGeneral struct {
	Number int
	Says   string
}

type pageCaution struct {
	Text     string
	Remedies []string
}

// A substitution is what is given in place of something, shown once however
// often it comes back.
type substitution struct {
	Number       int
	Asked, Given string
	Where        string
	Why, Heard   string
	Picture      template.HTML
	OtherWays    []string
}

// An ear hears the lines of a plan.
type ear interface {
	Asked(*resolve.Setting, *resolve.Line) (sound.Heard, bool)
	Given(*resolve.Setting, *resolve.Line) (sound.Heard, bool)
}

// HTML writes the plan as one self-contained page.
func HTML(w io.Writer, r *annotate.Result, opts Options) error {
	return writePage(w, newSheet(r, opts), r.Plan.Listen())
}

func writePage(w io.Writer, s *sheet, listener ear) error {
	opts := s.opts
	v := &pageView{
		Style: template.CSS(styleCSS), Title: s.title(), By: composer(s), Organ: s.plan.Organ.Name,
		ScoreLang: lang(s.plan.Asked.Lang), OrganLang: lang(s.plan.Organ.Lang),
		Registrant: opts.For == Registrant, Student: opts.For == Student, Caution: Caution,
	}
	if len(s.entries) == 0 {
		v.Nothing = nothing
		return page.Execute(w, v)
	}
	v.Explained = placesExplained(s.moments.pages != nil)
	first := s.entries[0]
	v.StartPiston = first.piston
	v.Start = s.startRows(first)
	v.StartPulls = pullsOf(first.moves, s.plan.Organ)
	v.StartTexts = s.pageAsked(first)
	v.Many = s.number()
	if !v.Registrant {
		s.fillForPlayer(v, listener)
	}
	v.StartSee = s.pageEntry(first, v.Others).See
	for _, e := range s.entries[1:] {
		if v.Registrant && e.knobs() == 0 {
			continue
		}
		v.Entries = append(v.Entries, s.pageEntry(e, v.Others))
	}
	if v.Student {
		v.Terms = s.termsUsed()
	}
	return page.Execute(w, v)
}

func lang(code string) string {
	if code == "" {
		return "en"
	}
	return code
}

// composer is the composer, where the score names one.
func composer(s *sheet) string {
	for _, c := range s.Score.Creators {
		if c.Type == "composer" {
			return c.Name
		}
	}
	return ""
}

func (s *sheet) pageAsked(e *entry) []pageAsked {
	var out []pageAsked
	for _, t := range e.texts {
		out = append(out, pageAsked{t.where(e), t.text, lang(s.plan.Asked.Lang)})
	}
	return out
}

func (s *sheet) pageEntry(e *entry, others []substitution) pageEntry {
	p := pageEntry{
		Where: e.where(s.opts.For == Registrant || !e.turn), Heading: e.heading(), Does: e.says(s), Piston: e.piston,
		Pulls: pullsOf(e.moves, s.plan.Organ), Asked: s.pageAsked(e),
	}
	if e.hurried {
		p.Hurried = e.hurry()
	}
	if e.startsAgain() {
		p.Whole = e.to.rows(s.plan.Organ)
	}
	for _, r := range e.reasons {
		for _, o := range others {
			if o.Asked == s.askedText(r) && o.Given == s.givenText(r) && o.Why == r.text {
				p.See = append(p.See, pageReason{o.Number, r.says(e, Options{})})
			}
		}
	}
	return p
}

// fillForPlayer adds what a registrant has no need of.
func (s *sheet) fillForPlayer(v *pageView, listener ear) {
	if s.pistons != nil {
		for _, g := range s.pistons.generals {
			v.Generals = append(v.Generals, pageGeneral{g.number, g.says(s)})
		}
		if len(s.pistons.byHand) > 0 {
			v.ByHand = atMoments(s.pistons.byHand)
		}
	}
	v.Strip = s.stripPictures(listener)
	if s.feetPlay() {
		v.Pedal = s.pedalPictures()
	}
	v.Others = s.substitutions(listener)
	for _, c := range cautions(s.Findings) {
		v.Cautions = append(v.Cautions, pageCaution{c.text, c.remedies})
	}
}

// substitutions gathers what is given in place of something else.
func (s *sheet) substitutions(listener ear) []substitution {
	var out []substitution
	at := map[[3]string]int{}
	for _, e := range s.entries {
		for _, r := range e.reasons {
			key := [3]string{s.askedText(r), s.givenText(r), r.text}
			where := "before the first note"
			if e.setting != 0 {
				where = e.moment()
			}
			if i, ok := at[key]; ok {
				out[i].Where += "; " + where
				continue
			}
			at[key] = len(out)
			x := substitution{
				Number: len(out) + 1, Asked: key[0], Given: key[1], Where: where, Why: r.text,
				Heard: heardWords(r.line.Heard), OtherWays: otherWays(s.plan.Organ, r),
			}
			if s.opts.Figures && r.line.Heard != nil {
				x.Heard = heardFigures(r.line.Heard)
			}
			asked, ok1 := listener.Asked(r.setting, r.line)
			given, ok2 := listener.Given(r.setting, r.line)
			if ok1 && ok2 {
				x.Picture = bandsPicture(fmt.Sprintf("bands%d", x.Number), x.Asked, asked, given)
			}
			out = append(out, x)
		}
	}
	return out
}

// askedText is what the score asks of a line.
func (s *sheet) askedText(r reason) string {
	text := lineName(r.line.Asked.Line) + " " + division.Abbreviation(r.line.Asked.Division.Role, s.plan.Asked.Lang)
	if r.line.Part != nil {
		for i, v := range r.line.Part.Asked.Voices {
			if i > 0 {
				text += ","
			}
			text += " " + resolve.VoiceText(v)
		}
	}
	return text
}

func (s *sheet) givenText(r reason) string {
	if r.line.Keyboard == nil {
		return "nothing"
	}
	return lineText(s.plan.Organ, r.setting, r.line.Asked.Line)
}
