package mark

import "github.com/beevik/etree"

// asWritten are the settings by which an element that is added is written:
// what has to be escaped is, and nothing else, as most programs write it.
var asWritten = etree.WriteSettings{CanonicalText: true, CanonicalAttrVal: true}

// newElement makes an element with what stands in it, its attributes as names
// and values in turn.
func newElement(tag, text string, attributes ...string) *etree.Element {
	el := etree.NewElement(tag)
	for i := 0; i+1 < len(attributes); i += 2 {
		el.CreateAttr(attributes[i], attributes[i+1])
	}
	if text != "" {
		el.SetText(text)
	}
	return el
}

// holding puts elements into another, in their order.
func holding(el *etree.Element, children ...*etree.Element) *etree.Element {
	for _, c := range children {
		el.AddChild(c)
	}
	return el
}

// xml is an element as it stands in the file.
func xml(el *etree.Element) string {
	doc := etree.NewDocument()
	doc.WriteSettings = asWritten
	doc.SetRoot(el)
	text, _ := doc.WriteToString() // writing to a string cannot fail
	return text
}
