package resolve_test

// withoutCases are of group words from which the print leaves something out.
var withoutCases = []organCase{
	{
		name: "a full organ without its double", organ: "demonstration",
		sections: score(bigChords, "rh: Gt. Full Organ without 16 ft."),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2, Mixture 19.22.26 III, Trumpet 8
			rh lacks Bourdon 16`},
		source: "common practice",
	},
	{
		name: "the reeds come off, the rest of the full Swell stays", organ: "demonstration",
		sections: []section{part(bigChords, "rh: Full Swell"), part(bigChords, "rh: without reeds")},
		accept: []string{`
			at 5
			rh on Swell
			rh has Open Diapason 8, Gemshorn 4, Mixture 15.19.22 III
			rh lacks chorus reed, bassoon`},
		source: "common practice",
	},
	{
		name: "the softest there is, where nothing is soft", organ: `Great: Open Diapason 8
			Pedal: Pedal Pipes 16`,
		sections: score(bigChords, "rh: Gt. Open Diapason 8", "feet: soft Ped."),
		accept:   []string{"feet = Pedal Pipes 16\nno problem"},
		source:   "common practice",
	},
}
