package direction

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A printer knows how one language prints what the normal form says, so that
// directions can be made up of which it is known what they ask for.
type printer struct {
	lang      string
	divisions map[string][]string // by the normal form's word
	stops     []madeStop
	groups    []madeStop // pitch "*": takes pitches
	feet      []string   // marks of feet
	and       []string
	add, off  []string // before the stops
	added     []string // after them
	gone      []string
	couplers  []string // of %a and %b
	uncoupled []string
	boxes     map[string][]string // by state
	trem      []string
	tremOff   []string
	hands     map[string][]string
	manuals   []string
	solo      []string // after stops
}

// A madeStop is a stop as printed, with its voice on a manual and its pitch on
// the pedal where that differs.
type madeStop struct{ name, family, pitch, pedal string }

var printers = []printer{
	{
		lang: "en",
		divisions: map[string][]string{
			"great": {"Gt.", "Great", "Gt", "GT.", "Gt. Org."}, "swell": {"Sw.", "Swell", "Sw"}, "choir": {"Ch.", "Choir"},
			"solo": {"Solo"}, "pedal": {"Ped.", "Pedal", "PED."},
		},
		stops: []madeStop{
			{"Open Diapason", "principal", "8", "16"}, {"Op. Diap.", "principal", "8", "16"}, {"Stopped Diapason", "flute", "8", ""}, {"Clarabella", "flute", "8", ""},
			{"Dulciana", "string", "8", ""}, {"Oboe", "reed", "8", ""}, {"Cornopean", "reed", "8", ""}, {"Clarion", "reed", "4", ""},
			{"Fifteenth", "principal", "2", ""}, {"Twelfth", "principal", "2 2/3", ""}, {"Mixture", "mixture", "*", ""},
			{"Voix Celeste", "celeste", "8", ""}, {"Salicional", "string", "8", ""}, {"Clarinet", "reed", "8", ""}, {"Vox Humana", "reed", "8", ""},
			{"Viole d'Orchestre", "string", "8", ""}, {"Cor Anglais", "reed", "8", ""}, {"Nazard", "flute", "2 2/3", ""},
		},
		groups: []madeStop{{"Flutes", "flute", "*", ""}, {"Reeds", "reed", "*", ""}, {"Strings", "string", "*", ""}, {"Foundations", "foundation", "*", ""}},
		feet:   []string{"", "'", " ft.", " ft", "ft."}, and: []string{" and ", " & "},
		add: []string{"add", "Add", "put on"}, off: []string{"take off", "without"}, added: []string{"on", "added"}, gone: []string{"off"},
		couplers: []string{"%a to %b", "%a coupled to %b", "couple %a to %b"}, uncoupled: []string{"%a to %b off", "uncouple %a to %b"},
		boxes: map[string][]string{"shut": {"box closed", "box shut", "close box"}, "open": {"box open"}, "half": {"box half open"}, "opening": {"open box gradually"}},
		trem:  []string{"Tremulant", "Trem.", "Trem. on"}, tremOff: []string{"Trem. off", "no Tremulant"},
		hands:   map[string][]string{"rh": {"R.H.", "r.h.", "R.H. on", "right hand on"}, "lh": {"L.H.", "L.H. on"}, "both": {"both hands on", "Both hands"}},
		manuals: []string{"Manuals only", "no Ped.", "without Pedal"}, solo: []string{"solo", ", solo"},
	},
	{
		lang: "fr",
		divisions: map[string][]string{
			"great": {"G.O.", "Grand-Orgue", "GO", "Gd. Orgue", "G."}, "swell": {"R.", "Récit", "Réc."}, "positive": {"Pos.", "Positif"},
			"pedal": {"Péd.", "Pédale", "PED"},
		},
		stops: []madeStop{
			{"Montre", "principal", "8", ""}, {"Bourdon", "flute", "8", "16"}, {"Gambe", "string", "8", ""}, {"Voix céleste", "celeste", "8", ""},
			{"Hautbois", "reed", "8", ""}, {"Trompette", "reed", "8", ""}, {"Clairon", "reed", "4", ""}, {"Prestant", "principal", "4", ""},
			{"Doublette", "principal", "2", ""}, {"Nasard", "flute", "2 2/3", ""}, {"Tierce", "flute", "1 3/5", ""}, {"Cromorne", "reed", "8", ""},
			{"Voix humaine", "reed", "8", ""}, {"Flûte harmonique", "flute", "8", ""}, {"Fourniture", "mixture", "*", ""}, {"Cornet", "cornet", "8", ""}, {"Octavin", "flute", "2", ""},
		},
		groups: []madeStop{{"Fonds", "foundation", "*", ""}, {"Anches", "reed", "*", ""}, {"Flûtes", "flute", "*", ""}},
		feet:   []string{"", "'", " p.", " pieds", "′"}, and: []string{" et ", " & "},
		add: []string{"ajoutez", "Ajoutez", "mettez", "+"}, off: []string{"ôtez", "Otez", "retirez", "sans"}, gone: nil,
		couplers: []string{"%a au %b", "%a accouplé au %b", "accouplez %a au %b", "%a/%b"}, uncoupled: []string{"désaccouplez %a du %b"},
		boxes: map[string][]string{"shut": {"boîte fermée", "fermez la boîte", "Boite fermée"}, "open": {"boîte ouverte", "ouvrez la boîte"}, "half": {"boîte demi-ouverte"}, "opening": {"ouvrez peu à peu la boîte"}},
		trem:  []string{"Tremblant", "trémolo", "avec tremblant"}, tremOff: []string{"sans tremblant"},
		hands:   map[string][]string{"rh": {"m.d.", "m. d.", "main droite au", "M.D. sur le"}, "lh": {"m.g.", "main gauche:"}, "both": {"les deux mains au"}},
		manuals: []string{"sans Péd.", "Manuel seul"}, solo: []string{"solo", ", solo"},
	},
	{
		lang: "de",
		divisions: map[string][]string{
			"great": {"HW", "Hauptwerk", "HW:", "Hw."}, "swell": {"SW", "Schwellwerk", "SW:"}, "ober": {"OW", "Oberwerk"}, "positive": {"RP", "Rückpositiv", "RP:"},
			"man1": {"I", "I:", "I. Man.", "Man. I"}, "man2": {"II", "II. Man.", "Manual II"}, "man3": {"III", "III:"}, "pedal": {"Ped.", "Pedal", "Ped.:"},
		},
		stops: []madeStop{
			{"Prinzipal", "principal", "8", ""}, {"Gedackt", "flute", "8", ""}, {"Rohrflöte", "flute", "8", ""}, {"Salicional", "string", "8", ""},
			{"Oktave", "principal", "4", "8"}, {"Mixtur", "mixture", "*", ""}, {"Krummhorn", "reed", "8", ""}, {"Vox coelestis", "celeste", "8", ""},
			{"Zimbel", "mixture", "*", ""}, {"Trompete", "reed", "8", ""}, {"Schalmei", "reed", "4", ""}, {"Nasat", "flute", "2 2/3", ""}, {"Hohlflöte", "flute", "8", ""},
		},
		groups: []madeStop{{"Flöten", "flute", "*", ""}, {"Zungen", "reed", "*", ""}, {"Grundstimmen", "foundation", "*", ""}, {"Streicher", "string", "*", ""}},
		feet:   []string{"'", " Fuß", "′"}, and: []string{" und ", " u. ", " + "},
		add: []string{"+", "dazu", "mit"}, off: []string{"ohne", "-"}, added: []string{"dazu", "hinzu"}, gone: []string{"ab", "weg"},
		couplers: []string{"%a an %b", "Koppel %a/%b", "%a/%b"}, uncoupled: []string{"%a/%b ab", "Koppel %a/%b ab"},
		boxes: map[string][]string{"shut": {"Schweller zu", "Schweller geschlossen"}, "open": {"Schweller auf", "Schweller offen"}, "half": {"Schweller halb offen"}, "opening": {"Schweller langsam öffnen"}},
		trem:  []string{"Tremulant", "mit Tremulant"}, tremOff: []string{"Tremulant ab", "ohne Tremulant"},
		hands:   map[string][]string{"rh": {"r. H.", "r.H.", "rechte Hand", "r. H. auf"}, "lh": {"l. H.", "linke Hand"}, "both": {"beide Hände", "beide Hände auf"}},
		manuals: []string{"ohne Pedal", "manualiter"}, solo: []string{"solo"},
	},
	{
		lang: "nl",
		divisions: map[string][]string{
			"great": {"HW", "Hoofdwerk", "HW:"}, "positive": {"RW", "Rugwerk"}, "ober": {"Bovenwerk", "Bovenwerk:"}, "pedal": {"Ped.", "Pedaal"},
		},
		stops: []madeStop{
			{"Holpijp", "flute", "8", ""}, {"Roerfluit", "flute", "8", ""}, {"Octaaf", "principal", "4", "8"}, {"Mixtuur", "mixture", "*", ""},
			{"Trompet", "reed", "8", ""}, {"Kromhoorn", "reed", "8", ""}, {"Sesquialter", "cornet", "2 2/3", ""},
		},
		groups: []madeStop{{"tongwerken", "reed", "*", ""}, {"fluiten", "flute", "*", ""}},
		feet:   []string{"'", " voet", " vt"}, and: []string{" en ", " & "},
		add: []string{"met", "+"}, off: []string{"zonder"}, added: []string{"erbij"}, gone: []string{"af", "weg"},
		couplers: []string{"koppel %a aan %b", "koppel %a–%b"}, uncoupled: []string{"koppel %a aan %b af"},
		boxes: map[string][]string{"shut": {"zwelkast dicht"}, "open": {"zwelkast open"}},
		trem:  []string{"tremulant", "met tremulant"}, tremOff: []string{"tremulant af", "zonder tremulant"},
		hands:   map[string][]string{"rh": {"r.h.", "rechterhand"}, "lh": {"l.h.", "linkerhand op"}, "both": {"beide handen op"}},
		manuals: []string{"zonder pedaal"}, solo: []string{"solo"},
	},
	{
		lang: "it",
		divisions: map[string][]string{
			"great": {"G.O.", "Grand'Organo"}, "positive": {"Pos.", "Positivo"}, "man1": {"I.", "Man. I"}, "man2": {"II", "II. Man."}, "pedal": {"Ped.", "Pedale"},
		},
		stops: []madeStop{
			{"Principale", "principal", "8", ""}, {"Ottava", "principal", "4", ""}, {"Bordone", "flute", "8", ""}, {"Voce umana", "celeste", "8", ""},
			{"Tromba", "reed", "8", ""}, {"Oboe", "reed", "8", ""}, {"Duodecima", "principal", "2 2/3", ""},
		},
		groups: []madeStop{{"Fondi", "foundation", "*", ""}, {"Ance", "reed", "*", ""}, {"Flauti", "flute", "*", ""}},
		feet:   []string{"", " piedi", "'"}, and: []string{" e "},
		add: []string{"aggiungere", "con", "+"}, off: []string{"togliere", "senza"}, gone: []string{"via"},
		couplers: []string{"%a unito al %b", "unione %a-%b", "unione %a al %b"}, uncoupled: nil,
		boxes: map[string][]string{"shut": {"cassa chiusa"}, "open": {"cassa aperta", "aprire la cassa"}},
		trem:  []string{"tremolo", "con tremolo"}, tremOff: []string{"senza tremolo"},
		hands:   map[string][]string{"rh": {"m.d.", "mano destra al"}, "lh": {"m.s.", "mano sinistra sul"}},
		manuals: []string{"senza Ped."}, solo: []string{"solo"},
	},
	{
		lang: "es",
		divisions: map[string][]string{
			"great": {"Órgano Mayor", "Órgano Mayor:"}, "positive": {"Cadereta", "Cadereta:"}, "pedal": {"Pedal"},
		},
		stops: []madeStop{
			{"Flautado", "principal", "8", ""}, {"Octava", "principal", "4", ""}, {"Trompeta real", "reed", "8", ""}, {"Violón", "flute", "8", ""},
			{"Quincena", "principal", "2", ""}, {"Corneta", "cornet", "8", ""},
		},
		feet: []string{"", " pies", "'"}, and: []string{" y "},
		add: []string{"añadir", "con"}, off: []string{"quitar", "sin"},
		boxes: map[string][]string{"shut": {"caja cerrada"}, "open": {"caja abierta"}},
		trem:  []string{"trémolo"}, hands: map[string][]string{"rh": {"m.d."}, "lh": {"m.i."}}, manuals: []string{"sin pedal"},
	},
}

