package division

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"

	"stopgap/registry/internal/letters"
)

//go:embed divisions.tsv
var divisionsTSV string

// A row is one name of a division.
type row struct {
	role         Role
	lang, name   string
	shorts       []string
	source       string
	nameKey      string
	nameWords    int
	shortKeys    []string
	shortsDotted []bool
}

var rows = sync.OnceValue(func() []row {
	all, err := readRows(divisionsTSV)
	if err != nil {
		panic("division: divisions.tsv: " + err.Error()) // embedded, and tested
	}
	return all
})

func readRows(tsv string) ([]row, error) {
	var all []row
	header := false
	for i, line := range strings.Split(tsv, "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		if !header {
			header = true
			continue
		}
		cells := strings.Split(line, "\t")
		if len(cells) != 5 {
			return nil, fmt.Errorf("line %d: %d cells, not 5", i+1, len(cells))
		}
		r := row{role: Role(cells[0]), lang: cells[1], name: cells[2], source: cells[4]}
		if !r.role.Named() {
			return nil, fmt.Errorf("line %d: %q is no role", i+1, cells[0])
		}
		r.nameKey, r.nameWords = keyOf(r.name), len(strings.Fields(r.name))
		for _, short := range strings.Split(cells[3], ";") {
			if short = strings.TrimSpace(short); short != "" {
				r.shorts = append(r.shorts, short)
				r.shortKeys = append(r.shortKeys, keyOf(short))
				r.shortsDotted = append(r.shortsDotted, strings.Contains(short, "."))
			}
		}
		all = append(all, r)
	}
	return all, nil
}

// roles are those that a division has by its name, in the order of the table.
var roles = []Role{Great, Swell, Choir, Positive, Solo, Echo, Brust, Ober, Bombarde, Pedal}

// Named reports whether r is a role by name: not None, not Every, and not a
// numbered manual.
func (r Role) Named() bool {
	for _, named := range roles {
		if r == named {
			return true
		}
	}
	return false
}

// Named returns all roles that a division can have by its name.
func Named() []Role { return append([]Role(nil), roles...) }

// keyOf folds a name of one or more words, without spaces, dots and hyphens.
func keyOf(name string) string { return letters.Fold(strings.ReplaceAll(name, "?", "")) }

// RoleOf is the role of a division by its name or a short form of it, in the
// language if that is known ("" where not): "Hauptwerk", "G.O.", "II. Man.",
// "Clavier III". A bracketed addition is passed over ("Hauptwerk (Werck)").
func RoleOf(name, lang string) (Role, bool) {
	name, _, _ = strings.Cut(name, "(")
	if n := manualNumber(strings.Fields(name)); n > 0 {
		return Manual(n), true
	}
	key := keyOf(name)
	if key == "" {
		return None, false
	}
	return best(lang, func(r *row) int {
		if r.nameKey == key {
			return 2
		}
		for _, short := range r.shortKeys {
			if short == key {
				return 1
			}
		}
		return 0
	})
}

// best is the role of the row that matches best: a row of the language before
// the others, a full name before a short form, and then the first.
func best(lang string, match func(*row) int) (Role, bool) {
	role, score := None, 0
	all := rows()
	for i := range all {
		r := &all[i]
		m := match(r)
		if m == 0 {
			continue
		}
		if r.lang == lang {
			m += 2
		}
		if m > score {
			role, score = r.role, m
		}
	}
	return role, score > 0
}

// Lookup finds the longest run of words, beginning at words[0], that names a
// division, and says how many words it took; 0 where there is none. Words are
// as printed, with their dots; a short form that the table writes with a dot
// is found only with one, or in capitals of several letters ("SW", "GO").
func Lookup(words []string, lang string) (r Role, n int) {
	var key strings.Builder
	dotted := false
	for taken := 1; taken <= len(words) && taken <= 4; taken++ {
		printed := strings.Trim(words[taken-1], ",;:()[]")
		if printed == "" {
			break
		}
		if strings.Contains(printed, ".") {
			dotted = true
		}
		key.WriteString(keyOf(printed))
		if m := manualNumber(words[:taken]); m > 0 {
			r, n = Manual(m), taken
			continue
		}
		whole := strings.Join(words[:taken], "")
		if role, ok := best(lang, func(r *row) int { return r.matchPrinted(key.String(), whole, dotted) }); ok {
			r, n = role, taken
		}
	}
	return r, n
}

func (r *row) matchPrinted(key, printed string, dotted bool) int {
	if key == r.nameKey {
		return 2
	}
	for i, short := range r.shortKeys {
		if short != key {
			continue
		}
		capitals := len(key) > 1 && printed == strings.ToUpper(printed)
		// a short form is written with a capital: "Sw.", never "sw"
		small := printed == strings.ToLower(printed) && !dotted
		if !small && (dotted || capitals || !r.shortsDotted[i]) {
			return 1
		}
	}
	return 0
}

// AbbreviationOf is the short form of one name of a division: "RP" for a
// Rückpositiv, which is a Positiv by what it is for; "" where the name has none
// of its own.
func AbbreviationOf(name string, r Role) string {
	key := keyOf(name)
	for _, row := range rows() {
		if row.role == r && row.nameKey == key && len(row.shorts) > 0 {
			return row.shorts[0]
		}
	}
	return ""
}

// Abbreviation is the short form of the role that is printed in scores of the
// language: "Gt.", "G.O.", "HW"; the English one where the language has no
// division of the kind, and a numeral for a numbered manual.
func Abbreviation(r Role, lang string) string {
	if n := r.Number(); n > 0 {
		return numerals[n]
	}
	english := ""
	for _, row := range rows() {
		if row.role != r || len(row.shorts) == 0 {
			continue
		}
		if row.lang == lang {
			return row.shorts[0]
		}
		if row.lang == "en" && english == "" {
			english = row.shorts[0]
		}
	}
	if english == "" {
		for _, row := range rows() {
			if row.role == r && len(row.shorts) > 0 {
				return row.shorts[0]
			}
		}
	}
	return english
}

// Names are what divisions of the role are called in the language, the usual
// name first.
func Names(r Role, lang string) []string {
	var names []string
	for _, row := range rows() {
		if row.role == r && row.lang == lang {
			names = append(names, row.name)
		}
	}
	return names
}

// Languages are those in which the name is a division's in full, in the order
// of the table: what an organ's divisions are called tells its language.
func Languages(name string) []string {
	key := keyOf(name)
	var langs []string
	for _, row := range rows() {
		if row.nameKey == key {
			langs = append(langs, row.lang)
		}
	}
	return langs
}

// Near returns the name, in any language, that is spelled most like the one
// given; "" where none is.
func Near(name string) string {
	key := keyOf(name)
	limit := max(1, len(key)/3)
	near, least := "", limit+1
	for _, row := range rows() {
		if d := letters.Distance(key, row.nameKey, limit); d < least {
			near, least = row.name, d
		}
	}
	return near
}
