// Package sound computes how stops sound: how loud, how bright, of what
// colour, and which line stands out, as a listener in the church would hear
// it. It is arithmetic only; it reads no files but its own embedded tables.
//
// A Stop has pipes at every key. Each pipe has a level, by the loudness class
// of the stop's name and by the pipe's pitch, and a spectrum, by its kind:
// two straight lines in dB over the number of the partial, with what stopped
// pipes, reeds and tapered pipes have besides (spectra.tsv). What sounds
// together adds in power, partial by partial and band by band. A swell Box is
// a filter. From the band powers of a Passage comes what is Heard: loudness
// by the model of ISO 532-1 (Zwicker), brightness as the middle of the
// loudness on the ear's scale, colour as the levels of the critical bands.
//
// Levels are in dB over 20 µPa at the listener; the reference is assumed
// (levels.tsv), so only differences say something. Keys are numbered as in
// MIDI 1.0: 60 is middle C, the note that an 8′ rank sounds there. A
// tremulant changes nothing here.
//
// Every figure in the tables has its source beside it or "from memory".
package sound
