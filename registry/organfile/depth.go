package organfile

import "github.com/goccy/go-yaml/token"

// maxDepth is how many lists and mappings may stand inside one another on one
// line. An organ file needs three; the YAML parser takes time and memory by
// the square of the depth.
const maxDepth = 50

// tooDeep is the token at which lists and mappings stand too deep inside one
// another, nil where none does. Those that are nested by indentation need no
// limit: each costs more white space than the one before.
func tooDeep(tokens token.Tokens) *token.Token {
	brackets, marks := 0, 0
	for _, t := range tokens {
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			brackets++
		case token.SequenceEndType, token.MappingEndType:
			brackets--
		}
		switch t.Type {
		case token.SequenceEntryType, token.MappingKeyType, token.AnchorType, token.TagType:
			marks++ // "- - - x" is a list in a list in a list
		default:
			marks = 0
		}
		if brackets > maxDepth || marks > maxDepth {
			return t
		}
	}
	return nil
}
