package resolve_test

// coupledCases are of divisions that sound from one another's keyboards.
var coupledCases = []organCase{
	{
		name: "the pedal's reeds do not take the Swell from the hands", organ: "village-two-manuals", lang: "fr",
		sections: score(bigChords, "rh: G.O. Fonds 8 et 4, R. Fonds et Anches 8 et 4, R. au G.O.", "feet: Péd. Fonds et Anches 16, 8"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Violin Diapason 8, Gemshorn 4, Cornopean 8
			coupler Swell to Great
			feet lacks flute 4
			feet has Bourdon 16, Bass Flute 8`},
		source: "common practice: the manuals' chorus before the colour of the pedal",
	},
	{
		name: "reeds that the Great lacks come from the Swell that joins it already", organ: "village-two-manuals", lang: "fr",
		sections: score(bigChords, "rh: G.O. Fonds et Anches 8, R. Fonds et Anches 8, R. au G.O."),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Cornopean 8
			drawn Swell has Violin Diapason 8, Cornopean 8
			coupler Swell to Great`},
		source: "common practice",
	},
	{
		name: "a coupler through a third manual that nobody needs", organ: "paris-sainte-clotilde-1859", lang: "fr",
		sections: score(bigChords, "rh: G.O. Montre 8, R. Flûte 8, Hautbois 8, R. au G.O."),
		accept: []string{`
			rh on Grand-Orgue
			rh = Grand-Orgue Montre 8, Récit Flûte harmonique 8, Récit Basson-Hautbois 8
			coupler Récit to Positif
			coupler Positif to Grand-Orgue
			drawn Positif =
			no problem no-coupler`},
		source: "common practice where couplers carry on: the Récit reaches the Grand-Orgue through the Positif",
	},
	{
		name: "a full organ has the lowest notes of its stops", organ: "village-one-manual",
		sections: score(bigChords, "rh: Full Organ"),
		accept:   []string{"rh has Open Diapason 8, Stopped Diapason 8, Stopped Bass 8, Principal 4, Fifteenth 2"},
		source:   "common practice of small organs: the Stopped Bass is the lowest octave of the Stopped Diapason",
	},
	{
		name: "a pedal tune on one manual has at least its pitch", organ: `Manual: Open Diapason 8, Stopped Diapason 8, Flute 4, Fifteenth 2
			Pedal: Bourdon 16
			couplers: Manual to Pedal`,
		sections: score(highPedalTune, "rh: Man. Flutes 8, 4", "feet: Ped. Trumpet 8 solo"),
		accept: []string{`
			rh = Stopped Diapason 8
			feet = Stopped Diapason 8
			coupler Manual to Pedal
			drawn Pedal =
			no problem pitch-lost
			problem voice-missing`},
		source: "common practice: without a free manual the tune is coupled down, the Bourdon off, and keeps its octave",
	},
	{
		name: "the manual that is coupled down is one that the feet do not cross", organ: `Great: Open Diapason 8, Principal 4
			Swell [box]: Stopped Diapason 8, Gemshorn 4
			Pedal: Bourdon 16
			couplers: Great to Pedal, Swell to Pedal`,
		sections: score(music{RH: "C4+E4*2 D4+F4*2", LH: "C5+E5*2 D5+F5*2", Feet: "E4*2 F4*2"},
			"rh: R.H. Gt. Open Diapason 8", "lh: L.H. Sw. Stopped Diapason 8", "feet: Ped. 16, 8"),
		accept: []string{`
			feet = Bourdon 16, Swell Stopped Diapason 8
			no coupler Great to Pedal`},
		source: "Brigham Young University organ teaching pages: Great to Pedal only where feet and hands do not meet",
	},
}

