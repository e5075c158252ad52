package direction

import (
	"slices"
	"strings"
	"testing"

	"stopgap/registry/pitch"
)

// classes are those that the reader knows.
var classes = []class{
	classDivision, classJoined, classHand, classGroup, classFamily, classFull, classStops, classAdd, classOff, classSet, classOn, classIn,
	classWith, classWithout, classExcept, classReduce, classPrepare, classPrepared, classLater, classRecall, classTo, classAt, classOf,
	classAnd, classOr, classArticle, classOnly, classAll, classCoupled, classCouple, classUncoupled, classUncouple, classCoupler,
	classPedalCoupler, classOctave, classOctaveCoupler, classUnisonOff, classManualCoupling, classBox, classBoxState, classBoxVerb,
	classHalf, classGradual, classTremulant, classStrength, classLevel, classRole, classManual, classManuals, classManualsOnly,
	classWithPedal, classOrdinal, classOrgan, classNeutral, classExpression, classTempo, classVoice, classHeading, classInstrument,
	classLikeness, classCommonName, classDevice, classRange, classRanks, classFeet,
}

// TestVocabulary checks every word of the vocabulary: its class is known, and
// its value is one that the class can have.
func TestVocabulary(t *testing.T) {
	values := map[class][]string{
		classHand: {"rh", "lh", "both", "feet"}, classAdd: {"pre", "post", "both"}, classOff: {"pre", "post", "both"},
		classCoupler: {"one", "many"}, classPedalCoupler: {"one", "many"}, classOctave: {"4", "16", "16 4", "4 16"}, classOctaveCoupler: {"4", "16"},
		classBoxState: boxStates, classBoxVerb: {"shut", "open"}, classStrength: strengths, classLevel: levels, classRole: leadStates,
		classManual: {"one", "many"}, classOrdinal: {"1", "2", "3", "4", "5"},
	}
	count := 0
	var walk func(n *node, path string)
	walk = func(n *node, path string) {
		for _, s := range n.senses {
			count++
			if !slices.Contains(classes, s.class) {
				t.Errorf("%q has the class %q, which is not known", path, s.class)
			}
			if allowed := values[s.class]; allowed != nil && s.value != "" && !slices.Contains(allowed, s.value) {
				t.Errorf("%q: %q is no value of the class %s", path, s.value, s.class)
			}
			switch s.class {
			case classDivision, classJoined:
				for _, r := range strings.Fields(s.value) {
					if _, ok := roles[r]; !ok {
						t.Errorf("%q: %q is no division", path, r)
					}
				}
			case classGroup, classFamily:
				fields := strings.Fields(s.value)
				if len(fields) < 2 || !slices.Contains(groups, Group(fields[0])) {
					t.Errorf("%q: %q is no group and pitch", path, s.value)
				} else if _, err := pitch.ParseFeet(fields[1]); err != nil && fields[1] != "*" && fields[1] != "?" {
					t.Errorf("%q: %v", path, err)
				}
			}
		}
		for w, c := range n.next {
			walk(c, strings.TrimSpace(path+" "+w))
		}
	}
	walk(vocabulary(), "")
	if count < 2000 {
		t.Errorf("the vocabulary has only %d meanings", count)
	}
}

// TestVocabularyRows checks that broken rows are told.
func TestVocabularyRows(t *testing.T) {
	const header = "words\tlanguage\tclass\tvalue\tordinary\tsource\n"
	for _, row := range []string{
		"add\ten\tadd\tpre\tyes", "add\ten\tadd\tpre\tyes\t", "add\txx\tadd\tpre\tyes\tfrom memory",
	} {
		if err := readVocabulary(&node{}, "test.tsv", header+row); err == nil {
			t.Errorf("%q is taken", row)
		}
	}
}
