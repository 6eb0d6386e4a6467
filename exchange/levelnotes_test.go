package exchange

import (
	"math"
	"strings"
	"testing"

	"spadework/engine/job"
	"spadework/engine/level"
	"spadework/engine/unit"
)

// tableOf is a table that the test knows to be readable.
func tableOf(t *testing.T, text string) *job.Rows {
	t.Helper()
	rows, fault := ReadTable("notes.csv", []byte(text))
	if fault != nil {
		t.Fatal(fault)
	}
	return rows
}

// books are one run, ΣBS 2.860, ΣFS 1.990, as people write it down.
var books = map[string]string{
	"English":          "point,BS,IS,FS,elevation,bs distance,fs distance\nBM,1.260,,,40.000,30,\na,,1.12,,,,\nTP,1.600,,1.490,,20,25\nBM2,,,0.500,40.870,,15\n",
	"long words":       "Pt,Backsight,Intermediate,Foresight,Elev,backsight distance,foresight distance\nBM,1.26,,,40,30,\na,,1.12,,,,\nTP,1.6,,1.49,,20,25\nBM2,,,.5,40.87,,15\n",
	"Spanish, decimal": "punto;lectura atrás;intermedia;lectura adelante;elevación;distancia atrás;distancia adelante\r\nBM;1,260;;;40,000;30;\r\na;;1,12;;;;\r\nTP;1,600;;1,490;;20;25\r\nBM2;;;0,500;40,870;;15\r\n",
	"units in cells":   "punto,atras,is,adelante,cota,dist. atrás,dist. adelante\nBM,1260 mm,,,40 m,30 m,\na,,112 cm,,,,\nTP,1.6,,149 cm,,20,2500 cm\nBM2,,,50 cm,40.87,,15\n",
}

func TestReadLevelRun(t *testing.T) {
	want := []level.Line{
		{Point: "BM", Back: level.RodAt(1.26, 30)},
		{Point: "a", Intermediate: level.RodAt(1.12, 0)},
		{Point: "TP", Back: level.RodAt(1.6, 20), Fore: level.RodAt(1.49, 25)},
		{Point: "BM2", Fore: level.RodAt(0.5, 15)},
	}
	for name, text := range books {
		run, fault := ReadLevelRun(tableOf(t, text), unit.Metres)
		if fault != nil {
			t.Errorf("ReadLevelRun(%s) = %v", name, fault)
			continue
		}
		if run.Start != (level.Mark{Point: "BM", Elevation: 40}) || run.Close == nil || *run.Close != (level.Mark{Point: "BM2", Elevation: 40.87}) {
			t.Errorf("ReadLevelRun(%s) runs from %v to %v, want BM 40 to BM2 40.87", name, run.Start, run.Close)
		}
		if len(run.Lines) != len(want) {
			t.Errorf("ReadLevelRun(%s) has %d lines, want %d", name, len(run.Lines), len(want))
			continue
		}
		for i, got := range run.Lines {
			if got.Place.File != "notes.csv" || got.Place.Line != i+2 {
				t.Errorf("ReadLevelRun(%s) line %d stands at %v, want notes.csv:%d", name, i, got.Place, i+2)
			}
			got.Place = want[i].Place
			if got != want[i] {
				t.Errorf("ReadLevelRun(%s) line %d = %+v, want %+v", name, i, got, want[i])
			}
		}
	}
}

// TestReadLevelRunInFeet: figures without a unit are in that of the book. BM
// 820.00, BS 8.42, FS 1.20 (textbook exercise): the point is 827.22 ft.
func TestReadLevelRunInFeet(t *testing.T) {
	run, fault := ReadLevelRun(tableOf(t, "point,bs,fs,elevation\nBM,8.42,,820.00\nP,,1.20,\n"), unit.Feet)
	if fault != nil {
		t.Fatal(fault)
	}
	r, err := level.Reduce(run)
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(r.Last) / float64(unit.Foot); !(math.Abs(got-827.22) <= 1e-9) || run.Close != nil {
		t.Errorf("last point = %v ft, closes %v, want 827.22 ft (tol 1e-9: exact sum), open", got, run.Close)
	}
}

// TestReadDifferences: a weight goes before a length; with neither all weigh
// alike.
func TestReadDifferences(t *testing.T) {
	rows := tableOf(t, "desde;a;desnivel;longitud;peso\nA;B;1,5;2 km;\nB;C;-0,25;;3,5\nC;A;-1,25;4 km;2\nA;C;1;;\n")
	got, fault := ReadDifferences(rows, unit.Metres)
	if fault != nil || !IsNetwork(rows) {
		t.Fatalf("ReadDifferences = %v, a network %v", fault, IsNetwork(rows))
	}
	for i, want := range []level.Difference{
		{From: "A", To: "B", Rise: 1.5, Length: 2000, Weight: 0.5}, {From: "B", To: "C", Rise: -0.25, Weight: 3.5},
		{From: "C", To: "A", Rise: -1.25, Length: 4000, Weight: 2}, {From: "A", To: "C", Rise: 1, Weight: 1},
	} {
		want.Place.File, want.Place.Line = "notes.csv", i+2
		if got[i] != want {
			t.Errorf("difference %d = %+v, want %+v", i, got[i], want)
		}
	}
	if IsNetwork(tableOf(t, books["English"])) {
		t.Error("a level book passes for a network")
	}
}

