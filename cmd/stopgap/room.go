package main

import (
	"os"
	"runtime/debug"
	"sync/atomic"
)

// Memory that is no longer used is found again when it is as much as what is
// used, as is Go's custom, but sooner where both come to more than the room that
// the scores should do with: so much, and so many bytes for each of a score.
// What is kept of a score with something else to play at every note is 300 MiB
// for 8 MiB; half of that again may wait, not all of it.
const (
	roomAnyway  = 400 << 20
	roomPerByte = 8
)

var room atomic.Int64

// makeRoom sets the room for one score more, of so many bytes. GOMEMLIMIT in the
// environment has the last word.
func makeRoom(bytes int) {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(roomAnyway + room.Add(roomPerByte*int64(bytes)))
	}
}
