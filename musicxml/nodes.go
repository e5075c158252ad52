package musicxml

import "strings"

// A nodeList is a sink that notes where the elements and the processing
// instructions of a text stand.
type nodeList struct {
	nodes []node
	procs []procInst
	open  []int32 // the elements that have not ended, innermost last
}

// A procInst is a processing instruction and where it stands.
type procInst struct {
	target, inst string
	at           Span
}

func newNodeList(text string) *nodeList {
	// Most elements have a start and an end tag; there are some without.
	elements := strings.Count(text, "<") * 9 / 16
	return &nodeList{nodes: make([]node, 0, elements+8)}
}

func (l *nodeList) startElement(name string, _ []attribute, tag Span) *syntaxError {
	up := int32(-1)
	if n := len(l.open); n > 0 {
		up = l.open[n-1]
	} else if err := checkRoot(name, tag.Start); err != nil {
		return err
	}
	l.open = append(l.open, int32(len(l.nodes)))
	l.nodes = append(l.nodes, node{start: int32(tag.Start), nameEnd: int32(tag.Start + 1 + len(name)), innerStart: int32(tag.End), up: up})
	return nil
}

func (l *nodeList) endElement(tag Span) {
	at := l.open[len(l.open)-1]
	l.open = l.open[:len(l.open)-1]
	n := &l.nodes[at]
	n.innerEnd, n.end = int32(tag.Start), int32(tag.End)
	n.size = int32(len(l.nodes)) - at
}

func (l *nodeList) instruction(target, inst string, at Span) {
	l.procs = append(l.procs, procInst{target, inst, at})
}

// checkRoot refuses what is XML but no score.
func checkRoot(name string, offset int) *syntaxError {
	switch name {
	case "score-partwise", "score-timewise":
		return nil
	case "opus":
		return &syntaxError{"not-musicxml", offset, "this file lists several scores (<opus>) and holds none itself", "give one of the scores that it lists"}
	case "sounds", "midi":
		return &syntaxError{"not-musicxml", offset, "this is a MusicXML file without a score (<" + name + ">)", "give a score"}
	}
	return &syntaxError{"not-musicxml", offset, "this is XML, but not a MusicXML score: it begins with <" + shorten(name) + ">", notXMLRemedy}
}

// A wellFormed sink only makes sure that the text is XML and a score.
type wellFormed struct{ depth int }

func (w *wellFormed) startElement(name string, _ []attribute, tag Span) *syntaxError {
	if w.depth++; w.depth == 1 {
		return checkRoot(name, tag.Start)
	}
	return nil
}

func (w *wellFormed) endElement(Span)               { w.depth-- }
func (*wellFormed) instruction(_, _ string, _ Span) {}
