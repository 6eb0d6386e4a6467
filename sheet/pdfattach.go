package sheet

import (
	"bytes"
	"compress/zlib"
	"io"
	"strconv"
	"strings"

	"spadework/engine/phrase"
)

// attach embeds files and gives the entries of the catalogue that name them
// (ISO 32000-1, 7.11.4; /AF as ISO 32000-2, 14.13).
func (w *pdfWriter) attach(list []Attachment) string {
	if len(list) == 0 {
		return ""
	}
	var names strings.Builder
	specs := make([]int, len(list))
	for i, a := range list {
		file := w.stream(a.Data, " /Type /EmbeddedFile /Subtype /"+strings.ReplaceAll(a.Media, "/", "#2F")+
			" /Params << /Size "+strconv.Itoa(len(a.Data))+" >>")
		specs[i] = w.reserve()
		w.object(specs[i], "<< /Type /Filespec /F "+pdfText(a.Name)+" /UF "+pdfText(a.Name)+" /Desc "+pdfText(a.Words)+
			" /AFRelationship /Data /EF << /F "+reference(file)+" /UF "+reference(file)+" >> >>")
		names.WriteString(pdfText(a.Name) + " " + reference(specs[i]) + " ")
	}
	return " /Names << /EmbeddedFiles << /Names [" + names.String() + "] >> >> /AF [" + references(specs) + "]"
}

// maxAttached bounds what is unpacked of a PDF: 64 MiB hold 80 000 records.
const maxAttached = 64 << 20

// Attached gives the first file embedded in a PDF that this package wrote, as
// Proof embeds its own. Any other file is one fault; nothing over 64 MiB is
// unpacked. Whether the pages are those of the file is for the caller to see by
// writing them anew.
func Attached(pdf []byte) ([]byte, *phrase.Fault) {
	if !bytes.HasPrefix(pdf, []byte("%PDF-")) {
		return nil, attachedFault("proven.not_pdf")
	}
	_, rest, found := bytes.Cut(pdf, []byte(" /Type /EmbeddedFile "))
	_, body, open := bytes.Cut(rest, []byte(">>\nstream\n"))
	if !found || !open {
		return nil, attachedFault("proven.no_attachment")
	}
	z, err := zlib.NewReader(bytes.NewReader(body))
	if err != nil {
		return nil, attachedFault("proven.bad_attachment")
	}
	data, err := io.ReadAll(io.LimitReader(z, maxAttached+1))
	if err != nil || len(data) > maxAttached {
		return nil, attachedFault("proven.bad_attachment")
	}
	return data, nil
}

func attachedFault(key phrase.Key) *phrase.Fault {
	return phrase.NewFault(phrase.New(key), phrase.New("proven.attachment.remedy"))
}
