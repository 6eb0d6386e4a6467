package server

import (
	"slices"

	"spadework/engine/record"
	"spadework/store"
)

// scope is where a right holds.
type scope int

const (
	public   scope = iota // whoever reaches the server
	signedIn              // whoever is signed in
	anyJob                // one of the roles, in any job
	ofJob                 // one of the roles, in the job that the route names
	everyJob              // one of the roles, of every job
)

// right is who may use a route.
type right struct {
	scope   scope
	roles   []string
	fresh   bool // only shortly after the person proved who it is: on a shared phone others are a tap away
	handsIn bool // also who had a role once, or whose session ended: what comes is held
	people  bool // there is nothing to do for a server that runs open for one person
}

var (
	everybody   = store.Roles
	justForeman = []string{store.Foreman}
)

// rights is the one table of who may use which route, by pattern. A route that
// is not in it cannot be registered.
var rights = map[string]right{
	"/":                          {scope: public}, // the page, which holds no job
	"/api/":                      {scope: public}, // no such route
	"GET /healthz":               {scope: public},
	"GET /metrics":               {scope: everyJob, roles: justForeman},
	"GET /api/openapi.json":      {scope: public},
	"GET /api/openapi.yaml":      {scope: public},
	"GET /api/openapi-3.0.json":  {scope: public},
	"GET /api/openapi-3.0.yaml":  {scope: public},
	"GET /api/jobs":              {scope: signedIn}, // those with a role
	"POST /api/jobs":             {scope: everyJob, roles: justForeman},
	"GET /api/jobs/{job}":        {scope: ofJob, roles: everybody},
	"PUT /api/jobs/{job}":        {scope: ofJob, roles: justForeman},
	"GET /api/jobs/{job}/plan":   {scope: ofJob, roles: everybody},
	"GET /api/jobs/{job}/events": {scope: ofJob, roles: everybody},

	"GET /api/jobs/{job}/proof.pdf":  {scope: ofJob, roles: everybody},
	"GET /api/jobs/{job}/sheets.pdf": {scope: ofJob, roles: everybody},

	"GET /api/jobs/{job}/records":  {scope: ofJob, roles: everybody},
	"POST /api/jobs/{job}/records": {scope: ofJob, roles: everybody, handsIn: true}, // by kind: recordKinds
	"GET /api/photos/{digest}":     {scope: anyJob, roles: everybody},               // of their jobs
	"PUT /api/photos/{digest}":     {scope: anyJob, roles: everybody},

	"GET /api/me":                       {scope: public},
	"POST /api/sign-in/password":        {scope: public, people: true},
	"POST /api/sign-in/passkey":         {scope: public, people: true},
	"POST /api/sign-in/passkey/finish":  {scope: public, people: true},
	"POST /api/sign-out":                {scope: signedIn, people: true},
	"PUT /api/me/person":                {scope: signedIn, people: true},
	"PUT /api/me/password":              {scope: signedIn, fresh: true, people: true},
	"POST /api/me/passkeys":             {scope: signedIn, fresh: true, people: true},
	"POST /api/me/passkeys/finish":      {scope: signedIn, fresh: true, people: true},
	"GET /api/me/sessions":              {scope: signedIn, people: true},
	"DELETE /api/me/sessions/{session}": {scope: signedIn, people: true},
	"POST /api/invitations/look":        {scope: public, people: true},
	"POST /api/invitations/passkey":     {scope: public, people: true},
	"POST /api/invitations/join":        {scope: public, people: true},

	"GET /api/jobs/{job}/people":                      {scope: ofJob, roles: justForeman, people: true},
	"PUT /api/jobs/{job}/people/{person}":             {scope: ofJob, roles: justForeman, fresh: true, people: true},
	"POST /api/jobs/{job}/invitations":                {scope: ofJob, roles: justForeman, fresh: true, people: true},
	"DELETE /api/jobs/{job}/invitations/{invitation}": {scope: ofJob, roles: justForeman, fresh: true, people: true},
	"DELETE /api/jobs/{job}/sessions/{session}":       {scope: ofJob, roles: justForeman, fresh: true, people: true},
	"POST /api/jobs/{job}/devices/{device}/revoke":    {scope: ofJob, roles: justForeman, fresh: true, people: true},
	"GET /api/jobs/{job}/audit":                       {scope: ofJob, roles: justForeman, people: true},
	"GET /api/jobs/{job}/quarantine":                  {scope: ofJob, roles: justForeman},
}

// met are the kinds that whoever works at the dig tells.
var met = []record.Kind{
	record.KindExposed, record.KindRock, record.KindWater, record.KindUnsuitable, record.KindNote, record.KindPhoto, record.KindWeather,
	record.KindCorrection, // of a kind that the person may add
}

// levels are the kinds of beam and rod.
var levels = []record.Kind{
	record.KindSetup, record.KindDialProof, record.KindBeamMark, record.KindTie, record.KindShot, record.KindClose, record.KindStopped,
	record.KindAlarm, record.KindRestarted, record.KindDropped, record.KindBattery, record.KindOverDig, record.KindHandover, record.KindPoured,
}

// recordKinds is which records a role adds; a foreman adds all.
var recordKinds = map[string][]record.Kind{
	store.Operator:  slices.Concat(met, levels, []record.Kind{record.KindMoved, record.KindBucket, record.KindLifted, record.KindSunk, record.KindTicket}),
	store.Checker:   slices.Concat(met, levels),
	store.Competent: slices.Concat(met, []record.Kind{record.KindEntry, record.KindHold, record.KindSignOff}),
	store.Inspector: {record.KindNote, record.KindPhoto, record.KindHold, record.KindSignOff, record.KindCorrection},
}

// kindsOf are the kinds that a role adds, by name.
func kindsOf(role string) []string {
	if role == store.Foreman {
		return record.Kinds()
	}
	out := []string{}
	for _, k := range recordKinds[role] {
		out = append(out, string(k))
	}
	return out
}

// adds says that a person with roles may add a record.
func adds(roles []string, p record.Payload) bool {
	if slices.Contains(roles, store.Foreman) {
		return true
	}
	may := func(k record.Kind) bool {
		return slices.ContainsFunc(roles, func(r string) bool { return slices.Contains(recordKinds[r], k) })
	}
	if c, ok := p.(*record.Correction); ok {
		return may(c.Kind()) && may(c.Of)
	}
	return may(p.Kind())
}
