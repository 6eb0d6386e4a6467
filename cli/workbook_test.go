package cli

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"
)

// ran runs a command and gives what it printed.
func ran(t *testing.T, status int, args ...string) string {
	t.Helper()
	var out, faults bytes.Buffer
	if got := Run(t.Context(), args, Streams{Out: &out, Err: &faults}); got != status {
		t.Fatalf("spadework %q = status %d, want %d\n%s%s", args, got, status, out.String(), faults.String())
	}
	return out.String()
}

// planJSON is the part of a plan's JSON that a workbook shows.
type planJSON struct {
	Job         struct{ Units string }
	Excavations []struct {
		ID, Words string
		Parts     []struct {
			Outline [][2]float64
			Plane   struct {
				At, Slope [2]float64
				Z         float64
			}
		}
		Tolerance *struct{ Above, Below float64 }
	}
	Numbers []struct {
		Excavation, Part, Point, From string
		Setup                         *string
		At                            [2]float64
		Bottom                        float64
	}
}

// TestWorkbookIsThePlansJSON holds every cell of digs and numbers against the plan's
// own JSON, in feet (0.3048 m) and in metres.
func TestWorkbookIsThePlansJSON(t *testing.T) {
	for _, example := range []string{"alder-quay", "fennel-yard"} {
		job, file := filepath.Join("..", "examples", example), filepath.Join(t.TempDir(), "out.xlsx")
		ran(t, statusOK, "write", job, "--out", file)
		var p planJSON
		if err := json.Unmarshal([]byte(ran(t, statusOK, "plan", job, "--json")), &p); err != nil {
			t.Fatal(err)
		}
		metres := 1.0
		if p.Job.Units == "ft" {
			metres = 0.3048
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		book, err := excelize.OpenReader(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		names := book.GetSheetList()
		if len(names) != 3 {
			t.Fatalf("%s: sheets %q, want digs, numbers and shots", example, names)
		}
		c := cells{t: t, name: example, metres: metres}
		digs := c.rows(book, names[0], len(p.Excavations))
		for i, x := range p.Excavations {
			lowest, highest := math.Inf(1), math.Inf(-1)
			for _, part := range x.Parts {
				for _, at := range part.Outline {
					z := part.Plane.Z + part.Plane.Slope[0]*(at[0]-part.Plane.At[0]) + part.Plane.Slope[1]*(at[1]-part.Plane.At[1])
					lowest, highest = min(lowest, z), max(highest, z)
				}
			}
			c.text(digs[i], 0, x.ID)
			c.text(digs[i], 1, x.Words)
			c.length(digs[i], 2, lowest)
			c.length(digs[i], 3, highest)
			if x.Tolerance == nil {
				c.text(digs[i], 4, "")
				continue
			}
			c.length(digs[i], 4, x.Tolerance.Above)
			c.length(digs[i], 5, x.Tolerance.Below)
		}
		numbers := c.rows(book, names[1], len(p.Numbers))
		for i, n := range p.Numbers {
			setup := ""
			if n.Setup != nil {
				setup = *n.Setup
			}
			for k, want := range []string{n.Excavation, n.Part, n.Point, setup, n.From} {
				c.text(numbers[i], k, want)
			}
			for k, want := range []float64{n.At[0], n.At[1], n.Bottom} {
				c.length(numbers[i], 5+k, want)
			}
		}
	}
}

// cells judges cells of rows.
type cells struct {
	t      *testing.T
	name   string
	metres float64
}

// rows are those of a sheet under its head.
func (c cells) rows(book *excelize.File, sheet string, want int) [][]string {
	c.t.Helper()
	rows, err := book.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil || len(rows) != want+1 || want == 0 {
		c.t.Fatalf("%s: %d rows in %q (%v), want a head and %d", c.name, len(rows), sheet, err, want)
	}
	return rows[1:]
}

func cellAt(row []string, k int) string {
	if k < len(row) { // empty cells at the end are left out
		return row[k]
	}
	return ""
}

func (c cells) text(row []string, k int, want string) {
	c.t.Helper()
	if got := cellAt(row, k); got != want {
		c.t.Errorf("%s: cell %d of %q is %q, want %q", c.name, k+1, row, got, want)
	}
}

// length wants a figure in the job's unit, to 1 µm: it is written to a millionth.
func (c cells) length(row []string, k int, want float64) {
	c.t.Helper()
	got, err := strconv.ParseFloat(cellAt(row, k), 64)
	if err != nil || !(math.Abs(got*c.metres-want) <= 1e-6) {
		c.t.Errorf("%s: cell %d of %q is %v m, want %v m", c.name, k+1, row, got*c.metres, want)
	}
}
