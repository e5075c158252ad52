package resolve

// Weights of the cost, in points. A point is the smallest step that an
// organist would mind; all are integers, so that every machine finds the same
// plan. They are judgement (common practice, weighed from memory), not
// measurement. The distances between kinds of stops stand in nearness.tsv,
// those between divisions in stands_in.tsv.
const (
	// The manual that is named counts least for a solo, which only wants a
	// keyboard of its own, and most for a chorus, whose step from manual to
	// manual is part of the music. Points for each rank of stands_in.tsv, and
	// once for leaving a division that is there by name.
	rankSolo, elsewhereSolo                   = 3, 14
	rankAccompaniment, elsewhereAccompaniment = 5, 24
	rankChorus, elsewhereChorus               = 8, 90

	// preferredTimes is how many times more, or less, the manual that is named
	// counts where the player prefers it, or the colour.
	preferredTimes = 4

	// costMapChange is for giving a division of the score another home than in
	// the passage before: one map serves a whole section.
	costMapChange = 45
	// costStep is for the step from one manual to another that is lost because a
	// chorus goes on from the same keyboard.
	costStep = 120
	// costTextChange is for giving what is asked in the same words other stops than before.
	costTextChange = 12

	// costLoudness is for each phon by which a stop is louder or softer than the
	// one asked for, costColour for each decibel of difference in colour, up to a limit.
	costLoudness    = 2
	costColour      = 2
	costSoundAtMost = 40
	// costStrength is for each class of loudness away from "soft" or "loud".
	costStrength = 8
	// costBelow is for each class by which a stop of an accompaniment is louder
	// than a soft one, where the score leaves open which it is.
	costBelow = 6
	// costForeign is for a stop of a family that otherwise never stands in for
	// the one asked, where only it keeps the pitch of a solo.
	costForeign = 400
	// costChorusFamily is the most for a flue of another family in a chorus: any
	// 8′ will do for its ground, and a flute fills a gap above it.
	costChorusFamily = 70
	// costOtherName is for the same kind of stop under another name.
	costOtherName = 3
	// costPassedOver is what another stop costs at least where the division has
	// the very one that is named: more than it can save to leave two knobs as
	// they are, at both ends of a passage.
	costPassedOver = 4*costMoveBusy + 1

	// costPinned is for a pin that asks for what the program would not have offered.
	costPinned = 60
	// costOtherPitch is for each octave by which a solo is off its pitch where
	// nothing has it, missSoloAll for its silence, both beside missSoloPitch.
	costOtherPitch, missSoloAll = 200, 1500
	// costWarm is for a second stop beside one that stands in for another family.
	costWarm = 6
	// costThinCornet is for a Cornet alone that has no 8′ of its own. What a
	// Cornet costs that is made up from single ranks stands in compounds.tsv.
	costThinCornet = 260
	// costPrincipalRank is for a principal of 4′ or 2′ among the flutes of a
	// Cornet: the Prestant and the Doublette of a Jeu de tierce.
	costPrincipalRank = 16
	// costDetour is for playing the stops of the manual that is named from another
	// one, by coupler, for the sake of a stop that is there.
	costDetour = 20
	// costHalf is for drawing a bass that may be wanted below a stop that lacks it.
	costHalf = 3
	// costDoubled is for an octave coupler that gives a pitch for which the host
	// has no stop: dearer than another stop of the family, cheaper than one of
	// another family.
	costDoubled = 48
	// costResultant is for a deep pitch of the pedal as a resultant of two others.
	costResultant = 24
	// costInstead is for a stop that plays where nothing of what is asked can be
	// had, costInsteadOctave for each octave by which it is off the pitch: less
	// than a line that would sound nothing, more than leaving out one voice of many.
	costInstead, costInsteadOctave = 100, 40
	// costAlready is for each stop that is borrowed although it sounds there
	// already for what else is asked.
	costAlready = 40
	// costLend is for each division that is coupled in for one of its stops,
	// costUnisonOff for one that also needs its octave coupler and Unison Off.
	costLend      = 34
	costUnisonOff = 30
	// costJoin is for coupling a manual that is played to the pedal, unasked,
	// for a pitch that the pedal lacks.
	costJoin = 70
	// costCrossing is for such a manual whose line comes down to the keys of
	// the feet, so that one key serves both.
	costCrossing = 30
	// costJoinSolo is the same for a solo of the pedal, which then has the
	// colour of the hands.
	costJoinSolo = 900
	// costSplit is for each place at which a solo changes its octave or its
	// stops though nothing new is asked.
	costSplit = 50
	// costSplitColour is for each of those places at which it changes its family.
	costSplitColour = 250
	// costSwap is for changing parts between a hand and the feet: more than
	// another octave or a coupler, and about as much as another family of stop.
	costSwap = 140
	// costOctaveChange is for giving what is asked of a division in another
	// octave than in the passage before, where the same is asked in both.
	costOctaveChange = 60
	// costBriefOctave is for moving a line by an octave for a bar or two.
	costBriefOctave = 400
	// costOctave is for each octave by which a line is moved.
	costOctave = 26
	// costHandOctave is for moving a hand, which reads its own notes, rather than the feet.
	costHandOctave = 20

	// missSoloPitch is for a pitch of a solo: it is given up only where no
	// playable way keeps it, be it that the other lines have to share a keyboard.
	missSoloPitch = 4000
	// missAll is for a line that would sound nothing.
	missAll = 2000
	// missDoubled is for a voice whose pitch another voice of the registration
	// gives: its colour is lost, and no pitch. It is more than another kind of
	// stop of the family costs, and less than another octave or another hand.
	missDoubled = 80
	// What it costs to leave something out of a colour: its pitches are exact.
	missColourUnison   = 2000
	missColourMutation = 520
	missColourOctave   = 480
	missColourDouble   = 200
	// What it costs to leave something out of a chorus: the unison is sacred,
	// the upperwork thins from the top, the manual 16′ goes first.
	missChorusUnison   = 2000
	missChorusFour     = 220
	missChorusTwo      = 110
	missChorusTop      = 60
	missChorusMutation = 45
	missChorusMixture  = 120
	missChorusDouble   = 30
	missChorusReeds    = 90
	missChorusBody     = 110 // foundations that are strings alone
	// What it costs to leave something out of the pedal's bass.
	missBassSixteen   = 900
	missBassEight     = 420
	missBassThirtyTwo = 60
	missBassUpper     = 110
	// missCeleste is for a celeste that cannot be had; its string alone remains.
	missCeleste = 80

	// costOffKey is for each note that is not on the keyboard; costOffStop for
	// each on which a stop does not speak, up to a limit for each stop.
	costOffKey, costOffStop, costOffStopAtMost = 300, 14, 70
	// costOffKeyMore is for all notes of a solo after the first offKeysDear that
	// are off the keyboard; for fewer as much less as they are fewer.
	costOffKeyMore, offKeysDear = 3000, 10
	// costSoloGap is for the first note of a solo that cannot be had at its pitch.
	costSoloGap = 1500
	// costNoCoupler is for a coupler that is asked for and not there.
	costNoCoupler = 90
	// costShared is for two registrations that have to share one keyboard.
	costShared = 520
	// costMerged is for two divisions of the score that get one home between
	// them: the step from one to the other is lost, be the stops the same.
	costMerged = 130
	// costStranger is for each stop that a coupler brings to a line that did not ask for it.
	costStranger = 160
	// costNotEnclosed is for a line that swells on a division without a box.
	costNotEnclosed = 50
	// costNoTremulant is for a tremulant that the division has not.
	costNoTremulant = 25
	// costDrowned is for each decibel by which a solo falls short of standing out.
	costDrowned = 8

	// costFalls is for each stop that ceases to sound for the hands where the
	// score takes nothing away.
	costFalls = 25

	// costMove is for each stop or coupler that is moved by hand, costMoveBusy
	// where there is no rest to move it in.
	costMove, costMoveBusy = 1, 3
	// costMoveFew is the same where the player wants the fewest changes.
	costMoveFew = 12
)
