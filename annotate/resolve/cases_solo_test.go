package resolve_test

// parish is a two-manual organ with the least that most churches have.
const parish = `Great: Open Diapason 8, Stopped Diapason 8, Principal 4, Fifteenth 2
	Swell [box, tremulant]: Lieblich Gedackt 8, Salicional 8, Gemshorn 4, Oboe 8
	Pedal: Bourdon 16, Bass Flute 8
	couplers: Swell to Great, Swell to Pedal, Great to Pedal`

var soloCases = []organCase{
	{
		name: "a solo that is there", organ: "demonstration",
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Ch. Dulciana 8", "feet: Ped. Bourdon 16, Bass Flute 8"),
		accept: []string{`
			rh on Swell
			rh = Oboe 8
			lh on Choir
			lh = Dulciana 8
			feet = Bourdon 16, Bass Flute 8
			no problem`},
		source: "common practice: what is printed and there is played",
	},
	{
		name: "a clarinet on another manual", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4
			Swell [box]: Gedackt 8, Salicional 8, Clarinet 8
			Choir: Dulciana 8, Flute 4
			Pedal: Bourdon 16
			couplers: Swell to Great, Swell to Pedal`,
		sections: score(soloOverChords, "rh: R.H. Ch. Clarinet 8", "lh: L.H. Gt. Stopped Diapason 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			rh on Swell
			rh = Clarinet 8
			lh on Great
			lh = Stopped Diapason 8`},
		source: "common practice: a solo only wants a keyboard of its own",
	},
	{
		name: "a nazard on the Great alone", organ: "demonstration",
		sections: score(soloOverChords, "rh: R.H. Ch. Gedackt 8, Nazard 2 2/3", "lh: L.H. Sw. Salicional 8", "feet: Ped. Bourdon 16"),
		always: `rh pitches 8, 2 2/3
			lh on Swell
			lh = Salicional 8`,
		accept: []string{
			`rh on Great
			rh = Great Stopped Diapason 8 | Great Claribel Flute 8, Nazard 2 2/3`,
			`rh on Great
			rh = Choir Lieblich Gedackt 8, Nazard 2 2/3
			coupler Choir to Great`,
		},
		source: "BYU organ teaching pages: pitch before colour",
	},
	{
		name: "a cornet of single ranks", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4, Flute 4, Nazard 2 2/3, Piccolo 2, Tierce 1 3/5
			Swell [box]: Gedackt 8, Salicional 8, Oboe 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Gt. Cornet", "lh: L.H. Sw. Gedackt 8"),
		accept: []string{`
			rh on Great
			rh = Stopped Diapason 8, Flute 4, Nazard 2 2/3, Piccolo 2, Tierce 1 3/5
			lh = Gedackt 8`},
		source: "Wedgwood 1905, Cornet",
	},
	{
		name: "a sesquialtera of two ranks", organ: `Hauptwerk: Principal 8, Octave 4, Mixtur IV
			Rückpositiv: Gedackt 8, Rohrflöte 4, Nasat 2 2/3, Terz 1 3/5
			Pedal: Subbaß 16, Octave 8`, lang: "de",
		sections: score(soloOverChords, "rh: R.H. RP Gedackt 8', Sesquialtera", "lh: L.H. HW Principal 8'", "feet: Ped. Subbass 16', Octave 8'"),
		accept: []string{`
			rh on Rückpositiv
			rh = Gedackt 8, Nasat 2 2/3, Terz 1 3/5
			lh = Principal 8`},
		source: "common practice: a Sesquialtera is 2⅔ with 1⅗",
	},
	{
		name: "no oboe, but other reeds", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4
			Swell [box]: Gedackt 8, Salicional 8, Cornopean 8
			Choir: Dulciana 8, Clarinet 8
			Pedal: Bourdon 16
			couplers: Swell to Great`,
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. Stopped Diapason 8"),
		accept: []string{
			`rh on Choir
			rh = Clarinet 8`,
			`rh on Swell
			rh = Cornopean 8`,
		},
		source: "common practice, from memory: Oboe: a soft Trumpet, or a Clarinet",
	},
	{
		name: "no oboe and no other reed", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4
			Swell [box]: Gedackt 8, Salicional 8, Gemshorn 4
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. Stopped Diapason 8"),
		always: `rh pitches 8
			apart rh lh
			lh pitches 8`,
		accept: []string{
			`rh on Swell
			rh = Gedackt 8 | Salicional 8`,
			`rh on Great
			rh = Open Diapason 8`,
		},
		source: "common practice: the pitch of a solo stays, then the kind",
	},
	{
		name: "no vox humana", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Swell [box, tremulant]: Gedackt 8, Salicional 8, Oboe 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Sw. Vox Humana 8 with Trem.", "lh: L.H. Gt. Stopped Diapason 8"),
		always: `rh on Swell
			tremulant Swell
			lh on Great`,
		accept: []string{`rh = Oboe 8 | Salicional 8 | Gedackt 8`},
		source: "common practice, from memory: Oboe, or string or flute 8 with tremulant",
	},
	{
		name: "no tuba", organ: "demonstration",
		sections: score(soloOverChords, "rh: R.H. Solo Tuba 8", "lh: L.H. Ch. Lieblich Gedackt 8"),
		always: `rh pitches 8
			apart rh lh
			lh on Choir
			lh = Lieblich Gedackt 8`,
		accept: []string{
			`rh on Great
			rh = Trumpet 8`,
			`rh on Swell
			rh = Cornopean 8`,
		},
		source: "nearness.tsv: a chorus reed for a Tuba",
	},
	{
		name: "no harmonic flute of 8", organ: "demonstration",
		sections: score(soloOverChords, "rh: R.H. Sw. Harmonic Flute 8", "lh: L.H. Ch. Dulciana 8"),
		always: `rh pitches 8
			lh = Dulciana 8`,
		accept: []string{
			`rh on Great
			rh = Claribel Flute 8`,
			`rh on Swell
			rh = Stopped Diapason 8`,
		},
		source: "common practice, from memory: open flute, then stopped",
	},
	{
		name: "no gamba but a salicional", organ: parish,
		sections: score(soloOverChords, "rh: R.H. Sw. Gamba 8", "lh: L.H. Gt. Stopped Diapason 8"),
		accept: []string{`
			rh on Swell
			rh = Salicional 8
			lh on Great
			lh = Stopped Diapason 8`},
		source: "common practice, from memory: another string first, never a principal",
	},
	{
		name: "a flute that swells stays in the box", organ: `Great: Open Diapason 8, Stopped Diapason 8, Harmonic Flute 8
			Swell [box]: Chimney Flute 8, Salicional 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Sw. Flute 8", "cresc: ", "lh: L.H. Gt. Stopped Diapason 8"),
		accept: []string{`
			rh on Swell
			rh = Chimney Flute 8`},
		source: "common practice, from memory: where it swells, a stop in a box",
	},
	{
		name: "a flute of 4 ft. for the right hand", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4
			Choir: Dulciana 8, Claribel Flute 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Ch. Flute 4 solo", "lh: L.H. Gt. Stopped Diapason 8"),
		always: `rh pitches 4
			apart rh lh`,
		accept: []string{
			`rh on Choir
			rh octave 1
			rh = Claribel Flute 8`,
			`rh = Principal 4`,
		},
		source: "arithmetic of octaves: 8′ an octave higher is 4′",
	},
	{
		name: "a trio on two manuals", organ: "village-two-manuals",
		sections: score(trio, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. Clarabella 8", "feet: Ped. 16, 8"),
		accept: []string{`
			rh on Swell
			rh = Oboe 8
			lh on Great
			lh = Clarabella 8
			feet = Bourdon 16, Bass Flute 8
			no coupler Swell to Great | Swell to Pedal | Great to Pedal
			no problem`},
		source: "common practice: a trio needs two keyboards and a pedal that no coupler ties to either",
	},
	{
		name: "a trio for Choir and Swell without a Choir", organ: "village-two-manuals",
		sections: score(trio, "rh: R.H. Ch. Flute 8, 4", "lh: L.H. Sw. Salicional 8, Gemshorn 4", "feet: Ped. 16, 8"),
		accept: []string{`
			rh on Great
			rh = Clarabella 8, Suabe Flute 4
			lh on Swell
			lh = Salicional 8, Gemshorn 4
			feet = Bourdon 16, Bass Flute 8
			no coupler Swell to Great | Swell to Pedal | Great to Pedal`},
		source: "common practice",
	},
	{
		name: "a clarinet in the tenor", organ: parish,
		sections: score(soloUnderneath, "lh: L.H. Ch. Clarinet 8", "rh: R.H. Gt. Stopped Diapason 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			lh on Swell
			lh = Oboe 8
			rh on Great
			rh = Stopped Diapason 8
			no coupler Swell to Pedal`},
		source: "common practice: the nearest reed, on the free manual",
	},
	{
		name: "a solo with tremulant where another division has it", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Swell [box]: Gedackt 8, Salicional 8
			Choir [tremulant]: Dulciana 8, Lieblich Gedackt 8
			Pedal: Bourdon 16`,
		sections: score(soloOverChords, "rh: R.H. Sw. Gedackt 8 with Trem.", "lh: L.H. Gt. Stopped Diapason 8"),
		always:   `apart rh lh`,
		accept: []string{
			`rh on Choir
			rh = Lieblich Gedackt 8
			tremulant Choir`,
			`rh on Swell
			rh = Swell Gedackt 8
			problem no-tremulant`,
		},
		source: "common practice",
	},
	{
		name: "a cornopean is a trumpet", organ: parish + "\nSolo: Trumpet 8, Harmonic Flute 8",
		sections: score(soloOverChords, "rh: R.H. Sw. Cornopean 8", "lh: L.H. Gt. Stopped Diapason 8"),
		accept: []string{`
			rh on Solo
			rh = Trumpet 8`, `
			rh on Swell
			rh = Oboe 8`},
		source: "common practice, from memory: chorus reeds and Oboe are kinds apart",
	},
	{
		name: "the solo's manual does not sound in the bass", organ: parish,
		sections: []section{
			part(hymn, "rh: Sw. Gedackt 8, Salicional 8", "feet: Ped. Bourdon 16, Sw. to Ped."),
			part(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. Stopped Diapason 8"),
		},
		accept: []string{`
			coupler Swell to Pedal
			at 5
			rh = Oboe 8
			lh = Stopped Diapason 8
			feet lacks Oboe 8`},
		source: "common practice: a solo never sounds in the bass by a coupler that was forgotten",
	},
}

var pedalSoloCases = []organCase{
	{
		name: "a pedal reed of 4 ft. that is there", organ: "north-german-baroque", lang: "de",
		sections: score(pedalTune, "rh: OW Principal 8'", "feet: Ped. Trompete 4' solo"),
		accept: []string{`feet octave 0
			feet = Trompete 4`},
		source: "common practice",
	},
	{
		name: "a pedal reed of 4 ft. on the Swell", organ: "demonstration",
		sections: score(pedalTune, "rh: Gt. Open Diapason 8", "feet: Ped. Reed 4 ft. solo"),
		accept: []string{`feet octave 0
			feet = Swell Clarion 4
			coupler Swell to Pedal
			no coupler Great to Pedal`},
		source: "arithmetic of octaves: a 4′ of a spare manual, coupled down with the pedal's stops in",
	},
	{
		name: "a pedal reed an octave higher", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4
			Swell [box]: Gedackt 8, Salicional 8, Oboe 8
			Pedal: Bourdon 16, Principal 8, Trumpet 8`,
		sections: score(music{RH: pedalTune.RH, LH: pedalTune.LH, Feet: "C3*1 D3*1 E3*1 F3*1 E3*2 C3*2"},
			"rh: Gt. Open Diapason 8", "feet: Ped. Schalmey 4 solo"),
		accept: []string{`feet octave 1
			feet = Trumpet 8`},
		source: "arithmetic of octaves: 8′ an octave higher, where every note is on the pedalboard",
	},
	{
		name: "no reed of 4 ft. but a choral bass", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4
			Swell [box]: Gedackt 8, Salicional 8
			Pedal: Bourdon 16, Principal 8, Choral Bass 4
			couplers: Great to Pedal`,
		sections: score(highPedalTune, "rh: Gt. Stopped Diapason 8", "feet: Ped. Reed 4 ft. solo"),
		accept: []string{`feet octave 0
			feet = Choral Bass 4`},
		source: "BYU teaching page: Cromorne 4 or Choral Bass 4 for a pedal 4′",
	},
	{
		name: "an octave coupler and Unison Off for a pedal 4 ft.", organ: `Great: Open Diapason 8, Stopped Diapason 8, Principal 4
			Swell [box]: Gedackt 8, Salicional 8, Trumpet 8
			Pedal: Bourdon 16
			couplers: Swell to Pedal, Great to Pedal, Swell Octave, Swell Unison Off`,
		sections: score(highPedalTune, "rh: Gt. Stopped Diapason 8", "feet: Ped. Reed 4 ft. solo"),
		accept: []string{`feet octave 0
			feet pitches 4
			feet = Trumpet 8
			coupler Swell Octave
			coupler Swell Unison Off
			coupler Swell to Pedal`},
		source: "arithmetic of octaves: Unison Off and the octave coupler",
	},
	{
		name: "a pedal trumpet from the free manual", organ: `Great: Open Diapason 8, Stopped Diapason 8, Trumpet 8
			Swell [box]: Gedackt 8, Salicional 8, Gemshorn 4
			Pedal: Bourdon 16
			couplers: Swell to Pedal, Great to Pedal`,
		sections: score(highPedalTune, "rh: Sw. Gedackt 8, Gemshorn 4", "feet: Ped. Trumpet 8 solo"),
		accept: []string{`feet octave 0
			feet = Great Trumpet 8
			coupler Great to Pedal`},
		source: "common practice: the right pitch coupled down from a free manual, the pedal's own stops in",
	},
	{
		name: "a trombone an octave higher for a trumpet", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Pedal: Bourdon 16, Principal 8, Trombone 16`,
		sections: score(pedalTune, "rh: Gt. Stopped Diapason 8", "feet: Ped. Trumpet 8 solo"),
		accept: []string{
			`feet pitches 8
			feet = Principal 8
			feet octave 0`,
		},
		always: `rh = Stopped Diapason 8`,
		source: "arithmetic of octaves: the G3 of the tune would be G4, which the board has not, so the flue at the pitch",
	},
	{
		name: "a trombone an octave higher where it fits", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Pedal: Bourdon 16, Principal 8, Trombone 16`,
		sections: score(music{RH: pedalTune.RH, LH: pedalTune.LH, Feet: "C3*1 D3*1 E3*1 F3*1 E3*2 C3*2"},
			"rh: Gt. Stopped Diapason 8", "feet: Ped. Trumpet 8 solo"),
		accept: []string{`feet octave 1
			feet = Trombone 16`},
		source: "arithmetic of octaves: 16′ an octave higher is 8′",
	},
	{
		name: "a pedal cornet of 2 ft.", organ: "hamburg-st-jacobi-1693", lang: "de",
		sections: score(pedalTune, "rh: OW Principal 8'", "feet: Ped. Cornet 2' solo"),
		accept: []string{`feet = Cornet 2
			feet octave 0`},
		source: "common practice of north Germany",
	},
}
