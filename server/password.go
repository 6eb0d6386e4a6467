package server

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"

	"spadework/engine/phrase"
)

// Argon2id as RFC 9106, section 4, recommends second: 64 MiB, three passes, four
// lanes.
const (
	passwordMemory = 64 << 10 // KiB
	passwordTime   = 3
	passwordLanes  = 4
	passwordSalt   = 16
	passwordKey    = 32
)

// Lengths of a password in characters: NIST SP 800-63B-4, 3.1.1.2, asks for
// fifteen where nothing else proves who it is. The longest keeps the work short.
const (
	passwordLeast = 15
	passwordMost  = 200
)

// hashersAtOnce bounds the memory that passwords take.
const hashersAtOnce = 2

// checkPassword says why a password will not do.
func checkPassword(password, name string) *phrase.Fault {
	n := utf8.RuneCountInString(password)
	different := map[rune]bool{}
	for _, r := range password {
		different[r] = true
	}
	switch {
	case n < passwordLeast || n > passwordMost || !utf8.ValidString(password):
		return fault(phrase.Invalid, "server.password_length", phrase.With("least", passwordLeast), phrase.With("most", passwordMost))
	case len(different) < 6 || strings.EqualFold(strings.TrimSpace(password), name):
		return fault(phrase.Invalid, "server.password_plain")
	}
	return nil
}

// hashPassword is a password as it is kept: a PHC string.
func (v *Server) hashPassword(ctx context.Context, password string) (string, error) {
	salt := make([]byte, passwordSalt)
	if _, err := rand.Read(salt); err != nil {
		return "", err
	}
	done, err := v.hasher(ctx)
	if err != nil {
		return "", err
	}
	defer done()
	key := argon2.IDKey([]byte(password), salt, passwordTime, passwordMemory, passwordLanes, passwordKey)
	enc := base64.RawStdEncoding
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, passwordMemory, passwordTime, passwordLanes, enc.EncodeToString(salt), enc.EncodeToString(key)), nil
}

// hasher waits for one of the few places where passwords are worked on.
func (v *Server) hasher(ctx context.Context) (done func(), err error) {
	select {
	case v.hashers <- struct{}{}:
		return func() { <-v.hashers }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// fitsPassword says that a password is the one that was kept. Without one kept
// it takes the same time.
func (v *Server) fitsPassword(ctx context.Context, kept, password string) (bool, error) {
	done, err := v.hasher(ctx)
	if err != nil || len(password) > 4*passwordMost {
		return false, err
	}
	defer done()
	there := kept != ""
	if !there {
		kept = nobodysPassword
	}
	return verifyPassword(kept, password) && there, nil
}

// nobodysPassword has the cost of a real one and fits none that is known.
const nobodysPassword = "$argon2id$v=19$m=65536,t=3,p=4$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA"

// verifyPassword works a password out with the parameters of a PHC string.
func verifyPassword(kept, password string) bool {
	var version int
	var memory, time uint32
	var lanes uint8
	parts := strings.Split(kept, "$")
	if len(parts) != 6 || parts[1] != "argon2id" {
		return false
	}
	if _, err := fmt.Sscanf(parts[2], "v=%d", &version); err != nil || version != argon2.Version {
		return false
	}
	if _, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &memory, &time, &lanes); err != nil || time == 0 || lanes == 0 || memory > 1<<20 {
		return false
	}
	salt, err := base64.RawStdEncoding.DecodeString(parts[4])
	want, err2 := base64.RawStdEncoding.DecodeString(parts[5])
	if err != nil || err2 != nil || len(want) == 0 {
		return false
	}
	return subtle.ConstantTimeCompare(argon2.IDKey([]byte(password), salt, time, memory, lanes, uint32(len(want))), want) == 1
}
