package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/pflag"

	"stopgap/annotate"
	"stopgap/annotate/mark"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
	"stopgap/registry/organfile"
	"stopgap/registry/shelf"
)

// readFlags say how the score is to be read.
type readFlags struct {
	pedal, rh, lh, numbering, lang string
}

func (f *readFlags) add(fs *pflag.FlagSet) {
	fs.StringVar(&f.pedal, "pedal-staff", "", "`STAFF` that the feet play from, such as P1.3 (part and staff)")
	fs.StringVar(&f.rh, "rh", "", "`STAFF` of the right hand")
	fs.StringVar(&f.lh, "lh", "", "`STAFF` of the left hand")
	fs.StringVar(&f.numbering, "numbering", "", "what manuals I, II, III are: `bottom-up` or main-first (default: as usual for the score's language)")
}

// resolveFlags say how it is to be played.
type resolveFlags struct {
	organ, writtenFor, propose, changes, prefer string
	pins                                        []string
	doublePedal                                 bool
}

func (f *resolveFlags) add(fs *pflag.FlagSet) {
	fs.StringVar(&f.organ, "organ", "", "`ORGAN` at hand: the name of one on the shelf, or an organ file (default: $STOPGAP_ORGAN, else the demonstration organ)")
	fs.StringVar(&f.writtenFor, "written-for", "", "`ORGAN` that the composer wrote for, to tell what the stops were there: the name of one on the shelf, or an organ file")
	fs.StringVar(&f.propose, "propose", "on", "whether stops are proposed from the dynamics where the score names none: `on` or off")
	fs.StringArrayVar(&f.pins, "pin", nil, "fix a `CHOICE`, such as \"27 feet = Pedal +1: Trumpet 8\" (measure, line, division, octave, stops), or @FILE with one a line")
	fs.StringVar(&f.changes, "changes", "usual", "how many changes by hand: `usual` or few")
	fs.BoolVar(&f.doublePedal, "double-pedal", false, "let the feet take two voices where they change parts with a hand")
	fs.StringVar(&f.prefer, "prefer", "", "what to keep where not both can be kept: `manual`, the division that is named, or colour, the kind of stop")
}

// apply checks the flags and puts them into the options.
func (f *resolveFlags) apply(c *console, opts *annotate.Options) error {
	if err := oneOf("propose", f.propose, "on", "off"); err != nil {
		return err
	}
	if err := oneOf("changes", f.changes, "usual", "few"); err != nil {
		return err
	}
	if f.prefer != "" {
		if err := oneOf("prefer", f.prefer, string(resolve.PreferManual), string(resolve.PreferColour)); err != nil {
			return err
		}
	}
	for _, text := range f.pins {
		if name, ok := strings.CutPrefix(text, "@"); ok {
			file, err := c.readFile(name, maxPinBytes)
			if err != nil {
				return err
			}
			pins, err := resolve.ParsePins(string(file))
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			opts.Resolve.Pins = append(opts.Resolve.Pins, pins...)
			continue
		}
		pin, err := resolve.ParsePin(text)
		if err != nil {
			return err
		}
		opts.Resolve.Pins = append(opts.Resolve.Pins, pin)
	}
	opts.Propose, opts.Resolve.TwoVoices = f.propose == "on", f.doublePedal
	opts.Resolve.Few, opts.Resolve.Prefer = f.changes == "few", resolve.Preference(f.prefer)
	return nil
}

// original opens the organ that the composer wrote for, nil where none is named.
func (f *resolveFlags) original(c *console) (*registry.Organ, []string, error) {
	if f.writtenFor == "" {
		return nil, nil, nil
	}
	return c.namedOrgan(f.writtenFor)
}

// markFlags say how the marks are written.
type markFlags struct {
	pedal, originals string
}

func (f *markFlags) add(fs *pflag.FlagSet) {
	fs.StringVar(&f.pedal, "pedal-marks", "line", "how a passage in another octave is marked: `line`, written or words")
	fs.StringVar(&f.originals, "originals", "keep", "whether printed directions that a mark takes the place of stay: `keep` or replace")
}

func oneOf(flag, value string, allowed ...string) error {
	for _, a := range allowed {
		if value == a {
			return nil
		}
	}
	return fmt.Errorf("--%s %s: it can be %s", flag, value, strings.Join(allowed, ", "))
}

// options checks the flags and puts them together.
func (c *console) options(rf *readFlags, pf *resolveFlags, mf *markFlags) (annotate.Options, error) {
	opts := annotate.Options{
		Read: passage.Options{Staves: passage.Choice{Pedal: rf.pedal, RH: rf.rh, LH: rf.lh}, Lang: rf.lang},
	}
	if rf.numbering != "" {
		if err := oneOf("numbering", rf.numbering, string(resolve.FromBottom), string(resolve.MainFirst)); err != nil {
			return opts, err
		}
		opts.Resolve.Numbering = resolve.Numbering(rf.numbering)
	}
	if pf != nil {
		if err := pf.apply(c, &opts); err != nil {
			return opts, err
		}
	}
	if mf != nil {
		if err := oneOf("pedal-marks", mf.pedal, "line", "written", "words"); err != nil {
			return opts, err
		}
		if err := oneOf("originals", mf.originals, "keep", "replace"); err != nil {
			return opts, err
		}
		opts.Pedal, opts.Replace = mark.PedalMarks(mf.pedal), mf.originals == "replace"
	}
	return opts, nil
}

// openOrgan finds the organ at hand. chosen says where the choice came from when
// no flag made it.
func (c *console) openOrgan(name string) (o *registry.Organ, chosen string, problems []string, err error) {
	switch env := os.Getenv("STOPGAP_ORGAN"); {
	case name != "":
	case env != "":
		name, chosen = env, "from STOPGAP_ORGAN"
	default:
		name, chosen = shelf.Default(), "the demonstration organ; --organ names another"
	}
	o, problems, err = c.namedOrgan(name)
	if err != nil && chosen == "from STOPGAP_ORGAN" {
		err = fmt.Errorf("%w (STOPGAP_ORGAN names it)", err)
	}
	return o, chosen, problems, err
}

// problemsTold is how much is told of an organ file that cannot be read, where
// it is not the file that is checked.
const problemsTold = 3

// namedOrgan opens an organ by its name on the shelf, or else a file.
func (c *console) namedOrgan(name string) (*registry.Organ, []string, error) {
	if shelf.Has(name) {
		o, err := shelf.Open(name)
		return o, nil, err
	}
	text, err := c.readFile(name, organfile.MaxSize)
	if err != nil {
		if _, missing := os.Stat(name); name != "-" && errors.Is(missing, fs.ErrNotExist) && !strings.ContainsAny(name, `./\`) {
			return nil, nil, fmt.Errorf("%s: no organ of that name is on the shelf (stopgap organ list names them), and there is no such file", name)
		}
		return nil, nil, err
	}
	var problems []string
	o, findings := organfile.Read(called(name), text)
	for _, f := range findings {
		if !f.Warning {
			problems = append(problems, f.String())
		}
	}
	if more := len(problems) - problemsTold; more > 1 {
		problems = append(problems[:problemsTold], fmt.Sprintf("%s: %d more like these keep it from being read; stopgap organ check tells them all", called(name), more))
	}
	return o, problems, nil
}
