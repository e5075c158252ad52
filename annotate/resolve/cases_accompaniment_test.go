package resolve_test

var accompanimentCases = []organCase{
	{
		name: "a 4 ft. principal where there is only an 8 ft.", organ: `Choir: Open Diapason 8
			Swell [box]: Stopped Diapason 8, Oboe 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Ch. Principal 4"),
		accept: []string{`
			rh = Oboe 8
			lh on Choir
			lh = Open Diapason 8
			problem voice-missing`},
		source: "common practice: a hand does not play on nothing",
	},
	{
		name: "the Dulciana of a Great that has none", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4
			Swell [box]: Gedackt 8, Oboe 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. Dulciana 8"),
		accept: []string{`
			rh = Oboe 8
			lh on Great
			lh = Stopped Diapason 8`},
		source: "common practice: the accompaniment stays below the solo",
	},
	{
		name: "a Gamba where there are only flutes and principals", organ: `Great: Open Diapason 8, Principal 4
			Swell [box]: Open Diapason 8, Stopped Diapason 8, Gemshorn 4
			Pedal: Bourdon 16`,
		sections: score(hymn, "rh: Sw. Gamba 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			rh on Swell
			rh = Stopped Diapason 8`},
		source: "common practice, from memory: string, then a stopped flute, not a principal",
	},
	{
		name: "a Bourdon of 16 ft. that is not there", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Swell [box]: Rohr Flute 8, Flute 4, Oboe 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Gt. Open Diapason 8", "lh: L.H. Sw. Bourdon 16, Flute 8, 4"),
		accept: []string{`
			lh on Swell
			lh octave 0
			lh = Rohr Flute 8, Flute 4
			problem voice-missing`},
		source: "common practice: manual 16′ is weight, left out first, never had by moving the hands",
	},
	{
		name: "an octave coupler for a flute of 4 ft.", organ: `Great: Open Diapason 8, Dulciana 8
			Swell [box]: Rohr Flute 8, Salicional 8, Oboe 8
			Pedal: Bourdon 16
			couplers: Swell Octave, Swell to Pedal`,
		sections: score(soloOverChords, "rh: R.H. Gt. Open Diapason 8", "lh: L.H. Sw. Flute 8, 4"),
		accept: []string{`
			rh = Open Diapason 8
			lh on Swell
			lh = Rohr Flute 8
			lh pitches 8, 4
			coupler Swell Octave`},
		source: "common practice in England",
	},
	{
		name: "no octave coupler where other stops would sound with it", organ: `Great: Open Diapason 8, Dulciana 8
			Swell [box]: Rohr Flute 8, Fifteenth 2, Oboe 8
			Pedal: Bourdon 16
			couplers: Swell Octave`,
		sections: score(soloOverChords, "rh: R.H. Gt. Open Diapason 8", "lh: L.H. Sw. Flute 8, 4, 2"),
		always:   `lh has Rohr Flute 8`,
		accept: []string{
			`lh pitches 8, 2
			no coupler Swell Octave
			problem voice-missing`,
			`lh pitches 8, 4
			problem voice-missing`,
		},
		source: "common practice: the octave coupler would bring a 1′ with the 2′",
	},
	{
		name: "a Choir that is missing, under an Oboe", organ: "village-two-manuals",
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Ch. Dulciana 8", "feet: Ped. 16, 8"),
		accept: []string{`
			rh on Swell
			rh = Oboe 8
			lh on Great
			lh = Dulciana 8
			feet = Bourdon 16, Bass Flute 8
			no problem shared-keyboard`},
		source: "common practice, from memory: without a Choir, the Great's soft stops",
	},
	{
		name: "a Choir that is missing, beside the Great", organ: "village-two-manuals",
		sections: score(soloOverChords, "rh: R.H. Gt. Clarabella 8", "lh: L.H. Ch. Dulciana 8", "feet: Ped. 16, 8"),
		accept: []string{`
			rh on Great
			rh = Clarabella 8
			lh on Swell
			lh = Salicional 8`},
		source: "common practice, from memory: without a Choir, its role on the Swell",
	},
	{
		name: "the bass of a stop from tenor C", organ: "village-one-manual",
		sections: score(hymn, "rh: Stopped Diapason 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			rh = Stopped Bass 8, Stopped Diapason 8`},
		source: "common practice of small organs: the two halves of one stop",
	},
	{
		name: "a Dulciana that takes the Stopped Bass for its lowest octave", organ: "village-one-manual",
		sections: score(music{RH: hymn.RH, LH: "C3+G3*1 F2+C3*1 G2*2", Feet: hymn.Feet}, "rh: Dulciana 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			rh = Stopped Bass 8, Dulciana 8`},
		source: "the organ file of the shelf says so; common practice: a grooved bass",
	},
	{
		name: "a stop in two halves", organ: "kent-hutchings-plaisted-1878",
		sections: score(music{RH: hymn.RH, LH: "C3+G3*1 F2+C3*1 G2*2", Feet: hymn.Feet}, "rh: Sw. Bourdon 16, Stopped Diapason 8"),
		accept: []string{`
			rh on Swell
			rh = Bourdon Bass 16, Bourdon Treble 16, Stopped Diapason 8`},
		source: "kentgrandorgan.org/stoplist: the Bourdon is in two halves",
	},
	{
		name: "a celeste with the string that it beats against", organ: "demonstration",
		sections: score(hymn, "rh: Sw. Voix Celeste 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			rh on Swell
			rh = Salicional 8, Voix Céleste 8`},
		source: "common practice, from memory: no celeste without its partner",
	},
	{
		name: "Strings", organ: "demonstration",
		sections: score(hymn, "rh: Sw. Strings 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			rh on Swell
			rh has Salicional 8
			rh lacks principal, flute, reed, mixture`},
		source: "common practice",
	},
	{
		name: "an accompaniment of flutes under a solo of flutes", organ: "demonstration",
		sections: score(soloOverChords, "rh: R.H. Ch. Gedackt 8, Flute 4", "lh: L.H. Sw. Stopped Diapason 8", "feet: Ped. Bourdon 16, Sw. to Ped."),
		accept: []string{`
			rh on Choir
			rh = Lieblich Gedackt 8, Flauto Traverso 4
			lh on Swell
			lh = Stopped Diapason 8
			coupler Swell to Pedal
			feet = Bourdon 16, Swell Stopped Diapason 8`},
		source: "common practice",
	},
	{
		name: "an accompaniment that swells", organ: `Great: Open Diapason 8, Salicional 8
			Choir: Salicional 8, Flute 8
			Swell [box]: Gedackt 8, Viola 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Ch. Flute 8", "lh: L.H. Sw. Salicional 8", "cresc: "),
		accept: []string{`
			lh on Swell
			lh = Viola 8`},
		source: "common practice: under expression where it swells",
	},
}

var missingCases = []organCase{
	{
		name: "no nazard anywhere", organ: parish,
		sections: score(soloOverChords, "rh: R.H. Sw. Gedackt 8, Nazard 2 2/3", "lh: L.H. Gt. Stopped Diapason 8"),
		accept: []string{`
			rh on Swell
			rh = Lieblich Gedackt 8
			problem voice-missing | pitch-lost
			apart rh lh`},
		source: "common practice: what cannot be had is left out and said",
	},
	{
		name: "no celeste", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Swell [box, tremulant]: Gedackt 8, Gamba 8, Gemshorn 4
			Pedal: Bourdon 16`,
		sections: score(hymn, "rh: Sw. Voix Celeste 8"),
		accept: []string{`
			rh on Swell
			rh = Gamba 8
			rh says "does not beat"`},
		source: "common practice, from memory: the Gamba alone; the tremulant as a last resort",
	},
	{
		name: "no celeste and no string", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Swell [box]: Open Diapason 8, Lieblich Gedackt 8, Gemshorn 4
			Pedal: Bourdon 16`,
		sections: score(hymn, "rh: Sw. Voix Celeste 8"),
		accept: []string{`
			rh on Swell
			rh = Lieblich Gedackt 8
			problem voice-missing`},
		source: "common practice, from memory: soft unisons",
	},
	{
		name: "no tremulant", organ: parish,
		sections: score(soloOverChords, "rh: R.H. Gt. Stopped Diapason 8 with Trem.", "lh: L.H. Sw. Salicional 8"),
		always:   `apart rh lh`,
		accept: []string{
			`rh on Great
			rh = Stopped Diapason 8
			problem no-tremulant`,
			`rh on Swell
			rh = Lieblich Gedackt 8
			tremulant Swell
			lh on Great`,
		},
		source: "common practice",
	},
	{
		name: "a cornet without a tierce", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4, Flute 4, Nazard 2 2/3, Piccolo 2
			Swell [box]: Gedackt 8, Salicional 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Gt. Cornet", "lh: L.H. Sw. Gedackt 8"),
		accept: []string{`
			rh on Great
			rh = Stopped Diapason 8, Flute 4, Nazard 2 2/3, Piccolo 2
			rh says "1 3/5"
			lh = Swell Gedackt 8`},
		source: "common practice, from memory: without 1⅗ the colour is lost",
	},
	{
		name: "a cornet where there is only a Trumpet", organ: `Great: Open Diapason 8, Principal 4, Trumpet 8
			Swell [box]: Gedackt 8, Salicional 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Gt. Cornet", "lh: L.H. Sw. Gedackt 8"),
		always: `rh on Great
			lh = Gedackt 8`,
		accept: []string{`rh = Trumpet 8`, `rh = Open Diapason 8, Principal 4`},
		source: "common practice, from memory: Trumpet and Cornet stand for one another",
	},
	{
		name: "no open diapason", organ: `Great: Stopped Diapason 8, Gemshorn 8, Flute 4
			Swell [box]: Gedackt 8, Salicional 8
			Pedal: Bourdon 16`,
		sections: score(hymn, "rh: Gt. Open Diapason 8"),
		accept: []string{
			`rh on Great
			rh = Stopped Diapason 8, Gemshorn 8`,
			`rh on Great
			rh = Stopped Diapason 8 | Gemshorn 8`,
		},
		source: "common practice, from memory: Stopped Diapason and Gemshorn together",
	},
	{
		name: "no mixture", organ: "village-two-manuals",
		sections: score(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Fifteenth 2, Mixture"),
		accept: []string{`
			rh on Great
			rh = Open Diapason 8, Principal 4, Fifteenth 2
			problem voice-missing`},
		source: "common practice: a missing mixture is left out and said, never faked",
	},
	{
		name: "no twelfth", organ: `Great: Open Diapason 8, Principal 4, Fifteenth 2
			Swell [box]: Gedackt 8, Nazard 2 2/3, Oboe 8
			Pedal: Bourdon 16
			couplers: Swell to Great`,
		sections: score(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Twelfth 2 2/3, Fifteenth 2"),
		accept: []string{`
			rh on Great
			rh = Open Diapason 8, Principal 4, Fifteenth 2
			problem voice-missing`},
		source: "common practice: a missing mutation of a chorus is left out and said",
	},
	{
		name: "a missing 4 ft. in a chorus", organ: `Great: Open Diapason 8, Flute 4, Fifteenth 2
			Swell [box]: Gedackt 8, Gemshorn 4
			Pedal: Bourdon 16`,
		sections: score(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Fifteenth 2"),
		accept: []string{`
			rh on Great
			rh = Open Diapason 8, Flute 4, Fifteenth 2`},
		source: "common practice: a flute fills the gap of the octave",
	},
	{
		name: "a box that is not there", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Swell: Gedackt 8, Salicional 8
			Pedal: Bourdon 16`,
		sections: score(hymn, "rh: Sw. Salicional 8, box closed"),
		accept: []string{`
			rh = Salicional 8
			no box Swell
			problem no-box`},
		source: "common practice",
	},
}
