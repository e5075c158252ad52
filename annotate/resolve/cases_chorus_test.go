package resolve_test

var chorusCases = []organCase{
	{
		name: "a chorus that is there", organ: "demonstration",
		sections: score(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Fifteenth 2, Mixture", "feet: Ped. 16, 8, Gt. to Ped."),
		accept: []string{`
			rh on Great
			rh = Open Diapason 8, Principal 4, Fifteenth 2, Mixture 19.22.26 III
			coupler Great to Pedal
			feet has principal 16 | flute 16, principal 8 | flute 8
			no problem`},
		source: "common practice",
	},
	{
		name: "mixtures never on flutes alone", organ: `Hauptwerk: Principal 8, Octave 4, Octave 2, Mixtur IV
			Positiv: Gedackt 8, Rohrflöte 4, Scharff III
			Pedal: Subbaß 16, Octave 8`, lang: "de",
		sections: score(bigChords, "rh: Positiv Plenum"),
		accept: []string{
			`rh on Hauptwerk
			rh = Principal 8, Octave 4, Octave 2, Mixtur IV`,
			`rh on Positiv
			rh = Gedackt 8, Rohrflöte 4`,
		},
		source: "common practice: mixtures never stand on flutes alone",
	},
	{
		name: "to Fifteenth brings no double and no mixture", organ: "town-hall",
		sections: score(bigChords, "rh: Gt. to Fifteenth"),
		accept: []string{`
			rh on Great
			rh has Open Diapason I 8 | Open Diapason II 8, Principal 4 | Octave 4, Fifteenth 2
			rh lacks Double Open Diapason 16, Bourdon 16, mixture, sharp mixture, reed`},
		source: "common practice: manual 16′ is never added unasked",
	},
	{
		name: "a double for the manual that is not on it", organ: "village-two-manuals",
		sections: score(bigChords, "rh: Gt. 16, 8, 4, 2"),
		always: `rh on Great
			rh octave 0
			rh has Open Diapason 8 | Clarabella 8, Principal 4 | Suabe Flute 4, Fifteenth 2`,
		accept: []string{
			`rh pitches 8, 4, 2
			problem voice-missing`,
			`rh pitches 16, 8, 4, 2
			rh has Lieblich Bourdon 16
			coupler Swell to Great`,
		},
		source: "common practice: manual 16′ is left out first",
	},
	{
		name: "a chorus over a Gedackt", organ: "north-german-baroque", lang: "de",
		sections: score(manualsOnly, "rh: BW Principal 8', 4', Octave 2'"),
		accept: []string{
			`rh on Brustwerk
			rh = Gedackt 8, Principal 4, Gemshorn 2`,
			`rh on Rückpositiv
			rh = Principal 8, Octave 4, Octave 2`,
		},
		source: "common practice: the Brustwerk's principal is 4′, a Gedackt its ground",
	},
	{
		name: "the step from Great to Swell", organ: parish,
		sections: []section{
			part(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Fifteenth 2"),
			part(bigChords, "rh: Sw. Principal 8, 4, 2"),
		},
		accept: []string{`
			rh on Great
			rh = Open Diapason 8, Principal 4, Fifteenth 2
			at 5
			rh on Swell
			rh has Gemshorn 4, 8 | flute 8 | string 8`},
		source: "common practice: the step between manuals is part of the music",
	},
	{
		name: "the old English Diapasons", organ: "demonstration",
		sections: score(hymn, "rh: Gt. Diapasons"),
		accept: []string{`
			rh on Great
			rh = Open Diapason 8, Stopped Diapason 8`},
		source: "Grove, Organ stop, Diapason",
	},
	{
		name: "Diapasons of a bass and a treble", organ: "canterbury-st-stephen-walker-1879",
		sections: score(hymn, "rh: Gt. Diapasons"),
		accept: []string{
			`rh on Great
			rh has Open Diapason 8
			rh lacks Cornopean 8, Principal 4, Fifteenth 2`,
		},
		source: "Grove, Organ stop, Diapason",
	},
	{
		name: "Great to Mixtures", organ: "demonstration",
		sections: score(bigChords, "rh: Gt. to Mixtures"),
		accept: []string{`
			rh on Great
			rh = Open Diapason 8, Principal 4, Fifteenth 2, Mixture 19.22.26 III`},
		source: "common practice",
	},
	{
		name: "Reeds draws no Clarinet", organ: `Great: Open Diapason 8, Principal 4
			Choir: Stopped Diapason 8, Flute 4, Clarinet 8
			Pedal: Bourdon 16`,
		sections: []section{
			part(hymn, "rh: Ch. Stopped Diapason 8"),
			part(hymn, "rh: add Reeds"),
		},
		accept: []string{`
			at 5
			rh on Choir
			rh = Stopped Diapason 8
			problem voice-missing`},
		source: "common practice: Reeds never draws a Clarinet, a Vox humana or a Tuba",
	},
	{
		name: "Reeds of 16 and 4 alone", organ: `Great: Open Diapason 8, Principal 4
			Choir: Stopped Diapason 8, Flute 4, Double Trumpet 16, Clarion 4
			Pedal: Bourdon 16`,
		sections: score(bigChords, "rh: Ch. Reeds"),
		accept: []string{`
			rh on Choir
			rh has Double Trumpet 16, Clarion 4, Stopped Diapason 8`, `
			rh on Choir
			rh has Clarion 4, Stopped Diapason 8`},
		source: "common practice: 16′ and 4′ without the unison have a hole in the middle",
	},
	{
		name: "Reeds of the Swell", organ: "demonstration",
		sections: score(bigChords, "rh: Sw. Reeds"),
		accept: []string{`
			rh on Swell
			rh has Contra Fagotto 16, Cornopean 8, Clarion 4
			rh lacks mixture, celeste, principal, flute`},
		source: "common practice",
	},
	{
		name: "a chorus without its reeds", organ: "demonstration",
		sections: score(bigChords, "rh: Full Great without reeds"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2, Mixture 19.22.26 III
			rh lacks Trumpet 8, Bourdon 16`},
		source: "Russell 1812, Full Organ without the Trumpet (Grove, Full organ)",
	},
	{
		name: "the Swell coupled to the Great", organ: "demonstration",
		sections: score(bigChords, "rh: Full Sw. coupled to Gt. Open Diapason 8, Principal 4"),
		accept: []string{`
			rh on Great
			coupler Swell to Great
			rh has Great Open Diapason 8, Great Principal 4, Swell Cornopean 8, Swell Mixture 15.19.22 III
			rh lacks Great Trumpet 8, Voix Céleste 8`},
		source: "common practice",
	},
}

var fullCases = []organCase{
	{
		name: "Full Swell", organ: "demonstration",
		sections: score(bigChords, "rh: Full Swell (box closed)"),
		accept: []string{`
			rh on Swell
			rh has Open Diapason 8, Gemshorn 4, Fifteenth 2, Mixture 15.19.22 III, Contra Fagotto 16, Cornopean 8, Clarion 4
			rh lacks celeste
			box Swell shut
			no tremulant Swell`},
		source: "Russell 1804 writes Full Swell (Grove, Full organ); what it holds is common practice",
	},
	{
		name: "Full Swell of a village organ", organ: "village-two-manuals",
		sections: score(bigChords, "rh: Full Sw."),
		accept: []string{`
			rh on Swell
			rh has Violin Diapason 8, Gemshorn 4, Mixture 15.19 II, Cornopean 8
			rh lacks celeste`},
		source: "Russell 1804 writes Full Swell (Grove, Full organ); what it holds is common practice",
	},
	{
		name: "Full Swell of a town hall", organ: "town-hall",
		sections: score(bigChords, "rh: Full Sw."),
		accept: []string{`
			rh on Swell
			rh has Open Diapason 8, Principal 4, Fifteenth 2, Contra Fagotto 16, Cornopean 8 | Trumpet 8, Clarion 4, mixture
			rh lacks celeste, vox humana`},
		source: "Russell 1804 writes Full Swell (Grove, Full organ); what it holds is common practice",
	},
	{
		name: "Full Swell without reeds", organ: `Great: Open Diapason 8, Principal 4, Fifteenth 2
			Swell [box]: Bourdon 16, Open Diapason 8, Stopped Diapason 8, Salicional 8, Principal 4, Fifteenth 2, Mixture III
			Pedal: Bourdon 16`,
		sections: score(bigChords, "rh: Full Swell"),
		accept: []string{`
			rh on Swell
			rh has Open Diapason 8, Principal 4, Fifteenth 2, Mixture III
			rh says "reeds"`},
		source: "common practice, from memory: Full Swell when the Swell has no reeds",
	},
	{
		name: "Full Swell without mixture", organ: `Great: Open Diapason 8, Principal 4, Fifteenth 2
			Swell [box]: Open Diapason 8, Lieblich Gedackt 8, Voix Celeste 8, Principal 4, Cornopean 8, Oboe 8
			Pedal: Bourdon 16`,
		sections: score(bigChords, "rh: Full Swell"),
		accept: []string{`
			rh on Swell
			rh has Open Diapason 8, Principal 4, Cornopean 8
			rh lacks celeste`},
		source: "common practice",
	},
	{
		name: "Foundations", organ: "demonstration",
		sections: score(bigChords, "rh: Gt. Foundations"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4
			rh lacks reed, mixture, Nazard 2 2/3, Bourdon 16`},
		source: "common practice: flues of 8 and 4, neither mixtures nor mutations nor reeds",
	},
	{
		name: "Foundations of a town hall", organ: "town-hall",
		sections: score(bigChords, "rh: Gt. Foundations 8"),
		accept: []string{`
			rh on Great
			rh pitches 8
			rh has Open Diapason I 8, Open Diapason II 8, Stopped Diapason 8, Hohl Flute 8`},
		source: "Rumsey & Kingston 2019 on Franck's Fonds",
	},
	{
		name: "Full Organ", organ: "demonstration",
		sections: score(bigChords, "rh: Full Organ"),
		accept: []string{`
			rh on Great
			rh has Great Open Diapason 8, Great Principal 4, Fifteenth 2, Great Mixture 19.22.26 III, Great Trumpet 8, Swell Cornopean 8
			rh lacks celeste, clarinet, Dulciana 8
			coupler Swell to Great
			no tremulant Swell
			feet has Open Wood 16, Trombone 16, Principal 8`},
		source: "Grove, Full organ",
	},
	{
		name: "Full Organ of a village", organ: "village-two-manuals",
		sections: score(bigChords, "rh: Full Organ"),
		accept: []string{`
			rh on Great
			rh has Great Open Diapason 8, Principal 4, Fifteenth 2, Swell Cornopean 8
			rh lacks celeste, Dulciana 8
			coupler Swell to Great
			feet has Bourdon 16`},
		source: "Grove, Full organ",
	},
	{
		name: "Full Organ of one manual", organ: "village-one-manual",
		sections: score(bigChords, "rh: Full Organ"),
		accept: []string{`
			rh has Open Diapason 8, Principal 4, Fifteenth 2
			feet has Bourdon 16`},
		source: "Grove, Full organ",
	},
	{
		name: "Tutti and back", organ: "demonstration",
		sections: []section{
			part(hymn, "rh: Sw. Salicional 8", "feet: Ped. Bourdon 16"),
			part(bigChords, "rh: Tutti"),
			part(hymn, "rh: Sw. Salicional 8", "feet: Ped. Bourdon 16"),
		},
		accept: []string{`
			rh = Salicional 8
			at 5
			rh has Great Trumpet 8
			at 9
			rh on Swell
			rh = Salicional 8
			feet lacks Trombone 16, Open Wood 16`},
		source: "common practice",
	},
}

var bassCases = []organCase{
	{
		name: "a bass that is there", organ: "demonstration",
		sections: score(hymn, "rh: Sw. Stopped Diapason 8", "feet: Ped. Bourdon 16, Bass Flute 8"),
		accept: []string{`
			feet = Bourdon 16, Bass Flute 8
			no problem`},
		source: "common practice",
	},
	{
		name: "the 8 ft. of a pedal of one stop", organ: "canterbury-st-stephen-walker-1879",
		sections: score(hymn, "rh: Gt. Open Diapason 8", "feet: Ped. 16, 8"),
		accept: []string{`
			coupler Great to Pedal
			feet has Bourdon 16, Open Diapason 8`},
		source: "common practice, from memory: pedal 8′ by Great to Pedal",
	},
	{
		name: "8 ft. only", organ: "demonstration",
		sections: score(hymn, "rh: Sw. Salicional 8", "feet: Ped. 8 ft. only"),
		accept:   []string{`feet pitches 8`},
		source:   "common practice: 8 ft. only forbids 16′",
	},
	{
		name: "a 32 ft. from 16 and 10 2/3", organ: `Great: Open Diapason 8, Principal 4, Fifteenth 2, Mixture III
			Pedal: Open Diapason 16, Bourdon 16, Quint 10 2/3, Principal 8
			couplers: Great to Pedal`,
		sections: score(bigChords, "rh: Gt. Open Diapason 8, Principal 4", "feet: Ped. 32, 16, 8"),
		accept: []string{`
			feet has Quint 10 2/3, Open Diapason 16 | Bourdon 16, Principal 8
			feet says "resultant"`},
		source: "Stauff, Encyclopedia of Organ Stops, Trombone Quint, after Skinner",
	},
	{
		name: "no 32 ft. of any kind", organ: "demonstration",
		sections: score(bigChords, "rh: Gt. Open Diapason 8, Principal 4", "feet: Ped. 32, 16, 8"),
		accept: []string{`
			feet pitches 16, 8
			problem voice-missing`},
		source: "common practice",
	},
	{
		name: "the pedal follows the hands to the Swell", organ: "demonstration",
		sections: []section{
			part(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Fifteenth 2", "feet: Ped. Open Wood 16, Principal 8, Gt. to Ped."),
			part(hymn, "rh: Sw. Salicional 8"),
		},
		accept: []string{`
			coupler Great to Pedal
			feet has Open Wood 16
			at 5
			no coupler Great to Pedal
			coupler Swell to Pedal
			feet lacks Open Wood 16
			feet has Bourdon 16`},
		source: "common practice: the pedal follows the manual, printed or not",
	},
	{
		name: "a full pedal under soft hands", organ: "demonstration",
		sections: []section{
			part(bigChords, "rh: Full Great", "feet: Full Ped., Gt. to Ped."),
			part(hymn, "rh: Sw. Salicional 8"),
		},
		accept: []string{`
			coupler Great to Pedal
			feet has Trombone 16, Open Wood 16
			at 5
			no coupler Great to Pedal
			feet lacks Open Wood 16, Trombone 16
			feet has Bourdon 16`},
		source: "common practice: the big 16′ comes off",
	},
	{
		name: "a pedal reed that was asked for under soft hands", organ: "demonstration",
		sections: []section{
			part(hymn, "rh: Gt. Claribel Flute 8", "feet: Ped. Trombone 16"),
			part(hymn, "rh: Sw. to Gt."),
		},
		accept: []string{`
			feet has Trombone 16
			at 5
			feet has Trombone 16`},
		source: "common practice: what is printed for the pedal alone stands",
	},
	{
		name: "a pedal of 8 ft. alone", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Swell [box]: Bourdon 16, Gedackt 8, Salicional 8
			Pedal: Bass Flute 8
			couplers: Swell to Pedal`,
		sections: score(hymn, "rh: Gt. Stopped Diapason 8", "feet: Ped. 16, 8"),
		accept: []string{`
			coupler Swell to Pedal
			feet = Bass Flute 8, Swell Bourdon 16`},
		source: "common practice, from memory: a manual 16′ coupled",
	},
	{
		name: "no mixture on the pedal", organ: "demonstration",
		sections: score(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Fifteenth 2", "feet: Ped. Open Wood 16, Principal 8, Mixture"),
		accept: []string{`
			feet has Open Wood 16, Principal 8
			problem voice-missing`, `
			feet has Open Wood 16, Principal 8, mixture`},
		source: "BYU chorus page: a full Swell coupled; else it is left out and said",
	},
	{
		name: "a Violone that is a Bourdon", organ: parish,
		sections: score(hymn, "rh: Sw. Salicional 8", "feet: Ped. Violone 16"),
		accept:   []string{`feet = Bourdon 16`},
		source:   "common practice: pedal bass: family last",
	},
	{
		name: "a pedal reed that is missing in a chorus", organ: "village-two-manuals",
		sections: score(bigChords, "rh: Full Great", "feet: Ped. Bourdon 16, Trombone 16, Gt. to Ped."),
		accept: []string{`
			feet has Bourdon 16
			coupler Great to Pedal
			problem voice-missing`},
		source: "common practice",
	},
}
