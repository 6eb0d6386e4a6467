package server

import (
	"context"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"

	"spadework/engine/phrase"
	"spadework/engine/unit"
	"spadework/store"
)

// PersonLine is somebody with a part in a job.
type PersonLine struct {
	Person   string        `json:"person"`
	Roles    []string      `json:"roles" nullable:"false" doc:"of this job; empty: they ended"`
	EveryJob []string      `json:"every_job" nullable:"false" doc:"roles of every job"`
	Sessions []SessionLine `json:"sessions" nullable:"false"`
}

// InvitationLine is an invitation that waits.
type InvitationLine struct {
	ID     string   `json:"id"`
	Person string   `json:"person"`
	Roles  []string `json:"roles" nullable:"false"`
	By     string   `json:"by"`
	Ends   int64    `json:"ends"`
}

type jobInput struct {
	Job string `path:"job" maxLength:"200"`
}

type peopleOutput struct {
	Body struct {
		People      []PersonLine     `json:"people" nullable:"false"`
		Invitations []InvitationLine `json:"invitations" nullable:"false"`
	}
}

type rolesInput struct {
	Job    string `path:"job" maxLength:"200"`
	Person string `path:"person" maxLength:"200"`
	Body   struct {
		Roles    []string `json:"roles" maxItems:"5" nullable:"false"`
		EveryJob bool     `json:"every_job" doc:"of every job instead of this one"`
	}
}

type inviteInput struct {
	Job  string `path:"job" maxLength:"200"`
	Body struct {
		Person   string   `json:"person" minLength:"1" maxLength:"100" doc:"as records will name it; with an account: it is made anew"`
		Roles    []string `json:"roles" maxItems:"5" nullable:"false"`
		EveryJob bool     `json:"every_job" doc:"of every job instead of this one"`
	}
}

type inviteOutput struct {
	Body struct {
		InvitationLine
		Path string `json:"path" doc:"of the link, at the address of the page; told this once"`
		Code Code   `json:"code"`
	}
}

type withdrawInput struct {
	Job        string `path:"job" maxLength:"200"`
	Invitation string `path:"invitation" maxLength:"100"`
}

type endInput struct {
	Job     string `path:"job" maxLength:"200"`
	Session string `path:"session" maxLength:"100"`
}

type revokeInput struct {
	Job    string `path:"job" maxLength:"200"`
	Device string `path:"device" maxLength:"200"`
	Body   struct {
		Reason string `json:"reason" minLength:"1" maxLength:"200"`
	}
}

type auditOutput struct {
	Body struct {
		Changes []store.Audit `json:"changes" nullable:"false" doc:"newest first, at most 500"`
	}
}

// AsideLine is a record set aside.
type AsideLine struct {
	Record   string `json:"record" doc:"in its canonical form"`
	Status   string `json:"status" enum:"held,quarantined,accepted"`
	Reason   string `json:"reason"`
	Received int64  `json:"received"`
}

type quarantineOutput struct {
	Body struct {
		Asides []AsideLine `json:"asides" nullable:"false"`
	}
}

// registerPeople adds what a foreman does about people.
func (v *Server) registerPeople(api huma.API) {
	add := func(id, method, path, summary string) huma.Operation {
		return huma.Operation{OperationID: id, Method: method, Path: "/api/jobs/{job}/" + path, Summary: summary, MaxBodyBytes: maxSmall}
	}
	huma.Register(api, add("list-people", http.MethodGet, "people", "People of a job with their devices, and invitations that wait"), v.listPeople)
	huma.Register(api, add("set-roles", http.MethodPut, "people/{person}", "The roles of a person; none takes its part away"), v.putRoles)
	huma.Register(api, add("invite", http.MethodPost, "invitations", "A link that lets one person in, once, within a week"), v.invite)
	huma.Register(api, add("withdraw", http.MethodDelete, "invitations/{invitation}", "Take an invitation back"), v.withdraw)
	huma.Register(api, add("end-session", http.MethodDelete, "sessions/{session}", "End the session of a device"), v.endSession)
	huma.Register(api, add("revoke-device", http.MethodPost, "devices/{device}/revoke", "A device is lost: its sessions and passkeys end"), v.revokeDevice)
	huma.Register(api, add("audit", http.MethodGet, "audit", "Every change of rights"), v.audit)
	huma.Register(api, add("quarantine", http.MethodGet, "quarantine", "Records set aside, which an accepting record lets in"), v.quarantine)
}

func (v *Server) listPeople(ctx context.Context, in *jobInput) (*peopleOutput, error) {
	all, err := v.store.GrantsIn(ctx, in.Job)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	sessions, err := v.store.Sessions(ctx)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	open, err := v.store.Invitations(ctx, in.Job)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out := &peopleOutput{}
	out.Body.People, out.Body.Invitations = personLines(all, in.Job), []InvitationLine{}
	for i := range out.Body.People {
		p := &out.Body.People[i]
		for _, s := range sessions {
			if s.Signed(p.Person) != 0 {
				p.Sessions = append(p.Sessions, sessionLine(s, callerOf(ctx)))
			}
		}
	}
	for _, i := range open {
		out.Body.Invitations = append(out.Body.Invitations, invitationLine(i))
	}
	return out, nil
}

// personLines gathers grants, which are in the order of people, by person.
func personLines(all []store.Grant, job string) []PersonLine {
	out := []PersonLine{}
	for _, g := range all {
		if n := len(out); n == 0 || out[n-1].Person != g.Person {
			out = append(out, PersonLine{g.Person, []string{}, []string{}, []SessionLine{}})
		}
		p := &out[len(out)-1]
		switch {
		case g.Ended != 0:
		case g.Job == job:
			p.Roles = append(p.Roles, g.Role)
		default:
			p.EveryJob = append(p.EveryJob, g.Role)
		}
	}
	return out
}

