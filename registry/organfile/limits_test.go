package organfile

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// TestLimitsAsDocumented holds the table of README.md against the limits.
func TestLimitsAsDocumented(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []string{
		fmt.Sprintf("| organ file | size of the file | %d MiB |", MaxSize>>20),
		fmt.Sprintf("| organ file | keyboards | %d |", maxKeyboards),
		fmt.Sprintf("| organ file | divisions | %d |", maxDivisions),
		fmt.Sprintf("| organ file | stops | %d,%03d |", maxStops/1000, maxStops%1000),
		fmt.Sprintf("| organ file | couplers | %d |", maxCouplers),
		fmt.Sprintf("| organ file | a name, or what stands on a knob | %d bytes |", maxName),
	} {
		if !strings.Contains(string(text), "\n"+row+"\n") {
			t.Errorf("README.md lacks %s", row)
		}
	}
}
