package organfile

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"stopgap/registry/internal/letters"
)

// A field is one "key: value" of a mapping.
type field struct {
	key     string
	keyNode ast.Node
	value   ast.Node
}

func (r *reader) add(n ast.Node, id, remedy, format string, args ...any) {
	f := Finding{ID: id, File: r.file, Text: inShort(fmt.Sprintf(format, args...)), Remedy: inShort(remedy)}
	if n != nil {
		if t := n.GetToken(); t != nil && t.Position != nil {
			f.Line, f.Column = t.Position.Line, t.Position.Column
		}
	}
	r.findings = append(r.findings, f)
}

func (r *reader) warn(n ast.Node, id, remedy, format string, args ...any) {
	r.add(n, id, remedy, format, args...)
	r.findings[len(r.findings)-1].Warning = true
}

// plain takes off what organ files do not use: tags, anchors and aliases are
// an error, since a file that repeats itself that way can't be read back from
// the page.
func (r *reader) plain(n ast.Node) ast.Node {
	switch n := n.(type) {
	case *ast.AnchorNode:
		r.add(n, "wrong-kind", "write the text out", "an organ file has no anchors (&)")
		return r.plain(n.Value)
	case *ast.TagNode:
		r.add(n, "wrong-kind", "leave it out", "an organ file has no tags (!)")
		return r.plain(n.Value)
	case *ast.AliasNode:
		r.add(n, "wrong-kind", "write the text out", "an organ file has no aliases (*)")
		return nil
	}
	return n
}

func isNothing(n ast.Node) bool {
	if n == nil {
		return true
	}
	_, null := n.(*ast.NullNode)
	return null
}

// fields reads a mapping whose keys are all known and each there once. what
// names the mapping in messages.
func (r *reader) fields(n ast.Node, what string, known ...string) map[string]field {
	n = r.plain(n)
	var values []*ast.MappingValueNode
	switch n := n.(type) {
	case *ast.MappingNode:
		values = n.Values
	case *ast.MappingValueNode:
		values = []*ast.MappingValueNode{n}
	default:
		if isNothing(n) {
			r.add(n, "missing-value", "write it, or leave it out", "%s is empty", what)
		} else {
			r.add(n, "wrong-kind", "", "%s is %s, not a list of “key: value”", what, kindName(n))
		}
		return nil
	}
	found := map[string]field{}
	for _, v := range values {
		key, ok := scalar(v.Key)
		if !ok {
			r.add(v.Key, "wrong-kind", "", "%s has a key that is no word", what)
			continue
		}
		f := field{key: key, keyNode: v.Key, value: r.plain(v.Value)}
		if !contains(known, key) {
			remedy := "the keys are " + strings.Join(known, ", ")
			if near := nearest(key, known); near != "" {
				remedy = fmt.Sprintf("did you mean %q?", near)
			}
			r.add(v.Key, "unknown-key", remedy, "%s has no key %q", what, key)
			continue
		}
		if _, doubled := found[key]; doubled {
			r.add(v.Key, "doubled-key", "leave one of them out", "%s has the key %q twice", what, key)
			continue
		}
		found[key] = f
	}
	return found
}

// list reads a sequence; one thing alone counts as a list of one.
func (r *reader) list(f field) []ast.Node {
	if isNothing(f.value) {
		return nil
	}
	s, ok := f.value.(*ast.SequenceNode)
	if !ok {
		r.add(f.value, "wrong-kind", "write it as a list, one per line after a dash, or in [ ] with commas", "%q is %s, not a list", f.key, kindName(f.value))
		return nil
	}
	return s.Values
}

// text reads a word or a line of text.
func (r *reader) text(f field) string {
	if f.value == nil {
		return ""
	}
	if isNothing(f.value) {
		r.add(f.keyNode, "missing-value", "write it after the colon, or leave the key out", "%q has no value", f.key)
		return ""
	}
	s, ok := scalar(f.value)
	if !ok {
		r.add(f.value, "wrong-kind", "", "%q is %s, not a text", f.key, kindName(f.value))
	}
	if f.key != "note" && f.key != "source" && !r.short(f.value, s) {
		return ""
	}
	return s
}

// yes reads true or false.
func (r *reader) yes(f field) bool {
	switch b := f.value.(type) {
	case nil:
		return false
	case *ast.BoolNode:
		return b.Value
	}
	s, _ := scalar(f.value)
	switch strings.ToLower(s) {
	case "yes", "on":
		return true
	case "no", "off":
		return false
	}
	r.add(f.value, "wrong-kind", "write true or false", "%q is %s, not true or false", f.key, describe(f.value))
	return false
}

// whole reads a whole number from least to most.
func (r *reader) whole(f field, least, most int) int {
	if f.value == nil {
		return 0
	}
	s, ok := scalar(f.value)
	n, err := strconv.Atoi(s)
	if !ok || err != nil || n < least || n > most {
		r.add(f.value, "bad-number", "", "%q is %s, not a whole number from %d to %d", f.key, describe(f.value), least, most)
		return 0
	}
	return n
}

// decimal reads a number from least to most.
func (r *reader) decimal(f field, least, most float64) float64 {
	if f.value == nil {
		return 0
	}
	s, ok := scalar(f.value)
	x, err := strconv.ParseFloat(s, 64)
	if !ok || err != nil || !(x >= least && x <= most) {
		r.add(f.value, "bad-number", "", "%q is %s, not a number from %g to %g", f.key, describe(f.value), least, most)
		return 0
	}
	return x
}

// scalar is the text of a node that is no list or mapping.
func scalar(n ast.Node) (string, bool) {
	switch n := n.(type) {
	case *ast.StringNode:
		return oneLine(n.Value), true
	case *ast.LiteralNode:
		return oneLine(n.Value.Value), true
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return oneLine(n.GetToken().Value), true
	case *ast.MappingKeyNode:
		return scalar(n.Value)
	}
	return "", false
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

func kindName(n ast.Node) string {
	switch n.(type) {
	case *ast.SequenceNode:
		return "a list"
	case *ast.MappingNode, *ast.MappingValueNode:
		return "a list of “key: value”"
	case nil, *ast.NullNode:
		return "empty"
	}
	return "a text"
}

func describe(n ast.Node) string {
	if s, ok := scalar(n); ok {
		return strconv.Quote(s)
	}
	return kindName(n)
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// nearest is the one of the names that is spelled most like s, "" where none
// has much in common with it.
func nearest(s string, names []string) string {
	key := foldName(s)
	limit := max(1, (len(key)+1)/3)
	near, least := "", limit+1
	for _, name := range names {
		if d := letters.Distance(key, foldName(name), limit); d < least {
			near, least = name, d
		}
	}
	return near
}

func foldName(s string) string {
	var b strings.Builder
	for _, w := range strings.Fields(strings.ReplaceAll(s, "_", " ")) {
		b.WriteString(letters.Fold(w))
	}
	return b.String()
}
