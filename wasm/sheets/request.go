package main

import (
	"encoding/json"
	"fmt"
	"io/fs"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/exchange"
	"spadework/sheet"
)

// request is a job with what to print of it.
type request struct {
	Job      string            `json:"job"`    // text of the job file
	Tables   map[string]string `json:"tables"` // the files it names
	Today    string            `json:"today"`
	Language phrase.Language   `json:"language"` // "": the job's
	Paper    string            `json:"paper"`    // "letter" or "a4"; "": letter
	Parts    []sheet.Part      `json:"parts"`
	Digs     []string          `json:"digs"`
	Link     string            `json:"link"` // address of the app; "": no codes
	Records  []json.RawMessage `json:"records"`
	Foremen  []string          `json:"foremen"`
}

// answer is the PDF that a request asks for.
func answer(data []byte) ([]byte, error) {
	var q request
	if err := json.Unmarshal(data, &q); err != nil {
		return nil, fmt.Errorf("request: %w", err)
	}
	j, _, err := exchange.ReadJob("job.toml", []byte(q.Job), func(name string) ([]byte, error) {
		if text, ok := q.Tables[name]; ok {
			return []byte(text), nil
		}
		return nil, fs.ErrNotExist
	})
	if err != nil {
		return nil, err
	}
	j.Today = q.Today
	p, fault := plan.Make(j)
	if fault != nil {
		return nil, fault
	}
	v := sheet.View{Language: j.Language, Style: j.Style}
	if q.Language != "" {
		v.Language = q.Language
	}
	o, err := q.options()
	if err != nil {
		return nil, err
	}
	d, fault := sheet.Book(p, v, o)
	if fault != nil {
		return nil, fault
	}
	return sheet.PDF(d), nil
}

// options are those of the request; a paper it does not know is Letter.
func (q request) options() (sheet.BookOptions, error) {
	paper, ok := sheet.PaperNamed(q.Paper)
	if !ok {
		paper = sheet.Letter
	}
	o := sheet.BookOptions{Paper: paper, Parts: q.Parts, Digs: q.Digs}
	if q.Link != "" {
		o.Address = func(k sheet.Card) string { return sheet.CardAddress(q.Link, k) }
	}
	log := record.Input{Foremen: q.Foremen}
	for _, body := range q.Records {
		r, fault := record.Decode(body)
		if fault != nil {
			return o, fault
		}
		log.Records = append(log.Records, r)
	}
	o.Log = record.Replay(log)
	return o, nil
}
