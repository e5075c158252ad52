package resolve_test

var smallOrganCases = []organCase{
	{
		name: "a solo on one manual", organ: "village-one-manual",
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. Stopped Diapason 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			rh pitches 8
			lh pitches 8
			feet has Bourdon 16
			problem shared-keyboard`},
		source: "common practice: the two hands have one manual and its stops",
	},
	{
		name: "Great and Swell in turn on one manual", organ: "village-one-manual",
		sections: []section{
			part(hymn, "rh: Gt. Open Diapason 8, Principal 4", "feet: Ped. 16, 8"),
			part(hymn, "rh: Sw. Stopped Diapason 8"),
			part(hymn, "rh: Gt."),
		},
		accept: []string{`
			rh = Open Diapason 8, Principal 4
			at 5
			rh = Stopped Bass 8, Stopped Diapason 8
			at 9
			rh = Open Diapason 8, Principal 4`},
		source: "common practice: what was drawn on the division comes back with it",
	},
	{
		name: "the 8 ft. of a pedal of one stop by the only manual", organ: "village-one-manual",
		sections: score(hymn, "rh: Stopped Diapason 8", "feet: Ped. 16, 8"),
		accept: []string{`
			coupler Manual to Pedal
			feet has Bourdon 16, Stopped Bass 8`},
		source: "common practice, from memory: pedal 8′ by coupler",
	},
	{
		name: "no pedals", organ: "Manual: Open Diapason 8, Stopped Diapason 8, Principal 4, Fifteenth 2",
		sections: score(hymn, "rh: Gt. Open Diapason 8, Principal 4", "feet: Ped. 16, 8"),
		accept: []string{`
			rh = Open Diapason 8, Principal 4
			problem no-pedals`},
		source: "common practice",
	},
	{
		name: "no couplers", organ: `Great: Open Diapason 8, Principal 4, Fifteenth 2
			Swell [box]: Gedackt 8, Salicional 8, Gemshorn 4
			Pedal: Bourdon 16`,
		sections: score(bigChords, "rh: Gt. Open Diapason 8, Principal 4, Sw. to Gt.", "lh: Sw. Gedackt 8, Gemshorn 4"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4
			problem no-coupler`},
		source: "common practice",
	},
	{
		name: "no coupler to the pedal", organ: `Great: Open Diapason 8, Principal 4
			Pedal: Bourdon 16`,
		sections: score(hymn, "rh: Gt. Open Diapason 8", "feet: Ped. Bourdon 16, Gt. to Ped."),
		accept: []string{`
			feet = Bourdon 16
			problem no-coupler`},
		source: "common practice",
	},
	{
		name: "a pedalboard that ends on G3", organ: "canterbury-st-stephen-walker-1879",
		sections: score(music{RH: hymn.RH, LH: hymn.LH, Feet: "C3*1 E3*1 A3*2 C3*4"}, "rh: Gt. Open Diapason 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			feet = Bourdon 16
			problem off-compass`},
		source: "every note is checked against its keyboard",
	},
	{
		name: "a Swell that begins at tenor C", organ: "canterbury-st-stephen-walker-1879",
		sections: score(music{RH: soloOverChords.RH, LH: "C3+G3*4 A2+E3*4", Feet: soloOverChords.Feet},
			"rh: R.H. Gt. Flute 4", "lh: L.H. Sw. Stopped Diapason 8"),
		accept: []string{
			`lh on Swell
			problem off-compass`,
			`rh pitches 4
			lh on Great
			lh pitches 8
			apart rh lh`,
		},
		source: "common practice with tenor C Swells",
	},
	{
		name: "two divisions in turn on two manuals, three asked", organ: "village-two-manuals",
		sections: []section{
			part(hymn, "rh: Gt. Open Diapason 8, Principal 4"),
			part(hymn, "rh: Sw. Oboe 8, Lieblich Gedackt 8"),
			part(hymn, "rh: Ch. Dulciana 8"),
			part(hymn, "rh: Ch. Dulciana 8, Flute 4"),
		},
		accept: []string{`
			rh on Great
			at 5
			rh on Swell
			at 9
			rh on Great
			rh = Dulciana 8
			at 13
			rh on Great
			rh = Dulciana 8, Suabe Flute 4`},
		source: "common practice: one map of divisions serves a section",
	},
	{
		name: "two manuals asked, on one", organ: "village-one-manual",
		sections: score(trio, "rh: R.H. Gt. Flute 4", "lh: L.H. Sw. Stopped Diapason 8", "feet: Ped. Bourdon 16"),
		accept: []string{`
			problem shared-keyboard
			rh has Flute 4 | Stopped Diapason 8`},
		source: "common practice",
	},
}

var dynamicsCases = []organCase{
	{
		name: "pp", organ: "demonstration", propose: true,
		sections: score(hymn, "dyn: pp"),
		accept: []string{`
			rh pitches 8
			rh = Dulciana 8 | Salicional 8 | Choir Lieblich Gedackt 8 | Swell Stopped Diapason 8 | Great Stopped Diapason 8
			feet = Bourdon 16, Bass Flute 8`},
		source: "Mendelssohn, preface to the Sonatas op. 65: one soft 8′; the pedal 16′ and 8′",
	},
	{
		name: "p", organ: "demonstration", propose: true,
		sections: score(hymn, "dyn: p"),
		accept: []string{`
			rh pitches 8
			rh lacks reed, celeste, Great Open Diapason 8
			rh has flute 8
			feet = Bourdon 16, Bass Flute 8`},
		source: "Mendelssohn, preface: several soft 8′ together",
	},
	{
		name: "f", organ: "demonstration", propose: true,
		sections: score(bigChords, "dyn: f"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2
			rh lacks Trumpet 8, celeste
			feet has Open Wood 16, Principal 8
			feet lacks Trombone 16`},
		source: "Mendelssohn, preface: full organ without some of the strongest",
	},
	{
		name: "ff", organ: "demonstration", propose: true,
		sections: score(bigChords, "dyn: ff"),
		accept: []string{`
			rh on Great
			rh has Great Open Diapason 8, Great Principal 4, Fifteenth 2, Great Mixture 19.22.26 III, Great Trumpet 8
			rh lacks celeste, clarinet
			feet has Open Wood 16, Trombone 16, Principal 8`},
		source: "Mendelssohn, preface: full organ",
	},
	{
		name: "f and p by turns", organ: "demonstration", propose: true,
		sections: []section{part(bigChords, "dyn: f"), part(hymn, "dyn: p"), part(bigChords, "dyn: f")},
		accept: []string{`
			rh has Open Diapason 8, Principal 4
			at 5
			rh pitches 8
			feet lacks Open Wood 16
			at 9
			rh has Open Diapason 8, Principal 4`},
		source: "Mendelssohn, preface",
	},
	{
		name: "p of a trio", organ: "demonstration", propose: true,
		sections: score(trio, "dyn: p"),
		accept: []string{`
			apart rh lh
			rh pitches 8
			lh pitches 8
			feet pitches 16, 8
			no coupler Great to Pedal | Swell to Pedal | Choir to Pedal`},
		source: "common practice: a trio needs two keyboards",
	},
	{
		name: "p of a tune over chords", organ: "demonstration", propose: true,
		sections: score(soloOverChords, "dyn: p"),
		accept: []string{`
			apart rh lh
			rh has flute 8 | reed 8 | principal 8
			lh pitches 8
			lh lacks reed, principal`},
		source: "common practice: a tune over chords has a manual of its own",
	},
	{
		name: "ff of a village organ", organ: "village-two-manuals", propose: true,
		sections: score(bigChords, "dyn: ff"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2
			rh lacks celeste
			feet has Bourdon 16`},
		source: "Mendelssohn, preface",
	},
	{
		name: "pp of one manual", organ: "village-one-manual", propose: true,
		sections: score(hymn, "dyn: pp"),
		accept: []string{`
			rh pitches 8
			rh lacks Open Diapason 8, Oboe 8
			feet has Bourdon 16`},
		source: "Mendelssohn, preface",
	},
	{
		name: "mf", organ: "village-two-manuals", propose: true,
		sections: score(hymn, "dyn: mf"),
		accept: []string{`
			rh pitches 8, 4
			rh lacks reed, celeste, mixture
			feet pitches 16, 8`},
		source: "common practice between p and f",
	},
	{
		name: "f of the old French organ", organ: "paris-saint-gervais-1768", propose: true, lang: "fr",
		sections: score(bigChords, "dyn: f"),
		accept: []string{`
			rh on Grand-Orgue
			rh has Montre 8, Prestant 4
			rh lacks vox humana`},
		source: "Mendelssohn, preface",
	},
	{
		name: "two manuals in a heading", organ: "demonstration", lang: "fr",
		sections: score(trio, "head: Trio à deux claviers et pédale"),
		accept:   []string{`apart rh lh`},
		source:   "common practice: a trio needs two keyboards",
	},
	{
		name: "two manuals in a heading, with a dynamic", organ: "village-two-manuals", lang: "de", propose: true,
		sections: score(trio, "head: Trio für 2 Claviere und Pedal", "dyn: p"),
		accept: []string{`
			apart rh lh
			rh pitches 8
			lh pitches 8
			feet pitches 16, 8`},
		source: "common practice: a trio needs two keyboards",
	},
}
