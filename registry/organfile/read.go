package organfile

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"

	"stopgap/registry"
	"stopgap/registry/division"
)

// Read reads an organ file; name is what it is called in findings. The organ
// is nil exactly where a finding is an error; warnings leave it usable. The
// findings are in the order of the file, and where there are very many, the
// first of them.
func Read(name string, data []byte) (*registry.Organ, []Finding) {
	r := &reader{file: name, organ: &registry.Organ{}, boxes: map[string]*registry.Box{}, misplaced: map[*registry.Division]bool{}}
	r.read(data)
	r.findings = few(r.findings)
	if Failed(r.findings) {
		return nil, r.findings
	}
	return r.organ, r.findings
}

type reader struct {
	file     string
	organ    *registry.Organ
	findings []Finding
	stops    int // read so far

	// borrowings are looked up when all stops are known.
	borrowings []borrowing
	boxes      map[string]*registry.Box
	misplaced  map[*registry.Division]bool // whose keyboard was not found
}

var organKeys = []string{
	"name", "place", "builder", "year", "source", "note", "language", "action", "couplers_carry",
	"pedalboard", "keyboards", "divisions", "couplers", "tremulants", "pistons", "crescendo",
}

func (r *reader) read(data []byte) {
	if len(data) > MaxSize {
		r.add(nil, "too-large", "", "the file is larger than %d bytes, which no organ file is", MaxSize)
		return
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // which some editors put before a text
	if at := notText(data); at >= 0 {
		before := data[:at]
		r.findings = append(r.findings, Finding{
			ID: "encoding", File: r.file, Line: 1 + bytes.Count(before, []byte("\n")), Column: 1 + utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:]),
			Text: "this is not text in UTF-8", Remedy: "save the file as UTF-8",
		})
		return
	}
	body, ok := r.parse(data)
	if !ok {
		return
	}
	if isNothing(body) {
		r.add(nil, "empty", "write at least name, keyboards and divisions", "the file is empty")
		return
	}
	top := r.fields(body, "an organ file", organKeys...)
	if top == nil {
		return
	}
	o := r.organ
	r.required(body, top, "an organ file", "name", "keyboards", "divisions")
	o.Name = r.text(top["name"])
	o.Place = r.text(top["place"])
	o.Builder = r.text(top["builder"])
	o.Year = r.text(top["year"])
	o.Source = r.text(top["source"])
	o.Note = r.text(top["note"])
	o.Lang = r.oneOf(top["language"], "en", "fr", "de", "nl", "it", "es")
	o.Action = registry.Action(r.oneOf(top["action"], string(registry.Mechanical), string(registry.Electric)))
	if o.Action == "" {
		o.Action = registry.Mechanical
	}
	o.CouplersCarry = o.Action == registry.Mechanical
	if f, ok := top["couplers_carry"]; ok {
		o.CouplersCarry = r.yes(f)
	}
	o.Crescendo = r.yes(top["crescendo"])
	for _, key := range []string{"keyboards", "divisions"} {
		if list, ok := top[key].value.(*ast.SequenceNode); ok && len(list.Values) == 0 {
			r.add(top[key].value, "missing-value", "write at least one", "%q is an empty list", key)
		}
	}
	for _, n := range r.several(top["keyboards"], maxKeyboards) {
		r.keyboard(n)
	}
	if f, ok := top["pedalboard"]; ok {
		r.pedalboard(f)
	}
	nodes := r.several(top["divisions"], maxDivisions)
	if o.Lang == "" {
		o.Lang = r.language(nodes)
	}
	for _, n := range nodes {
		r.division(n)
	}
	r.afterDivisions(top)
	r.borrow()
	for _, n := range r.several(top["couplers"], maxCouplers) {
		r.coupler(n)
	}
	for _, n := range r.several(top["tremulants"], maxDivisions) {
		r.tremulant(n)
	}
	r.pistons(top["pistons"])
}

