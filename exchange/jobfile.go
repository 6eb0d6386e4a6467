package exchange

import (
	"errors"
	"io/fs"

	"spadework/engine/job"
	"spadework/engine/phrase"
)

// Open gives the bytes of a file that a job names. It returns an error that is
// fs.ErrNotExist where there is none.
type Open func(name string) ([]byte, error)

// ReadJob reads a job file and the files it names. file is the name shown in
// faults, the voice how they are to be told.
func ReadJob(file string, data []byte, open Open) (*job.Job, job.Voice, error) {
	doc, fault := job.Parse(file, data)
	if fault != nil {
		return nil, job.Voice{}, fault
	}
	voice := doc.Voice()
	j, err := readDocument(doc, open, ReadGrid)
	return j, voice, err
}

// readDocument reads the files of a document and decodes it.
func readDocument(doc *job.Document, open Open, grid gridOf) (*job.Job, error) {
	files := job.Files{Tables: map[string]*job.Rows{}, Grids: map[string]job.Grid{}}
	for _, ref := range doc.Files() {
		if err := readBeside(ref, open, grid, &files); err != nil {
			return nil, err
		}
	}
	j, fault := doc.Decode(files)
	if fault != nil {
		return nil, fault
	}
	return j, nil
}

// gridOf reads a grid.
type gridOf func(data []byte) (job.Grid, error)

// readBeside reads one file beside the job.
func readBeside(ref job.FileRef, open Open, grid gridOf, files *job.Files) error {
	data, err := open(ref.Name)
	if err != nil {
		return missing(ref, err)
	}
	if ref.Kind == job.GridFile {
		read, err := grid(data)
		if err != nil {
			return placeFile(err, ref.Name)
		}
		files.Grids[ref.Name] = read
		return nil
	}
	rows, fault := ReadTable(ref.Name, data)
	if fault != nil {
		return fault
	}
	files.Tables[ref.Name] = rows
	return nil
}

// missing is the fault of a file that cannot be read, at the place that names
// it.
func missing(ref job.FileRef, err error) error {
	key := phrase.Key("exchange.unreadable_file")
	if errors.Is(err, fs.ErrNotExist) {
		key = "exchange.missing_file"
	}
	f := phrase.NewFault(
		phrase.New(key, phrase.With("file", ref.Name), phrase.With("detail", err.Error())),
		phrase.New(key+".remedy"))
	f.Code = phrase.NotFound
	return f.At(ref.Place)
}

// placeFile names the file in a fault that has only line and column.
func placeFile(err error, file string) error {
	var f *phrase.Fault
	if !errors.As(err, &f) {
		return err
	}
	out := *f
	out.Place.File = file
	return &out
}
