package store

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
)

// secretSize is the bytes of chance in a token: 256 bits cannot be guessed.
const secretSize = 32

// NewSecret is a token of chance for a link or a cookie.
func NewSecret() string { return chance(secretSize) }

// newID is chance that names something and is no secret.
func newID() string { return chance(9) }

// chance is bytes of chance in letters that an address takes.
func chance(size int) string {
	raw := make([]byte, size)
	if _, err := rand.Read(raw); err != nil {
		panic("store: the system has no chance to give: " + err.Error())
	}
	return base64.RawURLEncoding.EncodeToString(raw)
}

// hashed is what is kept of a secret. Chance of this length needs no salt.
func hashed(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}
