package sheet

import (
	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// Paper is a size of paper in millimetres, upright.
type Paper struct {
	Name          string
	Width, Height float64
}

// The papers: ANSI/ASME Y14.1 size A (8.5 × 11 in) and ISO 216 A4.
var (
	Letter = Paper{"letter", 215.9, 279.4}
	A4     = Paper{"a4", 210, 297}
)

// PaperNamed is a paper by its name, "letter" or "a4".
func PaperNamed(name string) (Paper, bool) {
	for _, p := range []Paper{Letter, A4} {
		if p.Name == name {
			return p, true
		}
	}
	return Paper{}, false
}

// Link is a place of a page that opens an address.
type Link struct {
	Box     geom.Box // millimetres, y downwards
	Address string
}

// Page is one page of paper: a display list and what can be clicked.
type Page struct {
	draw.Scene
	Title string
	Links []Link
}

// Document is pages under a title. Date is the day it is made, ISO 8601, "" for
// none: it is told by the caller, so that the same document has the same bytes.
type Document struct {
	Title    string
	Language phrase.Language
	Date     string
	Pages    []Page

	Attachments []Attachment
}

// Attachment is a file embedded in a document.
type Attachment struct {
	Name, Media, Words string
	Data               []byte
}
