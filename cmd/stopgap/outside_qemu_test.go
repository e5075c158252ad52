package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"stopgap/registry/shelf"
)

// TestSamePlanOnArm64 plans every score of testdata, each for another organ,
// with the command built for another processor, whose floating point differs
// (it fuses multiplication and addition): the plan is the same, byte for byte.
// QEMU runs the program.
func TestSamePlanOnArm64(t *testing.T) {
	qemu := outside(t, "qemu-aarch64", "qemu-aarch64-static")
	golang := outside(t, "go")
	program := filepath.Join(t.TempDir(), "stopgap")
	build := exec.Command(golang, "build", "-o", program, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS=linux", "GOARCH=arm64")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	t.Setenv("STOPGAP_ORGAN", "")
	organs := shelf.Names()
	planned := 0
	for _, pattern := range []string{"*.musicxml", "annotate/*.m*"} {
		files, err := filepath.Glob(filepath.Join("..", "..", "testdata", filepath.FromSlash(pattern)))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if filepath.Ext(file) == ".md" {
				continue
			}
			args := []string{"plan", "--format", "json", "--organ", organs[planned%len(organs)], file}
			planned++
			there, err := exec.Command(qemu, append([]string{program}, args...)...).Output()
			if err != nil {
				t.Fatal(err)
			}
			if here := mustRun(t, args...); !bytes.Equal(here, there) {
				t.Errorf("%v: the plans differ%s", args, firstDifference(there, here))
			}
		}
	}
	if planned < 50 {
		t.Errorf("only %d scores planned", planned)
	}
}

func firstDifference(got, want []byte) string {
	i := 0
	for i < len(got) && i < len(want) && got[i] == want[i] {
		i++
	}
	return ": " + string(got[max(0, i-60):min(len(got), i+60)])
}
