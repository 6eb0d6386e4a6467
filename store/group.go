package store

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"spadework/engine/phrase"
)

// batch is one Append that waits for its commit.
type batch struct {
	ctx      context.Context
	job      string
	arrivals []arrival
	ack      Ack
	err      error
	turn     chan bool // true: it was committed; false: its caller commits next
}

// maxGroup bounds the batches of one commit, so that nobody waits for long.
const maxGroup = 128

// group commits the batches that arrive while the commit before is under way
// together. One sync of the disk then serves all of them. The first of those
// who wait commits for all, so that a caller alone hands nothing over.
type group struct {
	store   *Store
	mu      sync.Mutex
	waiting []*batch
	busy    bool // somebody commits
	closed  bool
	idle    sync.WaitGroup // of those who are in
}

// submit hands a batch in and waits for what became of it.
func (g *group) submit(b *batch) *phrase.Fault {
	b.turn = make(chan bool, 1)
	g.mu.Lock()
	if g.closed {
		g.mu.Unlock()
		return fault(Unavailable, "store.closed")
	}
	g.idle.Add(1)
	defer g.idle.Done()
	g.waiting = append(g.waiting, b)
	first := !g.busy
	g.busy = true
	g.mu.Unlock()
	if first || !<-b.turn {
		g.lead(b)
	}
	return nil
}

// lead commits the batches that wait, the leader's own the first of them, and
// hands on.
func (g *group) lead(own *batch) {
	g.mu.Lock()
	list := slices.Clone(g.waiting[:min(len(g.waiting), maxGroup)])
	g.waiting = slices.Delete(g.waiting, 0, len(list))
	g.mu.Unlock()
	for _, b := range list {
		b.err = fault(Unavailable, "store.closed") // should the commit panic
	}
	defer func() {
		for _, b := range list {
			if b != own {
				b.turn <- true
			}
		}
		g.handOn()
	}()
	g.commit(list)
}

// handOn wakes the next who commits.
func (g *group) handOn() {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.busy = len(g.waiting) > 0; g.busy {
		g.waiting[0].turn <- false
	}
}

// stop lets what was handed in end.
func (g *group) stop() {
	g.mu.Lock()
	g.closed = true
	g.mu.Unlock()
	g.idle.Wait()
}

// commit writes batches in one transaction; if that fails each alone, so that
// one does not spoil the others'.
func (g *group) commit(list []*batch) {
	live := make([]*batch, 0, len(list))
	for _, b := range list {
		if b.err = b.ctx.Err(); b.err == nil {
			live = append(live, b)
		}
	}
	err := g.try(live)
	for _, b := range live {
		if err != nil && len(live) > 1 {
			b.err = g.try([]*batch{b})
		} else {
			b.err = err
		}
		if b.err != nil {
			b.ack = Ack{}
		}
	}
}

// try writes batches in one transaction. Jobs are locked in the order of their
// ids, so that two servers never wait for each other.
func (g *group) try(list []*batch) error {
	if len(list) == 0 {
		return nil
	}
	ordered := slices.Clone(list)
	slices.SortStableFunc(ordered, func(a, b *batch) int { return cmp.Compare(a.job, b.job) })
	return g.store.inSession(func(tx session) error {
		for len(ordered) > 0 {
			n := slices.IndexFunc(ordered, func(b *batch) bool { return b.job != ordered[0].job })
			if n < 0 {
				n = len(ordered)
			}
			if err := g.store.appendTo(tx, ordered[:n]); err != nil {
				return err
			}
			ordered = ordered[n:]
		}
		return nil
	})
}
