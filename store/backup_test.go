package store

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"spadework/engine/phrase"
)

// unzip reads a backup into memory.
func unzip(t testing.TB, path string) fstest.MapFS {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	out := fstest.MapFS{}
	for _, f := range z.File {
		data, err := fs.ReadFile(z, f.Name)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = &fstest.MapFile{Data: data}
	}
	return out
}

// TestBackupMovesBetweenDatabases restores a backup of each database into the
// other, whose backup is then the same byte for byte.
func TestBackupMovesBetweenDatabases(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		ctx := context.Background()
		s := filled(t, address)
		path := filepath.Join(t.TempDir(), "one.zip")
		want, err := s.Backup(ctx, path)
		if err != nil || want.Records != 3 || want.Asides != 3 || want.Photos != 1 {
			t.Fatalf("Backup = %+v, %v, want 3 records, 3 set aside, 1 photo", want, err)
		}
		_, err = s.Backup(ctx, path)
		wantKey(t, "Backup over a file", err, "store.backup_there")
		other := newPostgres(t)
		if s.kind == postgres {
			other = filepath.Join(t.TempDir(), "other.db")
		}
		back := open(t, other, Options{})
		if got, err := back.Restore(ctx, unzip(t, path)); err != nil || fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("Restore = %+v, %v, want %+v", got, err, want)
		}
		if !back.Key().Equal(s.Key()) {
			t.Error("the restored store signs with another key")
		}
		again := filepath.Join(t.TempDir(), "two.zip")
		if _, err := back.Backup(ctx, again); err != nil {
			t.Fatal(err)
		}
		one, two := unzip(t, path), unzip(t, again)
		if len(one) != len(two) {
			t.Errorf("%d files, then %d", len(one), len(two))
		}
		for name, f := range one {
			if two[name] == nil || !bytes.Equal(two[name].Data, f.Data) {
				t.Errorf("%s differs after a restore", name)
			}
		}
		_, err = back.Restore(ctx, unzip(t, path))
		wantKey(t, "Restore into a store that holds something", err, "store.not_empty")
		p := phone{job: "yard", name: "new", person: "ana"}
		if ack := mustAppend(t, back, "yard", entries(p.note(t, "on"))); ack.Answers[0].Cursor != 4 {
			t.Errorf("the log goes on at %d after a restore, want 4", ack.Answers[0].Cursor)
		}
	})
}

func TestDamagedBackupIsRefusedWhole(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	s := filled(t, filepath.Join(dir, "store.db"))
	path := filepath.Join(dir, "one.zip")
	if _, err := s.Backup(ctx, path); err != nil {
		t.Fatal(err)
	}
	fresh := open(t, filepath.Join(dir, "fresh.db"), Options{})
	key := fresh.Key()
	for name, f := range unzip(t, path) {
		changed, gone := unzip(t, path), unzip(t, path)
		changed[name] = &fstest.MapFile{Data: append([]byte("x"), f.Data...)}
		delete(gone, name)
		for what, files := range map[string]fstest.MapFS{"changed": changed, "gone": gone} {
			_, err := fresh.Restore(ctx, files)
			wantKey(t, name+" "+what, err, "store.backup_file")
		}
	}
	if list, err := fresh.Jobs(ctx); err != nil || len(list) != 0 || !fresh.Key().Equal(key) {
		t.Errorf("%d jobs after refused backups, %v, want none and the old key", len(list), err)
	}
	if r, err := fresh.Restore(ctx, unzip(t, path)); err != nil || r.Jobs != 2 {
		t.Errorf("Restore of the sound one = %+v, %v, want 2 jobs", r, err)
	}
}

func TestBackupWhileOthersWrite(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		ctx, stop := context.WithCancel(context.Background())
		s := openYard(t, address)
		done := make(chan int)
		var written atomic.Int64
		go func() {
			p, n := phone{job: "yard", name: "a", person: "ana"}, 0
			for ; ctx.Err() == nil; n++ {
				written.Store(int64(n))
				if _, err := s.Append(context.Background(), "yard", entries(p.note(t, "on and on"))); err != nil {
					t.Errorf("Append: %v", err)
				}
			}
			done <- n
		}()
		dir := t.TempDir()
		last := -1
		for i := range 3 {
			for written.Load() <= int64(max(last, 0)) { // so that each backup has more to hold
				time.Sleep(time.Millisecond)
			}
			r, err := s.Backup(context.Background(), filepath.Join(dir, fmt.Sprint(i)))
			if err != nil || r.Records <= last {
				t.Errorf("Backup %d has %d records, %v, want more than %d", i, r.Records, err, last)
			}
			last = r.Records
		}
		stop()
		if n := <-done; n < last {
			t.Errorf("%d records written, %d in the backup", n, last)
		}
		if left, err := filepath.Glob(filepath.Join(dir, ".*")); err != nil || len(left) != 0 {
			t.Errorf("left over: %v, %v", left, err)
		}
	})
}

func TestExportIsOpenFormatsWithoutTheKey(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		ctx := context.Background()
		s := filled(t, address)
		folder := filepath.Join(t.TempDir(), "out")
		if err := s.Export(ctx, folder); err != nil {
			t.Fatal(err)
		}
		if _, err := os.Stat(filepath.Join(folder, "key.txt")); err == nil {
			t.Error("the export holds the key of receipts")
		}
		log, err := os.ReadFile(filepath.Join(folder, "jobs/0002/records.jsonl"))
		if err != nil || strings.Count(string(log), "\n") != 3 {
			t.Errorf("records.jsonl has %d lines, %v, want 3", strings.Count(string(log), "\n"), err)
		}
		document, err := os.ReadFile(filepath.Join(folder, "jobs/0002/revisions/000003.toml"))
		if err != nil || string(document) != "[job]\nname = \"Ñ i\"\n" {
			t.Errorf("revision 3 is %q, %v", document, err)
		}
		back := open(t, filepath.Join(t.TempDir(), "back.db"), Options{})
		if r, err := back.Restore(ctx, os.DirFS(folder)); err != nil || r.Records != 3 {
			t.Errorf("Restore of the export = %+v, %v, want 3 records", r, err)
		}
		if r, err := back.Receipt(ctx, "yard"); err != nil || r == nil || r.Cursor != 3 || !r.Genuine(back.Key()) || r.Genuine(s.Key()) {
			t.Errorf("receipt %+v, %v, want one of the new key at 3", r, err)
		}
		wantKey(t, "Export over a folder", s.Export(ctx, folder), "store.backup_there")
	})
}

// FuzzRestore gives a restore any manifest and list: one fault or a sound store.
func FuzzRestore(f *testing.F) {
	f.Add([]byte(`{"format":1,"files":[]}`), []byte(`{"id":"yard","folder":"jobs/0001"}`))
	f.Add([]byte(`{"format":2}`), []byte(``))
	s, err := Open(context.Background(), filepath.Join(f.TempDir(), "store.db"), Options{})
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, manifest, jobs []byte) {
		_, err := s.Restore(context.Background(), fstest.MapFS{"manifest.json": {Data: manifest}, "jobs.jsonl": {Data: jobs}, "people.jsonl": {}, "devices.jsonl": {}, "photos.jsonl": {}})
		wantCode(t, "Restore", err, phrase.Invalid)
	})
}
