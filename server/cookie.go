package server

import (
	"net/http"

	"spadework/store"
)

// cookieName has the prefix that binds a cookie to its host and to TLS (RFC
// 6265bis, 4.1.3.2).
const cookieName = "__Host-spadework"

// cookieOf carries a session's secret: no script reads it and no other site's
// page sends it.
func cookieOf(secret string) http.Cookie {
	return http.Cookie{
		Name: cookieName, Value: secret, Path: "/", MaxAge: int(store.SessionIdle.Seconds()),
		Secure: true, HttpOnly: true, SameSite: http.SameSiteStrictMode,
	}
}