// pitchText prints a pitch with a mark of feet.
func (p printer) pitchText(t *rapid.T, pitch string) string {
	mark := rapid.SampledFrom(p.feet).Draw(t, "mark")
	return pitch + mark
}

// list makes a list of stops for a division.
func (p printer) list(t *rapid.T, pedal, withGroups bool) (text, normal string) {
	n := rapid.IntRange(1, 4).Draw(t, "stops")
	var texts, normals []string
	for i := range n {
		if withGroups && len(p.groups) > 0 && rapid.IntRange(0, 3).Draw(t, "group") == 0 {
			g := rapid.SampledFrom(p.groups).Draw(t, "group")
			pitches := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"16", "8", "4"}), 1, 3, rapid.ID[string]).Draw(t, "pitches")
			var printed []string
			for _, f := range pitches {
				printed = append(printed, p.pitchText(t, f))
				name := ""
				if len(pitches) == 1 {
					name = " (" + g.name + ")"
				}
				normals = append(normals, g.family+" "+f+name)
			}
			texts = append(texts, g.name+" "+p.join(t, printed))
			continue
		}
		s := rapid.SampledFrom(p.stops).Draw(t, "stop")
		pitch := s.pitch
		if pedal && s.pedal != "" {
			pitch = s.pedal
		}
		text := s.name
		if s.pitch != "*" && (pedal && s.pedal == "" || rapid.Bool().Draw(t, "figure")) {
			pitch = s.pitch
			text += " " + p.pitchText(t, pitch)
		}
		texts = append(texts, text)
		normals = append(normals, s.family+" "+pitch+" ("+s.name+")")
		_ = i
	}
	return p.join(t, texts), strings.Join(normals, ", ")
}

