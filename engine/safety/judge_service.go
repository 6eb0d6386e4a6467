package safety

import "spadework/engine/phrase"

// service judges one buried line: its ticket, its marks and each dig near it.
func (j *judge) service(s Service) {
	at := verdict{where: phrase.Where{Part: s.ID}, args: args{phrase.With("service", s.ID), phrase.With("kind", s.kind())}}
	site := j.facts.Locate
	if s.Ticket != "" {
		site = Locate{Ticket: s.Ticket, MarkedOn: s.MarkedOn, Expires: s.Expires}
	}
	j.ticket(site, at)
	stop, assumed := stopDistance(j.book, s)
	at.args = append(at.args, phrase.With("stop", stop))
	if assumed {
		v := at
		v.rule = "service_width"
		v.args = append(v.args[:len(v.args):len(v.args)], phrase.With("width", j.book.rule("service_width").Limit.Length()))
		j.missing("service_size", v)
	}
	if s.Exposed == nil || s.Exposed.Top == nil {
		v := at
		v.rule = "hand_exposed"
		j.missing("service_depth", v.mild(phrase.Caution))
	}
	for _, n := range s.Near {
		j.approach(s, n, at)
	}
}

// kind is the kind of a service in words.
func (s Service) kind() phrase.Message {
	if MarkColour(s.Kind) == "" {
		return phrase.New("safety.service.other")
	}
	return phrase.New(phrase.Key("safety.service." + s.Kind))
}

// approach judges a dig that comes near a service not seen yet.
func (j *judge) approach(s Service, n Approach, at verdict) {
	stop, _ := stopDistance(j.book, s)
	at.where.Excavation = n.Dig
	at.args = append(at.args[:len(at.args):len(at.args)], phrase.With("id", n.Dig), length("distance", n.Distance))
	distance, ok := have(n.Distance)
	at.rule, at.limit = "tolerance_zone", stop
	if !ok {
		j.missing("service_distance", at)
	}
	if ok && !under(distance, stop) {
		return
	}
	at.measured = measured(n.Distance)
	switch {
	case s.Exposed != nil:
		at.rule, at.key = "hand_dig", "service_seen"
		at.args = append(at.args, phrase.With("by", s.Exposed.By))
		j.breach(at.mild(phrase.Caution))
	case n.ByHand == Yes:
		at.key = "zone_by_hand"
		j.breach(at.mild(phrase.Caution))
	default:
		if ok && distance <= snap {
			at.key = "zone_crossed"
		}
		j.breach(at)
	}
}

// locate judges the call before digging for the whole site.
func (j *judge) locate() {
	l := j.facts.Locate
	if len(j.facts.Services) == 0 {
		j.ticket(l, verdict{args: args{phrase.With("service", phrase.New("safety.whole_site")), phrase.With("kind", phrase.New("safety.service.other"))}})
	}
	if !j.privateLocated() {
		j.missing("private_locate", verdict{rule: "services_located", severity: phrase.Caution})
	}
	if r := j.book.rule("tolerance_zone"); len(j.facts.Services) > 0 && r.Mark != Stated {
		j.breach(verdict{rule: "state_zone", args: args{
			phrase.With("zone", r.Limit.Length()), phrase.With("most", j.book.rule("state_zone").Limit.Length())}})
	}
}

// privateLocated says that private lines were looked for, on the site or for
// every service entered.
func (j *judge) privateLocated() bool {
	if j.facts.Locate.Private != Unknown {
		return j.facts.Locate.Private == Yes
	}
	for _, s := range j.facts.Services {
		if s.Private != Yes {
			return false
		}
	}
	return len(j.facts.Services) > 0
}

// ticket judges a ticket: there, marked, not expired on the day.
func (j *judge) ticket(l Locate, at verdict) {
	at.rule = "services_located"
	if l.Ticket == "" {
		j.missing("ticket", at)
		return
	}
	today, okToday := readDate(j.facts.Today)
	at.args = append(at.args[:len(at.args):len(at.args)], phrase.With("ticket", l.Ticket),
		phrase.With("marked", l.MarkedOn), phrase.With("expires", l.Expires), phrase.With("today", j.facts.Today))
	marked, okMarked := readDate(l.MarkedOn)
	switch {
	case !okMarked:
		j.missing("marked", at)
	case okToday && marked > today:
		at.key = "marked_later"
		j.breach(at)
	}
	expires, okExpires := readDate(l.Expires)
	at.key = "ticket_expired"
	switch {
	case !okExpires:
		j.missing("expires", at.mild(phrase.Caution))
	case okToday && expires < today:
		j.breach(at)
	}
}
