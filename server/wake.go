package server

import (
	"context"
	"sync"
	"time"

	"spadework/store"
)

// lookEvery is how often the store is asked for what other servers on it wrote.
const lookEvery = time.Second

// wake tells the streams of a job that something changed. What this server
// writes it tells at once; what others on the same store write it finds by
// looking while somebody listens.
type wake struct {
	store *store.Store
	stop  context.CancelFunc
	ended chan struct{}

	mu     sync.Mutex
	closed bool
	ears   map[string]map[chan struct{}]bool // by job
}

func newWake(s *store.Store) *wake {
	ctx, stop := context.WithCancel(context.Background())
	w := &wake{store: s, stop: stop, ended: make(chan struct{}), ears: map[string]map[chan struct{}]bool{}}
	go w.look(ctx)
	return w
}

// listen gives a channel that has something whenever the job may have changed
// and is closed when the server closes.
func (w *wake) listen(job string) (news <-chan struct{}, done func()) {
	ear := make(chan struct{}, 1)
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.closed {
		close(ear)
		return ear, func() {}
	}
	if w.ears[job] == nil {
		w.ears[job] = map[chan struct{}]bool{}
	}
	w.ears[job][ear] = true
	return ear, func() { w.forget(job, ear) }
}

func (w *wake) forget(job string, ear chan struct{}) {
	w.mu.Lock()
	defer w.mu.Unlock()
	delete(w.ears[job], ear)
	if len(w.ears[job]) == 0 {
		delete(w.ears, job)
	}
}

// tell wakes everybody who listens to a job.
func (w *wake) tell(job string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for ear := range w.ears[job] {
		select {
		case ear <- struct{}{}:
		default:
		}
	}
}

// tellAll wakes everybody: rights changed, and some may not listen any more.
func (w *wake) tellAll() {
	for _, job := range w.heard() {
		w.tell(job)
	}
}

// look finds what other servers wrote.
func (w *wake) look(ctx context.Context) {
	defer close(w.ended)
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	last := map[string]mark{}
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		now := map[string]mark{}
		for _, job := range w.heard() {
			m, err := w.mark(ctx, job)
			if err != nil {
				continue // the next look tells
			}
			if before, known := last[job]; !known || before != m {
				w.tell(job)
			}
			now[job] = m
		}
		last = now
	}
}

// mark is how far a job is in the store.
func (w *wake) mark(ctx context.Context, job string) (mark, error) {
	revision, cursor, err := w.store.Newest(ctx, job)
	return mark{revision, cursor}, err
}

// heard are the jobs that somebody listens to.
func (w *wake) heard() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	out := make([]string, 0, len(w.ears))
	for job := range w.ears {
		out = append(out, job)
	}
	return out
}

// close ends every stream.
func (w *wake) close() {
	w.stop()
	<-w.ended
	w.mu.Lock()
	defer w.mu.Unlock()
	w.closed = true
	for job, ears := range w.ears {
		for ear := range ears {
			close(ear)
		}
		delete(w.ears, job)
	}
}
