package resolve

// Weights of the cost, in points. A point is the smallest step that an
// organist would notice; all are integers, so that every machine finds the
// same plan. They are the judgement of organists, not measurements (common
// practice, weighed from memory).
const (
	// costManualRank is for each step down the list of divisions that stand in for the one named.
	costManualRank = 12
	// costManualElsewhere is for a division that is there by name but left for another.
	costManualElsewhere = 60
	// costMapChange is for giving a division of the score another home than in the passage before.
	costMapChange = 40
	// costOtherKind is for another kind of the same family: an open flute for a stopped one.
	costOtherKind = 15
	// costOtherName is for the same kind under another name.
	costOtherName = 6
	// costFamilyNear and costFamilyFar are for a neighbouring and a foreign tone family.
	costFamilyNear = 70
	costFamilyFar  = 140
	// costReedForFlue is for a reed where a flue is asked, or the other way round.
	costReedForFlue = 220
	// costForbiddenReed is for a Clarinet, Vox humana or Tuba where the chorus reeds are asked.
	costForbiddenReed = 400
	// costLoudness is for each class of loudness between what the name means and what is drawn.
	costLoudness = 8
	// costLend is for each division that has to be coupled in for one of its stops.
	costLend = 45
	// costUnisonOff is for a lending that needs Unison Off and an octave coupler.
	costUnisonOff = 60
	// costOctave is for each octave that the player has to move a line; feet lines move less readily than hands.
	costOctave = 50
	// costMissingSolo is for a pitch of a solo that cannot be had: no colour is worth it.
	costMissingSolo = 2000
	// costMissingUnison is for an 8′ (on the pedal also a 16′) ground that cannot be had.
	costMissingUnison = 900
	// costMissingUpper is for an octave pitch above the ground that is left out.
	costMissingUpper = 160
	// costMissingMutation is for a mutation or mixture that is left out of a chorus: it is said, never faked.
	costMissingMutation = 110
	// costMissingDouble is for a 16′ on a manual or a 32′ that is left out: weight goes first.
	costMissingDouble = 70
	// costOffKey is for each note that is not on the keyboard, costOffStop for each on which a stop does not speak.
	costOffKey  = 400
	costOffStop = 120
	// costNoCoupler is for a coupler that is asked for and not there.
	costNoCoupler = 90
	// costShared is for two lines of different registration that have to share one keyboard.
	costShared = 500
	// costStranger is for each stop that a coupler brings to a line that did not ask for it.
	costStranger = 300
	// costNotEnclosed is for a line that swells on a division without a box.
	costNotEnclosed = 55
	// costMoveStop is for each stop or coupler moved between two passages, beyond what the score itself moves.
	costMoveStop = 2
	// costReinforced is for a stop drawn beside the one asked for, to bring it nearer.
	costReinforced = 20
)
