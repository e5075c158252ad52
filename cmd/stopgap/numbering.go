package main

import (
	"strings"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
)

// numbersText says what the numbers of the manuals mean, and what says so: the
// flag, the score, or custom.
func numbersText(s *passage.Score, flag string) string {
	n := s.Numbering
	order := map[passage.ManualOrder]string{passage.FromBottom: "from the bottom up", passage.MainFirst: "from the main manual on"}
	told := n.String()
	if told != "" {
		told += ": " + n.Why + ". "
	}
	switch {
	case flag != "":
		return told + "Manuals are numbered " + order[passage.ManualOrder(flag)] + ", as --numbering says."
	case told != "" && n.Order == "":
		return strings.TrimSpace(told)
	case told != "":
		return told + "Others are numbered " + order[n.Order] + "."
	case n.Order != "":
		return "Manuals are numbered " + order[n.Order] + ": " + n.Why + "."
	}
	usual := passage.ManualOrder(resolve.NumberingOf(s.Lang))
	where := "where nothing tells the country"
	if name := languageNames[s.Lang]; name != "" {
		where = "in " + name + " scores"
	}
	return "Manuals are numbered " + order[usual] + ", as is usual " + where + "; --numbering says otherwise."
}
