package stopname

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"stopgap/registry/pitch"
)

// handbookFamily is which of the seven families a handbook's row means: a
// mutation is what its kind says, a beating rank is a celeste whatever it is
// made of, and a hybrid goes where it serves: soft diapasons and strings with
// the strings, tapered ranks with the flutes.
func handbookFamily(family, kind string) Family {
	switch {
	case strings.HasSuffix(kind, "celeste"):
		return Celeste
	case family == "mutation" && kind == "principal mutation":
		return Principal
	case family == "mutation" && kind == "flute mutation":
		return Flute
	case family == "mutation":
		return Cornet
	case family == "hybrid" && strings.HasPrefix(kind, "tapered"):
		return Flute
	case family == "hybrid":
		return String
	}
	f, _ := ParseFamily(family)
	return f
}

// Every row of the handbooks, by family and language; nineteen in twenty must
// agree, both where the language is known and where it is not.
func TestHandbooks(t *testing.T) {
	data, err := os.ReadFile("testdata/handbooks.tsv")
	if err != nil {
		t.Fatal(err)
	}
	type share struct{ right, all int }
	byFamily, byLang := map[string]share{}, map[string]share{}
	var total, pitches share
	count := func(m map[string]share, key string, right bool) {
		s := m[key]
		s.all++
		if right {
			s.right++
		}
		m[key] = s
	}
	err = eachRow(string(data), func(cells map[string]string) error {
		name, lang := cells["name"], cells["lang"]
		want := handbookFamily(cells["family"], cells["kind"])
		for _, at := range []Place{{Lang: lang}, {}} {
			k := Resolve(name, at)
			right := k.Family == want
			count(byFamily, want.String(), right)
			count(byLang, lang, right)
			total.all++
			if right {
				total.right++
			} else {
				t.Logf("%s (%s): %v where %s has %v", name, lang, k.Family, cells["source"], want)
			}
		}
		first, _, _ := strings.Cut(cells["pitches"], ";")
		if pitch.Roman(first) > 0 {
			return nil
		}
		pitches.all++
		var given []string
		for _, p := range strings.Split(cells["pitches"], ";") {
			given = append(given, strings.TrimSpace(p))
		}
		if k := Resolve(name, Place{Lang: lang}); slices.Contains(given, k.Pitch.String()) {
			pitches.right++
		} else {
			t.Logf("%s (%s): %s where %s has %s", name, lang, k.Pitch, cells["source"], cells["pitches"])
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, lang := range []string{"en", "fr", "de", "nl", "it", "es"} {
		fmt.Printf("stop names, %-10s %3d of %3d families right\n", lang, byLang[lang].right, byLang[lang].all)
	}
	for f := Principal; f <= Cornet; f++ {
		fmt.Printf("stop names, %-10s %3d of %3d families right\n", f, byFamily[f.String()].right, byFamily[f.String()].all)
	}
	fmt.Printf("stop names, all        %3d of %3d families right, %d of %d pitches\n", total.right, total.all, pitches.right, pitches.all)
	if 20*total.right < 19*total.all {
		t.Errorf("families: only %d of %d rows agree", total.right, total.all)
	}
	if 20*pitches.right < 19*pitches.all {
		t.Errorf("pitches: only %d of %d rows agree", pitches.right, pitches.all)
	}
}

// Every name of the table is found by itself, in its language; and so are its
// other spellings.
func TestEveryNameMeansItself(t *testing.T) {
	counts := map[string]int{}
	for _, e := range vocabulary().entries {
		counts[e.lang]++
		if e.source == "" {
			t.Errorf("%q has no source", e.name)
		}
		if e.where != "" {
			continue
		}
		for _, name := range append([]string{e.name}, e.also...) {
			k := Resolve(name, Place{Lang: e.lang})
			if k.How != ByTable || k.Family != e.family {
				t.Errorf("%q (%s) is %v by %s, want %v", name, e.lang, k.Family, k.How, e.family)
			}
		}
		if k := Resolve(strings.ToUpper(e.name), Place{Lang: e.lang}); k.Family != e.family {
			t.Errorf("%q in capitals is %v, want %v", e.name, k.Family, e.family)
		}
	}
	t.Logf("names by language: %v", counts)
}

// How far the parts of names go: each name of the table, as if the table did
// not have it. What is resolved must be right in 19 of 20 cases.
func TestPartsWithoutTheTable(t *testing.T) {
	right, wrong, none := 0, 0, 0
	for _, e := range vocabulary().entries {
		if e.where != "" {
			continue
		}
		switch k := resolveByParts(e.name, Place{Lang: e.lang}); {
		case k.How == Unknown:
			none++
		case k.Family == e.family:
			right++
		default:
			wrong++
		}
	}
	fmt.Printf("stop names by their parts alone: %d right, %d wrong, %d not resolved\n", right, wrong, none)
	if 20*wrong > right+wrong {
		t.Errorf("%d of %d names resolved by their parts are wrong", wrong, right+wrong)
	}
}

func TestByParts(t *testing.T) {
	tests := []struct {
		name   string
		lang   string
		family Family
		kind   string
		pitch  string
	}{
		{"Contra Salicet", "en", String, KindSoftString, "8"},
		{"Trompette martiale", "fr", Reed, KindChorusReed, "8"},
		{"Salisbury Trumpet", "en", Reed, KindChorusReed, "8"},
		{"Ländlerflöte 4", "de", Flute, KindOpenFlute, "4"},
		{"Echo Oboe", "en", Reed, KindOboe, "8"},
		{"Double Melodia", "en", Flute, KindOpenFlute, "16"},
		{"Flûte de Pan 4", "fr", Flute, KindOpenFlute, "4"},
		{"Posaunenregal 16", "de", Reed, KindRegal, "16"},
		{"Flötenzimbel III", "de", Mixture, KindSharpMixture, ""},
		{"Oktavgambe", "de", String, KindGamba, "4"},
		{"Oboe Gamba", "en", String, KindGamba, "8"},
		{"Sanftgedackt 8", "de", Flute, KindStoppedFlute, "8"},
		{"Kleinviola", "de", String, KindSoftString, "4"},
	}
	for _, test := range tests {
		k := Resolve(test.name, Place{Lang: test.lang})
		if k.How != ByParts || k.Family != test.family || k.Subfamily != test.kind || k.Pitch.String() != test.pitch {
			t.Errorf("%q: %v, %s %q, by %s; want %v, %s %q", test.name, k.Family, k.Subfamily, k.Pitch, k.How, test.family, test.kind, test.pitch)
		}
		if k.Reason == "" {
			t.Errorf("%q is resolved by its parts without a reason", test.name)
		}
	}
}

// A name stands once per language and condition, and every cell is there.
func TestTableIsClean(t *testing.T) {
	seen := map[string]string{}
	entries := vocabulary().entries
	if len(entries) < 2000 {
		t.Errorf("only %d names", len(entries))
	}
	for _, e := range entries {
		key := e.lang + " " + e.key + " " + e.where
		if other, ok := seen[key]; ok {
			t.Errorf("%q and %q are the same name (%s)", other, e.name, e.lang)
		}
		seen[key] = e.name
		if e.family == Celeste && e.beats == "" {
			t.Errorf("%q beats neither sharp nor flat", e.name)
		}
	}
}
