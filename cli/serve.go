package cli

import (
	"context"
	"crypto/tls"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"syscall"
	"time"

	"spadework/engine/phrase"
	"spadework/server"
	"spadework/sheet"
	"spadework/store"
	"spadework/web"
)

// serveCommand serves a store on this machine, or to the phones of a site.
type serveCommand struct {
	storeFlag
	Addr string `help:"${help_serve_addr}"`
	siteFlags
}

// Addresses without --addr: this machine's own, or all of them under a name.
const (
	addrHere = "127.0.0.1:8471"
	addrSite = ":8471"
)

// Run serves until the program is stopped.
func (c *serveCommand) Run(a *app) error {
	if f := c.check(); f != nil {
		return f
	}
	return c.withStore(a, false, func(ctx context.Context, s *store.Store, v sheet.View) error {
		if !web.HasEngine() {
			a.println(v.Text("cli.no_engine"))
		}
		if len(c.Host) > 0 {
			return c.serveSite(ctx, a, s, v)
		}
		listener, err := listenHere(ctx, or(c.Addr, addrHere), "cli.site_address")
		if err != nil {
			return err
		}
		jobs, err := s.Jobs(ctx)
		if err != nil {
			return errors.Join(err, listener.Close())
		}
		h := server.New(s, server.Options{Log: a.logger(), App: web.Handler()})
		a.println(v.Text("cli.serving", phrase.With("count", len(jobs)), phrase.With("url", address(listener))))
		return serve(ctx, listener, h)
	})
}

// or is a text, or another where it is empty.
func or(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

// logger writes what the server tells, a line each, to the errors.
func (a *app) logger() *slog.Logger {
	return slog.New(slog.NewTextHandler(a.Err, &slog.HandlerOptions{Level: slog.LevelWarn}))
}

func address(l net.Listener) string { return "http://" + l.Addr().String() + "/" }

// listenHere opens an address of this machine, or tells the remedy: any other
// needs people and a certificate.
func listenHere(ctx context.Context, addr string, remedy phrase.Key) (net.Listener, error) {
	host, _, err := net.SplitHostPort(addr)
	ip := net.ParseIP(host)
	if err != nil || host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return nil, elsewhere(addr, remedy)
	}
	listener, err := listen(ctx, addr)
	if err != nil {
		return nil, err
	}
	// A hosts file may give localhost to another address.
	if at, ok := listener.Addr().(*net.TCPAddr); !ok || !at.IP.IsLoopback() {
		return nil, errors.Join(elsewhere(addr, remedy), listener.Close())
	}
	return listener, nil
}

// listen opens an address.
func listen(ctx context.Context, addr string) (net.Listener, error) {
	var config net.ListenConfig
	listener, err := config.Listen(ctx, "tcp", addr)
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, phrase.NewFault(phrase.New("cli.demo_taken", phrase.With("value", addr)), phrase.New("cli.demo_listen.remedy"))
	}
	if err != nil {
		return nil, phrase.NewFault(phrase.New("cli.demo_listen", phrase.With("value", addr), phrase.With("detail", err.Error())),
			phrase.New("cli.demo_listen.remedy"))
	}
	return listener, nil
}

// elsewhere refuses an address that other machines could reach.
func elsewhere(addr string, remedy phrase.Key) *phrase.Fault {
	return phrase.NewFault(phrase.New("cli.demo_address", phrase.With("value", addr)), phrase.New(remedy))
}

// closing is a handler that has streams to end before a graceful stop.
type closing interface {
	http.Handler
	Close()
}

// serve answers until the context ends, then lets open answers finish.
func serve(ctx context.Context, listener net.Listener, h closing) error {
	return serveTLS(ctx, listener, h, nil)
}

// serveTLS is serve over TLS, without a configuration over nothing.
func serveTLS(ctx context.Context, listener net.Listener, h closing, config *tls.Config) error {
	s := &http.Server{Handler: h, ReadHeaderTimeout: 5 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 64 << 10, TLSConfig: config}
	done := make(chan error, 1)
	go func() {
		if config == nil {
			done <- s.Serve(listener)
			return
		}
		// A phone that does not know the authority yet ends its handshake: no news.
		s.ErrorLog = slog.NewLogLogger(slog.DiscardHandler, slog.LevelDebug)
		done <- s.ServeTLS(listener, "", "")
	}()
	select {
	case err := <-done:
		h.Close()
		return err
	case <-ctx.Done():
	}
	h.Close()
	finish, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
	defer cancel()
	if err := s.Shutdown(finish); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return nil
}
