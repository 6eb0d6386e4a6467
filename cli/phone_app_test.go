package cli

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"strconv"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// The browser finds nothing that keeps the page from being installed, and a
// worker keeps it for the time without a network.
func TestPageIsInstallable(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.opens("/me")
	p.sees("ready to work offline")
	faults, err := chromedp.Run(p.ctx, func(ctx context.Context, _ *chromedp.Target) (page.GetInstallabilityErrorsResult, error) {
		r, err := chromedp.Call(ctx, page.GetInstallabilityErrors, cdp.Empty{})
		return r, err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faults.InstallabilityErrors {
		if f.ErrorID != "in-incognito" { // the browser's own mode in a test
			t.Errorf("the page is not installable: %s %v", f.ErrorID, f.ErrorArguments)
		}
	}
	if !evaluated[bool](p, `navigator.serviceWorker.controller !== null && document.querySelector('link[rel=manifest]') !== null`) {
		t.Error("the page has neither worker nor manifest")
	}
}

// newer serves what a line leads to, with another version of the page's worker once
// it is told to.
func newer(t *testing.T, l *line) (address string, updated *atomic.Bool) {
	t.Helper()
	to, err := url.Parse(l.url())
	if err != nil {
		t.Fatal(err)
	}
	updated = new(atomic.Bool)
	proxy := &httputil.ReverseProxy{
		Rewrite: func(r *httputil.ProxyRequest) {
			r.SetURL(to)
			if r.In.Header.Get("Origin") != "" {
				r.Out.Header.Set("Origin", "http://"+to.Host)
			}
		},
		FlushInterval: -1,
		ModifyResponse: func(r *http.Response) error {
			if r.Request.URL.Path != "/offline.js" || !updated.Load() {
				return nil
			}
			body, err := io.ReadAll(r.Body)
			body = bytes.Replace(body, []byte(`VERSION="`), []byte(`VERSION="2`), 1)
			r.Body, r.ContentLength = io.NopCloser(bytes.NewReader(body)), int64(len(body))
			r.Header.Set("Content-Length", strconv.Itoa(len(body)))
			return err
		},
	}
	server := httptest.NewServer(proxy)
	t.Cleanup(server.CloseClientConnections)
	return server.URL + "/", updated
}

// A new version of the app comes while a shot is entered: the entry stays, the shot
// is kept, and the new version has all records when the page is opened next.
func TestUpdateInterruptsNoShot(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.setsUp()
	q := &phone{T: t, line: p.line, shots: p.shots, name: "updated-"}
	var updated *atomic.Bool
	q.url, updated = newer(t, p.line)
	q.browse(profileFolder(t))
	q.sees("Alder Quay boat store")
	q.isCalled("Rosa")
	q.opens("/me")
	q.sees("ready to work offline")
	q.do(chromedp.Reload())
	q.sees("in touch")
	q.opens("/dig/P2/S1")
	q.taps("S1 is on it")
	q.taps("Shot", "High")
	q.sees("How much?")
	updated.Store(true)
	evaluated[float64](q, `navigator.serviceWorker.getRegistration().then(r => r.update()), 0`)
	q.sees("A new version is here")
	q.sees("How much?")
	q.picture("waits")
	q.taps("1\"")
	q.sees("1\" to dig")
	q.killed()
	q.sees("Alder Quay boat store")
	q.opens("/dig/P2/S1")
	q.sees("1\" to dig")
}