// badLevels are tables with the exact text of their fault.
var badLevels = []struct{ text, want string }{
	{"point,bs,fs\nBM,1,\nP,,1\n", "notes.csv:2:1: a known elevation stands on the first line, and on the last one where the run closes; not between"},
	{"point,bs,fs,z\nBM,1,,9\nTP,1,1,10\nP,,1,\n", "notes.csv:3:1: a known elevation stands on the first line, and on the last one where the run closes; not between"},
	{"point,bs,z\nBM,1,9\n", "notes.csv:1: the table has no column fs"},
	{"bs,fs,z\n1,,9\n", "notes.csv:1: the table has no column id"},
	{"point,bs,fs,z,crew\nBM,1,,9,x\n", `notes.csv:1:15: nothing here is called "crew"`},
	{"point,bs,fs,z,back\nBM,1,,9,1\n", `notes.csv:1:15: column "back" gives bs a second time`},
	{"point,bs,fs,z\nBM,1.2x,,9\n", `notes.csv:2:4: "1.2x" is not a length: "x" is not a unit`},
	{"point,bs,fs,z\nBM,1,,9\nP,,NaN,\n", `notes.csv:3:4: "NaN" is not a length: "NaN" is not a figure`},
	{"point,bs,fs,z\nBM,1,,1e2\n", `notes.csv:2:7: "1e2" is written with an exponent, as a spreadsheet does that has dropped digits`},
	{"point,bs,fs,z,bs distance\nBM,1,,9,30\nP,,1,,30\n", `notes.csv:3:7: the sight length "30" stands on a line without that sight`},
	{"from,to,rise\nA,B,\n", "notes.csv:2:1: this row has no rise"},
	{"from,to,rise,length\nA,B,1,0\n", `notes.csv:2:7: "0" is no length of a run`},
	{"from,to,rise,weight\nA,B,1,-1\n", `notes.csv:2:7: "-1" is no weight`},
	{"from,to,rise,weight\nA,B,1,NaN\n", `notes.csv:2:7: "NaN" is no weight`},
	{"from,to,rise,weight\nA,B,1,Inf\n", `notes.csv:2:7: "Inf" is no weight`},
	{"from,to,rise,weight\nA,B,1,0x10\n", `notes.csv:2:7: "0x10" is no weight`},
	{"from,to,rise,weight\nA,B,1,\"0,5\"\n", `notes.csv:2:7: "0,5" is no weight`},
	{"from,rise\nA,1\n", "notes.csv:1: the table has no column to"},
}

func TestLevelFaults(t *testing.T) {
	for _, c := range badLevels {
		rows := tableOf(t, c.text)
		_, fault := ReadLevelRun(rows, unit.Metres)
		if IsNetwork(rows) || strings.HasPrefix(c.text, "from") {
			_, fault = ReadDifferences(rows, unit.Metres)
		}
		if fault == nil || fault.Error() != c.want {
			t.Errorf("reading %q = %v, want %s", c.text, fault, c.want)
			continue
		}
		if fault.Remedy.IsZero() || strings.Contains(string(fault.Remedy.Key), "job.") {
			t.Errorf("reading %q has the remedy %q, want one that needs no job file", c.text, fault.Remedy.Key)
		}
	}
}

// FuzzLevels: any text is a book or a network that reduces to numbers, or it is
// refused by a fault that says where and what to do.
func FuzzLevels(f *testing.F) {
	for _, text := range books {
		f.Add(text)
	}
	for _, c := range badLevels {
		f.Add(c.text)
	}
	f.Add("from,to,rise\nA,B,1\nB,A,-1.01\n")
	f.Fuzz(func(t *testing.T, text string) {
		rows, fault := ReadTable("notes.csv", []byte(text))
		if fault != nil {
			return
		}
		run, fault := ReadLevelRun(rows, unit.Feet)
		if fault == nil {
			checkReduced(t, run)
		} else if fault.Place.File != "notes.csv" || fault.Place.Line < 1 || fault.Remedy.IsZero() {
			t.Errorf("fault without place or remedy: %#v", fault)
		}
		differences, fault := ReadDifferences(rows, unit.Metres)
		if fault == nil {
			checkAdjusted(t, differences)
		} else if fault.Place.File != "notes.csv" || fault.Place.Line < 1 || fault.Remedy.IsZero() {
			t.Errorf("fault without place or remedy: %#v", fault)
		}
	})
}

// checkReduced wants the page check of whatever run reduces.
func checkReduced(t *testing.T, run level.Run) {
	t.Helper()
	r, err := level.Reduce(run)
	if err != nil {
		return
	}
	if size := 1e-9 * float64(1+len(run.Lines)); !(math.Abs(float64(r.PageCheck())) <= size) {
		t.Errorf("page check = %v m, want 0 (tol %g m: sums of lengths up to 1e7 m)", r.PageCheck(), size)
	}
}

// checkAdjusted wants finite heights of whatever network adjusts.
func checkAdjusted(t *testing.T, differences []level.Difference) {
	t.Helper()
	if len(differences) == 0 || len(differences) > 100 {
		return
	}
	a, err := level.Network{Fixed: []level.Mark{{Point: differences[0].From, Elevation: 100}}, Differences: differences}.Adjust()
	if err != nil {
		return
	}
	for _, h := range a.Heights {
		if !(math.Abs(float64(h.Elevation)) <= 1e12) {
			t.Errorf("height of %s = %v m, want a finite one", h.Point, h.Elevation)
		}
	}
}
