package resolve_test

// historicCases are on real organs, each with its source in its own file.
var historicCases = []organCase{
	{
		name: "Full Swell of St George's Hall", organ: "liverpool-st-georges-hall-1855",
		sections: score(bigChords, "rh: Full Swell, box shut"),
		accept: []string{`
			rh on Swell
			rh has Open Diapason 1 8, Principal 4, Fifteenth 1 2, Fourniture V, Trombone 16, Trumpet 8, Clarion 1 4
			rh lacks celeste, clarinet
			box Swell shut`},
		source: "Russell 1804 writes Full Swell (Grove, Full organ); what it holds is common practice",
	},
	{
		name: "Great to Fifteenth of St George's Hall", organ: "liverpool-st-georges-hall-1855",
		sections: score(bigChords, "rh: Gt. to Fifteenth, Gt. to Ped.", "feet: Ped. 16, 8"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 1 8, Principal 1 4, Fifteenth 1 2
			rh lacks reed, mixture, sharp mixture, Double Diapason 16, Tenth 3 1/5, Quint 5 1/3
			coupler Great to Pedal
			feet has Open Diapason (wood) 16 | Open Diapason (metal) 16 | Bourdon 16, Principal (wood) 8 | Principal (metal) 8`},
		source: "common practice: to Fifteenth is the plain principal chorus",
	},
	{
		name: "a Cremona for a Clarinet", organ: "liverpool-st-georges-hall-1855",
		sections: score(soloOverChords, "rh: R.H. Ch. Clarinet 8", "lh: L.H. Sw. Stopped Diapason 8"),
		accept: []string{`
			rh on Choir
			rh = Cremona 8
			lh on Swell
			lh = Swell Stopped Diapason 8`},
		source: "common practice, from memory: the English Cremona is a Clarinet",
	},
	{
		name: "a Tuba of 1855", organ: "liverpool-st-georges-hall-1855",
		sections: score(soloOverChords, "rh: R.H. Solo Tuba 8", "lh: L.H. Gt. Open Diapason 8"),
		accept: []string{`
			rh on Solo
			rh = Solo Ophicleide 8 | Solo Trumpet 8 | Solo Trombone 8
			lh on Great
			lh has principal 8`},
		source: "nearness.tsv: a chorus reed for a Tuba",
	},
	{
		name: "organo pleno at Merseburg", organ: "merseburg-dom-1855", lang: "de",
		sections: score(bigChords, "rh: HW Organo pleno", "feet: Ped. Plenum"),
		accept: []string{`
			rh on Hauptwerk
			rh has Principal 8, Octave 4, Octave 2, Mixtur IV, Scharff IV
			rh lacks reed, Gambe 8, Cornett III-V
			feet has Principal 16, Principalbass 8, Mixtur IV`},
		source: "Grove, Full organ, for the family; details common practice",
	},
	{
		name: "a soft string of the Brustwerk", organ: "merseburg-dom-1855", lang: "de",
		sections: score(hymn, "rh: BW Salicional 8', Lieblich Gedackt 8'", "feet: Ped. Subbaß 16', Violoncello 8'"),
		accept: []string{`
			rh on Brustwerk
			rh = Salicional 8, Lieblich Gedeckt 8
			feet = Subbass 16, Violoncello 8`},
		source: "common practice",
	},
	{
		name: "manual IV at Merseburg", organ: "merseburg-dom-1855", lang: "de",
		sections: score(soloOverChords, "rh: r.H. HW Gemshorn 8'", "lh: l.H. OW Gedackt 8'"),
		accept: []string{`
			rh on Hauptwerk
			rh = Gemshorn 8
			lh on Oberwerk
			lh = Gedeckt 8`},
		source: "common practice",
	},
	{
		name: "a Krummhorn at Merseburg", organ: "merseburg-dom-1855", lang: "de",
		sections: score(soloOverChords, "rh: r.H. RP Krummhorn 8'", "lh: l.H. HW Hohlflöte 8'"),
		always:   `lh = Hohlflöte 8`,
		accept: []string{
			`rh on Oberwerk
			rh = Schalmei 8`,
			`rh on Rückpositiv
			rh = Oboe 8`,
		},
		source: "nearness.tsv: a regal, then an Oboe",
	},
	{
		name: "Fonds 8 at Saint-Sulpice", organ: "paris-saint-sulpice-1862", lang: "fr",
		sections: score(hymn, "rh: G.O. Fonds 8"),
		accept: []string{`
			rh on Grand-Orgue
			rh pitches 8
			rh has Montre 8, Diapason 8, Flûte harmonique 8, Grand-Orgue Bourdon 8`},
		source: "Rumsey & Kingston 2019 on Franck's Fonds",
	},
	{
		name: "G.P.R. at Sainte-Clotilde", organ: "paris-sainte-clotilde-1859", lang: "fr",
		sections: score(bigChords, "rh: G.P.R. Fonds 8"),
		accept: []string{`
			rh on Grand-Orgue
			coupler Positif to Grand-Orgue
			rh has Grand-Orgue Montre 8, Positif Montre 8, Récit Viole de gambe 8, Basson-Hautbois 8`},
		source: "the Récit reaches the Grand-Orgue by way of the Positif: couplers carry on",
	},
	{
		name: "Anches at Sainte-Clotilde", organ: "paris-sainte-clotilde-1859", lang: "fr",
		sections: []section{
			part(bigChords, "rh: G.O. Fonds 8, 4"),
			part(bigChords, "rh: Anches G.O."),
		},
		accept: []string{`
			rh lacks reed
			at 5
			rh has Montre 8, Prestant 4, Bombarde 16, Trompette 8, Clairon 4, Plein-Jeu VII`},
		source: "Rumsey & Kingston 2019 on Franck's Anches",
	},
	{
		name: "a Récit trumpet at Sainte-Clotilde", organ: "paris-sainte-clotilde-1859", lang: "fr",
		sections: score(soloOverChords, "rh: m.d. R. Trompette", "lh: m.g. Pos. Flûte 8, Bourdon 8", "feet: Péd. Flûte 8"),
		accept: []string{`
			rh on Récit
			rh = Trompette 8
			lh on Positif
			lh = Flûte harmonique 8, Bourdon 8
			feet = Flûte 8`},
		source: "common practice",
	},
	{
		name: "Oboe at Canterbury", organ: "canterbury-st-stephen-walker-1879",
		sections: score(soloOverChords, "rh: R.H. Sw. Oboe 8", "lh: L.H. Gt. Clarabella 8", "feet: Ped. 16"),
		accept: []string{`
			rh on Swell
			rh = Trumpet 8
			lh on Great
			lh = Clarabella 8 | Stopped Bass 8
			feet = Bourdon 16`},
		source: "common practice, from memory: Oboe: a soft Trumpet",
	},
	{
		name: "Full Organ at Edgbaston", organ: "edgbaston-st-george-hill-1838",
		sections: score(music{RH: bigChords.RH, LH: bigChords.LH}, "rh: Full Organ"),
		accept: []string{`
			rh on Great
			rh has Great Open Diapason 8, Great Principal 4, Fifteenth 2, Sesquialtera III, Great Trumpet 8
			rh lacks Dulciana 8
			coupler Swell to Great`},
		source: "Russell 1812 (Grove, Full organ)",
	},
	{
		name: "Full Organ without the Trumpet at Edgbaston", organ: "edgbaston-st-george-hill-1838",
		sections: score(music{RH: bigChords.RH, LH: bigChords.LH}, "rh: Full Great without Trumpet"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2, Sesquialtera III
			rh lacks Trumpet 8`},
		source: "Russell 1812, Full Organ without the Trumpet (Grove, Full organ)",
	},
	{
		name: "Diapasons at Edgbaston", organ: "edgbaston-st-george-hill-1838",
		sections: score(music{RH: hymn.RH, LH: hymn.LH}, "rh: Diapasons"),
		accept: []string{`
			rh on Great
			rh = Open Diapason 8, Stopped Diapason 8`},
		source: "Grove, Organ stop, Diapason",
	},
	{
		name: "Cornet at Hamburg", organ: "hamburg-st-jacobi-1693", lang: "de",
		sections: score(soloOverChords, "rh: r.H. OW Rohrflöte 8', Nasat 2 2/3'", "lh: l.H. RP Gedackt 8'"),
		accept: []string{`
			rh on Oberwerk
			rh = Rohrflöte 8, Nasat 2 2/3
			lh on Rückpositiv
			lh = Gedact 8`},
		source: "common practice of north Germany",
	},
	{
		name: "a trio at Hamburg", organ: "hamburg-st-jacobi-1693", lang: "de",
		sections: score(trio, "rh: r.H. RP Principal 8'", "lh: l.H. OW Principal 8'", "feet: Ped. Principal 16', Octave 8'"),
		accept: []string{`
			rh on Rückpositiv
			rh = Principal 8
			lh on Oberwerk
			lh = Principal 8
			feet = Octava 16, Octava 8`, `
			rh on Rückpositiv
			lh on Oberwerk
			feet = Octava 16 | Subbass 16, Octava 8`},
		source: "common practice",
	},
	{
		name: "p at Leipzig", organ: "leipzig-st-petri-sauer-1885", lang: "de", propose: true,
		sections: score(hymn, "dyn: pp"),
		accept: []string{`
			rh pitches 8
			rh lacks principal, reed, celeste
			feet pitches 16, 8`},
		source: "Mendelssohn, preface",
	},
	{
		name: "a clarinet at Leipzig under hairpins", organ: "leipzig-st-petri-sauer-1885", lang: "de",
		sections: score(soloOverChords, "rh: r.H. II Clarinette 8'", "lh: l.H. III Gedackt 8', Aeoline 8'", "cresc: "),
		accept: []string{`
			rh on II. Manual
			rh = Clarinette 8
			lh on III. Manual
			lh = Gedact 8, Aeoline 8`},
		source: "common practice",
	},
	{
		name: "a 32 ft. at Leipzig", organ: "leipzig-st-petri-sauer-1885", lang: "de",
		sections: score(bigChords, "rh: I. Man. Principal 8', Octave 4'", "feet: Ped. 32', 16', 8'"),
		accept: []string{`
			feet has Majorbass 32, principal 16 | gamba 16 | flute 16
			feet lacks Gross-Nassard 10 2/3`},
		source: "common practice",
	},
	{
		name: "Bourdon and Melodia at Kent", organ: "kent-hutchings-plaisted-1878",
		sections: score(hymn, "rh: Gt. Bourdon 16, Melodia 8", "feet: Ped. Bourdon 16, Gt. to Ped."),
		accept: []string{`
			rh on Great
			rh = Bourdon 16, Melodia 8
			coupler Great to Pedal`},
		source: "common practice",
	},
	{
		name: "Tuba at Kent", organ: "kent-hutchings-plaisted-1878",
		sections: score(soloOverChords, "rh: R.H. Solo Tuba 8", "lh: L.H. Sw. Stopped Diapason 8"),
		accept: []string{`
			rh on Great
			rh = Trumpet 8
			lh on Swell
			lh = Stopped Diapason 8`},
		source: "nearness.tsv: a chorus reed for a Tuba",
	},
	{
		name: "Récit expressif at Saint-Augustin", organ: "paris-saint-augustin-1899", lang: "fr",
		sections: score(hymn, "rh: R. Gambe, Voix céleste (boîte fermée)", "feet: Péd. Bourdon 16, Tirasse R."),
		accept: []string{`
			rh on Récit expressif
			rh = Viole de gambe 8, Voix céleste 8
			box Récit_expressif shut`},
		source: "common practice",
	},
}
