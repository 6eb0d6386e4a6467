package cli

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/webauthn"
	"github.com/chromedp/chromedp"

	"spadework/exchange"
	"spadework/store"
	"spadework/web"
)

// siteServer is "serve" on a site's name, with what it prints.
type siteServer struct {
	url, link   string
	out, faults *words
}

const siteName = "dig.test"

// startSite serves a store with one job by flags.
func startSite(t *testing.T, flags ...string) siteServer {
	t.Helper()
	db := filepath.Join(t.TempDir(), "site.db")
	s, err := store.Open(t.Context(), db, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := exchange.BundleOf("job.toml", func(name string) ([]byte, error) {
		return os.ReadFile(filepath.Join("..", "examples", "fennel-yard", name))
	})
	if err != nil {
		t.Fatal(err)
	}
	_, err = s.SaveJob(t.Context(), store.Edit{Job: "fennel-yard", Document: string(b.Encode()), Person: "somebody"})
	if err = errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	site := siteServer{out: &words{}, faults: &words{}}
	ctx, stop := context.WithCancel(context.Background())
	status := make(chan int, 1)
	args := append([]string{"serve", "--db", db, "--addr", "127.0.0.1:0", "--root-addr", "127.0.0.1:0"}, flags...)
	go func() { status <- Run(ctx, args, Streams{Out: site.out, Err: site.faults}) }()
	t.Cleanup(func() {
		if got := stopped(t, stop, status); got != statusOK {
			t.Errorf("serve ends with %d and %q", got, site.faults.String())
		}
	})
	site.link = site.printed(t, `https://\S+/#/invited/\S+`)
	site.url = site.printed(t, `https://[^/\s]+/`)
	return site
}

// printed waits for a text that the server prints.
func (s siteServer) printed(t *testing.T, pattern string) string {
	t.Helper()
	re := regexp.MustCompile(pattern)
	for range 500 {
		if found := re.FindString(s.out.String()); found != "" {
			return found
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("nothing like %s in %q %q", pattern, s.out.String(), s.faults.String())
	return ""
}

// trusted is a home folder whose browser knows an authority, as a phone does
// after its steps: in the NSS store that Chromium reads.
func trusted(t *testing.T, certificate []byte) string {
	t.Helper()
	certutil, err := exec.LookPath("certutil")
	if err != nil {
		t.Skip("NOTICE: no certutil here (Debian libnss3-tools); the site authority is not tested in a browser")
	}
	home := profileFolder(t)
	file := filepath.Join(home, "authority.crt")
	if err := os.WriteFile(file, certificate, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, folder := range []string{".pki/nssdb", ".local/share/pki/nssdb"} { // the newer place is the second
		db := filepath.Join(home, folder)
		if err := os.MkdirAll(db, 0o700); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{{"-N", "--empty-password", "-d", "sql:" + db}, {"-A", "-n", "site", "-t", "C,,", "-i", file, "-d", "sql:" + db}} {
			if out, err := exec.Command(certutil, args...).CombinedOutput(); err != nil {
				t.Fatalf("certutil %v: %v: %s", args, err, out)
			}
		}
	}
	return home
}

// openSite opens a browser of a home folder on the site, through a line that can
// be cut.
func openSite(t *testing.T, site siteServer, home string, more ...chromedp.ExecAllocatorOption) *phone {
	t.Helper()
	if !web.HasEngine() {
		t.Skip(`NOTICE: the engine's module is not here; "go generate ./web" makes it`)
	}
	path := chromium(t)
	port := strings.TrimSuffix(site.url[strings.LastIndex(site.url, ":")+1:], "/")
	p := &phone{T: t, line: newLine(t, "http://127.0.0.1:"+port+"/"), shots: os.Getenv("SPADEWORK_SHOTS"), url: site.url}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.UserDataDir(filepath.Join(home, "profile")),
		chromedp.Env("HOME="+home, "XDG_DATA_HOME="+filepath.Join(home, ".local/share")), chromedp.Flag("lang", "en"), chromedp.Flag("disable-dev-shm-usage", true),
		chromedp.Flag("host-resolver-rules", "MAP "+siteName+" "+p.line.listener.Addr().String()))
	allocated, end := chromedp.NewExecAllocator(context.Background(), append(options, more...)...)
	tab, closeTab := chromedp.NewContext(allocated)
	t.Cleanup(func() { closeTab(); end() })
	p.ctx = tab
	p.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile))
	return p
}

// hasLock gives the phone a lock that knows its owner: Chromium's virtual
// authenticator.
func (p *phone) hasLock() {
	p.Helper()
	if _, err := chromedp.Run(p.ctx, func(ctx context.Context, _ *chromedp.Target) (chromedp.Void, error) {
		_, err := chromedp.Call(ctx, webauthn.Enable, webauthn.EnableParams{})
		if err == nil {
			_, err = chromedp.Call(ctx, webauthn.AddVirtualAuthenticator, webauthn.AddVirtualAuthenticatorParams{Options: &webauthn.VirtualAuthenticatorOptions{
				Protocol: webauthn.AuthenticatorProtocolCtap2, Transport: webauthn.AuthenticatorTransportInternal,
				HasResidentKey: true, HasUserVerification: true, IsUserVerified: true, AutomaticPresenceSimulation: true,
			}})
		}
		return chromedp.Void{}, err
	}); err != nil {
		p.Fatal(err)
	}
}

// authority fetches the authority's certificate as a phone does, without TLS.
func (s siteServer) authority(t *testing.T) []byte {
	t.Helper()
	page := s.printed(t, `http://[^/\s]+/`)
	port := strings.TrimSuffix(page[strings.LastIndex(page, ":")+1:], "/")
	answer, err := http.Get("http://127.0.0.1:" + port + "/authority.crt")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	data, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(data)
	want := strings.ReplaceAll(s.printed(t, `[0-9A-F]{4}( [0-9A-F]{4}){15}`), " ", "")
	if got := strings.ToUpper(hex.EncodeToString(sum[:])); got != want {
		t.Fatalf("the certificate's SHA-256 is %s, printed was %s", got, want)
	}
	return data
}

// accessible runs axe over a screen, where it is here, and measures its keys.
func (p *phone) accessible(where string) {
	p.Helper()
	axe, err := os.ReadFile(filepath.Join("..", "web", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		p.Log(`NOTICE: axe-core is not here; "npm ci" in web brings it`)
		return
	}
	p.violates(string(axe), where)
	small := evaluated[string](p, `[...document.querySelectorAll('main .key, main input, main select, main summary, .turn .key')].filter(e => e.offsetParent && e.type !== 'hidden' && e.getBoundingClientRect().height < 56).map(e => e.outerHTML.slice(0, 90)).join('\n')`)
	if small != "" {
		p.Errorf("%s: lower than 56 px: %s", where, small)
	}
}

// A site without internet: the foreman's laptop serves by the site's own
// authority. Without its root a browser refuses the page; with it the first link
// lets the foreman in by passkey, the page keeps itself for offline, a second
// person joins by the code's link on the same phone, one tap changes them, and
// the link opens nothing a second time.
func TestSiteAuthorityPasskeysAndAShiftOnASharedPhone(t *testing.T) {
	site := startSite(t, "--host", siteName, "--site-authority")
	root := site.authority(t)
	stranger := openSite(t, site, profileFolder(t))
	if _, err := chromedp.Run(stranger.ctx, chromedp.Navigate(site.url)); err == nil || !strings.Contains(err.Error(), "ERR_CERT_AUTHORITY_INVALID") {
		t.Fatalf("without the root the page opens with %v, want ERR_CERT_AUTHORITY_INVALID", err)
	}
	p := openSite(t, site, trusted(t, root))
	p.hasLock()
	steps := site.printed(t, `http://[^/\s]+/`)
	for lang, says := range map[string]string{"en": "Install a certificate", "es": "Instalar un certificado"} {
		p.do(chromedp.Navigate("http://127.0.0.1" + steps[strings.LastIndex(steps, ":"):] + "?lang=" + lang))
		p.sees(says)
		p.picture("root-" + lang)
		p.accessible("root page " + lang)
	}
	p.foreign = nil // the steps have an address of their own
	p.do(chromedp.Navigate(site.link))
	p.sees("You are invited", "every job: Foreman")
	if hash := evaluated[string](p, `location.href + document.referrer + JSON.stringify(history.state)`); strings.Contains(hash, site.link[len(site.link)-20:]) {
		t.Errorf("the address keeps the invitation's secret: %s", hash)
	}
	p.picture("invited")
	p.accessible("invited")
	p.fills("name", "Ana")
	p.taps("Join with a passkey")
	p.sees("Digs", "Beams")
	p.taps("Me")
	p.sees("Ana", "Foreman", "ready to work offline") // a service worker is installed on the site's name
	if got := evaluated[bool](p, `isSecureContext && document.cookie === ""`); !got {
		t.Error("the page is no secure context, or its script reads the session's cookie")
	}
	p.picture("me")
	p.accessible("me")
	p.taps("People")
	p.sees("Invite somebody")
	p.fills("person", "Ben")
	p.taps("Make the invitation")
	p.sees("Invitation of Ben")
	p.picture("invitation")
	p.accessible("people")
	bens := evaluated[string](p, `document.querySelector('.link').innerText`)
	p.opens("/account")
	p.sees("Devices where you are signed in", "this device")
	p.accessible("account")
	p.picture("account")
	p.opens("/me")
	p.taps("Dark cab", "Español")
	for _, screen := range []string{"/people", "/account", "/people/audit", "/people/held"} {
		p.opens(screen)
		p.accessible("dark, Spanish " + screen)
		p.picture("dark" + strings.ReplaceAll(screen, "/", "-"))
	}
	p.opens("/me")
	p.taps("English", "Dark cab")
	p.opens("/account")
	p.taps("Sign out")
	p.sees("Who is there?")
	p.picture("sign-in")
	p.accessible("sign-in")
	p.taps("Sign in with a passkey")
	p.sees("Digs", "Beams")
	// Ben takes over in the cab.
	p.do(chromedp.Navigate(bens))
	p.sees("You are invited", "Ben", "Operator")
	p.fills("password", "ditch spoon lantern 9")
	p.taps("Join with a password")
	p.sees("Digs", "Beams")
	p.accessible("turn")
	p.opens("/dig/L-1")
	p.sees("Points of the pattern")
	p.taps("Trouble", "Water")
	p.opens("/")
	p.sees("Ben\twater")
	p.line.cut(true)
	p.do(chromedp.Reload())
	p.sees("no signal")
	p.taps("Ana") // one tap, without signal too
	p.opens("/dig/L-1")
	p.sees("Trouble")
	p.taps("Trouble", "Rock")
	p.opens("/")
	p.sees("Ana\trock", "1 waiting")
	p.picture("shared-offline")
	p.line.cut(false)
	evaluated[bool](p, `(dispatchEvent(new Event('online')), true)`)
	p.sees("in touch")
	for range 100 {
		if !strings.Contains(p.text(), "waiting") {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	p.lacks("waiting")
	p.opens("/people/audit")
	p.sees("let in Ben", "handed the phone to Ana")
	p.picture("audit")
	p.accessible("audit")
	p.opens("/people/held")
	p.sees("No record is set aside.")
	// Ben becomes an inspector, who tells of no water: it waits for the foreman.
	p.opens("/people")
	p.sees("Ben")
	evaluated[bool](p, `([...document.querySelectorAll('details')].find(d => d.innerText.startsWith('Ben')).open = true, true)`)
	for _, role := range []string{"Inspector", "Operator"} {
		evaluated[bool](p, `([...[...document.querySelectorAll('details')].find(d => d.innerText.startsWith('Ben')).querySelectorAll('.key')].find(k => k.innerText === '`+role+`').click(), true)`)
		time.Sleep(500 * time.Millisecond)
	}
	p.sees("Ben\nInspector")
	p.picture("roles")
	p.accessible("roles")
	p.taps("Ben")
	p.opens("/dig/L-1")
	p.taps("Trouble", "Water")
	p.sees("Your role does not add such records")
	p.opens("/me")
	p.sees("its person may not add such a record")
	p.taps("Ana")
	p.opens("/people/held")
	p.sees("Ben water", "its person may not add such a record")
	p.picture("held")
	p.accessible("held")
	p.taps("Let it in")
	p.sees("No record is set aside.")
	p.do(chromedp.Navigate(bens))
	p.sees("this invitation does not count")
	if len(p.foreign) > 0 {
		t.Errorf("the page asks foreign hosts: %v", p.foreign)
	}
	if text := site.faults.String(); strings.Contains(text, "invited") || strings.Contains(text, "spoon") {
		t.Errorf("the log tells a secret: %s", text)
	}
}

// By a certificate that vouches for itself the page says what it cannot do, and a
// password lets in.
func TestSelfSignedIsOnlineOnly(t *testing.T) {
	site := startSite(t, "--host", siteName, "--self-signed")
	if !strings.Contains(site.out.String(), "online only") {
		t.Errorf("the server prints %q, want that it is online only", site.out.String())
	}
	p := openSite(t, site, profileFolder(t), chromedp.Flag("ignore-certificate-errors", true)) // as a user who taps the warning away
	p.do(chromedp.Navigate(site.link))
	p.sees("Your name")
	p.lacks("passkey")
	p.fills("name", "Ana")
	p.fills("password", "ditch spoon lantern 9")
	p.taps("Join with a password")
	p.sees("Digs", "Beams")
	p.taps("Me")
	p.sees("This address is online only")
	p.picture("online-only")
	p.opens("/account")
	p.taps("Sign out")
	p.sees("Who is there?", "This address is online only")
	p.lacks("with a passkey")
	p.fills("name", "Ana")
	p.fills("password", "ditch spoon lantern 8")
	p.taps("Sign in with the password")
	p.sees("the name and what proves it do not fit")
	p.fills("password", "ditch spoon lantern 9")
	p.taps("Sign in with the password")
	p.sees("Digs", "Beams")
}
