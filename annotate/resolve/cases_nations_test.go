package resolve_test

var nationCases = []organCase{
	{
		name: "Ripieno", organ: "demonstration", lang: "it",
		sections: score(bigChords, "rh: Ripieno"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2, Mixture 19.22.26 III
			rh lacks reed, flute, string`},
		source: "Antegnati 1608 (Grove, Full organ): the principals together, flutes left out",
	},
	{
		name: "Voce umana is a celeste", organ: "demonstration", lang: "it",
		sections: score(hymn, "rh: Voce umana"),
		accept: []string{`
			rh on Swell
			rh has Voix Céleste 8, Salicional 8`, `
			rh has Open Diapason 8`},
		source: "the Italian Voce umana is a beating principal",
	},
	{
		name: "Prestant, Octaaf, Mixtuur", organ: "demonstration", lang: "nl",
		sections: score(bigChords, "rh: HW Prestant 8', Octaaf 4', Mixtuur"),
		accept: []string{`
			rh on Great
			rh = Open Diapason 8, Principal 4, Mixture 19.22.26 III`},
		source: "common practice",
	},
	{
		name: "Kromhoorn of the Rugwerk", organ: "north-german-baroque", lang: "nl",
		sections: score(soloOverChords, "rh: r.h. RW Kromhoorn 8'", "lh: l.h. HW Holpijp 8'"),
		accept: []string{`
			rh on Rückpositiv
			rh = Krummhorn 8
			lh on Hauptwerk
			lh = Spitzflöte 8`},
		source: "common practice",
	},
	{
		name: "Lleno", organ: "demonstration", lang: "es",
		sections: score(bigChords, "rh: Lleno"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2, Mixture 19.22.26 III
			rh lacks reed`},
		source: "common practice: principals with mixtures",
	},
	{
		name: "Corneta and Flautado on one manual that is divided", organ: `Manual [divided C4]: {stop: Flautado I 8, half: bass}, {stop: Flautado II 8, half: treble}, {stop: Corneta V, half: treble}, Octava 4
			Pedal: Contras 16`, lang: "es",
		sections: score(music{RH: soloOverChords.RH, LH: "C3+G3*4 A2+E3*4"}, "rh: m.d. Corneta", "lh: m.i. Flautado 8"),
		accept: []string{`
			rh has Corneta V
			lh has Flautado I 8
			no problem shared-keyboard`},
		source: "common practice of the medio registro",
	},
	{
		name: "Fonds 16, 8, 4", organ: "french-symphonic", lang: "fr",
		sections: score(bigChords, "rh: G.O. Fonds 16, 8, 4"),
		accept: []string{`
			rh on Grand-Orgue
			rh has Montre 16, Bourdon 16, Montre 8, Prestant 4
			rh pitches 16, 8, 4
			rh lacks reed`},
		source: "common practice, from memory",
	},
	{
		name: "Fonds 16, 8, 4 without a double", organ: "village-two-manuals", lang: "fr",
		sections: score(bigChords, "rh: G.O. Fonds 16, 8, 4"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Clarabella 8, Principal 4
			rh lacks reed, mixture
			problem voice-missing`, `
			rh on Great
			rh has Open Diapason 8, Clarabella 8, Principal 4, Lieblich Bourdon 16`},
		source: "common practice: manual 16′ is left out first",
	},
	{
		name: "Basse de trompette", organ: "paris-saint-gervais-1768", lang: "fr",
		sections: score(soloUnderneath, "lh: m.g. G.O. Trompette", "rh: m.d. Pos. Bourdon 8"),
		accept: []string{`
			lh on Grand-Orgue
			lh = Grand-Orgue Trompette 8 | Grosse trompette 8
			rh on Positif de dos
			rh = Bourdon 8`},
		source: "common practice of classical France",
	},
	{
		name: "Tierce en taille", organ: "paris-saint-gervais-1768", lang: "fr",
		sections: score(soloUnderneath, "lh: m.g. Pos. Tierce en taille", "rh: m.d. G.O. Bourdon 8", "feet: Péd. Flûte 8"),
		accept: []string{`
			lh on Positif de dos
			lh has Bourdon 8, Nasard 2 2/3, Tierce 1 3/5
			rh on Grand-Orgue
			rh = Grand-Orgue Bourdon 8
			feet = Flûte 8`},
		source: "common practice of classical France",
	},
	{
		name: "Tierce en taille in an English church", organ: "demonstration", lang: "fr",
		sections: score(soloUnderneath, "lh: m.g. Pos. Tierce en taille", "rh: m.d. G.O. Bourdon 8", "feet: Péd. Flûte 8"),
		always: `apart rh lh
			feet = Bass Flute 8`,
		accept: []string{`
			lh on Great
			lh has Nazard 2 2/3
			rh lacks Nazard 2 2/3`, `
			lh on Choir
			lh = Clarinet 8`},
		source: "Wedgwood 1905, Cornet",
	},
	{
		name: "Gambe et Voix céleste where the Swell has only the Salicional", organ: parish, lang: "fr",
		sections: score(hymn, "rh: R. Gambe et Voix céleste"),
		accept: []string{`
			rh on Swell
			rh = Salicional 8
			problem voice-missing`, `
			rh on Swell
			rh = Salicional 8
			rh says "does not beat"`},
		source: "common practice, from memory: the Gamba alone",
	},
	{
		name: "Brustwerk on an organ of two manuals", organ: parish, lang: "de",
		sections: score(manualsOnly, "rh: r.H. HW Principal 8'", "lh: l.H. BW Gedackt 8', Flöte 4'"),
		accept: []string{`
			rh on Great
			rh = Open Diapason 8
			lh on Swell
			lh has Lieblich Gedackt 8`},
		source: "stands_in.tsv",
	},
	{
		name: "Ohne Zungen", organ: "demonstration", lang: "de",
		sections: []section{
			part(bigChords, "rh: Volles Werk"),
			part(bigChords, "rh: Ohne Zungen"),
		},
		accept: []string{`
			rh has Trumpet 8
			at 5
			rh has Open Diapason 8, mixture
			rh lacks reed`},
		source: "common practice",
	},
}
