package server

import (
	"context"
	"time"

	"spadework/engine/phrase"
)

// limitWindow is the time in which attempts are counted.
const limitWindow = 15 * time.Minute

// Attempts in a window: at one person's password, so that guessing fifteen
// characters is hopeless; and from one address, where a whole crew may sit
// behind one router.
const (
	perPerson  = 10
	perAddress = 60
)

// limit counts an attempt of a kind and refuses one too many. The counts lie in
// the database, so that several servers count together.
func (v *Server) limit(ctx context.Context, kind, person string) error {
	if err := v.count(ctx, kind+" from "+callerOf(ctx).address, perAddress); err != nil || person == "" {
		return err
	}
	return v.count(ctx, kind+" of "+person, perPerson)
}

func (v *Server) count(ctx context.Context, what string, most int64) error {
	n, ends, err := v.store.Count(ctx, what, limitWindow)
	if err == nil && n > most {
		return fault(TooMany, "server.too_many", phrase.With("minutes", int(ends.Sub(v.now())/time.Minute)+1))
	}
	return err
}
