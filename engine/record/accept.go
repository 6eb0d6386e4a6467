package record

// Accept is a foreman's word that records held back may enter the log.
type Accept struct {
	Records []ID // in order
	Reason  string
}

// Kind is KindAccept.
func (*Accept) Kind() Kind { return KindAccept }

// Names is nothing: records held back are no causes, or the acceptance would
// wait for them.
func (*Accept) Names() []ID { return nil }

func (a *Accept) walk(f *fields) {
	f.ids("records", &a.Records)
	if len(a.Records) == 0 {
		f.fail("records", "record.accept_none")
	}
	f.words("reason", &a.Reason, false)
}