// offBoardCases are of pedal parts that go beyond the pedalboard.
var offBoardCases = []organCase{
	{
		name: "most of a tune at its pitch is better than none", organ: `Great: Open Diapason 8, Flute 4
			Pedal [C2-G3]: Bourdon 16
			couplers: Great to Pedal`,
		sections: score(music{RH: "C5+E5*4", LH: "C4+G4*4", Feet: "C3*1 E3*1 G3*1 A3*1 G3*1 E3*1 D3*1 C3*1"}, "rh: Gt. Open Diapason 8", "feet: Ped. Trumpet 8 solo"),
		accept: []string{`
			feet on Pedal
			feet octave 0
			feet = Great Open Diapason 8
			problem off-compass`},
		source: "common practice: the notes that are not there are left out, not the tune",
	},
	{
		name: "a line that a coupler brings is not given a stop of its own instead", organ: `Great: Open Diapason 8, Dulciana 8
			Pedal: Bourdon 16
			couplers: Great to Pedal`,
		sections: score(bigChords, "rh: Gt. Dulciana 8, Gt. to Ped.", "feet: Ped. Flute 4"),
		accept: []string{`
			feet = Great Dulciana 8
			problem voice-missing`},
		source: "common practice: a 16′ is not added unasked where the coupled manual carries the bass",
	},
}

// growingCases are of music that grows.
var growingCases = []organCase{
	{
		name: "what is added stays while more is added", organ: "kent-hutchings-plaisted-1878", lang: "fr",
		sections: []section{
			part(bigChords, "rh: Pos. Fonds 8 et 4, R. Fonds et Anches 8 et 4, R. au Pos.", "feet: Péd. Fonds 16"),
			part(bigChords, "rh: Ajoutez les Anches du Pos."),
			part(bigChords, "rh: G.O. Fonds 8 et 4, Pos. au G.O., R. au G.O."),
		},
		accept: []string{`
			at 5
			rh has Trumpet 8
			at 9
			rh has Open Diapason 8, Trumpet 8`},
		source: "common practice: a crescendo by stops never grows softer",
	},
}

// asPrintedCases are of what stays as it is printed.
var asPrintedCases = []organCase{
	{
		name: "hand and feet do not change parts where the pedal has its reed", organ: `Great [C3-G6]: Open Diapason 8, Gedackt 8
			Swell: Oboe 8, Stopped Diapason 8
			Pedal: Bourdon 16, Bass Flute 8, Schalmey 4`,
		sections: score(music{RH: "C5*1 D5*1 E5*2", LH: "E3*4 D3*4 C3*4 B2*4", Feet: "C3*1 D3*1 E3*2 G3*2 E3*2"},
			"rh: R.H. Sw. Stopped Diapason 8", "lh: L.H. Gt. Gedackt 8", "feet: Ped. 4 ft. reed solo"),
		accept: []string{`
			feet on Pedal
			feet = Schalmey 4
			lh by lh`},
		source: "common practice",
	},
	{
		name: "a chorus to the Fifteenth without its Fifteenth is still a chorus", organ: "village-two-manuals",
		sections: score(bigChords, "rh: Gt. to Fifteenth, Sw. to Fifteenth, Sw. to Gt."),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2, Violin Diapason 8, Gemshorn 4
			coupler Swell to Great`},
		source: "common practice: the unison is sacred, the upperwork thins from the top",
	},
}

// sharingCases are of hands that have to share a manual.
var sharingCases = []organCase{
	{
		name: "two colours for two hands, and one manual", organ: "village-one-manual", lang: "fr",
		sections: score(music{RH: "C5+E5*2 D5+F5*2", LH: "G3+C4*2 A3+D4*2"}, "rh: m.d. Cornet", "lh: m.g. Cromorne"),
		accept:   []string{"rh on Manual\nlh on Manual\nproblem shared-keyboard"},
		source:   "common practice: what is lost is told",
	},
	{
		name: "the other stop that the text offers is no loss of pitch on the organ", organ: `Great: Stopped Diapason 8, Flute 4
			Pedal: Clarion 4`, lang: "fr",
		sections: score(music{RH: pedalTune.RH, LH: pedalTune.LH, Feet: "C2*1 E2*1 G2*1 C3*1 G2*2 C2*2"}, "rh: G.O. Bourdon 8", "feet: Péd. Trompette 8' ou Clairon 4' solo"),
		accept:   []string{"feet = Clarion 4\nfeet octave 0\nproblem says \"the other that the text offers is\""},
		source:   "common practice: the text leaves the choice",
	},
}
