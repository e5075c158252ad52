package stopname

import "slices"

// The kinds within the families: what Known.Subfamily holds. Kinds of one
// family do not stand for one another without loss, so a plan counts how far
// apart they are.
const (
	KindPrincipal         = "principal"          // the open metal or wood rank that organs are built on
	KindGeigen            = "geigen"             // narrow principals: Violin Diapason, Geigenprincipal
	KindSoftPrincipal     = "soft principal"     // Echo Diapason, Singend Principal
	KindTapered           = "tapered principal"  // Spitzprincipal, English Gemshorn 4
	KindPrincipalMutation = "principal mutation" // Twelfth, Quinte

	KindOpenFlute     = "open flute"
	KindStoppedFlute  = "stopped flute"
	KindChimneyFlute  = "chimney flute"
	KindHarmonicFlute = "harmonic flute"
	KindTaperedFlute  = "tapered flute"
	KindQuintaton     = "quintaton" // stopped, with a strong twelfth
	KindFluteMutation = "flute mutation"

	KindGamba            = "gamba"
	KindSoftString       = "soft string" // Salicional, Aeoline
	KindDulciana         = "dulciana"    // small principals that serve as soft strings
	KindOrchestralString = "orchestral string"

	KindStringCeleste    = "string celeste"
	KindFluteCeleste     = "flute celeste"
	KindPrincipalCeleste = "principal celeste" // Voce umana

	KindChorusReed     = "chorus reed"
	KindBassoon        = "bassoon" // mild 16′ and 8′ reeds: Fagotto, Basson
	KindOboe           = "oboe"
	KindClarinet       = "clarinet"
	KindCromorne       = "cromorne"
	KindRegal          = "regal"
	KindVoxHumana      = "vox humana"
	KindTuba           = "tuba"
	KindOrchestralReed = "orchestral reed" // Cor anglais, Orchestral Oboe
	KindHorn           = "horn"            // smooth: French Horn, Waldhorn

	KindMixture       = "mixture"
	KindSharpMixture  = "sharp mixture"
	KindTierceMixture = "tierce mixture"
	KindSoftMixture   = "soft mixture"

	KindCornet       = "cornet"
	KindSesquialtera = "sesquialtera"

	KindPercussion = "percussion" // bells, bars and toy stops: no pipes, no family
)

// kindFamily is the family of each kind.
var kindFamily = map[string]Family{
	KindPrincipal: Principal, KindGeigen: Principal, KindSoftPrincipal: Principal,
	KindTapered: Principal, KindPrincipalMutation: Principal,
	KindOpenFlute: Flute, KindStoppedFlute: Flute, KindChimneyFlute: Flute, KindHarmonicFlute: Flute,
	KindTaperedFlute: Flute, KindQuintaton: Flute, KindFluteMutation: Flute,
	KindGamba: String, KindSoftString: String, KindDulciana: String, KindOrchestralString: String,
	KindStringCeleste: Celeste, KindFluteCeleste: Celeste, KindPrincipalCeleste: Celeste,
	KindChorusReed: Reed, KindBassoon: Reed, KindOboe: Reed, KindClarinet: Reed, KindCromorne: Reed,
	KindRegal: Reed, KindVoxHumana: Reed, KindTuba: Reed, KindOrchestralReed: Reed, KindHorn: Reed,
	KindMixture: Mixture, KindSharpMixture: Mixture, KindTierceMixture: Mixture, KindSoftMixture: Mixture,
	KindCornet: Cornet, KindSesquialtera: Cornet,
	KindPercussion: NoFamily,
}

// FamilyOf is the family of a kind; ok is false for a word that is no kind.
func FamilyOf(kind string) (f Family, ok bool) {
	f, ok = kindFamily[kind]
	return f, ok
}

// usualKind is what a family's word alone means: "family: flute" in an organ
// file says no more than this.
var usualKind = [...]string{
	NoFamily: "", Principal: KindPrincipal, Flute: KindOpenFlute, String: KindSoftString,
	Celeste: KindStringCeleste, Reed: KindChorusReed, Mixture: KindMixture, Cornet: KindCornet,
}

// UsualKind is the commonest kind of the family.
func UsualKind(f Family) string {
	if int(f) >= len(usualKind) {
		return ""
	}
	return usualKind[f]
}

// Kinds are the kinds of a family, in the order of the alphabet; of every
// family where NoFamily is asked for.
func Kinds(f Family) []string {
	var kinds []string
	for kind, family := range kindFamily {
		if family == f || f == NoFamily {
			kinds = append(kinds, kind)
		}
	}
	slices.Sort(kinds)
	return kinds
}

// OfFamily is what is known of a stop when its family is given, whatever its
// name means.
func OfFamily(k Known, f Family) Known {
	return OfKind(k, UsualKind(f))
}

// OfKind is what is known of a stop when its kind is given, whatever its name
// means.
func OfKind(k Known, kind string) Known {
	f, ok := FamilyOf(kind)
	if !ok {
		return k
	}
	k.Family, k.Subfamily = f, kind
	if k.Loudness == 0 {
		k.Loudness = 3
	}
	k.Solo = kindUse[kind].solo
	k.Chorus = kindUse[kind].chorus
	k.Beats = ""
	if f == Celeste {
		k.Beats = "sharp"
	}
	if k.Source == "" {
		k.Source = "the organ file"
	}
	return k
}

// kindUse is what stops of a kind are usually for.
var kindUse = map[string]struct{ solo, chorus bool }{
	KindPrincipal: {false, true}, KindGeigen: {false, true}, KindSoftPrincipal: {false, true}, KindTapered: {false, true},
	KindPrincipalMutation: {false, true}, KindOpenFlute: {true, true}, KindStoppedFlute: {false, true}, KindChimneyFlute: {true, true},
	KindHarmonicFlute: {true, true}, KindTaperedFlute: {false, true}, KindQuintaton: {false, true}, KindFluteMutation: {true, false},
	KindGamba: {true, true}, KindSoftString: {false, true}, KindDulciana: {false, true}, KindOrchestralString: {true, false},
	KindPrincipalCeleste: {true, false}, KindChorusReed: {false, true}, KindBassoon: {false, true}, KindOboe: {true, true},
	KindClarinet: {true, false}, KindCromorne: {true, false}, KindRegal: {true, false}, KindVoxHumana: {true, false},
	KindTuba: {true, false}, KindOrchestralReed: {true, false}, KindHorn: {true, false}, KindMixture: {false, true},
	KindSharpMixture: {false, true}, KindTierceMixture: {false, true}, KindSoftMixture: {false, true},
	KindCornet: {true, false}, KindSesquialtera: {true, true},
}
