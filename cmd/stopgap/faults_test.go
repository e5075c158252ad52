//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const prelude = "../../testdata/chorale-prelude.musicxml"

// copyOf copies a score into a folder of its own.
func copyOf(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "score.musicxml")
	write(t, to, data)
	return to
}

// wantRefused runs a command that must fail with one line that holds a text.
func wantRefused(t *testing.T, cmd *exec.Cmd, text string) {
	t.Helper()
	var out, stderr bytes.Buffer
	cmd.Stderr = &stderr
	if cmd.Stdout == nil {
		cmd.Stdout = &out
	}
	status := statusOf(t, cmd)
	if status != exitBad || !strings.Contains(stderr.String(), text) || strings.Count(stderr.String(), "\n") != 1 || out.Len() > 0 {
		t.Errorf("status %d, standard error %q, standard output %q; want 2 and %q", status, stderr.String(), out.String(), text)
	}
}

// wantUnchanged checks that a folder holds the score as it was and nothing else.
func wantUnchanged(t *testing.T, score string) {
	t.Helper()
	wantSame(t, score, prelude)
	entries, err := os.ReadDir(filepath.Dir(score))
	if err != nil || len(entries) != 1 {
		t.Errorf("the folder holds %v (%v)", entries, err)
	}
}

func wantSame(t *testing.T, a, b string) {
	t.Helper()
	x, errX := os.ReadFile(a)
	y, errY := os.ReadFile(b)
	if errX != nil || errY != nil || !bytes.Equal(x, y) {
		t.Errorf("%s is not the same as %s (%v, %v)", a, b, errX, errY)
	}
}

// TestFullDisk: no room for the marked score leaves all as it was. A limit of
// the size of files stands in for the full disk.
func TestFullDisk(t *testing.T) {
	score := copyOf(t, prelude)
	shell, err := exec.LookPath("sh")
	if err != nil {
		missing(t, "there is no shell to set a limit of the size of files")
	}
	for _, args := range [][]string{
		{"annotate", score},
		{"annotate", "--force", "-o", score, score},
		{"plan", "-o", score + ".txt", score},
		{"strip", "-o", score + ".stripped", score},
	} {
		cmd := command(t)
		limited := exec.Command(shell, append([]string{"-c", `ulimit -f 2 || exit 77; exec "$0" "$@"`, cmd.Path}, args...)...)
		limited.Env = cmd.Env
		if args[0] == "strip" || args[0] == "plan" {
			limited.Args[2] = strings.Replace(limited.Args[2], "-f 2", "-f 0", 1)
		}
		wantRefused(t, limited, "file too large")
		wantUnchanged(t, score)
	}
}

// TestFullStandardOutput: what cannot be printed is said, whatever the command.
func TestFullStandardOutput(t *testing.T) {
	const full = "/dev/full"
	if _, err := os.Stat(full); err != nil {
		missing(t, "there is no "+full)
	}
	score := copyOf(t, prelude)
	for _, args := range [][]string{
		{"annotate", "-o", "-", "-q", score},
		{"annotate", score},
		{"strip", "-o", score + ".stripped", score},
		{"plan", score},
		{"plan", "--format", "html", score},
		{"read", score},
		{"read", "--plain", score},
		{"check", score},
		{"organ", "list"},
		{"organ", "show", "demonstration"},
		{"organ", "stop", "Gedackt"},
		{"organ", "check", "demonstration"},
		{"--help"},
		{"plan", "--help"},
	} {
		out, err := os.OpenFile(full, os.O_WRONLY, 0)
		if err != nil {
			missing(t, err.Error())
		}
		cmd := command(t, args...)
		cmd.Stdout = out
		wantRefused(t, cmd, "standard output: ")
		out.Close()
	}
}

// TestReaderGone: when nobody reads standard output any more the command ends
// quietly, and does what else it has to do.
func TestReaderGone(t *testing.T) {
	score := copyOf(t, prelude)
	for _, args := range [][]string{
		{"annotate", "-o", "-", "-q", score},
		{"annotate", score},
		{"plan", score},
		{"plan", "--format", "json", score},
		{"read", score},
		{"check", score},
		{"organ", "list"},
		{"organ", "show", "demonstration"},
	} {
		r, w, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		r.Close()
		var stderr bytes.Buffer
		cmd := command(t, args...)
		cmd.Stdout, cmd.Stderr = w, &stderr
		if status := statusOf(t, cmd); status == exitBad || stderr.Len() > 0 {
			t.Errorf("%v: status %d, standard error %q", args, status, stderr.String())
		}
		w.Close()
	}
	wantSame(t, score, prelude)
	if _, err := os.Stat(strings.TrimSuffix(score, ".musicxml") + ".annotated.musicxml"); err != nil {
		t.Error("the marked score was not written")
	}
}

