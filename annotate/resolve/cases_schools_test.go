package resolve_test

var frenchCases = []organCase{
	{
		name: "Fonds 8 of the Grand-Orgue", organ: "french-symphonic", lang: "fr",
		sections: score(hymn, "rh: G.O. Fonds 8", "feet: Péd. Fonds 16, 8"),
		accept: []string{`
			rh on Grand-Orgue
			rh = Montre 8, Flûte harmonique 8, Bourdon 8, Viole de gambe 8
			feet = Contrebasse 16, Soubasse 16, Flûte 8, Violoncelle 8`},
		source: "Rumsey & Kingston 2019 on Franck's Fonds",
	},
	{
		name: "the Hautbois among the Fonds of the Récit", organ: "paris-sainte-clotilde-1859", lang: "fr",
		sections: score(hymn, "rh: R. Fonds 8"),
		accept: []string{`
			rh on Récit
			rh = Flûte harmonique 8, Bourdon 8, Viole de gambe 8, Basson-Hautbois 8`},
		source: "tutorial on Franck's third Choral (Rumsey & Kingston 2019)",
	},
	{
		name: "Fonds on an English organ", organ: "demonstration", lang: "fr",
		sections: score(hymn, "rh: G.O. Fonds 8"),
		accept: []string{`
			rh on Great
			rh = Great Open Diapason 8, Great Stopped Diapason 8, Claribel Flute 8`},
		source: "Rumsey & Kingston 2019 on Franck's Fonds",
	},
	{
		name: "Fonds 8 and 4 of three manuals coupled", organ: "french-symphonic", lang: "fr",
		sections: score(bigChords, "rh: G.P.R. Fonds 8, 4"),
		accept: []string{`
			rh on Grand-Orgue
			coupler Positif to Grand-Orgue
			coupler Récit to Grand-Orgue
			rh has Grand-Orgue Montre 8, Positif Montre 8, Récit Flûte traversière 8, Grand-Orgue Prestant 4
			rh lacks chorus reed, mixture, celeste, Montre 16`},
		source: "common practice, from memory: all three on the keys of the Grand-Orgue",
	},
	{
		name: "Anches bring the mixtures and the 2 ft.", organ: "french-symphonic", lang: "fr",
		sections: []section{
			part(bigChords, "rh: G.O. Fonds 8, 4"),
			part(bigChords, "rh: Anches G.O."),
		},
		accept: []string{`
			rh lacks reed, mixture
			at 5
			rh on Grand-Orgue
			rh has Montre 8, Prestant 4, Trompette 8, Clairon 4, Fourniture V, Doublette 2`},
		source: "Rumsey & Kingston 2019 on Franck's Anches",
	},
	{
		name: "Anches on an English organ", organ: "demonstration", lang: "fr",
		sections: []section{
			part(bigChords, "rh: R. Fonds 8, 4"),
			part(bigChords, "rh: Anches R."),
		},
		accept: []string{`
			rh lacks Cornopean 8, mixture
			at 5
			rh on Swell
			rh has Cornopean 8, Clarion 4, mixture, Fifteenth 2
			rh lacks clarinet, vox humana`},
		source: "Rumsey & Kingston 2019 on Franck's Anches",
	},
	{
		name: "Anches on a Swell of one Oboe", organ: parish, lang: "fr",
		sections: []section{
			part(bigChords, "rh: R. Fonds 8, 4"),
			part(bigChords, "rh: Anches R."),
		},
		accept: []string{`
			at 5
			rh on Swell
			rh has Lieblich Gedackt 8, Salicional 8, Gemshorn 4, Oboe 8`},
		source: "common practice: the one reed there is",
	},
	{
		name: "Grand chœur", organ: "french-symphonic", lang: "fr",
		sections: score(bigChords, "rh: Grand chœur"),
		accept: []string{`
			rh on Grand-Orgue
			coupler Positif to Grand-Orgue
			coupler Récit to Grand-Orgue
			rh has Grand-Orgue Montre 8, Grand-Orgue Trompette 8, Clairon 4, Fourniture V, Trompette harmonique 8
			rh lacks celeste, vox humana, Cromorne 8
			feet has Bombarde 16, Flûte 8`},
		source: "common practice, from memory: all manuals coupled, with reeds",
	},
	{
		name: "Grand chœur on an English organ", organ: "demonstration", lang: "fr",
		sections: score(bigChords, "rh: Grand chœur"),
		accept: []string{`
			rh on Great
			coupler Swell to Great
			rh has Great Open Diapason 8, Great Trumpet 8, Great Mixture 19.22.26 III, Swell Cornopean 8
			rh lacks celeste, clarinet
			feet has Trombone 16`},
		source: "common practice, from memory",
	},
	{
		name: "Plein jeu of the Grand-Orgue", organ: "paris-saint-gervais-1768", lang: "fr",
		sections: score(manualsOnly, "rh: G.O. Plein jeu"),
		accept: []string{`
			rh on Grand-Orgue
			rh has Montre 8, Prestant 4, Doublette 2, Fourniture III, Cymbale IV
			rh lacks Trompette 8, Clairon 4, Voix humaine 8, Tierce 1 3/5, Nasard 2 2/3, Cornet V`},
		source: "Grove, Full organ, on the Plein jeu",
	},
	{
		name: "Plein jeu on an English organ", organ: "demonstration", lang: "fr",
		sections: score(manualsOnly, "rh: G.O. Plein jeu"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2, Mixture 19.22.26 III
			rh lacks reed, Nazard 2 2/3`},
		source: "Grove, Full organ, on the Plein jeu",
	},
	{
		name: "Grand jeu", organ: "paris-saint-gervais-1768", lang: "fr",
		sections: score(manualsOnly, "rh: G.O. Grand jeu"),
		accept: []string{`
			rh on Grand-Orgue
			rh has Trompette 8, Clairon 4, Prestant 4, Cornet V
			rh lacks mixture, sharp mixture, Voix humaine 8`},
		source: "Grove, Full organ, on the Grand jeu",
	},
	{
		name: "Grand jeu where there is no Cornet", organ: "demonstration", lang: "fr",
		sections: score(manualsOnly, "rh: G.O. Grand jeu"),
		accept: []string{`
			rh on Great
			rh has Trumpet 8, Principal 4
			rh lacks mixture`},
		source: "Grove, Full organ, on the Grand jeu",
	},
	{
		name: "Jeu de tierce", organ: "paris-saint-gervais-1768", lang: "fr",
		sections: score(manualsOnly, "rh: m.d. Pos. Jeu de tierce", "lh: m.g. G.O. Bourdon 8"),
		accept: []string{`
			rh on Positif de dos
			rh pitches 8, 4, 2 2/3, 2, 1 3/5
			rh has Bourdon 8, Nasard 2 2/3, Tierce 1 3/5
			rh lacks reed, mixture
			lh on Grand-Orgue
			lh = Grand-Orgue Bourdon 8`},
		source: "Wedgwood 1905, Cornet, for the ranks; common practice",
	},
	{
		name: "Jeu de tierce on the north German organ", organ: "north-german-baroque", lang: "fr",
		sections: score(manualsOnly, "rh: m.d. Pos. Jeu de tierce", "lh: m.g. G.O. Bourdon 8"),
		accept: []string{`
			rh on Rückpositiv
			rh has Gedackt 8, Rohrflöte 4, Sesquialtera II
			lh on Hauptwerk
			lh = Spitzflöte 8`},
		source: "a Sesquialtera gives 2⅔ and 1⅗",
	},
	{
		name: "Cornet", organ: "paris-saint-gervais-1768", lang: "fr",
		sections: score(soloOverChords, "rh: m.d. Cornet R.", "lh: m.g. Pos. Bourdon 8"),
		accept: []string{`
			rh on Récit
			rh = Cornet V
			lh on Positif de dos
			lh = Bourdon 8`},
		source: "Wedgwood 1905, Cornet",
	},
	{
		name: "Cornet on an organ of single ranks", organ: "french-symphonic", lang: "fr",
		sections: score(soloOverChords, "rh: m.d. Cornet Pos.", "lh: m.g. R. Flûte 8"),
		always: `lh on Récit
			lh = Flûte traversière 8`,
		accept: []string{
			`rh on Grand-Orgue
			rh = Cornet V`,
			`rh on Positif
			rh pitches 8, 4, 2 2/3, 2, 1 3/5
			rh has Nasard 2 2/3, Tierce 1 3/5`,
		},
		source: "Wedgwood 1905, Cornet",
	},
	{
		name: "Voix humaine with its tremblant", organ: "french-symphonic", lang: "fr",
		sections: score(soloOverChords, "rh: R. Voix humaine et tremblant"),
		accept: []string{`
			rh on Récit
			rh has Voix humaine 8
			tremulant Récit`},
		source: "common practice",
	},
	{
		name: "Cromorne en taille", organ: "paris-saint-gervais-1768", lang: "fr",
		sections: score(soloUnderneath, "lh: m.g. Pos. Cromorne", "rh: m.d. G.O. Bourdon 8", "feet: Péd. Flûte 8"),
		accept: []string{`
			lh on Positif de dos
			lh = Cromorne 8
			rh on Grand-Orgue
			rh = Grand-Orgue Bourdon 8
			feet = Flûte 8`},
		source: "common practice of classical France",
	},
	{
		name: "Cromorne on an English organ", organ: "demonstration", lang: "fr",
		sections: score(soloOverChords, "rh: m.d. Pos. Cromorne", "lh: m.g. G.O. Bourdon 8"),
		accept: []string{`
			rh on Choir
			rh = Clarinet 8
			lh on Great
			lh = Great Stopped Diapason 8`},
		source: "common practice, from memory: Clarinet and Cromorne stand for one another",
	},
	{
		name: "Voix céleste with the Gambe", organ: "french-symphonic", lang: "fr",
		sections: score(hymn, "rh: R. Gambe et Voix céleste", "feet: Péd. Soubasse 16, Tirasse R."),
		accept: []string{`
			rh on Récit
			rh = Viole de gambe 8, Voix céleste 8
			coupler Récit to Pédale
			feet has Soubasse 16`},
		source: "common practice",
	},
}

var germanCases = []organCase{
	{
		name: "organo pleno", organ: "north-german-baroque", lang: "de",
		sections: score(bigChords, "rh: HW Organo pleno"),
		accept: []string{`
			rh on Hauptwerk
			rh has Octave 8, Octave 4, Octave 2, Mixtur VI
			rh lacks reed, Nasat 2 2/3`},
		source: "common practice: German pleno is principals and mixtures over any 8′ flue",
	},
	{
		name: "organo pleno on an English organ", organ: "demonstration", lang: "de",
		sections: score(bigChords, "rh: Organo pleno"),
		accept: []string{`
			rh on Great
			rh has Great Open Diapason 8, Great Principal 4, Fifteenth 2, Great Mixture 19.22.26 III
			rh lacks reed, celeste, Nazard 2 2/3`},
		source: "Grove, Full organ, for the family; details common practice",
	},
	{
		name: "organo pleno over a Gedackt", organ: `Hauptwerk: Gedackt 8, Principal 4, Octave 2, Mixtur IV
			Pedal: Subbaß 16`, lang: "de",
		sections: score(bigChords, "rh: Organo pleno"),
		accept: []string{`
			rh = Gedackt 8, Principal 4, Octave 2, Mixtur IV`},
		source: "common practice: over any 8′ flue",
	},
	{
		name: "organo pleno of a village", organ: "village-two-manuals", lang: "de",
		sections: score(bigChords, "rh: HW Organo pleno"),
		accept: []string{`
			rh on Great
			rh has Open Diapason 8, Principal 4, Fifteenth 2
			rh lacks reed
			rh says "mixture"`},
		source: "common practice: a missing mixture is said",
	},
	{
		name: "the pleno of the Rückpositiv", organ: "hamburg-st-jacobi-1693", lang: "de",
		sections: score(bigChords, "rh: RP Plenum"),
		accept: []string{`
			rh on Rückpositiv
			rh has Principal 8, Octava 4, Octava 2, Scharff IV-VI
			rh lacks reed, Quintadena 8`},
		source: "common practice of north Germany",
	},
	{
		name: "an Oberwerk that is missing", organ: "north-german-baroque", lang: "de",
		sections: score(manualsOnly, "rh: r.H. OW Gedackt 8', Flöte 4'", "lh: l.H. HW Octave 8'"),
		accept: []string{
			`rh on Rückpositiv
			rh = Gedackt 8, Rohrflöte 4
			lh on Hauptwerk
			lh = Octave 8`,
			`rh on Brustwerk
			rh = Gedackt 8, Blockflöte 4
			lh on Hauptwerk
			lh = Octave 8`,
		},
		source: "stands_in.tsv",
	},
	{
		name: "manuals by number in Germany", organ: "north-german-baroque", lang: "de",
		sections: score(trio, "rh: I. Man. Octave 8'", "lh: II. Man. Gedackt 8'", "feet: Ped. Subbaß 16', Octave 8'"),
		accept: []string{`
			rh on Hauptwerk
			rh = Octave 8
			lh on Rückpositiv
			lh = Gedackt 8
			feet = Subbaß 16, Octave 8`},
		source: "common practice, from memory: I is the Hauptwerk in Germany",
	},
	{
		name: "manuals by number in England", organ: "demonstration",
		sections: score(soloOverChords, "rh: R.H. III Oboe 8", "lh: L.H. I Dulciana 8"),
		accept: []string{`
			rh on Swell
			rh = Oboe 8
			lh on Choir
			lh = Dulciana 8`},
		source: "The Organ, part three, par. 33 (essexorganmuseum.com): Choir, Great, Swell from the lowest up",
	},
	{
		name: "Sesquialtera of the Rückpositiv", organ: "north-german-baroque", lang: "de",
		sections: score(soloOverChords, "rh: r.H. RP Gedackt 8', Rohrflöte 4', Sesquialtera", "lh: l.H. HW Spitzflöte 8'"),
		accept: []string{`
			rh on Rückpositiv
			rh = Gedackt 8, Rohrflöte 4, Sesquialtera II
			lh = Spitzflöte 8`},
		source: "common practice",
	},
	{
		name: "Krummhorn on an organ that has a Clarinet", organ: "leipzig-st-petri-sauer-1885", lang: "de",
		sections: score(soloOverChords, "rh: r.H. RP Krummhorn 8'", "lh: l.H. I. Man. Gedackt 8'"),
		accept: []string{`
			rh on II. Manual
			rh = Clarinette 8
			lh on I. Manual
			lh = Gedact 8`},
		source: "common practice, from memory",
	},
	{
		name: "Voix céleste of Sauer", organ: "leipzig-st-petri-sauer-1885", lang: "de",
		sections: score(hymn, "rh: III Voix céleste 8'"),
		accept: []string{`
			rh on III. Manual
			rh has Voix céleste 8, Aeoline 8
			rh lacks principal, reed`},
		source: "common practice, from memory: no celeste without its string",
	},
	{
		name: "Volles Werk", organ: "leipzig-st-petri-sauer-1885", lang: "de",
		sections: score(bigChords, "rh: Volles Werk"),
		accept: []string{`
			rh on I. Manual
			rh has I. Manual Principal 8, I. Manual Octave 4, Mixtur III, Trompete 8
			rh lacks celeste, vox humana, Clarinette 8
			coupler II. Manual to I. Manual
			feet has Posaune 16, Principal 16`},
		source: "common practice, from memory: with 16′ and pedal reeds",
	},
	{
		name: "the pedal of a volles Werk without couplers to the pedal", organ: "north-german-baroque", lang: "de",
		sections: score(bigChords, "rh: HW Volles Werk", "feet: Ped. Plenum"),
		accept: []string{`
			rh on Hauptwerk
			rh has Octave 8, Octave 4, Mixtur VI
			feet has Principal 16, Octave 8, Octave 4, Mixtur V`},
		source: "common practice of north Germany",
	},
}
