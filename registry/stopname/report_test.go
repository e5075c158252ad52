package stopname

import (
	"encoding/json"
	"testing"
)

func TestReport(t *testing.T) {
	for name, want := range map[string]string{
		"Nazard":         `{"name":"Nazard","family":"flute","subfamily":"flute mutation","pitch":"2 2/3","mutation":true,"known":"table","source":"from memory"}`,
		"Mixture III":    `{"name":"Mixture III","family":"mixture","subfamily":"mixture","pitch":"*","mutation":false,"known":"table","source":"WB; WBP"}`,
		"Sesquialtera":   `{"name":"Sesquialtera","family":"cornet","subfamily":"sesquialtera","pitch":"2 2/3","mutation":false,"known":"table","source":"from memory"}`,
		"Qwxyzzy":        `{"name":"Qwxyzzy","family":"","subfamily":"","pitch":"","mutation":false,"known":"no","source":""}`,
		"Contra Salicet": `{"name":"Contra Salicet","family":"string","subfamily":"soft string","pitch":"8","mutation":false,"known":"parts","source":"common practice of naming stops","reason":"“Salicet” names it: a soft string; “Contra”: an octave lower"}`,
	} {
		got, err := json.Marshal(ReportOn(name, Place{}))
		if err != nil || string(got) != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}

func TestDescribe(t *testing.T) {
	got := Resolve("Voix céleste", Place{Lang: "fr"}).Describe()
	want := `Voix céleste: celeste (string celeste)
  pitch: 8
  strength: soft among the stops of its division
  beats: tuned sharp against its partner
  source: from memory
`
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}
