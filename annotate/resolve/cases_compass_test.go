package resolve_test

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
		source: "common practice: the line taken by a hand on a manual while the feet take that hand's notes",
	},
	{
		name: "a note above the pedalboard in a hymn", organ: "village-one-manual",
		sections: score(music{RH: hymn.RH, LH: hymn.LH, Feet: "C3*1 F3*1 E4*2"}, "rh: Open Diapason 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			feet = Bourdon 16
			feet octave 0
			problem off-compass`},
		source: "common practice: a note that is not there is flagged",
	},
	{
		name: "a right hand above the manual", organ: "paris-saint-gervais-1768", lang: "fr",
		sections: score(music{RH: "C6+E6*2 D6+F6*2", LH: "C4+E4*4"}, "rh: G.O. Montre 8"),
		accept: []string{`
			rh has Montre 8
			problem off-compass`},
		source: "common practice: a note that is not there is flagged",
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
		source: "common practice: coupled down from a free manual, the pedal's own stops in",
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
		source: "arithmetic of octaves: manual 4′ on a spare manual coupled down",
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
		source: "arithmetic of octaves: pedal 2′ an octave lower, from C3 up",
	},
	{
		name: "a cantus of 4 ft. where nothing has 4 ft.", organ: `Great: Open Diapason 8, Stopped Diapason 8
			Pedal: Bourdon 16`,
		sections: score(highPedalTune, "rh: Gt. Stopped Diapason 8", "feet: Ped. Reed 4 ft. solo"),
		accept: []string{`
			problem pitch-lost`},
		source: "a pitch that is given up is said",
	},
}
