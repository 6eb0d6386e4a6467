package record

// Heads is a device's own head, its clock after every record that is here, and
// the newest records of the others: what a device that holds these records has
// seen.
func Heads(records []Record, device string) (own Head, seen []ID) {
	for _, chain := range Verify(records) {
		if chain.Device == device {
			chain.Head.Clock = own.Clock.Seen(chain.Head.Clock)
			own = chain.Head
			continue
		}
		own.Clock = own.Clock.Seen(chain.Head.Clock)
		seen = append(seen, chain.Head.ID)
	}
	return own, seen
}
