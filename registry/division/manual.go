package division

import (
	"strings"

	"stopgap/registry/internal/letters"
)

var numerals = [...]string{"", "I", "II", "III", "IV", "V"}

// manualWords are what a numbered keyboard is called, by language.
var manualWords = map[string]bool{
	"man": true, "manual": true, "manuale": true, "manuals": true, "manuaal": true, // en de it nl
	"clavier": true, "clav": true, "cl": true, "klavier": true, "klaviatur": true, "kl": true, // fr de
	"tastiera": true, "tast": true, "teclado": true, "tecl": true, "keyboard": true, // it es en
}

var ordinals = map[string]int{
	"1er": 1, "1re": 1, "premier": 1, "1st": 1, "first": 1, "1e": 1, "1o": 1, "primo": 1, "prima": 1, "erstes": 1, "1": 1, "i": 1,
	"2e": 2, "2eme": 2, "2me": 2, "deuxieme": 2, "second": 2, "2nd": 2, "2o": 2, "secondo": 2, "seconda": 2, "zweites": 2, "2": 2, "ii": 2,
	"3e": 3, "3eme": 3, "3me": 3, "troisieme": 3, "third": 3, "3rd": 3, "3o": 3, "terzo": 3, "terza": 3, "drittes": 3, "3": 3, "iii": 3,
	"4e": 4, "4eme": 4, "4me": 4, "quatrieme": 4, "fourth": 4, "4th": 4, "4o": 4, "quarto": 4, "viertes": 4, "4": 4, "iv": 4,
	"5e": 5, "5eme": 5, "5me": 5, "cinquieme": 5, "fifth": 5, "5th": 5, "5o": 5, "quinto": 5, "funftes": 5, "5": 5, "v": 5,
}

// manualNumber reads "II", "II. Manual", "Man. II", "Clavier III", "2e clavier",
// "Manual 1"; 0 for anything else. A number alone counts only as a Roman
// numeral in capitals.
func manualNumber(words []string) int {
	if len(words) == 1 {
		w := strings.TrimSuffix(strings.Trim(words[0], ",;:()[]"), ".")
		for n, numeral := range numerals {
			if n > 0 && w == numeral {
				return n
			}
		}
		// "Man.II"
		if before, after, ok := strings.Cut(w, "."); ok && before != "" && after != "" {
			return manualNumber([]string{before, after})
		}
		return 0
	}
	if len(words) != 2 {
		return 0
	}
	a, b := letters.Fold(words[0]), letters.Fold(words[1])
	switch {
	case manualWords[a]:
		return ordinals[b]
	case manualWords[b]:
		return ordinals[a]
	}
	return 0
}
