package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"
)

// A process is what a run of a program took: time on the clock and on the
// processors, and the most memory at any time, 0 where the system does not
// tell.
type process struct {
	time, busy time.Duration
	bytes      int64
	status     int
}

// measured runs the test program as the command or the library.
func measured(t testing.TB, cmd *exec.Cmd) process {
	t.Helper()
	memory := filepath.Join(t.TempDir(), "memory")
	cmd.Env = append(cmd.Env, memoryTo+"="+memory)
	began := time.Now()
	p := process{status: statusOf(t, cmd), time: time.Since(began)}
	p.busy = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	if text, err := os.ReadFile(memory); err == nil {
		n, err := strconv.ParseInt(string(text), 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		p.bytes = n << 10
	}
	return p
}

// best keeps the shorter times and the smaller memory of two runs.
func (p *process) best(q process) {
	if p.busy == 0 || q.busy < p.busy {
		p.busy = q.busy
	}
	if p.time == 0 || q.time < p.time {
		p.time = q.time
	}
	if p.bytes == 0 || q.bytes < p.bytes {
		p.bytes = q.bytes
	}
}
