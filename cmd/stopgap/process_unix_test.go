//go:build unix

package main

import (
	"os/exec"
	"runtime"
	"syscall"
	"testing"
	"time"
)

// A process is what a run of a program took: time on the clock and on the
// processors, and the most memory at any time.
type process struct {
	time, busy time.Duration
	bytes      int64
	status     int
}

// measured runs a program.
func measured(t testing.TB, cmd *exec.Cmd) process {
	t.Helper()
	began := time.Now()
	p := process{status: statusOf(t, cmd), time: time.Since(began)}
	p.busy = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	if usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		p.bytes = int64(usage.Maxrss)
		if runtime.GOOS != "darwin" && runtime.GOOS != "ios" {
			p.bytes <<= 10 // elsewhere it is counted in KiB
		}
	}
	return p
}

// best keeps the shorter time and the smaller memory of two runs.
func (p *process) best(q process) {
	if p.time == 0 || q.time < p.time {
		p.time = q.time
	}
	if p.bytes == 0 || q.bytes < p.bytes {
		p.bytes = q.bytes
	}
}
