package resolve_test

// relationCases are about one division against another, and one passage after
// another: echoes, steps, what is put on and taken off.
var relationCases = []organCase{
	{
		name: "an echo on the second manual", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4, Fifteenth 2
			Swell [box]: Stopped Diapason 8, Principal 4, Oboe 8
			Pedal: Bourdon 16`,
		sections: []section{
			part(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Fifteenth 2"),
			part(bigChords, "rh: Echo Flute 8, 4"),
			part(bigChords, "rh: Gt."),
		},
		accept: []string{`
			rh on Great
			at 5
			rh on Swell
			rh = Stopped Diapason 8 | Swell Stopped Diapason 8, Swell Principal 4
			at 9
			rh on Great
			rh = Open Diapason 8, Great Principal 4, Fifteenth 2`, `
			at 5
			rh on Swell
			rh = Swell Stopped Diapason 8`},
		source: "stands_in.tsv: the Swell stands for an Echo",
	},
	{
		name: "R, P.R., G.P.R.", organ: "french-symphonic", lang: "fr",
		sections: []section{
			part(bigChords, "rh: R. Fonds 8"),
			part(bigChords, "rh: P.R. Fonds 8"),
			part(bigChords, "rh: G.P.R. Fonds 8"),
		},
		accept: []string{`
			rh on Récit
			at 5
			rh on Positif
			coupler Récit to Positif
			rh has Positif Montre 8, Récit Viole de gambe 8
			at 9
			rh on Grand-Orgue
			coupler Récit to Grand-Orgue
			coupler Positif to Grand-Orgue
			rh has Grand-Orgue Montre 8, Positif Montre 8, Récit Viole de gambe 8`},
		source: "DESIGN: the step R, P.R., G.P.R.",
	},
	{
		name: "R, P.R., G.P.R. on three English manuals", organ: "demonstration", lang: "fr",
		sections: []section{
			part(bigChords, "rh: R. Fonds 8"),
			part(bigChords, "rh: P.R. Fonds 8"),
			part(bigChords, "rh: G.P.R. Fonds 8"),
		},
		accept: []string{`
			rh on Swell
			at 5
			rh on Choir
			coupler Swell to Choir
			at 9
			rh on Great
			coupler Swell to Great
			coupler Choir to Great
			rh has Great Open Diapason 8`},
		source: "DESIGN: the step R, P.R., G.P.R.",
	},
	{
		name: "R, P.R., G.P.R. on two manuals", organ: "village-two-manuals", lang: "fr",
		sections: []section{
			part(bigChords, "rh: R. Fonds 8"),
			part(bigChords, "rh: G.R. Fonds 8"),
		},
		accept: []string{`
			rh on Swell
			rh has Violin Diapason 8, Lieblich Gedackt 8
			at 5
			rh on Great
			coupler Swell to Great
			rh has Open Diapason 8, Clarabella 8, Violin Diapason 8`},
		source: "DESIGN: the step R, P.R., G.P.R.",
	},
	{
		name: "a tremulant does not stay in a full Swell", organ: "demonstration",
		sections: []section{
			part(soloOverChords, "rh: R.H. Sw. Oboe 8, Trem.", "lh: L.H. Ch. Dulciana 8"),
			part(bigChords, "rh: Full Swell"),
		},
		accept: []string{`
			tremulant Swell
			at 5
			rh on Swell
			rh has Cornopean 8, Mixture 15.19.22 III
			no tremulant Swell`},
		source: "DESIGN: a celeste or a tremulant never in a chorus",
	},
	{
		name: "a celeste does not stay in a full Swell", organ: "demonstration",
		sections: []section{
			part(hymn, "rh: Sw. Voix Celeste 8, Salicional 8"),
			part(bigChords, "rh: Full Swell"),
		},
		accept: []string{`
			rh = Salicional 8, Voix Céleste 8
			at 5
			rh has Cornopean 8
			rh lacks celeste`},
		source: "DESIGN: a celeste or a tremulant never in a chorus",
	},
	{
		name: "a crescendo by adding", organ: "demonstration",
		sections: []section{
			part(bigChords, "rh: Gt. Stopped Diapason 8, Flute 4"),
			part(bigChords, "rh: add Open Diapason 8, Principal 4"),
			part(bigChords, "rh: add Mixture"),
			part(bigChords, "rh: add Trumpet 8"),
		},
		accept: []string{`
			rh = Stopped Diapason 8, Harmonic Flute 4
			at 5
			rh = Stopped Diapason 8, Harmonic Flute 4, Open Diapason 8, Principal 4
			at 9
			rh = Stopped Diapason 8, Harmonic Flute 4, Open Diapason 8, Principal 4, Mixture 19.22.26 III
			at 13
			rh = Stopped Diapason 8, Harmonic Flute 4, Open Diapason 8, Principal 4, Mixture 19.22.26 III, Trumpet 8`},
		source: "DESIGN: a long crescendo is a sequence that never grows softer",
	},
	{
		name: "a crescendo on an organ that lacks half of it", organ: parish,
		sections: []section{
			part(bigChords, "rh: Gt. Stopped Diapason 8, Flute 4"),
			part(bigChords, "rh: add Open Diapason 8, Principal 4"),
			part(bigChords, "rh: add Mixture"),
			part(bigChords, "rh: add Trumpet 8"),
		},
		accept: []string{`
			rh on Great
			rh has Great Stopped Diapason 8
			at 5
			rh on Great
			rh has Stopped Diapason 8, Open Diapason 8, Principal 4
			at 9
			rh on Great
			rh has Stopped Diapason 8, Open Diapason 8, Principal 4
			problem voice-missing
			at 13
			rh on Great
			rh has Stopped Diapason 8, Open Diapason 8, Principal 4`},
		source: "DESIGN: a long crescendo is a sequence that never grows softer",
	},
	{
		name: "Oboe off", organ: "demonstration",
		sections: []section{
			part(hymn, "rh: Sw. Stopped Diapason 8, Oboe 8"),
			part(hymn, "rh: Sw. Oboe 8 off"),
		},
		accept: []string{`
			rh = Swell Stopped Diapason 8, Oboe 8
			at 5
			rh = Swell Stopped Diapason 8`},
		source: "common practice",
	},
	{
		name: "Oboe off where a Cornopean stood for it", organ: `Great: Open Diapason 8
			Swell [box]: Stopped Diapason 8, Cornopean 8
			Pedal: Bourdon 16`,
		sections: []section{
			part(hymn, "rh: Sw. Stopped Diapason 8, Oboe 8"),
			part(hymn, "rh: Sw. Oboe 8 off"),
		},
		accept: []string{`
			rh has Stopped Diapason 8
			at 5
			rh = Stopped Diapason 8`},
		source: "common practice",
	},
	{
		name: "a coupler that carries on", organ: `Great: Open Diapason 8, Principal 4
			Swell [box]: Gedackt 8, Oboe 8
			Pedal: Bourdon 16
			couplers: Swell to Great, Great to Pedal`,
		sections: score(bigChords, "rh: Gt. Open Diapason 8, Sw. to Gt.", "lh: Sw. Oboe 8", "feet: Ped. Bourdon 16, Gt. to Ped."),
		accept: []string{`
			coupler Great to Pedal`},
		source: "DESIGN: whether couplers carry on depends on the action",
	},
	{
		name: "Swell to Great off", organ: "demonstration",
		sections: []section{
			part(bigChords, "rh: Gt. Open Diapason 8, Full Sw. coupled"),
			part(bigChords, "rh: Sw. to Gt. off"),
		},
		accept: []string{`
			coupler Swell to Great
			rh has Great Open Diapason 8, Cornopean 8
			at 5
			no coupler Swell to Great
			rh on Great
			rh = Great Open Diapason 8`},
		source: "common practice",
	},
	{
		name: "a trio after a coupled hymn", organ: "demonstration",
		sections: []section{
			part(hymn, "rh: Gt. Open Diapason 8", "feet: Ped. 16, 8, Gt. to Ped., Sw. to Ped."),
			part(trio, "rh: R.H. Sw. Stopped Diapason 8", "lh: L.H. Gt. Stopped Diapason 8"),
		},
		accept: []string{`
			coupler Great to Pedal
			coupler Swell to Pedal
			at 5
			rh on Swell
			lh on Great
			no coupler Great to Pedal
			no coupler Swell to Pedal`},
		source: "DESIGN: a trio needs a pedal that no coupler ties to either",
	},
	{
		name: "the Choir and the Swell of one organ are two colours of one Swell", organ: parish,
		sections: []section{
			part(hymn, "rh: Sw. Oboe 8"),
			part(hymn, "rh: Ch. Flute 8, 4"),
			part(hymn, "rh: Sw. Oboe 8"),
			part(hymn, "rh: Ch. Flute 8, 4"),
		},
		accept: []string{`
			rh = Oboe 8
			at 5
			rh has Lieblich Gedackt 8 | Stopped Diapason 8
			at 9
			rh = Oboe 8
			at 13
			rh has Lieblich Gedackt 8 | Stopped Diapason 8`},
		source: "common practice",
	},
	{
		name: "a manual that only a dynamic names", organ: "demonstration",
		sections: []section{
			part(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Fifteenth 2"),
			part(bigChords, "rh: Ch. Dulciana 8"),
			part(bigChords, "rh: Gt. f"),
		},
		accept: []string{`
			rh on Great
			at 5
			rh on Choir
			at 9
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2`},
		source: "common practice",
	},
}

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
		source: "facts, Fonds: flues 16, 8, 4",
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
		source: "DESIGN: manual 16′ is left out first",
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
		source: "facts, substitution: Cornet",
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
		source: "facts, substitution: the Gamba alone",
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

var compassCases = []organCase{
	{
		name: "hand and feet change parts", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Swell: Gedackt 8, Clarion 4
			Pedal: Bourdon 16, Bass Flute 8`,
		sections: score(music{RH: "E5+G5*4 D5+F5*4", LH: "C3*2 E3*2 F3*2 G3*2", Feet: "C4*1 D4*1 E4*2 F4*1 E4*1 D4*2"},
			"rh: R.H. Gt. Stopped Diapason 8", "lh: L.H. Sw. Gedackt 8", "feet: Ped. Reed 4 ft. solo"),
		accept: []string{
			`feet by lh
			feet = Clarion 4`,
			`feet pitches 4`,
		},
		source: "DESIGN: the line taken by a hand on a manual while the feet take that hand's notes",
	},
	{
		name: "a note above the pedalboard in a hymn", organ: "village-one-manual",
		sections: score(music{RH: hymn.RH, LH: hymn.LH, Feet: "C3*1 F3*1 E4*2"}, "rh: Open Diapason 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			feet = Bourdon 16
			feet octave 0
			problem off-compass`},
		source: "DESIGN: a note that is not there is flagged",
	},
	{
		name: "a right hand above the manual", organ: "paris-saint-gervais-1768", lang: "fr",
		sections: score(music{RH: "C6+E6*2 D6+F6*2", LH: "C4+E4*4"}, "rh: G.O. Montre 8"),
		accept: []string{`
			rh has Montre 8
			problem off-compass`},
		source: "DESIGN: a note that is not there is flagged",
	},
	{
		name: "a Swell solo below its tenor C", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Choir: Dulciana 8, Clarinet 8
			Swell [C3-G6]: Gedackt 8, Oboe 8
			Pedal: Bourdon 16`,
		sections: score(textures["low solo lh"], "lh: L.H. Sw. Oboe 8", "rh: R.H. Gt. Stopped Diapason 8"),
		accept: []string{`
			lh on Choir
			lh = Clarinet 8`},
		source: "common practice: a reed that has the notes",
	},
	{
		name: "a pedal reed of 8 ft. from the Swell with the hands elsewhere", organ: "village-two-manuals",
		sections: score(pedalTune, "rh: Gt. Clarabella 8", "feet: Ped. Trumpet 8 solo"),
		accept: []string{`
			feet = Cornopean 8
			coupler Swell to Pedal
			no coupler Great to Pedal`},
		source: "DESIGN: coupled down from a free manual, the pedal's own stops in",
	},
	{
		name: "a pedal solo at 4 ft. on a village organ", organ: "village-two-manuals",
		sections: score(pedalTune, "rh: Gt. Clarabella 8", "feet: Ped. Choral Bass 4 solo"),
		accept: []string{`
			rh on Great
			feet = Gemshorn 4
			coupler Swell to Pedal`, `
			rh on Swell
			rh = Lieblich Gedackt 8
			feet = Principal 4
			coupler Great to Pedal`},
		source: "facts, octave devices: manual 4′ on a spare manual coupled down",
	},
	{
		name: "a pedal cello", organ: "town-hall",
		sections: score(pedalTune, "rh: Sw. Rohr Flute 8", "feet: Ped. Violoncello 8 solo"),
		accept: []string{`
			feet = Violoncello 8`},
		source: "common practice",
	},
	{
		name: "an octave lower on a 2 ft. cornet", organ: `Hauptwerk: Principal 8, Gedackt 8
			Pedal: Subbaß 16, Cornet 2`, lang: "de",
		sections: score(highPedalTune, "rh: HW Gedackt 8'", "feet: Ped. Trompete 4' solo"),
		accept: []string{`
			feet octave -1
			feet = Cornet 2`},
		source: "facts, octave devices: pedal 2′ an octave lower, from C3 up",
	},
	{
		name: "a cantus of 4 ft. where nothing has 4 ft.", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Pedal: Bourdon 16`,
		sections: score(highPedalTune, "rh: Gt. Stopped Diapason 8", "feet: Ped. Reed 4 ft. solo"),
		accept: []string{`
			problem pitch-lost`},
		source: "DESIGN: where no playable choice keeps the pitch, that is a problem",
	},
}
