package server

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"spadework/engine/phrase"
)

// verifies says whether Go's own verifier takes a leaf for a name under a root.
func verifies(t *testing.T, root []byte, leaf *x509.Certificate, name string, at time.Time) error {
	t.Helper()
	c, err := x509.ParseCertificate(root)
	if err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AddCert(c)
	_, err = leaf.Verify(x509.VerifyOptions{Roots: pool, DNSName: name, CurrentTime: at, KeyUsages: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}})
	return err
}

func TestAuthorityVouchesForItsNamesAlone(t *testing.T) {
	now := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	path := filepath.Join(t.TempDir(), "authority.pem")
	clock := func() time.Time { return now }
	a, err := OpenAuthority(path, []string{"dig.test", "laptop.local"}, clock)
	if err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the key's file has the mode %v, %v, want 0600", info.Mode(), err)
	}
	pair, err := a.Certificate(nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, good := range map[string]bool{"dig.test": true, "laptop.local": true, "bank.example": false} {
		if err := verifies(t, a.Root(), pair.Leaf, name, now); (err == nil) != good {
			t.Errorf("the leaf for %s: %v, want good %v", name, err, good)
		}
	}
	// Whoever has the key cannot vouch for others: Go's verifier knows RFC 5280's constraints.
	n, _ := serial()
	for _, forged := range []*x509.Certificate{{DNSNames: []string{"bank.example"}}, {IPAddresses: []net.IP{net.IPv4(192, 0, 2, 1)}}} {
		forged.SerialNumber, forged.NotBefore, forged.NotAfter = n, now, now.Add(time.Hour)
		forged.ExtKeyUsage = []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}
		c, _, err := signed(forged, a.root, a.key)
		if err != nil {
			t.Fatal(err)
		}
		var outside x509.CertificateInvalidError
		if err := verifies(t, a.Root(), c, "", now); !errors.As(err, &outside) || outside.Reason != x509.CANotAuthorizedForThisName {
			t.Errorf("a forged leaf for %v %v: %v, want that it is outside the constraints", forged.DNSNames, forged.IPAddresses, err)
		}
	}
	if again, _ := a.Certificate(nil); again != pair {
		t.Error("a leaf is made for every visit")
	}
	now = now.Add(leafTime - leafRenewed + time.Minute)
	if renewed, err := a.Certificate(nil); err != nil || renewed == pair || verifies(t, a.Root(), renewed.Leaf, "dig.test", now) != nil {
		t.Errorf("the leaf near its end is not renewed: %v", err)
	}
	reopened, err := OpenAuthority(path, []string{"laptop.local"}, clock)
	if err != nil || reopened.Fingerprint() != a.Fingerprint() {
		t.Errorf("opened again: %v, want the same authority", err)
	}
}

func TestAuthorityRefuses(t *testing.T) {
	now := func() time.Time { return time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC) }
	path := filepath.Join(t.TempDir(), "authority.pem")
	wantKey := func(what string, err error, key phrase.Key) {
		t.Helper()
		var f *phrase.Fault
		if !errors.As(err, &f) || f.What.Key != key {
			t.Errorf("%s: %v, want %s", what, err, key)
		}
	}
	_, err := OpenAuthority(path, []string{"192.0.2.1"}, now)
	wantKey("an address", err, "server.authority_address")
	if _, err := OpenAuthority(path, []string{"dig.test"}, now); err != nil {
		t.Fatal(err)
	}
	_, err = OpenAuthority(path, []string{"other.test"}, now)
	wantKey("another name", err, "server.authority_names")
	_, err = OpenAuthority(path, []string{"dig.test"}, func() time.Time { return now().Add(authorityTime) })
	wantKey("one that runs out", err, "server.authority_names")
	if err := os.Chmod(path, 0o644); err != nil {
		t.Fatal(err)
	}
	_, err = OpenAuthority(path, []string{"dig.test"}, now)
	wantKey("a key that others read", err, "server.key_open")
	if err := errors.Join(os.WriteFile(path, []byte("no key"), 0o600), os.Chmod(path, 0o600)); err != nil {
		t.Fatal(err)
	}
	_, err = OpenAuthority(path, []string{"dig.test"}, now)
	wantKey("no key at all", err, "server.key_pair")
}

func TestOwnCertificateIsReadAnew(t *testing.T) {
	now := time.Now()
	folder := t.TempDir()
	path := filepath.Join(folder, "self.pem")
	o, err := OpenSelfSigned(path, []string{"dig.test", "192.0.2.1"}, now)
	if err != nil || !o.VouchesForItself() {
		t.Fatalf("OpenSelfSigned: %v, want one that vouches for itself", err)
	}
	if _, err := OpenCertificate(path, path, []string{"other.test"}); err == nil {
		t.Error("a certificate is taken for a name that it is not for")
	}
	first, _ := o.Certificate(nil)
	other, err := OpenSelfSigned(filepath.Join(folder, "next.pem"), []string{"dig.test", "192.0.2.1"}, now)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.Rename(filepath.Join(folder, "next.pem"), path), os.Chtimes(path, now, now.Add(time.Hour))); err != nil {
		t.Fatal(err)
	}
	second, err := o.Certificate(nil)
	want, _ := other.Certificate(nil)
	if err != nil || string(second.Certificate[0]) == string(first.Certificate[0]) || string(second.Certificate[0]) != string(want.Certificate[0]) {
		t.Errorf("after the file changed: %v, want its new certificate", err)
	}
	a, err := OpenAuthority(filepath.Join(folder, "a.pem"), []string{"dig.test"}, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	leaf, _ := a.Certificate(nil)
	byAuthority := OwnCertificate{pair: &tls.Certificate{Leaf: leaf.Leaf}}
	if byAuthority.VouchesForItself() {
		t.Error("a leaf of an authority is said to vouch for itself")
	}
}

func TestRootPageHasStepsAndTheCertificate(t *testing.T) {
	a, err := OpenAuthority(filepath.Join(t.TempDir(), "a.pem"), []string{"dig.test"}, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	h, err := RootPage(a, "http://dig.test:8470/", "https://dig.test:8471/")
	if err != nil {
		t.Fatal(err)
	}
	get := func(path, language string) *httptest.ResponseRecorder {
		r := httptest.NewRequest("GET", path, nil)
		r.Header.Set("Accept-Language", language)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w
	}
	for path, parts := range map[string][]string{
		"/":         {"CA certificate", "Certificate Trust Settings", "Remove Profile", a.Fingerprint(), "https://dig.test:8471/"},
		"/?lang=es": {"Certificado de CA", "Ajustes de certificados", "Eliminar perfil", a.Fingerprint()},
	} {
		body := get(path, "en").Body.String()
		for _, part := range parts {
			if !strings.Contains(body, part) {
				t.Errorf("%s does not say %q", path, part)
			}
		}
	}
	w := get("/authority.crt", "")
	if w.Header().Get("Content-Type") != "application/x-x509-ca-cert" || w.Body.String() != string(a.Root()) {
		t.Errorf("/authority.crt is %s of %d bytes, want the root", w.Header().Get("Content-Type"), w.Body.Len())
	}
	if block, _ := pem.Decode(w.Body.Bytes()); block != nil {
		t.Error("/authority.crt is PEM, want DER")
	}
	for _, path := range []string{"/authority.pem", "/api/jobs"} {
		if got := get(path, "").Code; got != http.StatusNotFound {
			t.Errorf("%s without TLS = %d, want 404", path, got)
		}
	}
}
