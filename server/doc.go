// Package server serves a store over HTTP: the API of jobs, records, photos and
// people, and the page. New makes one; without Hosts it answers for the loopback
// address, open for one person; with them everybody has an account and does what
// the one table of rights says (rights.go). Authority, OwnCertificate and RootPage
// are what TLS on a site needs. Demo shows a plan as one page.
package server
