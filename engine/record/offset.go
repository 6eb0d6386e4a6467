package record

import "spadework/engine/phrase"

// Offset is how far a device's clock ran ahead of the server's at a sync.
type Offset struct {
	Device string
	Millis int64 // + ahead
}

// maxOffsetMillis is the offset over which a clock is a finding.
const maxOffsetMillis = 120_000

// finding tells of a clock that is off; ok is false where it is not.
func (o Offset) finding() (phrase.Finding, bool) {
	size := max(o.Millis, -o.Millis)
	if size <= maxOffsetMillis {
		return phrase.Finding{}, false
	}
	key := phrase.Key("record.clock_ahead")
	if o.Millis < 0 {
		key = "record.clock_behind"
	}
	minutes := int((size + 30_000) / 60_000)
	return phrase.Finding{
		Rule: "device_clock", Severity: phrase.Caution,
		What:     phrase.New(key, phrase.With("device", o.Device), phrase.With("count", minutes)),
		Measured: minutes, Limit: maxOffsetMillis / 60_000,
		Remedy: phrase.New("record.clock.remedy"), Decides: phrase.New("who.foreman"),
	}, true
}
