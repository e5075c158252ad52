package stopname

import (
	_ "embed"
	"regexp"
	"strings"
	"sync"
)

//go:embed sources.tsv
var sourcesTSV string

// sources are the works that the short names in the table stand for.
var sources = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for line := range strings.Lines(sourcesTSV) {
		if short, source, ok := strings.Cut(strings.TrimRight(line, "\n"), "\t"); ok && !strings.HasPrefix(short, "#") {
			out[short] = source
		}
	}
	return out
})

var shortSource = regexp.MustCompile(`\b([A-Z][A-Z0-9]*(?:-[A-Z0-9]+)?)\b`)

// SourceText is a row's source with the short names of works written out, for
// people.
func SourceText(source string) string {
	return shortSource.ReplaceAllStringFunc(source, func(short string) string {
		if full, ok := sources()[short]; ok {
			return full
		}
		name := strings.TrimRight(short, "0123456789")
		if full, ok := sources()[name]; ok && name != short {
			return full + ", p. " + short[len(name):]
		}
		return short
	})
}
