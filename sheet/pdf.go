package sheet

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/hex"
	"strconv"
	"strings"
	"unicode/utf16"
)

// PDF writes a document as PDF 1.7 (ISO 32000-1) with both fonts embedded, cut
// down to what it uses. The same document gives the same bytes on every machine.
func PDF(d Document) []byte {
	w := &pdfWriter{regular: newPDFFont(regularFace()), bold: newPDFFont(boldFace())}
	w.b.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
	catalog, pages, info := w.reserve(), w.reserve(), w.reserve()
	resources := w.reserve()
	kids := make([]int, len(d.Pages))
	for i, p := range d.Pages {
		kids[i] = w.page(p, pages, resources)
	}
	w.object(pages, "<< /Type /Pages /Count "+strconv.Itoa(len(kids))+" /Kids ["+references(kids)+"] >>")
	w.object(resources, "<< /Font << /R "+reference(w.regular.write(w))+" /B "+reference(w.bold.write(w))+
		" >> /ExtGState << /T << /ca 0.1 >> /N << /ca 1 >> >> >>")
	outlines := w.outlines(d.Pages, kids)
	attached := w.attach(d.Attachments)
	w.object(catalog, "<< /Type /Catalog /Pages "+reference(pages)+" /Lang "+pdfText(string(d.Language))+
		" /Outlines "+reference(outlines)+" /ViewerPreferences << /DisplayDocTitle true >>"+attached+" >>")
	w.object(info, "<< /Title "+pdfText(d.Title)+" /Producer "+pdfText("Spadework")+pdfDate(d.Date)+" >>")
	return w.finish(catalog, info)
}

// pdfWriter gathers the objects of one file.
type pdfWriter struct {
	b             bytes.Buffer
	offsets       []int // of objects, from number 1
	regular, bold *pdfFont
}

// reserve is the number of an object still to be written.
func (w *pdfWriter) reserve() int {
	w.offsets = append(w.offsets, 0)
	return len(w.offsets)
}

func (w *pdfWriter) object(number int, body string) {
	w.offsets[number-1] = w.b.Len()
	w.b.WriteString(strconv.Itoa(number) + " 0 obj\n" + body + "\nendobj\n")
}

// stream writes a compressed stream with entries of its own.
func (w *pdfWriter) stream(data []byte, entries string) int {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	_, err := z.Write(data)
	if e := z.Close(); err != nil || e != nil {
		panic("sheet: a buffer refused a stream") // a bytes.Buffer takes everything
	}
	n := w.reserve()
	w.object(n, "<< /Length "+strconv.Itoa(packed.Len())+" /Filter /FlateDecode"+entries+" >>\nstream\n"+packed.String()+"\nendstream")
	return n
}

// page writes one page.
func (w *pdfWriter) page(p Page, parent, resources int) int {
	c := newCanvas(p.Height, w.regular, w.bold)
	for _, it := range p.Items {
		c.item(it)
	}
	content := w.stream(c.b, "")
	n := w.reserve()
	w.object(n, "<< /Type /Page /Parent "+reference(parent)+" /MediaBox [0 0 "+points(p.Width)+" "+points(p.Height)+"] /Resources "+
		reference(resources)+" /Contents "+reference(content)+annotations(p)+" >>")
	return n
}

// annotations are the links of a page.
func annotations(p Page) string {
	if len(p.Links) == 0 {
		return ""
	}
	var b strings.Builder
	for _, l := range p.Links {
		b.WriteString("<< /Type /Annot /Subtype /Link /Border [0 0 0] /Rect [" + points(l.Box.Min.X) + " " + points(p.Height-l.Box.Max.Y) + " " +
			points(l.Box.Max.X) + " " + points(p.Height-l.Box.Min.Y) + "] /A << /S /URI /URI <" + hex.EncodeToString([]byte(l.Address)) + "> >> >> ")
	}
	return " /Annots [" + b.String() + "]"
}

// outlines writes the bookmarks, one a page.
func (w *pdfWriter) outlines(pages []Page, kids []int) int {
	root := w.reserve()
	first := len(w.offsets) + 1
	for i, p := range pages {
		n := w.reserve()
		body := "<< /Title " + pdfText(p.Title) + " /Parent " + reference(root) + " /Dest [" + reference(kids[i]) + " /Fit]"
		if i > 0 {
			body += " /Prev " + reference(n-1)
		}
		if i < len(pages)-1 {
			body += " /Next " + reference(n+1)
		}
		w.object(n, body+" >>")
	}
	body := "<< /Type /Outlines"
	if len(pages) > 0 {
		body += " /First " + reference(first) + " /Last " + reference(first+len(pages)-1) + " /Count " + strconv.Itoa(len(pages))
	}
	w.object(root, body+" >>")
	return root
}

// finish writes the table of objects and the trailer.
func (w *pdfWriter) finish(catalog, info int) []byte {
	id := sha256.Sum256(w.b.Bytes())
	start := w.b.Len()
	size := strconv.Itoa(len(w.offsets) + 1)
	w.b.WriteString("xref\n0 " + size + "\n0000000000 65535 f \n")
	for _, at := range w.offsets {
		s := strconv.Itoa(at)
		w.b.WriteString(strings.Repeat("0", 10-len(s)) + s + " 00000 n \n")
	}
	tag := "<" + hex.EncodeToString(id[:16]) + ">"
	w.b.WriteString("trailer\n<< /Size " + size + " /Root " + reference(catalog) + " /Info " + reference(info) + " /ID [" + tag + tag + "] >>\nstartxref\n" +
		strconv.Itoa(start) + "\n%%EOF\n")
	return w.b.Bytes()
}

func reference(number int) string { return strconv.Itoa(number) + " 0 R" }

func references(numbers []int) string {
	out := make([]string, len(numbers))
	for i, n := range numbers {
		out[i] = reference(n)
	}
	return strings.Join(out, " ")
}

// pdfText is a text string in UTF-16 (ISO 32000-1, 7.9.2.2).
func pdfText(s string) string {
	var b strings.Builder
	b.WriteString("<feff")
	for _, u := range utf16.Encode([]rune(s)) {
		b.WriteString(hex4(int(u)))
	}
	return b.String() + ">"
}

// pdfDate is the entry of the day a document was made, none where it is not told.
func pdfDate(iso string) string {
	if digits := strings.ReplaceAll(iso, "-", ""); len(digits) == 8 && strings.Trim(digits, "0123456789") == "" {
		return " /CreationDate (D:" + digits + ")"
	}
	return ""
}

const hexDigits = "0123456789abcdef"

func hex4(n int) string {
	return string([]byte{hexDigits[n>>12&15], hexDigits[n>>8&15], hexDigits[n>>4&15], hexDigits[n&15]})
}

// pointsPerMillimetre: a point is a 72nd of an inch.
const pointsPerMillimetre = 72 / 25.4

// points is millimetres as points of the page, to a hundredth.
func points(mm float64) string { return string(appendPoints(nil, mm)) }

func appendPoints(b []byte, mm float64) []byte {
	return appendFigure(b, float64(mm*pointsPerMillimetre))
}

// appendFigure writes a figure to a hundredth, without noughts at its end.
func appendFigure(b []byte, v float64) []byte {
	start := len(b)
	b = strconv.AppendFloat(b, v, 'f', 2, 64)
	for b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	if b[len(b)-1] == '.' {
		b = b[:len(b)-1]
	}
	if string(b[start:]) == "-0" {
		return append(b[:start], '0')
	}
	return b
}
