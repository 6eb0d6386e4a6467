package record

import (
	"strconv"
	"testing"
)

// longLog is a job of n records by three phones: 400 records a set-up, a close
// after every 8 shots, an alarm now and then, a sync every 16 records.
func longLog(b *testing.B, n int) []Record {
	s := newSite(b, "a", "b", "c")
	var one Record
	for i := range n {
		p := s.phones[i%3]
		switch {
		case i%400 == 0:
			s.sync()
			one = s.add(s.phones[0], setup("T"+strconv.Itoa(i)))
			s.sync()
		case i%133 == 0:
			s.add(p, happened(KindAlarm))
		case i%8 == 0:
			s.add(p, closeOf(one, "BM1", 0))
		default:
			s.add(p, shotAt(one, "P"+strconv.Itoa(i%200), 0.001))
		}
		if i%16 == 0 {
			s.sync()
		}
	}
	return s.records()
}

func BenchmarkReplay100000(b *testing.B) {
	in := Input{Records: longLog(b, 100_000)}
	for b.Loop() {
		if st := Replay(in); st.Count != 100_000 {
			b.Fatalf("%d applied, want all", st.Count)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	line := oneOfEach(b)[3].Append(nil)
	b.SetBytes(int64(len(line)))
	for b.Loop() {
		if _, f := Decode(line); f != nil {
			b.Fatal(f)
		}
	}
}

func BenchmarkHash(b *testing.B) {
	r := oneOfEach(b)[3]
	for b.Loop() {
		r.Hash()
	}
}
