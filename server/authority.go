package server

import (
	"crypto"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"errors"
	"io/fs"
	"math/big"
	"net"
	"slices"
	"strings"
	"sync"
	"time"

	"spadework/engine/phrase"
)

// How long certificates last: the authority as long as a job may; a leaf a season
// (phones take at most 825 days of an authority that was installed by hand, Apple
// HT210176, from memory), renewed while a third is left.
const (
	authorityTime = 5 * 365 * 24 * time.Hour
	leafTime      = 90 * 24 * time.Hour
	leafRenewed   = leafTime / 3
	clockLag      = time.Hour // a phone's clock may be behind
)

// Authority vouches for the site's own names and for nothing else (RFC 5280,
// 4.2.1.10): whoever gets at its key can pretend to be this server, not a bank.
type Authority struct {
	root  *x509.Certificate
	key   crypto.Signer
	hosts []string
	now   func() time.Time

	mu   sync.Mutex
	leaf *tls.Certificate
}

// OpenAuthority reads a site authority from its file or makes it there, with
// names that it is bound to. The file holds its key: only its owner reads it.
func OpenAuthority(path string, hosts []string, now func() time.Time) (*Authority, error) {
	for _, h := range hosts {
		if net.ParseIP(h) != nil {
			return nil, fault(phrase.Invalid, "server.authority_address", phrase.With("value", h))
		}
	}
	a := &Authority{hosts: hosts, now: now}
	root, key, err := readPair(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if root, key, err = makeRoot(hosts, now()); err == nil {
			err = writePair(path, root, key)
		}
	case err == nil && (!sameNames(root.PermittedDNSDomains, hosts) || now().After(root.NotAfter.Add(-leafTime))):
		err = fault(phrase.Conflict, "server.authority_names", phrase.With("file", path), phrase.With("names", root.PermittedDNSDomains))
	}
	a.root, a.key = root, key
	return a, err
}

// sameNames says that an authority is bound to these names, in any order.
func sameNames(bound, hosts []string) bool {
	for _, h := range hosts {
		if !slices.ContainsFunc(bound, func(b string) bool { return strings.EqualFold(b, h) }) {
			return false
		}
	}
	return len(bound) > 0
}

// serial is a number of 127 bits of chance (RFC 5280, 4.1.2.2).
func serial() (*big.Int, error) { return rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127)) }

func makeRoot(hosts []string, now time.Time) (*x509.Certificate, crypto.Signer, error) {
	n, err := serial()
	if err != nil {
		return nil, nil, err
	}
	return signed(&x509.Certificate{
		SerialNumber: n, Subject: pkix.Name{CommonName: "Spadework site authority for " + hosts[0]},
		NotBefore: now.Add(-clockLag), NotAfter: now.Add(authorityTime),
		IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true, KeyUsage: x509.KeyUsageCertSign,
		ExtKeyUsage:         []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		PermittedDNSDomains: hosts, PermittedDNSDomainsCritical: true,
		ExcludedIPRanges: []*net.IPNet{{IP: net.IPv4zero.To4(), Mask: net.CIDRMask(0, 32)}, {IP: net.IPv6zero, Mask: net.CIDRMask(0, 128)}},
	}, nil, nil)
}

// signed makes a key and its certificate; without a parent it vouches for itself.
func signed(c, parent *x509.Certificate, by crypto.Signer) (*x509.Certificate, crypto.Signer, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, nil, err
	}
	if parent == nil {
		parent, by = c, key
	}
	der, err := x509.CreateCertificate(rand.Reader, c, parent, key.Public(), by)
	if err != nil {
		return nil, nil, err
	}
	made, err := x509.ParseCertificate(der)
	return made, key, err
}

// Certificate is a leaf for the site's names, a new one when the last nears its
// end (tls.Config.GetCertificate).
func (a *Authority) Certificate(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	now := a.now()
	if a.leaf != nil && now.Before(a.leaf.Leaf.NotAfter.Add(-leafRenewed)) {
		return a.leaf, nil
	}
	n, err := serial()
	if err != nil {
		return nil, err
	}
	c, key, err := signed(&x509.Certificate{
		SerialNumber: n, Subject: pkix.Name{CommonName: a.hosts[0]}, DNSNames: a.hosts,
		NotBefore: now.Add(-clockLag), NotAfter: now.Add(leafTime),
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}, BasicConstraintsValid: true,
	}, a.root, a.key)
	if err != nil {
		return nil, err
	}
	a.leaf = &tls.Certificate{Certificate: [][]byte{c.Raw, a.root.Raw}, PrivateKey: key, Leaf: c}
	return a.leaf, nil
}

// Root is the authority's certificate, which phones install (DER).
func (a *Authority) Root() []byte { return a.root.Raw }

// Fingerprint is the SHA-256 of Root in groups, to be compared by eye.
func (a *Authority) Fingerprint() string { return fingerprint(a.root.Raw) }

func fingerprint(der []byte) string {
	sum := sha256.Sum256(der)
	text := strings.ToUpper(hex.EncodeToString(sum[:]))
	var out []string
	for i := 0; i < len(text); i += 4 {
		out = append(out, text[i:i+4])
	}
	return strings.Join(out, " ")
}