func invitationLine(i store.Invitation) InvitationLine {
	return InvitationLine{i.ID, i.Person, append([]string{}, i.Roles...), i.By, i.Ends}
}

// over says that a foreman's word counts wherever a person has a role: who has a
// part in another job cannot be taken over from this one.
func (v *Server) over(ctx context.Context, person string) error {
	theirs, err := v.store.Grants(ctx, person)
	if err != nil {
		return err
	}
	c := callerOf(ctx)
	if slices.ContainsFunc(theirs, func(g store.Grant) bool { return g.Ended == 0 && !c.may(g.Job, justForeman) }) {
		return fault(Forbidden, "server.not_over", phrase.With("person", person))
	}
	return nil
}

// reach is the job that a change is of, if the caller's word counts there.
func reach(ctx context.Context, job string, everyJob bool) (string, error) {
	if !everyJob {
		return job, nil
	}
	if !callerOf(ctx).may(store.EveryJob, justForeman) {
		return "", fault(Forbidden, "server.no_right", phrase.With("person", callerOf(ctx).person()))
	}
	return store.EveryJob, nil
}

func (v *Server) putRoles(ctx context.Context, in *rolesInput) (*peopleOutput, error) {
	job, err := reach(ctx, in.Job, in.Body.EveryJob)
	if err == nil {
		err = v.store.SetRoles(ctx, store.RoleChange{Person: in.Person, Job: job, Roles: in.Body.Roles, By: callerOf(ctx).person()})
	}
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	v.wake.tellAll()
	return v.listPeople(ctx, &jobInput{in.Job})
}

func (v *Server) invite(ctx context.Context, in *inviteInput) (*inviteOutput, error) {
	job, err := reach(ctx, in.Job, in.Body.EveryJob)
	if err == nil {
		_, err = v.store.Revision(ctx, in.Job, 0)
	}
	name := nameFor(store.Invitation{}, in.Body.Person)
	if err == nil {
		err = v.over(ctx, name)
	}
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	secret, made, err := v.store.Invite(ctx, store.Invitation{Person: name, Job: job, Roles: in.Body.Roles, By: callerOf(ctx).person()}, invitationTime)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out := &inviteOutput{}
	out.Body.InvitationLine, out.Body.Path = invitationLine(made), linkPath(secret)
	out.Body.Code, err = codeOf("https://" + callerOf(ctx).host + out.Body.Path)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return out, nil
}

func (v *Server) withdraw(ctx context.Context, in *withdrawInput) (*struct{}, error) {
	if err := v.store.Withdraw(ctx, in.Job, in.Invitation, callerOf(ctx).person()); err != nil {
		return nil, v.fail(ctx, err)
	}
	return nil, nil
}

// part refuses a device whose people have no part in a job, as one that is not
// there, and one of somebody for whom the caller's word does not count.
func (v *Server) part(ctx context.Context, job, atWork string, people []store.SignedIn) error {
	if err := v.over(ctx, atWork); err != nil {
		return err
	}
	for _, p := range append(people, store.SignedIn{Person: atWork}) {
		theirs, err := v.store.Grants(ctx, p.Person)
		if err != nil || slices.ContainsFunc(theirs, func(g store.Grant) bool { return g.Job == job || g.Job == store.EveryJob }) {
			return err
		}
	}
	return fault(phrase.NotFound, "store.no_session")
}

func (v *Server) endSession(ctx context.Context, in *endInput) (*struct{}, error) {
	all, err := v.store.Sessions(ctx)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	i := slices.IndexFunc(all, func(s store.Session) bool { return s.ID == in.Session })
	if i < 0 {
		return nil, v.fail(ctx, fault(phrase.NotFound, "store.no_session"))
	}
	if err = v.part(ctx, in.Job, all[i].Person, all[i].People); err == nil {
		err = v.store.EndSession(ctx, in.Session, callerOf(ctx).person())
	}
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	v.wake.tellAll()
	return nil, nil
}

func (v *Server) revokeDevice(ctx context.Context, in *revokeInput) (*struct{}, error) {
	all, err := v.store.Devices(ctx)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	i := slices.IndexFunc(all, func(d store.Device) bool { return d.ID == in.Device })
	if i < 0 {
		return nil, v.fail(ctx, fault(phrase.NotFound, "store.no_device", phrase.With("device", in.Device)))
	}
	if err = v.part(ctx, in.Job, all[i].Person, nil); err == nil {
		err = v.store.RevokeDevice(ctx, in.Device, in.Body.Reason, callerOf(ctx).person())
	}
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	v.wake.tellAll()
	return nil, nil
}

func (v *Server) audit(ctx context.Context, in *jobInput) (*auditOutput, error) {
	list, err := v.store.Audit(ctx, in.Job)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out := &auditOutput{}
	out.Body.Changes = append([]store.Audit{}, list...)
	return out, nil
}

func (v *Server) quarantine(ctx context.Context, in *jobInput) (*quarantineOutput, error) {
	list, err := v.store.Quarantine(ctx, in.Job)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out := &quarantineOutput{}
	out.Body.Asides = []AsideLine{}
	for _, a := range list {
		out.Body.Asides = append(out.Body.Asides, AsideLine{string(a.Body), a.Status, a.Words().Render(languageOf(ctx), unit.Style{}), a.Received})
	}
	return out, nil
}
