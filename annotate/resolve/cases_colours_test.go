package resolve_test

// colourCases are about single colours and their mixing: gaps, alternatives,
// two registrations at once.
var colourCases = []organCase{
	{
		name: "a gap of 8 and 2", organ: "demonstration",
		sections: score(manualsOnly, "rh: r.h. Ch. Gedackt 8, Piccolo 2", "lh: l.h. Sw. Salicional 8"),
		accept: []string{`
			rh on Choir
			rh = Lieblich Gedackt 8, Piccolo 2
			lh = Salicional 8`},
		source: "common practice: a gap is meant",
	},
	{
		name: "a gap of 16 and 4", organ: "village-two-manuals",
		sections: score(manualsOnly, "rh: Sw. Bourdon 16, Flute 4"),
		always: `rh on Swell
			rh has Lieblich Bourdon 16`,
		accept: []string{`rh = Lieblich Bourdon 16, Gemshorn 4`, `rh pitches 16, 4`},
		source: "common practice: a gap is meant, and not filled",
	},
	{
		name: "a Clarinet with a 4 ft. flute", organ: "demonstration",
		sections: score(soloOverChords, "rh: R.H. Ch. Clarinet 8, Flute 4", "lh: L.H. Sw. Salicional 8"),
		accept: []string{`
			rh on Choir
			rh = Clarinet 8, Flauto Traverso 4
			lh = Salicional 8`},
		source: "common practice",
	},
	{
		name: "an Oboe or a Clarinet", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Swell [box]: Gedackt 8, Salicional 8
			Choir: Dulciana 8, Clarinet 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Oboe or Clarinet", "lh: L.H. Sw. Gedackt 8"),
		accept: []string{`
			rh on Choir
			rh = Clarinet 8
			lh on Swell
			lh = Gedackt 8`},
		source: "the text offers it",
	},
	{
		name: "a Clarion solo where there is a Cornopean", organ: "village-two-manuals",
		sections: score(music{RH: "C4*1 D4*1 E4*2 G4*1 F4*1 E4*2", LH: "C3+G3*4"}, "rh: R.H. Sw. Clarion 4 solo", "lh: L.H. Gt. Dulciana 8"),
		accept: []string{`
			rh on Swell
			rh octave 1
			rh = Cornopean 8
			lh = Dulciana 8`},
		source: "arithmetic of octaves: 8′ an octave higher is 4′",
	},
	{
		name: "a Clarinet on an open Choir keeps its colour under a hairpin", organ: "demonstration",
		sections: score(soloOverChords, "rh: R.H. Ch. Clarinet 8", "cresc: ", "lh: L.H. Sw. Salicional 8"),
		accept: []string{`
			rh on Choir
			rh = Clarinet 8
			lh on Swell
			lh = Salicional 8`},
		source: "common practice: the kind of stop before expression",
	},
	{
		name: "two registrations with one division coupled to the other", organ: "demonstration",
		sections: score(soloOverChords, "rh: R.H. Ch. Clarinet 8", "lh: L.H. Gt. Stopped Diapason 8 coupled to Sw. Salicional 8"),
		accept: []string{`
			rh on Choir
			rh = Clarinet 8
			lh on Great
			lh = Great Stopped Diapason 8, Salicional 8
			coupler Swell to Great`},
		source: "common practice",
	},
	{
		name: "Swell coupled to Choir", organ: "demonstration",
		sections: score(hymn, "rh: Ch. Dulciana 8, Sw. to Ch.", "feet: Ped. Bourdon 16, Sw. to Ped."),
		accept: []string{`
			rh on Choir
			rh has Dulciana 8
			coupler Swell to Choir
			coupler Swell to Pedal`},
		source: "common practice",
	},
	{
		name: "III to I by way of II", organ: "leipzig-st-petri-sauer-1885", lang: "de",
		sections: score(bigChords, "rh: I Principal 8', III/I"),
		accept: []string{`
			rh on I. Manual
			rh has I. Manual Principal 8
			coupler III. Manual to II. Manual
			coupler II. Manual to I. Manual`},
		source: "couplers carry on: mechanical action",
	},
	{
		name: "Tirasse G.O.", organ: "french-symphonic", lang: "fr",
		sections: score(hymn, "rh: G.O. Montre 8, Bourdon 8", "feet: Péd. Soubasse 16, Flûte 8, Tirasse G.O."),
		accept: []string{`
			rh on Grand-Orgue
			rh = Montre 8, Bourdon 8
			coupler Grand-Orgue to Pédale
			feet has Soubasse 16, Pédale Flûte 8, Grand-Orgue Montre 8`},
		source: "common practice",
	},
	{
		name: "a Cornet d'Écho", organ: "paris-saint-gervais-1768", lang: "fr",
		sections: score(music{RH: "C5*1 D5*1 E5*2 G5*1 F5*1 E5*2", LH: "C4+E4*4 B3+F4*4"}, "rh: m.d. Écho: Cornet", "lh: m.g. Pos. Bourdon 8"),
		always: `lh on Positif de dos
			lh = Bourdon 8`,
		accept: []string{`
			rh on Récit
			rh = Cornet V`, `
			rh on Écho
			rh = Flûte 8, Nasard 2 2/3`},
		source: "common practice of classical France",
	},
	{
		name: "Reeds of a Great that has none", organ: "village-two-manuals",
		sections: []section{
			part(bigChords, "rh: Gt. Open Diapason 8, Principal 4"),
			part(bigChords, "rh: Gt. Reeds"),
		},
		accept: []string{`
			rh = Open Diapason 8, Principal 4
			at 5
			rh on Great
			rh has Open Diapason 8, Principal 4
			problem voice-missing`, `
			at 5
			rh on Great
			rh has Open Diapason 8, Principal 4, Cornopean 8
			coupler Swell to Great`},
		source: "common practice: what is not there is said",
	},
	{
		name: "flutes 8, 4, 2 of the Great", organ: parish,
		sections: score(manualsOnly, "rh: Gt. Flutes 8, 4, 2"),
		always: `rh on Great
			rh has Stopped Diapason 8`,
		accept: []string{`rh pitches 8, 4, 2`, `problem voice-missing`},
		source: "common practice",
	},
	{
		name: "both hands on one manual with two texts", organ: "demonstration",
		sections: score(hymn, "rh: Sw. Stopped Diapason 8", "lh: Sw. Stopped Diapason 8"),
		accept: []string{`
			rh on Swell
			rh = Swell Stopped Diapason 8
			lh on Swell
			no problem`},
		source: "common practice",
	},
	{
		name: "an Unda maris", organ: "town-hall",
		sections: score(hymn, "rh: Ch. Unda Maris 8"),
		accept: []string{`
			rh on Choir
			rh has Unda Maris 8
			rh has flute 8 | dulciana 8 | soft string 8
			rh lacks reed, principal`},
		source: "common practice, from memory: no celeste without its partner",
	},
	{
		name: "a Dulciana is not a Diapason", organ: `Great: Open Diapason 8, Principal 4
			Choir: Open Diapason 8, Viola da Gamba 8, Flute 4
			Pedal: Bourdon 16`,
		sections: score(hymn, "rh: Ch. Dulciana 8"),
		accept: []string{`
			rh on Choir
			rh = Viola da Gamba 8`},
		source: "common practice, from memory: the Dulciana serves as a soft string",
	},
	{
		name: "a Stopped Diapason is a flute", organ: `Great: Open Diapason 8, Small Open Diapason 8, Hohl Flute 8
			Pedal: Bourdon 16`,
		sections: score(hymn, "rh: Gt. Stopped Diapason 8"),
		accept:   []string{`rh = Hohl Flute 8`},
		source:   "common practice, from memory: never replace a flute by a principal of the same name",
	},
	{
		name: "a second Open Diapason", organ: "town-hall",
		sections: score(hymn, "rh: Gt. Small Open Diapason 8"),
		accept: []string{
			`rh on Great
			rh = Open Diapason III 8 | Open Diapason II 8`,
		},
		source: "common practice: the last number is the smallest",
	},
	{
		name: "a pedal Principal that is an Octave", organ: "merseburg-dom-1855", lang: "de",
		sections: score(hymn, "rh: HW Principal 8'", "feet: Ped. Principal 16', Oktave 8'"),
		accept: []string{`
			rh = Principal 8
			feet = Principal 16, Principalbass 8`},
		source: "common practice",
	},
	{
		name: "a fugue subject with the pedal coupled", organ: "north-german-baroque", lang: "de",
		sections: score(bigChords, "rh: HW Octave 8', 4', 2', Mixtur", "feet: Ped. Principal 16', Octave 8', 4', Mixtur, Posaune 16'"),
		accept: []string{`
			rh on Hauptwerk
			rh = Octave 8, Octave 4, Octave 2, Mixtur VI
			feet = Principal 16, Octave 8, Octave 4, Mixtur V, Posaune 16
			no problem`},
		source: "common practice of north Germany",
	},
	{
		name: "the softest that there is", organ: "town-hall", propose: true,
		sections: score(hymn, "dyn: ppp"),
		accept: []string{`
			rh pitches 8
			rh lacks principal, reed, celeste
			feet pitches 16, 8
			feet lacks principal, reed`},
		source: "Mendelssohn, preface: pp one soft 8′, the pedal 16′ and 8′",
	},
	{
		name: "mp of a tune over chords on two manuals", organ: "village-two-manuals", propose: true,
		sections: score(soloOverChords, "dyn: mp"),
		accept: []string{`
			apart rh lh
			rh pitches 8
			lh pitches 8
			feet pitches 16, 8`},
		source: "common practice: a tune over chords has a manual of its own",
	},
	{
		name: "f of a trio stays together", organ: "demonstration", propose: true,
		sections: score(trio, "dyn: f"),
		accept: []string{`
			rh on Great
			lh on Great
			rh has Open Diapason 8, Principal 4
			rh lacks reed`},
		source: "Mendelssohn, preface: f is a full organ",
	},
	{
		name: "a proposal is left alone where stops are named", organ: "demonstration",
		sections: score(hymn, "rh: Sw. Salicional 8", "dyn: ff"),
		accept: []string{`
			rh on Swell
			rh = Salicional 8`},
		source: "a proposal is for scores that name no stops",
	},
}