// join joins items with commas, or the last with an "and".
func (p printer) join(t *rapid.T, items []string) string {
	if len(items) > 1 && rapid.Bool().Draw(t, "and") {
		last := items[len(items)-1]
		return strings.Join(items[:len(items)-1], ", ") + rapid.SampledFrom(p.and).Draw(t, "joiner") + last
	}
	return strings.Join(items, ", ")
}

// division draws a division and a way to print it.
func (p printer) division(t *rapid.T, but ...string) (role, text string) {
	var all []string
	for _, d := range []string{"great", "swell", "choir", "positive", "solo", "ober", "man1", "man2", "man3", "pedal"} {
		if p.divisions[d] != nil && !strings.Contains(" "+strings.Join(but, " ")+" ", " "+d+" ") {
			all = append(all, d)
		}
	}
	role = rapid.SampledFrom(all).Draw(t, "division")
	return role, rapid.SampledFrom(p.divisions[role]).Draw(t, "name")
}

// statement makes one direction that stands by itself on its line.
func (p printer) statement(t *rapid.T) (text, normal string) {
	kinds := []string{"set", "set", "set", "add", "off", "couple", "box", "trem", "hand"}
	if len(p.added) > 0 {
		kinds = append(kinds, "added")
	}
	if len(p.gone) > 0 {
		kinds = append(kinds, "gone")
	}
	switch kind := rapid.SampledFrom(kinds).Draw(t, "kind"); kind {
	case "set":
		role, name := p.division(t)
		list, voices := p.list(t, role == "pedal", true)
		return name + " " + list, "set " + role + ": " + voices
	case "add", "off":
		verb := rapid.SampledFrom(map[string][]string{"add": p.add, "off": p.off}[kind]).Draw(t, "verb")
		list, voices := p.list(t, false, true)
		return verb + " " + list, kind + " ?: " + voices
	case "added", "gone":
		s := rapid.SampledFrom(p.stops).Draw(t, "stop")
		verb := rapid.SampledFrom(map[string][]string{"added": p.added, "gone": p.gone}[kind]).Draw(t, "verb")
		return s.name + " " + verb, map[string]string{"added": "add", "gone": "off"}[kind] + " ?: " + s.family + " " + s.pitch + " (" + s.name + ")"
	case "couple":
		patterns, verb := p.couplers, "couple "
		if len(p.uncoupled) > 0 && rapid.IntRange(0, 3).Draw(t, "off") == 0 {
			patterns, verb = p.uncoupled, "uncouple "
		}
		if len(patterns) == 0 {
			return rapid.SampledFrom(p.manuals).Draw(t, "manuals"), "play feet: none"
		}
		a, nameA := p.division(t, "pedal", "great", "man1", "solo")
		b, nameB := "great", ""
		if strings.HasPrefix(a, "man") {
			b = "man1"
		} else if rapid.IntRange(0, 3).Draw(t, "pedal") == 0 && p.lang == "en" {
			b = "pedal"
		}
		nameB = rapid.SampledFrom(p.divisions[b]).Draw(t, "name")
		pattern := rapid.SampledFrom(patterns).Draw(t, "pattern")
		text := strings.NewReplacer("%a", strings.TrimSuffix(nameA, ":"), "%b", strings.TrimSuffix(nameB, ":")).Replace(pattern)
		return text, verb + a + ">" + b
	case "box":
		var states []string
		for _, s := range []string{"shut", "open", "half", "opening"} {
			if p.boxes[s] != nil {
				states = append(states, s)
			}
		}
		state := rapid.SampledFrom(states).Draw(t, "state")
		return rapid.SampledFrom(p.boxes[state]).Draw(t, "box"), "box ?: " + state
	case "trem":
		if len(p.tremOff) > 0 && rapid.Bool().Draw(t, "off") {
			return rapid.SampledFrom(p.tremOff).Draw(t, "trem"), "trem ?: off"
		}
		return rapid.SampledFrom(p.trem).Draw(t, "trem"), "trem ?: on"
	}
	hand := rapid.SampledFrom([]string{"rh", "lh"}).Draw(t, "hand")
	role, name := p.division(t, "pedal")
	text = rapid.SampledFrom(p.hands[hand]).Draw(t, "hand's name") + " " + name
	normal = "play " + hand + ": " + role
	if rapid.Bool().Draw(t, "stops") {
		list, voices := p.list(t, false, true)
		text, normal = text+" "+list, normal+"; set "+role+": "+voices
	}
	return text, normal
}

