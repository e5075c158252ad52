package organfile

import (
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// What is beyond these is refused, with a message that names the limit. They
// are well above the largest organs there are: seven manuals, some 1,400
// knobs.
const (
	MaxSize = 1 << 20 // bytes of the file

	maxKeyboards = 8
	maxDivisions = 40
	maxStops     = 2000 // of all divisions together
	maxCouplers  = 500
	maxKeys      = 20_000 // "key:" in the file; the YAML parser takes time by their square
	maxName      = 300    // bytes of a name or of what stands on a knob; notes may be longer
	maxMessage   = 600    // bytes of a finding's text: what it quotes may be anything
)

// tooManyKeys is the token at which a file has more keys than are read, nil
// where it has fewer.
func tooManyKeys(tokens token.Tokens) *token.Token {
	keys := 0
	for _, t := range tokens {
		if t.Type == token.MappingValueType {
			if keys++; keys > maxKeys {
				return t
			}
		}
	}
	return nil
}

// several reads a list of at most that many. Of a longer one nothing is read:
// what it is would take long to find out.
func (r *reader) several(f field, most int) []ast.Node {
	nodes := r.list(f)
	if len(nodes) > most {
		r.add(f.keyNode, "too-many", "leave out what no console has", "there are %d %s, more than the %d that are read", len(nodes), f.key, most)
		return nil
	}
	return nodes
}

// short reports whether a name is no longer than names are.
func (r *reader) short(at ast.Node, name string) bool {
	if len(name) > maxName {
		r.add(at, "too-long", "shorten it, and write the rest as note:", "a name is longer than the %d bytes that are read: “%.40s…”", maxName, name)
		return false
	}
	return true
}

// inShort leaves out the middle of what is too long to read.
func inShort(text string) string {
	if len(text) <= maxMessage {
		return text
	}
	return strings.ToValidUTF8(text[:maxMessage/2], "") + " … " + strings.ToValidUTF8(text[len(text)-maxMessage/2:], "")
}
