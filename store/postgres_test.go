package store

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"spadework/engine/record"
	"spadework/store/cluster"
)

// shared is the PostgreSQL that the tests of this package share.
var shared struct {
	sync.Once
	cluster *cluster.Cluster
	err     error
}

func TestMain(m *testing.M) {
	if child := os.Getenv("STORE_TEST_CHILD"); child != "" {
		os.Exit(runChild(child))
	}
	status := m.Run()
	if shared.cluster != nil {
		_ = shared.cluster.Stop()
	}
	os.Exit(status)
}

// newPostgres is the address of an empty database of a real PostgreSQL.
func newPostgres(t testing.TB) string {
	t.Helper()
	shared.Do(func() { shared.cluster, shared.err = cluster.Start() })
	if errors.Is(shared.err, cluster.ErrNone) {
		t.Skip("PostgreSQL is not tested: " + shared.err.Error())
	}
	if shared.err != nil {
		t.Fatal(shared.err)
	}
	address, err := shared.cluster.Database()
	if err != nil {
		t.Fatal(err)
	}
	return address
}

// TestKilledPostgresLosesNothing kills PostgreSQL itself, every process of it,
// while phones write, and starts it again.
func TestKilledPostgresLosesNothing(t *testing.T) {
	c, err := cluster.Start()
	if errors.Is(err, cluster.ErrNone) {
		t.Skip("PostgreSQL is not tested: " + err.Error())
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Stop() })
	address, err := c.Database()
	if err != nil {
		t.Fatal(err)
	}
	seed := uint64(time.Now().UnixNano())
	random := rand.New(rand.NewPCG(seed, 0))
	t.Logf("seed %d", seed)
	if err := openYard(t, address).Close(); err != nil {
		t.Fatal(err)
	}
	crash := crashed{acked: map[string]bool{}}
	for run := range max(kills()/10, 3) {
		before := len(crash.acked)
		crash.killPostgres(t, c, address, run, time.Duration(random.Int64N(int64(300*time.Millisecond))))
		if len(crash.acked) == before {
			t.Errorf("run %d acknowledged nothing before the kill", run)
		}
		crash.check(t, address)
	}
	t.Logf("%d records acknowledged and found once", len(crash.acked))
}

// killPostgres writes from four phones and kills the cluster some time after the
// first record was acknowledged.
func (c *crashed) killPostgres(t *testing.T, pg *cluster.Cluster, address string, run int, after time.Duration) {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	s := open(t, address, Options{})
	var mu sync.Mutex
	var acked atomic.Int64
	var phones sync.WaitGroup
	for i := range 4 {
		phones.Go(func() {
			p := phone{job: "yard", name: fmt.Sprintf("run%d-%d", run, i), person: "ana"}
			for ctx.Err() == nil {
				r, f := p.write(&record.Note{Words: "under load"})
				if f != nil {
					t.Error(f)
					return
				}
				if _, err := s.Append(context.Background(), "yard", entries(r)); err != nil {
					wantCode(t, "Append to a killed PostgreSQL", err, Unavailable)
					return
				}
				acked.Add(1)
				mu.Lock()
				c.acked[r.ID.String()] = true
				mu.Unlock()
			}
		})
	}
	for start := time.Now(); acked.Load() == 0 && time.Since(start) < 20*time.Second; {
		time.Sleep(time.Millisecond)
	}
	time.Sleep(after)
	err := pg.Kill()
	stop()
	phones.Wait()
	if err = errors.Join(err, s.Close(), pg.Restart()); err != nil {
		t.Fatal(err)
	}
}
