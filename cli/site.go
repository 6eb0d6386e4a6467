package cli

import (
	"context"
	"crypto/tls"
	"errors"
	"net"
	"net/http"
	"os"
	"strings"
	"time"

	"golang.org/x/term"

	"spadework/engine/phrase"
	"spadework/server"
	"spadework/sheet"
	"spadework/store"
	"spadework/web"
)

// siteFlags say how the phones of a site reach the server, and how it proves
// that it is the one.
type siteFlags struct {
	Host          []string `help:"${help_host}" placeholder:"NAME"`
	Cert          string   `help:"${help_cert}" placeholder:"FILE"`
	Key           string   `help:"${help_key}" placeholder:"FILE"`
	SiteAuthority bool     `help:"${help_site_authority}"`
	SelfSigned    bool     `help:"${help_self_signed}"`
	RootAddr      string   `help:"${help_root_addr}" default:":8470"`
	Link          bool     `help:"${help_first_link}"`
}

// check refuses what would put the server on a network without TLS.
func (c *siteFlags) check() *phrase.Fault {
	ways := 0
	for _, told := range []bool{c.Cert != "" || c.Key != "", c.SiteAuthority, c.SelfSigned} {
		if told {
			ways++
		}
	}
	bad := func(key phrase.Key) *phrase.Fault { return phrase.NewFault(phrase.New(key), phrase.New(key+".remedy")) }
	switch {
	case len(c.Host) == 0 && (ways > 0 || c.Link):
		return bad("cli.site_host")
	case len(c.Host) > 0 && ways != 1:
		return bad("cli.site_tls")
	case (c.Cert == "") != (c.Key == ""):
		return bad("cli.site_pair")
	}
	for _, h := range c.Host {
		if f := server.CheckHost(h); f != nil {
			return f
		}
	}
	return nil
}

// identity is how the server proves that it is the one.
type identity struct {
	certificate func(*tls.ClientHelloInfo) (*tls.Certificate, error)
	onlineOnly  bool
	hsts        bool
	authority   *server.Authority // nil none
}

func (c *siteFlags) identity(db string) (identity, error) {
	if c.SiteAuthority {
		a, err := server.OpenAuthority(besideStore(db, ".authority.pem"), c.Host, time.Now)
		if err != nil {
			return identity{}, siteFault(besideStore(db, ".authority.pem"), err)
		}
		return identity{certificate: a.Certificate, authority: a}, nil
	}
	var own *server.OwnCertificate
	var err error
	file := c.Cert
	if c.SelfSigned {
		file = besideStore(db, ".selfsigned.pem")
		own, err = server.OpenSelfSigned(file, c.Host, time.Now())
	} else {
		own, err = server.OpenCertificate(c.Cert, c.Key, c.Host)
	}
	if err != nil {
		return identity{}, siteFault(file, err)
	}
	alone := own.VouchesForItself()
	return identity{certificate: own.Certificate, onlineOnly: alone, hsts: !alone}, nil
}

// siteFault tells an error of a file.
func siteFault(file string, err error) error {
	var f *phrase.Fault
	if errors.As(err, &f) {
		return err
	}
	return fileFault(file, err)
}

// besideStore is a file beside an SQLite store; beside a database elsewhere it
// lies in the folder the program runs in.
func besideStore(db, ending string) string {
	if strings.Contains(db, "://") {
		return "spadework" + ending
	}
	return db + ending
}

// serveSite serves people over TLS.
func (c *serveCommand) serveSite(ctx context.Context, a *app, s *store.Store, v sheet.View) error {
	id, err := c.identity(c.DB)
	if err != nil {
		return err
	}
	listener, err := listen(ctx, or(c.Addr, addrSite))
	if err != nil {
		return err
	}
	defer listener.Close()
	base := "https://" + net.JoinHostPort(c.Host[0], port(listener))
	a.println(v.Text("cli.serving_site", phrase.With("url", base+"/")))
	if id.onlineOnly || net.ParseIP(c.Host[0]) != nil {
		a.println(v.Text("cli.online_only"))
	}
	if id.authority != nil {
		stop, err := c.serveRoot(ctx, a, id.authority, base, v)
		if err != nil {
			return err
		}
		defer stop()
	}
	if err := c.invite(ctx, a, s, base, v); err != nil {
		return err
	}
	var hosts []server.Host
	for _, h := range c.Host {
		hosts = append(hosts, server.Host{Name: h, OnlineOnly: id.onlineOnly})
	}
	h := server.New(s, server.Options{Log: a.logger(), App: web.Handler(), Hosts: hosts, HSTS: id.hsts})
	return serveTLS(ctx, listener, h, &tls.Config{MinVersion: tls.VersionTLS12, GetCertificate: id.certificate})
}

func port(l net.Listener) string {
	_, p, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return ""
	}
	return p
}

// serveRoot serves the authority's page without TLS, and tells its fingerprint.
func (c *siteFlags) serveRoot(ctx context.Context, a *app, authority *server.Authority, base string, v sheet.View) (stop func(), err error) {
	listener, err := listen(ctx, c.RootAddr)
	if err != nil {
		return nil, err
	}
	own := "http://" + net.JoinHostPort(c.Host[0], port(listener)) + "/"
	page, err := server.RootPage(authority, own, base+"/")
	if err != nil {
		return nil, errors.Join(err, listener.Close())
	}
	s := &http.Server{Handler: page, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second, WriteTimeout: 30 * time.Second, MaxHeaderBytes: 16 << 10}
	done := make(chan struct{})
	go func() {
		defer close(done)
		_ = s.Serve(listener) // it ends by Close
	}()
	a.println(v.Text("cli.root_page", phrase.With("url", own)))
	a.println(v.Text("cli.root_print", phrase.With("sha256", authority.Fingerprint())))
	return func() { _ = s.Close(); <-done }, nil
}

// invite prints the link for the first foreman, where there is nobody yet or
// --link asks for one more. A file or a log is no place for it.
func (c *siteFlags) invite(ctx context.Context, a *app, s *store.Store, base string, v sheet.View) error {
	somebody, err := s.HasAccounts(ctx)
	if err != nil || somebody && !c.Link {
		return err
	}
	if file, ok := a.Out.(*os.File); ok && !term.IsTerminal(int(file.Fd())) {
		a.println(v.Text("cli.no_terminal"))
		return nil
	}
	path, err := server.FirstLink(ctx, s)
	if err == nil {
		a.println(v.Text("cli.first_link", phrase.With("url", base+path)))
	}
	return err
}
