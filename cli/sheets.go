package cli

import (
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/sheet"
)

// sheetsCommand writes the sheets of a job on paper.
type sheetsCommand struct {
	jobArgument
	Out     string   `short:"o" required:"" help:"${help_out}" placeholder:"FILE.pdf"`
	Paper   string   `help:"${help_paper}" default:"letter" enum:"letter,a4" placeholder:"letter|a4"`
	Cards   []string `help:"${help_cards}" placeholder:"ID,ID"`
	Parts   []string `help:"${help_parts}" placeholder:"PART,PART"`
	Link    string   `help:"${help_link}" placeholder:"URL"`
	Foreman []string `help:"${help_foreman}"`
	SVG     string   `name:"svg" help:"${help_svg}" placeholder:"DIR"`
	PNG     string   `name:"png" help:"${help_png}" placeholder:"DIR"`
}

// Run lays the sheets out, then writes every file whole.
func (c *sheetsCommand) Run(a *app) error {
	p, v, st, err := a.loadLog(c.jobArgument, c.Foreman)
	if err != nil {
		return err
	}
	options, err := c.options(p, v)
	if err != nil {
		return err
	}
	options.Log = st
	d, fault := sheet.Book(p, v, options)
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	if err := c.write(d); err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.println(v.Text("cli.sheets_written", phrase.With("file", c.Out), phrase.With("count", len(d.Pages))))
	return nil
}

// options are what the flags ask for.
func (c *sheetsCommand) options(p *plan.Plan, v sheet.View) (sheet.BookOptions, error) {
	paper, _ := sheet.PaperNamed(c.Paper)
	o := sheet.BookOptions{Paper: paper, Digs: c.Cards}
	for _, id := range c.Cards {
		if _, ok := p.Dig(id); !ok {
			return o, unknownID(v, id, digIDs(p))
		}
	}
	if len(c.Cards) > 0 && len(c.Parts) == 0 {
		o.Parts = []sheet.Part{sheet.DigPart}
	}
	for _, name := range c.Parts {
		part, err := partNamed(v, name)
		if err != nil {
			return o, err
		}
		o.Parts = append(o.Parts, part)
	}
	if c.Link != "" {
		o.Address = func(k sheet.Card) string { return sheet.CardAddress(c.Link, k) }
	}
	return o, nil
}

func partNamed(v sheet.View, name string) (sheet.Part, error) {
	var known []string
	for _, part := range sheet.Parts() {
		if string(part) == name {
			return part, nil
		}
		known = append(known, string(part))
	}
	f := phrase.NewFault(phrase.New("cli.part", phrase.With("value", name)), phrase.New("cli.part.remedy", phrase.With("known", known)))
	return "", styled{f, v.Language, v.Style}
}

// pngDots is dots to the inch of a picture of a page.
const pngDots = 150

// write writes the PDF, and the pages as drawings and pictures where asked for.
func (c *sheetsCommand) write(d sheet.Document) error {
	for i, page := range d.Pages {
		name := "page-" + pageNumber(i+1, len(d.Pages))
		if c.SVG != "" {
			if err := writeWhole(filepath.Join(c.SVG, name+".svg"), sheet.PageSVG(page)); err != nil {
				return err
			}
		}
		if c.PNG != "" {
			data, err := sheet.PNG(page, pngDots)
			if err != nil {
				return err
			}
			if err := writeWhole(filepath.Join(c.PNG, name+".png"), data); err != nil {
				return err
			}
		}
	}
	return writeWhole(c.Out, sheet.PDF(d))
}

// pageNumber has as many digits as the last.
func pageNumber(n, last int) string {
	s := strconv.Itoa(n)
	return strings.Repeat("0", len(strconv.Itoa(last))-len(s)) + s
}

// writeWhole writes a file beside its place and moves it there, so that what
// stood there stays until the new one is whole. Its folder is made if need be.
func writeWhole(path string, data []byte) (err error) {
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return fileFault(path, err)
	}
	f, err := os.CreateTemp(folder, "."+filepath.Base(path)+"-*")
	if err != nil {
		return fileFault(path, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(fileFault(path, err), os.Remove(f.Name()))
		}
	}()
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(0o644)
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
