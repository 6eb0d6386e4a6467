package store

import (
	"cmp"
	"context"
	"database/sql"
	"slices"
	"sync"
)

// batch is one Append that waits for its commit.
type batch struct {
	ctx      context.Context
	job      string
	arrivals []arrival
	ack      Ack
	err      error
	done     chan struct{}
}

// maxGroup bounds the batches of one commit, so that nobody waits for long.
const maxGroup = 128

// group commits the batches that arrive while the commit before is under way
// together. One sync of the disk then serves all of them.
type group struct {
	store   *Store
	queue   chan *batch
	mu      sync.RWMutex // holds closing off while somebody submits
	closed  bool
	stopped chan struct{}
}

func newGroup(s *Store) *group {
	g := &group{store: s, queue: make(chan *batch, maxGroup), stopped: make(chan struct{})}
	go g.run()
	return g
}

// submit hands a batch in and waits for what became of it.
func (g *group) submit(b *batch) error {
	g.mu.RLock()
	if g.closed {
		g.mu.RUnlock()
		return fault(Unavailable, "store.closed")
	}
	select {
	case g.queue <- b:
		g.mu.RUnlock()
	case <-b.ctx.Done():
		g.mu.RUnlock()
		return b.ctx.Err()
	}
	<-b.done
	return nil
}

// stop lets what was handed in end.
func (g *group) stop() {
	g.mu.Lock()
	if !g.closed {
		g.closed = true
		close(g.queue)
	}
	g.mu.Unlock()
	<-g.stopped
}

func (g *group) run() {
	defer close(g.stopped)
	for b := range g.queue {
		g.commit(g.waiting([]*batch{b}))
	}
}

// waiting adds the batches that are there by now.
func (g *group) waiting(list []*batch) []*batch {
	for len(list) < maxGroup {
		select {
		case b, ok := <-g.queue:
			if !ok {
				return list
			}
			list = append(list, b)
		default:
			return list
		}
	}
	return list
}

// commit writes batches in one transaction; if that fails each alone, so that
// one does not spoil the others'.
func (g *group) commit(list []*batch) {
	list = slices.DeleteFunc(list, func(b *batch) bool {
		if b.err = b.ctx.Err(); b.err != nil {
			close(b.done)
		}
		return b.err != nil
	})
	err := g.try(list)
	for _, b := range list {
		if err != nil && len(list) > 1 {
			b.err = g.try([]*batch{b})
		} else {
			b.err = err
		}
		if b.err != nil {
			b.ack = Ack{}
		}
		close(b.done)
	}
}

// try writes batches in one transaction. Its context is its own: a caller who
// leaves must not undo what others wait for. Jobs are locked in the order of
// their ids, so that two servers never wait for each other.
func (g *group) try(list []*batch) error {
	if len(list) == 0 {
		return nil
	}
	ordered := slices.Clone(list)
	slices.SortStableFunc(ordered, func(a, b *batch) int { return cmp.Compare(a.job, b.job) })
	return g.store.inTx(context.Background(), func(tx *sql.Tx) error {
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
