package record

import "slices"

// Kind is what a record tells.
type Kind string

// The kinds.
const (
	KindSetup      Kind = "setup"
	KindDialProof  Kind = "dial_proof"
	KindBeamMark   Kind = "beam_mark"
	KindTie        Kind = "tie"
	KindShot       Kind = "shot"
	KindClose      Kind = "close"
	KindStopped    Kind = "laser_stopped"
	KindAlarm      Kind = "laser_alarm"
	KindRestarted  Kind = "laser_restarted"
	KindDropped    Kind = "laser_dropped"
	KindBattery    Kind = "battery"
	KindMoved      Kind = "machine_moved"
	KindBucket     Kind = "bucket_changed"
	KindLifted     Kind = "lifted"
	KindSunk       Kind = "sunk"
	KindPoured     Kind = "poured"
	KindExposed    Kind = "exposed"
	KindRock       Kind = "rock"
	KindWater      Kind = "water"
	KindUnsuitable Kind = "unsuitable"
	KindDirection  Kind = "direction"
	KindOverDig    Kind = "over_dig"
	KindEntry      Kind = "entry"
	KindHold       Kind = "hold"
	KindTicket     Kind = "ticket"
	KindNote       Kind = "note"
	KindPhoto      Kind = "photo"
	KindWeather    Kind = "weather"
	KindSignOff    Kind = "sign_off"
	KindHandover   Kind = "handover"
	KindCorrection Kind = "correction"
	KindAccept     Kind = "accept"
)

// Payload is what a record of a kind tells. Its types are pointers to the
// structs of this package.
type Payload interface {
	Kind() Kind
	// Names lists the records that the payload names; all are causes.
	Names() []ID
	walk(f *fields)
}

// kinds makes an empty payload of each kind.
var kinds = []struct {
	kind Kind
	make func() Payload
}{
	{KindSetup, func() Payload { return &SetupMade{} }},
	{KindDialProof, func() Payload { return &DialProof{} }},
	{KindBeamMark, func() Payload { return &BeamMark{} }},
	{KindTie, func() Payload { return &Tie{} }},
	{KindShot, func() Payload { return &CheckShot{} }},
	{KindClose, func() Payload { return &Close{} }},
	{KindStopped, func() Payload { return &LaserEvent{What: KindStopped} }},
	{KindAlarm, func() Payload { return &LaserEvent{What: KindAlarm} }},
	{KindRestarted, func() Payload { return &LaserEvent{What: KindRestarted} }},
	{KindDropped, func() Payload { return &LaserEvent{What: KindDropped} }},
	{KindBattery, func() Payload { return &LaserEvent{What: KindBattery} }},
	{KindMoved, func() Payload { return &MachineEvent{What: KindMoved} }},
	{KindBucket, func() Payload { return &MachineEvent{What: KindBucket} }},
	{KindLifted, func() Payload { return &MachineEvent{What: KindLifted} }},
	{KindSunk, func() Payload { return &MachineEvent{What: KindSunk} }},
	{KindPoured, func() Payload { return &Poured{} }},
	{KindExposed, func() Payload { return &Exposed{} }},
	{KindRock, func() Payload { return &GroundMet{What: KindRock} }},
	{KindWater, func() Payload { return &GroundMet{What: KindWater} }},
	{KindUnsuitable, func() Payload { return &GroundMet{What: KindUnsuitable} }},
	{KindDirection, func() Payload { return &Direction{} }},
	{KindOverDig, func() Payload { return &OverDig{} }},
	{KindEntry, func() Payload { return &PersonEntry{} }},
	{KindHold, func() Payload { return &Hold{} }},
	{KindTicket, func() Payload { return &Ticket{} }},
	{KindNote, func() Payload { return &Note{} }},
	{KindPhoto, func() Payload { return &Photo{} }},
	{KindWeather, func() Payload { return &Weather{} }},
	{KindSignOff, func() Payload { return &SignOff{} }},
	{KindHandover, func() Payload { return &Handover{} }},
	{KindCorrection, func() Payload { return &Correction{} }},
	{KindAccept, func() Payload { return &Accept{} }},
}

// kindWords are the kinds as they are written.
var kindWords = func() []string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = string(k.kind)
	}
	return out
}()

// Kinds lists the kinds.
func Kinds() []string { return slices.Clone(kindWords) }

// newPayload is an empty payload of a kind, nil for none.
func newPayload(k Kind) Payload {
	for _, row := range kinds {
		if row.kind == k {
			return row.make()
		}
	}
	return nil
}