// notText is where data ceases to be text in UTF-8, -1 where it is all text.
func notText(data []byte) int {
	for i := 0; i < len(data); {
		c, size := utf8.DecodeRune(data[i:])
		if c == utf8.RuneError && size <= 1 || c < ' ' && c != '\t' && c != '\n' && c != '\r' || c >= 0x7F && c < 0xA0 {
			return i
		}
		i += size
	}
	return -1
}

// parse turns the bytes into YAML; a file that is no YAML has one finding,
// since what follows a slip of syntax means nothing.
func (r *reader) parse(data []byte) (body ast.Node, ok bool) {
	defer func() {
		if recover() != nil { // the parser gives up on some malformed files
			r.add(nil, "syntax", "look for an unclosed quotation mark or bracket", "the file can't be read as YAML")
			body, ok = nil, false
		}
	}()
	tokens := lexer.Tokenize(string(data))
	if t := tooDeep(tokens); t != nil {
		r.findings = append(r.findings, Finding{
			ID: "syntax", File: r.file, Line: t.Position.Line, Column: t.Position.Column,
			Text: "lists stand deeper inside one another here than an organ file needs", Remedy: "look for an unclosed bracket",
		})
		return nil, false
	}
	if t := tooManyKeys(tokens); t != nil {
		r.findings = append(r.findings, Finding{
			ID: "too-many", File: r.file, Line: t.Position.Line, Column: t.Position.Column,
			Text: fmt.Sprintf("the file has more than the %d keys that are read", maxKeys), Remedy: "leave out what no organ file needs",
		})
		return nil, false
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		f := Finding{ID: "syntax", File: r.file, Text: "this can't be read as YAML", Remedy: "look for a missing space after a colon or dash, a tab, or an unclosed quotation mark or bracket"}
		var syntax *yaml.SyntaxError
		if errors.As(err, &syntax) {
			f.Text = "this can't be read as YAML: " + oneLine(syntax.Message)
			if t := syntax.Token; t != nil && t.Position != nil {
				f.Line, f.Column = t.Position.Line, t.Position.Column
			}
		}
		r.findings = append(r.findings, f)
		return nil, false
	}
	if len(file.Docs) == 0 {
		return nil, true
	}
	if len(file.Docs) > 1 && !isNothing(file.Docs[1].Body) {
		r.add(file.Docs[1].Body, "syntax", "write one organ per file", "a second document begins here")
	}
	return file.Docs[0].Body, true
}

// required reports the keys that must be there and are not.
func (r *reader) required(at ast.Node, fields map[string]field, what string, keys ...string) {
	for _, key := range keys {
		f, ok := fields[key]
		switch {
		case !ok:
			r.add(firstKey(at), "missing-key", fmt.Sprintf("add %s:", key), "%s needs the key %q", what, key)
		case isNothing(f.value):
			r.add(f.keyNode, "missing-value", "write it after the colon", "%q has no value", key)
		}
	}
}

// firstKey is where a mapping starts: its own token is the first colon.
func firstKey(n ast.Node) ast.Node {
	switch n := n.(type) {
	case *ast.MappingNode:
		if len(n.Values) > 0 {
			return n.Values[0].Key
		}
	case *ast.MappingValueNode:
		return n.Key
	}
	return n
}

// oneOf reads a word out of a few.
func (r *reader) oneOf(f field, words ...string) string {
	s := r.text(f)
	if s == "" || contains(words, s) {
		return s
	}
	remedy := "write one of " + strings.Join(words, ", ")
	if near := nearest(s, words); near != "" {
		remedy = fmt.Sprintf("did you mean %q?", near)
	}
	r.add(f.value, "bad-word", remedy, "%q can't be %q", f.key, s)
	return ""
}

