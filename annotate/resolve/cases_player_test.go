package resolve_test

import "stopgap/annotate/resolve"

// twoFlutes has two flutes that stand for a Rohr Flute, one nearer than the other.
const twoFlutes = `Great: Open Diapason 8, Principal 4
	Choir: Stopped Diapason 8, Clarabella 8, Dulciana 8
	Pedal: Bourdon 16`

// clarinetAway has the Clarinet on another manual than the Choir, and an Oboe there.
const clarinetAway = `Great: Open Diapason 8, Stopped Diapason 8, Principal 4
	Swell [box]: Gedackt 8, Clarinet 8
	Choir: Dulciana 8, Oboe 8
	Pedal: Bourdon 16`

var changeCases = []organCase{
	{
		name: "the same words get the same stops", organ: parish,
		sections: []section{
			part(hymn, "rh: Ch. Dulciana 8"),
			part(hymn, "rh: Gt. Open Diapason 8, Principal 4"),
			part(hymn, "rh: Ch. Dulciana 8"),
		},
		accept: []string{`
			rh on Swell
			rh = Salicional 8
			at 5
			rh on Great
			rh = Open Diapason 8, Principal 4
			at 9
			rh on Swell
			rh = Salicional 8`},
		source: "common practice: the same text gets the same stops when it comes back",
	},
	{
		name: "the nearer flute is drawn", organ: twoFlutes,
		sections: []section{part(hymn, "rh: Ch. Clarabella 8"), part(hymn, "rh: Ch. Rohr Flute 8")},
		accept: []string{`
			rh = Clarabella 8
			at 5
			rh = Stopped Diapason 8`},
		source: "common practice, from memory: chimney and stopped flutes are of a kind",
	},
	{
		name: "few changes keep the flute that is out", organ: twoFlutes, opts: resolve.Options{Few: true},
		sections: []section{part(hymn, "rh: Ch. Clarabella 8"), part(hymn, "rh: Ch. Rohr Flute 8")},
		accept: []string{`
			rh = Clarabella 8
			at 5
			rh = Clarabella 8`},
		source: "what --changes few is for",
	},
	{
		name: "the colour before the manual", organ: clarinetAway,
		sections: score(soloOverChords, "rh: R.H. Ch. Clarinet 8", "lh: L.H. Gt. Stopped Diapason 8"),
		accept: []string{`
			rh on Swell
			rh = Clarinet 8`},
		source: "common practice: a solo's kind counts before the manual named",
	},
	{
		name: "the manual where the player prefers it", organ: clarinetAway, opts: resolve.Options{Prefer: resolve.PreferManual},
		sections: score(soloOverChords, "rh: R.H. Ch. Clarinet 8", "lh: L.H. Gt. Stopped Diapason 8"),
		accept: []string{`
			rh on Choir
			rh = Oboe 8`},
		source: "what --prefer manual is for",
	},
	{
		name: "the colour where the player prefers it", organ: clarinetAway, opts: resolve.Options{Prefer: resolve.PreferColour},
		sections: score(hymn, "rh: Ch. Clarinet 8"),
		accept: []string{`
			rh on Swell
			rh = Clarinet 8`},
		source: "what --prefer colour is for",
	},
	{
		name: "a pin for the manual", organ: clarinetAway, pins: "1 rh = Choir",
		sections: score(soloOverChords, "rh: R.H. Ch. Clarinet 8", "lh: L.H. Gt. Stopped Diapason 8"),
		accept: []string{`
			rh on Choir
			rh = Oboe 8
			lh on Great
			lh = Stopped Diapason 8`},
		source: "the player's choice holds, the rest goes with it",
	},
	{
		name: "a pin for a stop", organ: "demonstration", pins: "1 rh = : Clarinet 8",
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. Stopped Diapason 8"),
		accept: []string{`
			rh on Choir
			rh = Clarinet 8
			lh on Great`},
		source: "the player's choice holds",
	},
	{
		name: "reeds on, and off again", organ: "demonstration",
		sections: []section{
			part(bigChords, "rh: Gt. Open Diapason 8, Principal 4"),
			part(bigChords, "rh: add Reeds"),
			part(bigChords, "rh: Reeds off"),
		},
		accept: []string{`
			rh = Open Diapason 8, Principal 4
			at 5
			rh = Open Diapason 8, Principal 4, Trumpet 8
			at 9
			rh = Open Diapason 8, Principal 4`},
		source: "common practice",
	},
	{
		name: "no octave change for a bar", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4
			Choir: Dulciana 8, Lieblich Gedackt 8
			Swell [box]: Salicional 8, Oboe 8
			Pedal: Bourdon 16`,
		sections: []section{
			part(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. Stopped Diapason 8"),
			part(soloOverChords, "rh: R.H. Sw. Oboe 8"),
		},
		accept: []string{`
			rh octave 0
			at 5
			rh octave 0
			rh = Oboe 8`},
		source: "common practice",
	},
	{
		name: "the coupler comes off when the print says so", organ: "demonstration",
		sections: []section{
			part(hymn, "rh: Gt. Open Diapason 8", "feet: Ped. Bourdon 16, Gt. to Ped."),
			part(hymn, "feet: Gt. to Ped. off"),
		},
		accept: []string{`
			coupler Great to Pedal
			at 5
			no coupler Great to Pedal
			feet = Bourdon 16
			rh = Open Diapason 8`},
		source: "common practice",
	},
	{
		name: "hands in turn on three manuals", organ: "demonstration",
		sections: []section{
			part(hymn, "rh: Gt. Open Diapason 8, Principal 4"),
			rested(hymn, "rh: Ch. Lieblich Gedackt 8, Flute 4"),
			rested(hymn, "rh: Sw. Salicional 8"),
		},
		accept: []string{`
			rh on Great
			at 5
			rh on Choir
			rh = Lieblich Gedackt 8, Flauto Traverso 4
			at 9
			rh on Swell
			rh = Salicional 8`},
		source: "common practice",
	},
}

var playerCases = []organCase{
	{
		name: "a reed that the player keeps for solos", organ: `Great: Open Diapason 8, Principal 4, Fifteenth 2, {stop: Trumpet 8, use: solo}
			Swell [box]: Gedackt 8, Cornopean 8
			Pedal: Bourdon 16`,
		sections: score(bigChords, "rh: Full Great"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2
			rh lacks Trumpet 8`},
		source: "the player knows the organ: what its file says of a stop is obeyed",
	},
	{
		name: "and uses for them", organ: `Great: Open Diapason 8, Principal 4, Fifteenth 2, {stop: Trumpet 8, use: solo}
			Swell [box]: Gedackt 8, Salicional 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Gt. Trumpet 8", "lh: L.H. Sw. Gedackt 8"),
		accept: []string{`
			rh on Great
			rh = Trumpet 8`},
		source: "the player knows the organ: what its file says of a stop is obeyed",
	},
	{
		name: "a mixture that the player keeps out of choruses", organ: `Great: Open Diapason 8, Principal 4, Fifteenth 2, {stop: Mixture III, use: never in chorus}
			Pedal: Bourdon 16`,
		sections: score(bigChords, "rh: Gt. to Mixtures"),
		accept: []string{`
			rh = Open Diapason 8, Principal 4, Fifteenth 2`},
		source: "the player knows the organ: what its file says of a stop is obeyed",
	},
	{
		name: "a principal that the player keeps out of choruses", organ: `Great: {stop: Open Diapason I 8, use: never in chorus}, Open Diapason II 8, Principal 4, Fifteenth 2
			Pedal: Bourdon 16`,
		sections: score(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Fifteenth 2"),
		accept: []string{`
			rh = Open Diapason II 8, Principal 4, Fifteenth 2`},
		source: "the player knows the organ: what its file says of a stop is obeyed",
	},
	{
		name: "a Dulciana that is loud here", organ: `Great: Open Diapason 8, Principal 4
			Choir: {stop: Dulciana 8, level: 10}, Stopped Diapason 8
			Pedal: Bourdon 16`,
		sections: score(hymn, "rh: Ch. soft 8 ft."),
		accept: []string{`
			rh on Choir
			rh = Stopped Diapason 8`},
		source: "the player knows the organ: the level that its file gives counts",
	},
	{
		name: "a Trumpet that is soft enough for an Oboe", organ: `Great: Open Diapason 8, Stopped Diapason 8, {stop: Trumpet 8, level: 4}
			Swell [box]: Gedackt 8, {stop: Cornopean 8, level: -8}
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. Stopped Diapason 8"),
		accept: []string{`
			rh on Swell
			rh = Cornopean 8`},
		source: "the player knows the organ: the level that its file gives counts",
	},
	{
		name: "an accompaniment that the player's levels make too loud", organ: `Great: Open Diapason 8, {stop: Stopped Diapason 8, level: 12}, Dulciana 8
			Swell [box]: Gedackt 8, {stop: Oboe 8, level: -6}
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. 8 ft."),
		accept: []string{`
			rh = Oboe 8
			lh on Great
			lh = Dulciana 8`},
		source: "common practice: the accompaniment stays below the solo",
	},
}
