// Package shelf holds the organs that come with the program: invented ones of
// the usual types, and historic ones for which composers wrote, each with its
// source.
package shelf

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"

	"stopgap/registry"
	"stopgap/registry/organfile"
)

//go:embed organs/*.yaml
var organs embed.FS

// Default is the name of the demonstration organ.
func Default() string { return "demonstration" }

// Names are the names of the organs, the demonstration organ first, then in
// the order of the alphabet.
func Names() []string {
	names := []string{Default()}
	files, err := fs.Glob(organs, "organs/*.yaml")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	for _, file := range files {
		if name := strings.TrimSuffix(strings.TrimPrefix(file, "organs/"), ".yaml"); name != Default() {
			names = append(names, name)
		}
	}
	return names
}

// Has reports whether the shelf has an organ of that name.
func Has(name string) bool {
	_, err := fs.Stat(organs, "organs/"+name+".yaml")
	return err == nil
}

// File is the organ's file as it is embedded, comments included.
func File(name string) ([]byte, error) {
	data, err := organs.ReadFile("organs/" + name + ".yaml")
	if err != nil {
		return nil, fmt.Errorf("there is no organ %q on the shelf", name)
	}
	return data, nil
}

// Outline is one of the organs in a few words.
func Outline(name string) (organfile.Outline, error) {
	data, err := File(name)
	if err != nil {
		return organfile.Outline{}, err
	}
	o, ok := organfile.Outlined(data)
	if !ok {
		return o, fmt.Errorf("the organ %q can't be read", name)
	}
	return o, nil
}

// Open reads one of the organs.
func Open(name string) (*registry.Organ, error) {
	data, err := File(name)
	if err != nil {
		return nil, err
	}
	o, findings := organfile.Read(name+".yaml", data)
	if o == nil {
		return nil, fmt.Errorf("the organ %q can't be read: %v", name, findings[0])
	}
	return o, nil
}