// keyboard reads "{name: Great, compass: C2-G6}".
func (r *reader) keyboard(n ast.Node) {
	n = r.plain(n)
	if s, ok := scalar(n); ok {
		r.add(n, "missing-key", fmt.Sprintf("write {name: %s, compass: C2-G6}", s), "the keyboard %q has no compass", s)
		return
	}
	fields := r.fields(n, "a keyboard", "name", "compass", "divided")
	if fields == nil {
		return
	}
	r.required(n, fields, "a keyboard", "name", "compass")
	kb := &registry.Keyboard{Name: r.text(fields["name"]), Compass: r.compass(fields["compass"], nil)}
	kb.Divided = r.divided(fields["divided"], kb.Compass)
	if kb.Name == "" {
		return
	}
	if r.organ.Keyboard(kb.Name) != nil {
		r.add(fields["name"].value, "doubled-keyboard", "give each keyboard a name of its own", "there are two keyboards %q", kb.Name)
		return
	}
	r.organ.Keyboards = append(r.organ.Keyboards, kb)
}

// pedalboard reads "{compass: C2-F4}"; its name is set with its division.
func (r *reader) pedalboard(f field) {
	fields := r.fields(f.value, "the pedalboard", "compass", "divided")
	if fields == nil {
		return
	}
	r.required(f.value, fields, "the pedalboard", "compass")
	kb := &registry.Keyboard{Pedal: true, Compass: r.compass(fields["compass"], nil)}
	kb.Divided = r.divided(fields["divided"], kb.Compass)
	r.organ.Pedalboard = kb
}

// compass reads "C2-G6"; a whole that is given supplies the open end of "C3-".
func (r *reader) compass(f field, whole *registry.Compass) registry.Compass {
	if isNothing(f.value) {
		return registry.Compass{}
	}
	s := r.text(f)
	if s == "" {
		return registry.Compass{}
	}
	c, err := registry.ParseCompass(s, whole)
	var reversed registry.ReversedError
	switch {
	case errors.As(err, &reversed):
		r.add(f.value, "compass-reversed", fmt.Sprintf("did you mean %v-%v?", reversed.High, reversed.Low), "%v", err)
		return registry.Compass{Low: reversed.High, High: reversed.Low}
	case err != nil:
		r.add(f.value, "bad-compass", "write the lowest and the highest key, such as C2-G6; C2 is the lowest C", "%v", err)
		return registry.Compass{Low: 36, High: 91} // C2-G6, so that what follows is still checked
	}
	return c
}

func (r *reader) divided(f field, c registry.Compass) registry.Key {
	if f.value == nil {
		return 0
	}
	s := r.text(f)
	k, err := registry.ParseKey(s)
	if err != nil || k <= c.Low || k > c.High {
		r.add(f.value, "bad-compass", "write the lowest key of the treble half, such as C4", "%q can't be where stops divide", s)
		return 0
	}
	return k
}

// language is that in which most of the divisions and keyboards are called as
// they are, "" where that does not tell. Names that many languages share, such
// as Solo and Pedal, have no vote.
func (r *reader) language(divisions []ast.Node) string {
	names := map[string]bool{}
	for _, kb := range r.organ.Keyboards {
		names[kb.Name] = true
	}
	for _, n := range divisions {
		for _, v := range mappingValues(n) {
			if key, _ := scalar(v.Key); key == "name" {
				name, _ := scalar(v.Value)
				names[name] = true
			}
		}
	}
	votes := map[string]int{}
	for name := range names {
		langs := slices.Compact(slices.Sorted(slices.Values(division.Languages(name))))
		if len(langs) > 2 {
			continue
		}
		for _, lang := range langs {
			votes[lang]++
		}
	}
	best, most, tie := "", 0, false
	for _, lang := range []string{"en", "fr", "de", "nl", "it", "es"} {
		if n := votes[lang]; n > most {
			best, most, tie = lang, n, false
		} else if n == most {
			tie = true
		}
	}
	if tie {
		return ""
	}
	return best
}

func mappingValues(n ast.Node) []*ast.MappingValueNode {
	switch n := n.(type) {
	case *ast.MappingNode:
		return n.Values
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{n}
	}
	return nil
}