// TestGenerated makes up directions in each language, alone and in blocks of a
// line for each division, and reads them.
func TestGenerated(t *testing.T) {
	for _, p := range printers {
		t.Run(p.lang, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				text, normal := p.statement(t)
				if got := Read(text, Context{Lang: p.lang}).NormalForm(); got != normal {
					t.Fatalf("%q\n got %s\nwant %s", text, got, normal)
				}
			})
		})
	}
}

// TestGeneratedBlocks makes up the blocks at the head of a piece.
func TestGeneratedBlocks(t *testing.T) {
	for _, p := range printers {
		t.Run(p.lang, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				between := rapid.SampledFrom([]string{"\n", "; ", " / "}).Draw(t, "between")
				var texts, normals []string
				var named []string
				for range rapid.IntRange(2, 3).Draw(t, "lines") {
					role, name := p.division(t, named...)
					named = append(named, role)
					list, voices := p.list(t, role == "pedal", true)
					texts = append(texts, name+" "+list)
					normals = append(normals, "set "+role+": "+voices)
				}
				text, normal := strings.Join(texts, between), strings.Join(normals, "; ")
				if got := Read(text, Context{Lang: p.lang}).NormalForm(); got != normal {
					t.Fatalf("%q\n got %s\nwant %s", text, got, normal)
				}
			})
		})
	}
}

