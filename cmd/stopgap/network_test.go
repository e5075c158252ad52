package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestNoNetwork: what would open a connection or look a host up is not in the
// program at all.
func TestNoNetwork(t *testing.T) {
	if testing.Short() {
		t.Skip("too long")
	}
	program := filepath.Join(t.TempDir(), "stopgap")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	symbols, err := exec.Command("go", "tool", "nm", program).Output()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(symbols), " main.main\n") {
		t.Fatal("the program has no symbols")
	}
	for _, name := range []string{"net.(*Dialer)", "net.Dial", "net.(*Resolver).", "net/http.", "syscall.connect", "syscall.socket"} {
		if strings.Contains(string(symbols), " T "+name) {
			t.Errorf("%s is in the program", name)
		}
	}
}