// TestNowhereToWrite: a folder that has gone, or that may not be written to.
func TestNowhereToWrite(t *testing.T) {
	score := copyOf(t, prelude)
	wantRefused(t, command(t, "annotate", "-o", filepath.Join(filepath.Dir(score), "gone", "out.musicxml"), score), "cannot be written")
	wantUnchanged(t, score)
	wantRefused(t, command(t, "annotate", "--out-dir", score, score), "")
	wantUnchanged(t, score)

	unprivileged := func(args ...string) *exec.Cmd {
		cmd := command(t, args...)
		if os.Getuid() != 0 {
			return cmd
		}
		setpriv, err := exec.LookPath("setpriv")
		if err != nil {
			missing(t, "root may write everywhere, and there is no setpriv to do without that")
		}
		as := exec.Command(setpriv, append([]string{"--bounding-set=-all", "--inh-caps=-all", "--", cmd.Path}, args...)...)
		as.Env = cmd.Env
		return as
	}
	dir := filepath.Dir(score)
	t.Cleanup(func() { os.Chmod(dir, 0o755) })
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	wantRefused(t, unprivileged("annotate", score), "permission denied")
	wantRefused(t, unprivileged("annotate", "--force", "-o", score, score), "permission denied")
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	wantUnchanged(t, score)
	if err := os.Chmod(score, 0); err != nil {
		t.Fatal(err)
	}
	wantRefused(t, unprivileged("annotate", score), "this file may not be read")
	wantRefused(t, unprivileged("plan", "--pin", "@"+score, prelude), "this file may not be read")
	wantRefused(t, unprivileged("plan", "--organ", score, prelude), "this file may not be read")
}

// TestScoreByOtherNames: the score is known by whatever path or link it is
// named, and is not overwritten unless that is asked for.
func TestScoreByOtherNames(t *testing.T) {
	score := copyOf(t, prelude)
	dir := filepath.Dir(score)
	links := t.TempDir()
	symbolic, hard := filepath.Join(links, "symbolic.musicxml"), filepath.Join(links, "hard.musicxml")
	names := []string{
		score,
		filepath.Join(dir, ".", "..", filepath.Base(dir), "score.musicxml"),
		dir + "//score.musicxml",
	}
	if err := os.Symlink(score, symbolic); err == nil {
		names = append(names, symbolic)
	}
	if err := os.Link(score, hard); err == nil {
		names = append(names, hard)
	}
	for _, from := range names {
		for _, to := range names {
			for _, args := range [][]string{{"annotate"}, {"strip"}, {"plan"}} {
				wantRefused(t, command(t, append(args, "-o", to, from)...), "this is the score itself")
			}
		}
	}
	wantUnchanged(t, score)
	wantSame(t, filepath.Join(links, "hard.musicxml"), prelude)

	// Asked for, it is overwritten, and the link stays one.
	marked := filepath.Join(t.TempDir(), "marked.musicxml")
	if status := statusOf(t, command(t, "annotate", "-o", marked, score)); status != exitDone {
		t.Fatal(status)
	}
	if status := statusOf(t, command(t, "annotate", "--force", "-o", symbolic, symbolic)); status != exitDone {
		t.Fatal(status)
	}
	wantSame(t, score, marked)
	if info, err := os.Lstat(symbolic); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link is no link any more")
	}
	wantSame(t, hard, prelude) // another name, which nobody asked to change
}

// TestKilled: whenever the command is killed, the file is the old one or the
// new one, whole.
func TestKilled(t *testing.T) {
	dir := t.TempDir()
	score := filepath.Join(dir, "score.musicxml")
	old := longScore{measures: 300, every: 50}.text()
	write(t, score, old)
	marked := filepath.Join(dir, "marked.musicxml")
	began := time.Now()
	if status := statusOf(t, command(t, "annotate", "-o", marked, score)); status != exitDone {
		t.Fatal(status)
	}
	whole := time.Since(began)
	replaced, err := os.ReadFile(marked)
	if err != nil {
		t.Fatal(err)
	}
	const kills = 12
	for i := range kills {
		write(t, score, old)
		cmd := command(t, "annotate", "--force", "-q", "-o", score, score)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// Most of the time is over before the file is written.
		time.Sleep(whole * time.Duration(kills+i) / (2 * kills))
		cmd.Process.Kill()
		cmd.Wait()
		got, err := os.ReadFile(score)
		if err != nil || !bytes.Equal(got, old) && !bytes.Equal(got, replaced) {
			t.Fatalf("killed after %v of %v, the file is neither the old nor the new one (%v)", whole*time.Duration(kills+i)/(2*kills), whole, err)
		}
	}
}
