package cli

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// baseJob plans without a change; every case breaks it in one place.
const baseJob = `[job]
name = "Base"
units = "ft"
curvature = "none"

[[datum]]
id = "FFL"
elevation = 104.5

[[benchmark]]
id = "BM1"
at = [0, 0]
elevation = 101.37
sigma = "2 mm"

[[benchmark]]
id = "BM2"
at = [100, 0]
elevation = 102.06
sigma = "2 mm"

[ground]
level = 102.3

[[laser]]
id = "L1"
accuracy = '10"'
range = 400
axes = 1
steepest = "10 %"
step = "0.005 %"

[[rod]]
id = "R1"
face = "inches"
shortest = 1
longest = 16

[[excavation]]
id = "F1"
kind = "footing"
at = [30, 20]
size = [4, 6]
bottom = { below = "3'-4\"", datum = "FFL" }
tolerance = { above = 0, below = "1 in" }

[[excavation]]
id = "D1"
kind = "trench"
line = [[40, 30], [100, 30]]
width = 2
inverts = [{ station = 0, invert = 99.4 }]
fall = "1/4 in/ft"
pipe = { outside = "6.275 in", wall = "0.18 in" }
tolerance = "1/2 in"

[[setup]]
tag = "A1"
at = [50, 0]
backsights = [
  { benchmark = "BM1", rod = "6'-4 1/4\"" },
  { benchmark = "BM2", rod = "5'-8\"" },
]
`

// badInputs break the base job: old is replaced by new once. The whole of the
// error output stands in testdata/bad/<name>.txt.
var badInputs = []struct{ name, old, new string }{
	{"unknown key", `units = "ft"`, "units = \"ft\"\nunit = \"ft\""},
	{"unknown table", "[[datum]]", "[[datums]]"},
	{"unknown unit", `"3'-4\""`, `"40 inn"`},
	{"ambiguous length", `level = 102.3`, `level = "102,300"`},
	{"id twice", `id = "BM2"`, `id = "BM1"`},
	{"key twice", `level = 102.3`, "level = 102.3\nlevel = 102"},
	{"missing datum", `datum = "FFL" }`, `datum = "FLL" }`},
	{"no datum named", `, datum = "FFL" }`, ` }`},
	{"bottom above ground", `below = "3'-4\""`, `below = "1 ft"`},
	{"zero-length trench", `[[40, 30], [100, 30]]`, `[[40, 30], [40, 30]]`},
	{"NaN", `elevation = 104.5`, `elevation = nan`},
	{"infinite", `elevation = 104.5`, `elevation = 1e999`},
	{"tolerance negative", `below = "1 in" }`, `below = "-1 in" }`},
	{"benchmarks disagree", `rod = "5'-8\""`, `rod = "5'-9\""`},
	{"slope steeper than the laser dials", `at = [50, 0]`, "at = [50, 0]\ndial = { bearing = 90, grade = \"12 %\" }"},
	{"laser without an axis across", `at = [50, 0]`, "at = [50, 0]\ndial = { bearing = 90, grade = \"1 %\", cross = \"1 %\" }"},
	{"unknown benchmark", `{ benchmark = "BM1"`, `{ benchmark = "BM7"`},
	{"no units", `units = "ft"`, ``},
	{"wrong units", `units = "ft"`, `units = "furlong"`},
	{"negative width", `width = 2`, `width = -2`},
	{"wall too thick", `wall = "0.18 in"`, `wall = "4 in"`},
	{"kind unknown", `kind = "footing"`, `kind = "foundation"`},
	{"no bottom", `bottom = { below = "3'-4\"", datum = "FFL" }`, ``},
	{"place of three", `at = [30, 20]`, `at = [30, 20, 1]`},
	{"text without quotes", `kind = "footing"`, `kind = footing`},
	{"quotes not closed", `id = "FFL"`, `id = "FFL`},
	{"inches in double quotes", `below = "3'-4\""`, `below = "3'-4""`},
	{"missing equals", `level = 102.3`, `level 102.3`},
	{"list not closed", `at = [50, 0]`, `at = [50, 0`},
	{"step off the line", `fall = "1/4 in/ft"`, "fall = \"1/4 in/ft\"\nsteps = [{ station = 90, drop = 1 }]"},
	{"inverts out of order", `inverts = [{ station = 0, invert = 99.4 }]`, `inverts = [{ station = 20, invert = 99 }, { station = 10, invert = 99.4 }]`},
	{"self-crossing outline", "at = [30, 20]\nsize = [4, 6]", `outline = [[0, 0], [10, 10], [10, 0], [0, 10]]`},
	{"two heights", `at = [50, 0]`, "at = [50, 0]\nhi = 107.7"},
	{"rod longer than longest", `longest = 16`, `longest = 1`},
	{"file missing", `level = 102.3`, `points = "nowhere.csv"`},
	{"file outside", `level = 102.3`, `points = "../ground.csv"`},
	{"waits for itself", `fall = "1/4 in/ft"`, "fall = \"1/4 in/ft\"\nbefore = [\"D1\"]"},
	{"not UTF-8", `name = "Base"`, "name = \"B\xe9se\""},
	{"survey feet for levels", `units = "ft"`, `units = "us_survey_ft"`},
	{"voltage", "[[setup]]", "[[overhead]]\nid = \"P1\"\nline = [[0, 0], [9, 9]]\nvoltage = \"lots\"\n\n[[setup]]"},
	{"three trenches for one dial", "[[setup]]\ntag = \"A1\"", "[[excavation]]\nid = \"D2\"\nkind = \"trench\"\nline = [[40, 30], [40, 90]]\nwidth = 2\ninverts = [{ station = 0, invert = 99.4 }]\nfall = \"1 %\"\ntolerance = 0.05\n\n[[excavation]]\nid = \"D3\"\nkind = \"trench\"\nline = [[40, 30], [80, 90]]\nwidth = 2\ninverts = [{ station = 0, invert = 99.4 }]\nfall = \"4 %\"\ntolerance = 0.05\n\n[[setup]]\ntag = \"A1\"\ndial = { for = [\"D1\", \"D2\", \"D3\"] }"},
	{"linkage without angles", "[[setup]]", "[[machine]]\nid = \"M1\"\nlinkage = { boom = 10, stick = 5, bucket = 3, boom_foot_height = 4 }\n\n[[setup]]"},
	{"stick that comes straight", "[[setup]]", "[[machine]]\nid = \"M1\"\nlinkage = { boom = 10, stick = 5, bucket = 3, boom_foot_height = 4, boom_angles = [-40, 60], stick_angles = [-150, 5], bucket_angles = [-150, 40] }\n\n[[setup]]"},
	{"cylinder that cannot reach", "[[setup]]", "[[machine]]\nid = \"M1\"\nlinkage = { boom = 10, stick = 5, bucket = 3, boom_foot_height = 4, boom_cylinder = { base = [1, -1], rod = [3, 1], shortest = 9, longest = 12 }, stick_angles = [-150, -30], bucket_angles = [-150, 40] }\n\n[[setup]]"},
	{"floors out of order", "[[setup]]", "[[machine]]\nid = \"M1\"\nfloors = [{ depth = 8, near = 9, far = 20 }, { depth = 4, near = 8, far = 22 }]\n\n[[setup]]"},
	{"level bottom too deep", "[[setup]]", "[[machine]]\nid = \"M1\"\nmax_reach = 25\nmax_depth = 15\nlevel_depth = 16\n\n[[setup]]"},
	{"stand of no machine", "[[setup]]", "[[stand]]\nid = \"1\"\nat = [20, 20]\nmachine = \"M7\"\n\n[[setup]]"},
	{"soil unknown", "[[setup]]", "[conditions]\nsoil = \"clay\"\n\n[[setup]]"},
	{"entry without what was seen", "[[setup]]", "[[entry]]\nwho = \"A. Digger\"\nat = \"2026-05-04T07:10\"\n\n[[setup]]"},
	{"time", "[[setup]]", "[site]\nrain = \"this morning\"\n\n[[setup]]"},
	{"date", "[[setup]]", "[[utility]]\nid = \"W\"\nkind = \"water\"\nline = [[0, 0], [9, 9]]\nexpires = \"soon\"\n\n[[setup]]"},
}