// TestGeneratedLines makes up lines that hold more than a list of stops.
func TestGeneratedLines(t *testing.T) {
	for _, p := range printers {
		t.Run(p.lang, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				role, name := p.division(t)
				list, voices := p.list(t, role == "pedal", true)
				text, normal := name+" "+list, "set "+role+": "+voices
				if rapid.Bool().Draw(t, "trem") && role != "pedal" {
					text += ", " + p.trem[0]
					normal += "; trem " + role + ": on"
				}
				if (role == "swell" || role == "choir") && rapid.Bool().Draw(t, "box") {
					text += rapid.SampledFrom([]string{" (%)", ", %", " [%]"}).Draw(t, "brackets")
					text = strings.Replace(text, "%", rapid.SampledFrom(p.boxes["shut"]).Draw(t, "box"), 1)
					normal += "; box " + role + ": shut"
				}
				if len(p.couplers) > 0 && rapid.Bool().Draw(t, "coupler") {
					a, nameA := p.division(t, "pedal", "great", "man1", "solo")
					b := "great"
					if strings.HasPrefix(a, "man") {
						b = "man1"
					}
					nameB := rapid.SampledFrom(p.divisions[b]).Draw(t, "name")
					pattern := rapid.SampledFrom(p.couplers).Draw(t, "pattern")
					text += ", " + strings.NewReplacer("%a", strings.TrimSuffix(nameA, ":"), "%b", strings.TrimSuffix(nameB, ":")).Replace(pattern)
					normal += "; couple " + a + ">" + b
				}
				if rapid.Bool().Draw(t, "second") {
					other, otherName := p.division(t, role)
					more, moreVoices := p.list(t, other == "pedal", true)
					text += rapid.SampledFrom(between(text)).Draw(t, "between") + otherName + " " + more
					normal += "; set " + other + ": " + moreVoices
				}
				if got := Read(text, Context{Lang: p.lang}).NormalForm(); got != normal {
					t.Fatalf("%q\n got %s\nwant %s", text, got, normal)
				}
			})
		})
	}
}

// between is what can stand between two lines that are printed as one.
func between(text string) []string {
	if strings.HasSuffix(text, ".") {
		return []string{", ", "; ", " – ", "\n"}
	}
	return []string{", ", "; ", ". ", " – ", "\n"}
}
