package musicxml

import (
	"fmt"
	"strings"
	"testing"
)

// playedMeasures writes one measure for each word and gives the order of
// playing as a string of letters. In a word "|:" starts a repeat, ":|" ends
// one (":|3" plays three times), "[1,2" starts an ending and "]" stops it;
// "S", "O", "DC", "DS", "Fine" and "to" are segno, coda and the jumps.
func playedMeasures(t *testing.T, score string) string {
	t.Helper()
	var b strings.Builder
	b.WriteString(`<score-partwise><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1">`)
	for i, word := range strings.Fields(score) {
		fmt.Fprintf(&b, `<measure number="%d">`, i+1)
		for _, sign := range strings.Split(word, "_") {
			switch {
			case sign == "|:":
				b.WriteString(`<barline location="left"><repeat direction="forward"/></barline>`)
			case strings.HasPrefix(sign, ":|"):
				fmt.Fprintf(&b, `<barline location="right"><repeat direction="backward" times="%s"/></barline>`, sign[2:])
			case strings.HasPrefix(sign, "["):
				fmt.Fprintf(&b, `<barline location="left"><ending number="%s" type="start"/></barline>`, sign[1:])
			case sign == "]":
				b.WriteString(`<barline location="right"><ending number="" type="stop"/></barline>`)
			default:
				if s, ok := map[string]string{"S": `segno="a"`, "O": `coda="a"`, "DC": `dacapo="yes"`, "DS": `dalsegno="a"`, "Fine": `fine="yes"`, "to": `tocoda="a"`}[sign]; ok {
					b.WriteString(`<sound ` + s + `/>`)
				}
			}
		}
		b.WriteString(`<note><rest/><duration>4</duration></note></measure>`)
	}
	b.WriteString(`</part></score-partwise>`)
	d, err := Read("order", []byte(b.String()))
	if err != nil {
		t.Fatal(err)
	}
	out := ""
	for _, i := range d.Score().Order() {
		out += string(rune('a' + i))
	}
	return out
}

func TestOrder(t *testing.T) {
	for _, c := range []struct{ score, want string }{
		{"- - -", "abc"},
		{"- :| -", "ababc"},
		{"- |: - :| -", "abcdbcde"},
		{"|: - :|3 -", "abcabcabcd"},
		{"|: [1_:|_] [2_] -", "abacd"},
		{"|: - [1_:|_] [2_] -", "abcabde"},
		{"|: - [1_- - :|_] [2_] -", "abcdeabfg"},
		{"|: [1,2_:|_] [3_] -", "ababacd"},
		{"|: [1_:|_] [2_:|_] [3_] -", "abacade"},
		{"|: [1_:|_] - |: - :|", "abacdefdef"},
		{"- :| - :|", "ababcdcd"},
		{"|: :| |: :|", "ababcdcd"},
		{"- - DC", "abcabc"},
		{"- Fine DC", "abcab"},
		{"|:_- :| - DC", "ababcdabcd"},
		{"- S - DS", "abcdbcd"},
		{"- S to - DS O -", "abcdebcfg"},
		{"- to - DC O", "abcdabe"},
		{"|: [1_:|_] [2_] Fine - DC", "abacdefacd"},
		{"DC", "aa"},
		{"DS", "aa"},
		{":| :| :|", "aabbcc"},
	} {
		if got := playedMeasures(t, c.score); got != c.want {
			t.Errorf("%s is played %s, not %s", c.score, got, c.want)
		}
	}
}
