package passage

// findKeyShift tells whether the file has the pedal an octave lower than the
// keys: some exporters give the pedal staff an F clef with
// <clef-octave-change>-1 and write what a 16′ stop sounds. Clef and range
// together decide. No pedalboard goes below C2 or above G4 (see the compass
// standards in registry), so notes beyond can only be keys in one of the two
// octaves; where both fit, the octave counts in which the part lies as pedal
// parts mostly do.
func (s *Staff) findKeyShift() {
	keys := s.keys()
	if len(keys) == 0 {
		return
	}
	const lowestKey, highestKey, usualMiddle = 36, 67, 46 // C2, G4, B♭2
	low, middle, high := keys[0], keys[len(keys)/2], keys[len(keys)-1]
	fitsLow := high+12 <= highestKey && low+12 >= lowestKey
	nearer := 2*(usualMiddle-middle) > 12
	if high > highestKey && high-12 <= highestKey && low-12 >= lowestKey && s.writtenHigh() {
		s.KeyShift = -1
		s.Evidence = append(s.Evidence, "the part is written an octave above what sounds, so the keys are an octave below the pitches in the file")
		return
	}
	below := 0
	for below < len(keys) && keys[below] < lowestKey {
		below++
	}
	switch s.octaveClef() {
	case -1:
		switch {
		case below > 0, fitsLow && nearer:
			s.KeyShift = 1
			s.Evidence = append(s.Evidence, "its clef is an F clef with an 8 below and the pitches lie an octave low, so the keys are an octave above the pitches in the file")
		default:
			s.Evidence = append(s.Evidence, "its clef is an F clef with an 8 below, but the pitches lie on the pedalboard as they are, so they are the keys")
		}
	case 0:
		if fitsLow && 5*below > len(keys) {
			s.KeyShift = 1
			s.Evidence = append(s.Evidence, "its pitches lie below every pedalboard, so the keys are an octave above the pitches in the file")
		}
	}
}

// writtenHigh reports whether the file says that the staff is written an octave
// above what sounds, as for a double bass.
func (s *Staff) writtenHigh() bool {
	for _, t := range s.Part.Transposes {
		if (t.Staff == 0 || t.Staff == s.Number) && t.Chromatic+12*t.OctaveChange == -12 {
			return true
		}
	}
	return false
}

// octaveClef is the octave change of the staff's first F clef, 0 if plain.
func (s *Staff) octaveClef() int {
	for _, c := range s.Part.Clefs {
		if c.Staff == s.Number && c.Sign == "F" {
			return c.OctaveChange
		}
	}
	return 0
}
