package cli

import (
	"context"
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

// serveCommand serves a store on this machine.
type serveCommand struct {
	storeFlag
	Addr string `help:"${help_addr}" default:"127.0.0.1:8471"`
}

// Run serves until the program is stopped.
func (c *serveCommand) Run(a *app) error {
	return c.withStore(a, false, func(ctx context.Context, s *store.Store, v sheet.View) error {
		listener, err := listenHere(ctx, c.Addr)
		if err != nil {
			return err
		}
		jobs, err := s.Jobs(ctx)
		if err != nil {
			return errors.Join(err, listener.Close())
		}
		h := server.New(s, server.Options{Log: a.logger(), App: web.Handler()})
		if !web.HasEngine() {
			a.println(v.Text("cli.no_engine"))
		}
		a.println(v.Text("cli.serving", phrase.With("count", len(jobs)), phrase.With("url", address(listener))))
		return serve(ctx, listener, h)
	})
}

// logger writes what the server tells, a line each, to the errors.
func (a *app) logger() *slog.Logger {
	return slog.New(slog.NewTextHandler(a.Err, &slog.HandlerOptions{Level: slog.LevelWarn}))
}

func address(l net.Listener) string { return "http://" + l.Addr().String() + "/" }

// listenHere opens an address of this machine; any other needs people and a
// certificate.
func listenHere(ctx context.Context, addr string) (net.Listener, error) {
	host, _, err := net.SplitHostPort(addr)
	ip := net.ParseIP(host)
	if err != nil || host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return nil, elsewhere(addr)
	}
	var config net.ListenConfig
	listener, err := config.Listen(ctx, "tcp", addr)
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, phrase.NewFault(phrase.New("cli.demo_taken", phrase.With("value", addr)), phrase.New("cli.demo_listen.remedy"))
	}
	if err != nil {
		return nil, phrase.NewFault(phrase.New("cli.demo_listen", phrase.With("value", addr), phrase.With("detail", err.Error())),
			phrase.New("cli.demo_listen.remedy"))
	}
	// A hosts file may give localhost to another address.
	if at, ok := listener.Addr().(*net.TCPAddr); !ok || !at.IP.IsLoopback() {
		return nil, errors.Join(elsewhere(addr), listener.Close())
	}
	return listener, nil
}

// elsewhere refuses an address that other machines could reach.
func elsewhere(addr string) *phrase.Fault {
	return phrase.NewFault(phrase.New("cli.demo_address", phrase.With("value", addr)), phrase.New("cli.demo_address.remedy"))
}

// closing is a handler that has streams to end before a graceful stop.
type closing interface {
	http.Handler
	Close()
}

// serve answers until the context ends, then lets open answers finish.
func serve(ctx context.Context, listener net.Listener, h closing) error {
	s := &http.Server{Handler: h, ReadHeaderTimeout: 5 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 64 << 10}
	done := make(chan error, 1)
	go func() { done <- s.Serve(listener) }()
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
