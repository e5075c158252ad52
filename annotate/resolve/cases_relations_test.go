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
		source: "common practice: the step R, P.R., G.P.R.",
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
		source: "common practice: the step R, P.R., G.P.R.",
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
		source: "common practice: the step R, P.R., G.P.R.",
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
		source: "common practice: a celeste or a tremulant never in a chorus",
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
		source: "common practice: a celeste or a tremulant never in a chorus",
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
		source: "common practice: a long crescendo is a sequence that never grows softer",
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
		source: "common practice: a long crescendo is a sequence that never grows softer",
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
		source: "common practice: mechanical couplers carry on",
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
		source: "common practice: a trio needs a pedal that no coupler ties to either",
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
