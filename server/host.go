package server

import (
	"net"
	"strings"

	"spadework/engine/phrase"
)

// Host is a name that other machines reach the server by, over TLS.
type Host struct {
	Name string
	// OnlineOnly says that browsers keep no page of it and make no passkey for it: it
	// is an address, or its certificate vouches for itself.
	OnlineOnly bool
}

// open says that the server runs on the loopback address for one person.
func (v *Server) open() bool { return len(v.hosts) == 0 }

// host finds the name of a Host header among the server's.
func (v *Server) host(header string) (Host, bool) {
	name := strings.Trim(hostName(header), "[]")
	for _, h := range v.hosts {
		if strings.EqualFold(h.Name, name) {
			return h, true
		}
	}
	return Host{}, false
}

// onlineOnly says that browsers will make no passkey for a Host header.
func (v *Server) onlineOnly(header string) bool {
	h, ok := v.host(header)
	return !ok || h.OnlineOnly || net.ParseIP(h.Name) != nil
}

// CheckHost says why a name will not do as one that phones reach the server by.
func CheckHost(name string) *phrase.Fault {
	if net.ParseIP(name) != nil {
		return nil
	}
	for _, label := range strings.Split(name, ".") {
		if !isLabel(label) {
			return fault(phrase.Invalid, "server.host", phrase.With("value", name))
		}
	}
	if len(name) > 253 || strings.EqualFold(name, "localhost") {
		return fault(phrase.Invalid, "server.host", phrase.With("value", name))
	}
	return nil
}

// isLabel is RFC 1123, 2.1: letters, digits and inner hyphens.
func isLabel(s string) bool {
	if s == "" || len(s) > 63 || s[0] == '-' || s[len(s)-1] == '-' {
		return false
	}
	return !strings.ContainsFunc(s, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-')
	})
}