var update = flag.Bool("update", false, "write the golden files anew, to be read before they are committed")

// golden compares with a file.
func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("output\n%s\nwant\n%s", got, want)
	}
}

// plan runs the command line on a job in a folder of its own.
func planText(t *testing.T, text string) (status int, out, errs, folder string) {
	t.Helper()
	folder = t.TempDir()
	t.Chdir(folder)
	if err := os.WriteFile("job.toml", []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	status = Run(context.Background(), []string{"plan", "job.toml"}, Streams{Out: &stdout, Err: &stderr})
	return status, stdout.String(), stderr.String(), folder
}

func TestTheBaseJobPlans(t *testing.T) {
	status, out, errs, _ := planText(t, baseJob)
	if status != statusOK || errs != "" || !strings.Contains(out, "8'-4 1/8\"") {
		t.Errorf("status %d, errors %q, output %q", status, errs, out)
	}
}

func TestBadInputIsOneClearError(t *testing.T) {
	home, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	if files, err := filepath.Glob("testdata/bad/*.txt"); err != nil || len(files) != len(badInputs) && !*update {
		t.Fatalf("testdata/bad has %d files, %v; want one a case, %d", len(files), err, len(badInputs))
	}
	for _, c := range badInputs {
		t.Run(c.name, func(t *testing.T) {
			if strings.Count(baseJob, c.old) < 1 {
				t.Fatalf("the base job does not hold %q", c.old)
			}
			status, out, errs, folder := planText(t, strings.Replace(baseJob, c.old, c.new, 1))
			if status != statusBad || out != "" {
				t.Errorf("status %d, want %d; output %q, want none", status, statusBad, out)
			}
			golden(t, filepath.Join(home, "testdata", "bad", strings.ReplaceAll(c.name, " ", "-")+".txt"), errs)
			if files, err := filepath.Glob(filepath.Join(folder, "*")); err != nil || len(files) != 1 {
				t.Errorf("files after the error: %v, %v; want job.toml alone", files, err)
			}
		})
	}
}
