package organfile

// An Outline is an organ in a few words.
type Outline struct {
	Name    string
	Manuals int
	Stops   int
}

// Outlined reads of an organ file what a list of organs shows, without finding
// out what the stops mean, which takes most of the time of [Read]. The file
// must be one that Read finds in order; ok is false where it is no YAML.
func Outlined(data []byte) (o Outline, ok bool) {
	r := &reader{}
	body, ok := r.parse(data)
	if !ok {
		return o, false
	}
	top := r.fields(body, "an organ file", organKeys...)
	o.Name = r.text(top["name"])
	o.Manuals = len(r.list(top["keyboards"]))
	for _, d := range r.list(top["divisions"]) {
		o.Stops += len(r.list(r.fields(d, "a division", divisionKeys...)["stops"]))
	}
	return o, true
}
