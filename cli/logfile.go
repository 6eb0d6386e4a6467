package cli

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// logFile is the log beside a job: one record in its canonical form a line,
// only ever added to.
type logFile struct {
	path    string
	records []record.Record
	torn    []byte // what stands after the last whole line: a write that was cut off
}

// logPath is the log of a job file: site.toml has site.log.jsonl.
func logPath(job string) string { return strings.TrimSuffix(job, ".toml") + ".log.jsonl" }

// readLog reads a log; one that is not there is empty. A line that cannot be
// read is a fault with its place; a torn end is kept and told by the caller.
func readLog(path string) (*logFile, error) {
	data, err := os.ReadFile(path)
	if err != nil && !os.IsNotExist(err) {
		return nil, fileFault(path, err)
	}
	return parseLog(path, data)
}

func parseLog(path string, data []byte) (*logFile, error) {
	out := &logFile{path: path}
	for line := 1; len(data) > 0; line++ {
		text, rest, whole := bytes.Cut(data, []byte("\n"))
		r, f := record.Decode(text)
		if !whole && f != nil {
			out.torn = text
			return out, nil
		}
		if f != nil {
			f.Place.File, f.Place.Line = path, line
			return nil, f
		}
		out.records = append(out.records, r)
		data = rest
	}
	return out, nil
}

// tornPath is where a torn end is put away.
func tornPath(path string) string { return path + ".torn" }

// openLog opens the log for adding and locks it against other programs. A torn
// end is put away beside it, never overwritten; a whole record that only lacks
// its line's end gets that.
func openLog(path string) (*logFile, *os.File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err == nil {
		err = syncFolder(filepath.Dir(path))
	}
	if err != nil {
		return nil, nil, fileFault(path, err)
	}
	log, err := lockedLog(f, path)
	if err != nil {
		f.Close()
		return nil, nil, err
	}
	return log, f, nil
}

// syncFolder waits until the disk has the names in a folder, so that a log just
// begun survives a power cut. A system that cannot do that is taken as it is.
func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && runtime.GOOS != "windows" {
		return err
	}
	return nil
}

func lockedLog(f *os.File, path string) (*logFile, error) {
	if err := lock(f); err != nil {
		return nil, fileFault(path, err)
	}
	data, err := io.ReadAll(f)
	if err != nil {
		return nil, fileFault(path, err)
	}
	log, err := parseLog(path, data)
	if err != nil {
		return nil, err
	}
	switch {
	case len(log.torn) > 0:
		err = putAway(f, path, data, log.torn)
	case len(data) > 0 && data[len(data)-1] != '\n':
		_, err = f.Write([]byte("\n"))
	}
	if err != nil {
		return nil, fileFault(path, err)
	}
	return log, nil
}

// putAway saves a torn end and takes it off the log, in this order.
func putAway(f *os.File, path string, data, torn []byte) error {
	away, err := os.OpenFile(tornPath(path), os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		return err
	}
	defer away.Close()
	if _, err := away.Write(append(bytes.Clone(torn), '\n')); err != nil {
		return err
	}
	if err := away.Sync(); err != nil {
		return err
	}
	whole := int64(len(data) - len(torn))
	if err := f.Truncate(whole); err != nil {
		return err
	}
	_, err = f.Seek(whole, io.SeekStart)
	return err
}

// appendRecord writes a record and waits until the disk has it.
func appendRecord(f *os.File, path string, r record.Record) error {
	if _, err := f.Write(append(r.Append(nil), '\n')); err != nil {
		return fileFault(path, err)
	}
	if err := f.Sync(); err != nil {
		return fileFault(path, err)
	}
	return nil
}

// tornFault tells of a torn end.
func tornFault(path string, torn []byte) *phrase.Fault {
	return phrase.NewFault(phrase.New("cli.log_torn", phrase.With("file", path), phrase.With("count", len(torn))),
		phrase.New("cli.log_torn.remedy", phrase.With("file", tornPath(path))))
}
