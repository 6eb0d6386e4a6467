package cli

import (
	"context"
	"errors"
	"io/fs"
	"net"
	"net/http"
	"syscall"
	"time"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/examples"
	"spadework/exchange"
	"spadework/server"
	"spadework/sheet"
)

// demoCommand serves the example.
type demoCommand struct {
	Addr string `help:"${help_addr}" default:"127.0.0.1:8471"`
}

// exampleFolder is the example that the demo shows.
const exampleFolder = "alder-quay"

// Run plans the example and serves it until the program is stopped.
func (c *demoCommand) Run(a *app) error {
	p, v, err := a.examplePlan()
	if err != nil {
		return err
	}
	listener, err := listenHere(a.ctx, c.Addr)
	if err != nil {
		return err
	}
	a.println(v.Text("cli.demo_serving", phrase.With("name", p.Job.Name), phrase.With("url", "http://"+listener.Addr().String()+"/")))
	return serve(a.ctx, listener, server.Demo(p, v))
}

// examplePlan plans the example that is built in.
func (a *app) examplePlan() (*plan.Plan, sheet.View, error) {
	folder, err := fs.Sub(examples.Files, exampleFolder)
	if err != nil {
		return nil, sheet.View{}, err
	}
	data, err := fs.ReadFile(folder, jobName)
	if err != nil {
		return nil, sheet.View{}, err
	}
	j, voice, err := exchange.ReadJob(jobName, data, func(name string) ([]byte, error) { return fs.ReadFile(folder, name) })
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

// listenHere opens an address of this machine; any other needs people and a
// certificate, which the demo does not have.
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

// serve answers until the context ends, then lets open answers finish.
func serve(ctx context.Context, listener net.Listener, h http.Handler) error {
	s := &http.Server{Handler: h, ReadHeaderTimeout: 5 * time.Second}
	done := make(chan error, 1)
	go func() { done <- s.Serve(listener) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	finish, cancel := context.WithTimeout(context.WithoutCancel(ctx), 3*time.Second)
	defer cancel()
	if err := s.Shutdown(finish); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return nil
}
