package record

import (
	"testing"

	"spadework/engine/machine"
	"spadework/engine/unit"
)

// TestTableEndsTies: whatever the table of package machine lets end a tie of
// sensors has a record that ends it.
func TestTableEndsTies(t *testing.T) {
	kinds := map[machine.Event]Kind{
		machine.TracksMoved: KindMoved, machine.BladeMoved: KindMoved, machine.OutriggersMoved: KindMoved,
		machine.BucketChanged: KindBucket, machine.CouplerChanged: KindBucket, machine.TeethChanged: KindBucket,
		machine.Lifted: KindLifted, machine.Sunk: KindSunk,
	}
	for _, e := range machine.Events() {
		if machine.EffectOf("sensors_beam", e) != machine.Void {
			continue
		}
		s := newSite(t, "a")
		a := s.phones[0]
		one := s.add(a, setup("A1"))
		tie := s.add(a, &Tie{Setup: one.ID, Machine: "M1", Elevation: ptr(unit.Elevation(100))})
		if why := s.state().MayDig(At{Tie: tie.ID}); !why.IsZero() {
			t.Errorf("before %s the tie has no numbers: %v", e, why)
		}
		s.add(a, &MachineEvent{What: kinds[e], Machine: "M1"})
		if why := s.state().MayDig(At{Tie: tie.ID}); why.IsZero() {
			t.Errorf("after %s (%s) the tie still has numbers", e, kinds[e])
		}
		shot := shotAt(one, "P1", 0)
		shot.Setup, shot.Tie = ID{}, tie.ID
		s.add(a, shot)
		s.add(a, closeOf(one, "BM1", 0))
		wantVerdict(t, s.state(), "P1", AtRisk)
	}
}

// TestConcreteIn: a dig with concrete in is told as such, and its doubtful shot is
// the foreman's, not to be shot again by the crew.
func TestConcreteIn(t *testing.T) {
	s := newSite(t, "a")
	a := s.phones[0]
	one := s.add(a, setup("A1"))
	s.add(a, shotAt(one, "P1", 0))
	pour := s.add(a, &Poured{Excavation: "P1"})
	s.add(a, closeOf(one, "BM1", 0.02))
	st := s.state()
	if d, _ := st.Dig("P1"); !d.Poured {
		t.Error("concrete is not seen")
	}
	found := false
	for _, d := range st.Due {
		found = found || d.What.Key == "record.due_poured"
	}
	if !found {
		t.Errorf("nobody is told of the concrete: %v", st.Due)
	}
	s.add(a, &Correction{Record: pour.ID, Of: KindPoured, Reason: "wrong dig"})
	if d, _ := s.state().Dig("P1"); d.Poured {
		t.Error("concrete taken back is still in")
	}
}
