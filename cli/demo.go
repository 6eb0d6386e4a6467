package cli

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/examples"
	"spadework/exchange"
	"spadework/server"
	"spadework/sheet"
	"spadework/store"
	"spadework/web"
)

// demoCommand serves the example from a store that is gone afterwards.
type demoCommand struct {
	Addr string `help:"${help_addr}" default:"127.0.0.1:8471"`
}

// exampleFolder is the example that the demo shows; it is the job's id too.
const exampleFolder = "alder-quay"

// Run fills a store with the example and a day's records and serves it until the
// program is stopped.
func (c *demoCommand) Run(a *app) error {
	listener, err := listenHere(a.ctx, c.Addr, "cli.demo_address.remedy")
	if err != nil {
		return err
	}
	defer listener.Close()
	folder, err := os.MkdirTemp("", "spadework-demo-")
	if err != nil {
		return fileFault(os.TempDir(), err)
	}
	defer os.RemoveAll(folder)
	b, records, err := exampleDay()
	if err != nil {
		return err
	}
	p, v, err := a.planBundle(b)
	if err != nil {
		return err
	}
	s, err := store.Open(a.ctx, filepath.Join(folder, "demo.db"), store.Options{})
	if err != nil {
		return err
	}
	if err := fill(a.ctx, s, b, records); err != nil {
		return errors.Join(err, s.Close())
	}
	h := server.New(s, server.Options{Log: a.logger(), App: pages(server.Demo(p, v))})
	if !web.HasEngine() {
		a.println(v.Text("cli.no_engine"))
	}
	a.println(v.Text("cli.demo_serving", phrase.With("name", p.Job.Name), phrase.With("url", address(listener))))
	return errors.Join(serve(a.ctx, listener, h), s.Close())
}

// exampleDay is the example as a bundle, and its records as they came.
func exampleDay() (exchange.Bundle, [][]byte, error) {
	folder, err := fs.Sub(examples.Files, exampleFolder)
	if err != nil {
		return exchange.Bundle{}, nil, err
	}
	b, err := exchange.BundleOf(jobName, func(name string) ([]byte, error) { return fs.ReadFile(folder, name) })
	if err != nil {
		return b, nil, err
	}
	log, err := fs.ReadFile(folder, logPath(jobName))
	return b, bytes.Split(bytes.TrimSpace(log), []byte("\n")), err
}

// planBundle plans the job of a bundle.
func (a *app) planBundle(b exchange.Bundle) (*plan.Plan, sheet.View, error) {
	j, voice, err := b.Job()
	if err != nil {
		return nil, sheet.View{}, styled{err, voice.Language, voice.Style}
	}
	j.Today = a.today
	p, fault := plan.Make(j)
	if fault != nil {
		return nil, sheet.View{}, fault
	}
	v := sheet.View{Language: j.Language, Style: j.Style}
	if a.lang != "" {
		v.Language = a.lang
	}
	return p, v, nil
}

// fill saves the example and its records.
func fill(ctx context.Context, s *store.Store, b exchange.Bundle, records [][]byte) error {
	if _, err := s.SaveJob(ctx, store.Edit{Job: exampleFolder, Document: string(b.Encode()), Person: "demo"}); err != nil {
		return err
	}
	entries := make([]store.Entry, len(records))
	for i, r := range records {
		entries[i] = store.Entry{Body: r}
	}
	ack, err := s.Append(ctx, exampleFolder, entries)
	if err != nil {
		return err
	}
	for _, answer := range ack.Answers {
		if answer.Outcome != store.Stored {
			return phrase.NewFault(answer.Why, phrase.Message{})
		}
	}
	return nil
}

// pages are the app and, under /paper, what the plan prints.
func pages(paper http.Handler) http.Handler {
	mux := http.NewServeMux()
	mux.Handle("/paper/", http.StripPrefix("/paper", paper))
	if web.HasEngine() {
		mux.Handle("/", web.Handler())
	} else {
		mux.Handle("/", paper)
	}
	return mux
}
