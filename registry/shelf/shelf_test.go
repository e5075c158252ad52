package shelf

import (
	"bytes"
	"testing"

	"stopgap/registry/organfile"
)

// Every organ of the shelf passes the check, without a warning.
func TestEveryOrganPassesTheCheck(t *testing.T) {
	for _, name := range Names() {
		data, err := File(name)
		if err != nil {
			t.Fatal(err)
		}
		o, findings := organfile.Read(name+".yaml", data)
		for _, f := range findings {
			t.Errorf("%v", f)
		}
		if o == nil {
			continue
		}
		if o.Source == "" {
			t.Errorf("%s has no source", name)
		}
	}
}

// What is shown as a file can be checked and shown again, and is the same.
func TestShowCheckShowIsStable(t *testing.T) {
	for _, name := range Names() {
		o, err := Open(name)
		if err != nil {
			t.Error(err)
			continue
		}
		first := organfile.Write(o)
		again, findings := organfile.Read(name, first)
		if again == nil {
			t.Errorf("%s: %v\n%s", name, findings, first)
			continue
		}
		if second := organfile.Write(again); !bytes.Equal(first, second) {
			t.Errorf("%s changes from\n%s\nto\n%s", name, first, second)
		}
		if o.Totals() != again.Totals() {
			t.Errorf("%s: %+v became %+v", name, o.Totals(), again.Totals())
		}
	}
}
