package server

import (
	"crypto"
	"crypto/ecdsa"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"io/fs"
	"net"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"spadework/engine/phrase"
)

// readPair reads a certificate and its key of one PEM file that only its owner
// may read.
func readPair(path string) (*x509.Certificate, crypto.Signer, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, nil, err
	}
	if runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		return nil, nil, fault(phrase.Conflict, "server.key_open", phrase.With("file", path), phrase.With("mode", info.Mode().Perm().String()))
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, err
	}
	pair, err := tls.X509KeyPair(data, data)
	if err != nil {
		return nil, nil, fault(phrase.Invalid, "server.key_pair", phrase.With("file", path), phrase.With("detail", err.Error()))
	}
	key, ok := pair.PrivateKey.(crypto.Signer)
	if !ok {
		return nil, nil, fault(phrase.Invalid, "server.key_pair", phrase.With("file", path), phrase.With("detail", "key"))
	}
	return pair.Leaf, key, nil
}

// writePair writes both into a new file that only its owner may read.
func writePair(path string, c *x509.Certificate, key crypto.Signer) error {
	k, ok := key.(*ecdsa.PrivateKey)
	if !ok {
		return errors.New("server: only keys made here are written")
	}
	der, err := x509.MarshalECPrivateKey(k)
	if err != nil {
		return err
	}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	err = pem.Encode(file, &pem.Block{Type: "CERTIFICATE", Bytes: c.Raw})
	if err == nil {
		err = pem.Encode(file, &pem.Block{Type: "EC PRIVATE KEY", Bytes: der})
	}
	return errors.Join(err, file.Sync(), file.Close())
}

// OwnCertificate is a certificate of the site with its key, read anew when the
// file changes: whatever renews it need not stop the server.
type OwnCertificate struct {
	cert, key string

	mu   sync.Mutex
	read time.Time // the file's
	pair *tls.Certificate
}

// OpenCertificate reads a certificate and its key. It must be for the hosts.
func OpenCertificate(cert, key string, hosts []string) (*OwnCertificate, error) {
	o := &OwnCertificate{cert: cert, key: key}
	pair, err := o.Certificate(nil)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrPermission) {
		return nil, err
	}
	if err != nil {
		return nil, fault(phrase.Invalid, "server.key_pair", phrase.With("file", cert), phrase.With("detail", err.Error()))
	}
	for _, h := range hosts {
		if pair.Leaf.VerifyHostname(h) != nil {
			return nil, fault(phrase.Invalid, "server.certificate_names", phrase.With("file", cert), phrase.With("value", h), phrase.With("names", pair.Leaf.DNSNames))
		}
	}
	return o, nil
}

// Certificate is the newest that reads (tls.Config.GetCertificate).
func (o *OwnCertificate) Certificate(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	info, err := os.Stat(o.cert)
	if err == nil && info.ModTime().Equal(o.read) {
		return o.pair, nil
	}
	if err == nil {
		var pair tls.Certificate
		if pair, err = tls.LoadX509KeyPair(o.cert, o.key); err == nil {
			o.pair, o.read = &pair, info.ModTime()
		}
	}
	if o.pair != nil {
		return o.pair, nil // the half written file of a renewal
	}
	return nil, err
}

// VouchesForItself says that nobody else signed the certificate: browsers show
// its pages after a warning and keep none of them.
func (o *OwnCertificate) VouchesForItself() bool {
	leaf := o.pair.Leaf
	return slices.Equal(leaf.RawIssuer, leaf.RawSubject)
}

// OpenSelfSigned reads a certificate that vouches for itself or makes it, for the
// hosts; one that has nearly run out or is for others is made anew.
func OpenSelfSigned(path string, hosts []string, now time.Time) (*OwnCertificate, error) {
	c, _, err := readPair(path)
	stale := err == nil && (now.After(c.NotAfter.Add(-leafRenewed)) || slices.ContainsFunc(hosts, func(h string) bool { return c.VerifyHostname(h) != nil }))
	if stale {
		err = errors.Join(os.Remove(path), fs.ErrNotExist)
	}
	if errors.Is(err, fs.ErrNotExist) {
		err = makeSelfSigned(path, hosts, now)
	}
	if err != nil {
		return nil, err
	}
	return OpenCertificate(path, path, hosts)
}

func makeSelfSigned(path string, hosts []string, now time.Time) error {
	n, err := serial()
	if err != nil {
		return err
	}
	c := &x509.Certificate{SerialNumber: n, Subject: pkix.Name{CommonName: hosts[0]}, NotBefore: now.Add(-clockLag), NotAfter: now.Add(365 * 24 * time.Hour),
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}, BasicConstraintsValid: true}
	for _, h := range hosts {
		if ip := net.ParseIP(strings.Trim(h, "[]")); ip != nil {
			c.IPAddresses = append(c.IPAddresses, ip)
		} else {
			c.DNSNames = append(c.DNSNames, h)
		}
	}
	made, key, err := signed(c, nil, nil)
	if err != nil {
		return err
	}
	return writePair(path, made, key)
}
