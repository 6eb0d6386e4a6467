package server

import (
	"bytes"
	"encoding/json"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"spadework/engine/record"
	"spadework/store"
)

const siteHost = "dig.test:8471"

// site is a server with people.
type site struct {
	*testing.T
	store  *store.Store
	server *Server
	log    *logged
	mu     sync.Mutex
	clock  time.Time
}

// logged keeps all that was logged.
type logged struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *logged) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *logged) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

func (s *site) time() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.clock
}

func (s *site) passes(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.clock = s.clock.Add(d)
}

// openSite has two jobs, the yard and the quay.
func openSite(t *testing.T, hosts ...Host) *site {
	t.Helper()
	if hosts == nil {
		hosts = []Host{{Name: "dig.test"}}
	}
	s := &site{T: t, log: &logged{}, clock: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	var err error
	if s.store, err = store.Open(t.Context(), filepath.Join(t.TempDir(), "site.db"), store.Options{Now: s.time}); err != nil {
		t.Fatal(err)
	}
	s.server = New(s.store, Options{Log: slog.New(slog.NewTextHandler(s.log, &slog.HandlerOptions{Level: slog.LevelDebug})), Hosts: hosts, Now: s.time,
		App: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { writeAll(w, []byte("page")) })})
	t.Cleanup(func() {
		s.server.Close()
		if err := s.store.Close(); err != nil {
			t.Error(err)
		}
	})
	document := string(exampleBundle(t, "fennel-yard").Encode())
	for _, job := range []string{"yard", "quay"} {
		if _, err := s.store.SaveJob(t.Context(), store.Edit{Job: job, Document: document, Person: "boss"}); err != nil {
			t.Fatal(err)
		}
	}
	return s
}

// joins makes an account with roles in a job.
func (s *site) joins(name, job string, roles ...string) {
	s.Helper()
	secret, _, err := s.store.Invite(s.Context(), store.Invitation{Person: name, Job: job, Roles: roles, By: "boss"}, time.Hour)
	if err == nil {
		_, err = s.store.Join(s.Context(), store.Joining{Secret: secret, Handle: store.NewSecret()})
	}
	if err != nil {
		s.Fatal(err)
	}
}

// cookie signs somebody in on a device called after it.
func (s *site) cookie(name string) string {
	s.Helper()
	secret, err := s.store.SignIn(s.Context(), store.SignIn{Person: name, Device: store.Device{ID: "phone of " + name, Name: "phone of " + name}})
	if err != nil {
		s.Fatal(err)
	}
	return secret
}

// ask sends a request as the page does; headers come in pairs and win.
func (s *site) ask(cookie, method, path, body string, headers ...string) *httptest.ResponseRecorder {
	s.Helper()
	r := httptest.NewRequest(method, "https://"+siteHost+path, strings.NewReader(body))
	r.RemoteAddr = "192.0.2.7:50000"
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	if method != "GET" {
		r.Header.Set("Origin", "https://"+siteHost)
	}
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	if cookie != "" {
		r.AddCookie(&http.Cookie{Name: cookieName, Value: cookie})
	}
	for i := 0; i < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
		if headers[i] == "Host" {
			r.Host = headers[i+1]
		}
		if headers[i] == "From-Address" {
			r.RemoteAddr = headers[i+1]
		}
	}
	w := httptest.NewRecorder()
	s.server.ServeHTTP(w, r)
	return w
}

// wants asks and holds the status.
func (s *site) wants(status int, cookie, method, path, body string, headers ...string) *httptest.ResponseRecorder {
	s.Helper()
	w := s.ask(cookie, method, path, body, headers...)
	if w.Code != status {
		s.Fatalf("%s %s = %d %s, want %d", method, path, w.Code, w.Body, status)
	}
	return w
}

// key is the rule that a refusal names.
func key(w *httptest.ResponseRecorder) string {
	var body struct{ Error Trouble }
	if json.Unmarshal(w.Body.Bytes(), &body) != nil {
		return ""
	}
	return body.Error.Key
}

// The columns of the grid: who asks for something of the yard. In the first five
// the role is of the yard, in the next five of the quay, where it must be worth
// nothing; S is foreman of every job, L had a role in the yard and lost it, E has
// a session that was ended, and - is nobody.
const columns = "FOCPI focpi SLE-"

// grid is who may use which route, written down by hand from what each role is
// for, apart from the table that the server goes by. A cell is the answer's
// status class of success, or 3 for "forbidden" and 1 for "not signed in".
var grid = map[string]string{
	"GET /api/jobs":                  "22222 22222 2211",
	"POST /api/jobs":                 "33333 33333 2311",
	"GET /api/jobs/{job}":            "22222 33333 2311",
	"PUT /api/jobs/{job}":            "23333 33333 2311",
	"GET /api/jobs/{job}/plan":       "22222 33333 2311",
	"GET /api/jobs/{job}/events":     "22222 33333 2311",
	"GET /api/jobs/{job}/proof.pdf":  "22222 33333 2311",
	"GET /api/jobs/{job}/sheets.pdf": "22222 33333 2311",
	"GET /api/jobs/{job}/records":    "22222 33333 2311",
	"POST /api/jobs/{job}/records":   "22222 33333 2221", // lost and ended: held
	"GET /api/photos/{digest}":       "22222 44444 2311", // the yard's picture is not there for the quay
	"PUT /api/photos/{digest}":       "22222 22222 2311",

	"GET /api/me":                       "22222 22222 2222",
	"POST /api/sign-in/password":        "11111 11111 1111", // by a wrong password
	"POST /api/sign-in/passkey":         "22222 22222 2222",
	"POST /api/sign-in/passkey/finish":  "44444 44444 4444", // of no ceremony
	"POST /api/sign-out":                "22222 22222 2211",
	"PUT /api/me/person":                "44444 44444 4411", // somebody who is not signed in there
	"PUT /api/me/password":              "22222 22222 2211",
	"POST /api/me/passkeys":             "22222 22222 2211",
	"POST /api/me/passkeys/finish":      "44444 44444 4411",
	"GET /api/me/sessions":              "22222 22222 2211",
	"DELETE /api/me/sessions/{session}": "44444 44444 4411", // another's
	"POST /api/invitations/look":        "44444 44444 4444", // by a guess
	"POST /api/invitations/passkey":     "44444 44444 4444",
	"POST /api/invitations/join":        "44444 44444 4444",

	"GET /api/jobs/{job}/people":                      "23333 33333 2311",
	"PUT /api/jobs/{job}/people/{person}":             "23333 33333 2311",
	"POST /api/jobs/{job}/invitations":                "23333 33333 2311",
	"DELETE /api/jobs/{job}/invitations/{invitation}": "23333 33333 2311",
	"DELETE /api/jobs/{job}/sessions/{session}":       "23333 33333 2311",
	"POST /api/jobs/{job}/devices/{device}/revoke":    "23333 33333 2311",
	"GET /api/jobs/{job}/audit":                       "23333 33333 2311",
	"GET /api/jobs/{job}/quarantine":                  "23333 33333 2311",
}

// outside are the routes beside the API's operations.
var outside = map[string]string{
	"GET /healthz": "22222 22222 2222", "GET /metrics": "33333 33333 2311", "GET /api/openapi.json": "22222 22222 2222", "GET /": "22222 22222 2222",
	"GET /api/nothing": "44444 44444 4444",
}

// whose gives the people of the columns with their cookies.
func (s *site) whose() map[byte]string {
	roles := map[byte]string{'F': store.Foreman, 'O': store.Operator, 'C': store.Checker, 'P': store.Competent, 'I': store.Inspector}
	out := map[byte]string{'-': ""}
	for column, role := range roles {
		for job, name := range map[string]string{"yard": string(column), "quay": strings.ToLower(string(column))} {
			s.joins(name, job, role)
			out[name[0]] = s.cookie(name)
		}
	}
	s.joins("S", store.EveryJob, store.Foreman)
	s.joins("L", "yard", store.Operator)
	s.joins("E", "yard", store.Operator)
	for _, name := range []string{"S", "L", "E"} {
		out[name[0]] = s.cookie(name)
	}
	v, _, err := s.store.Session(s.Context(), out['E'])
	if err == nil {
		err = s.store.EndSession(s.Context(), v.ID, "S")
	}
	if err == nil {
		err = s.store.SetRoles(s.Context(), store.RoleChange{Person: "L", Job: "yard", By: "S"})
	}
	if err != nil {
		s.Fatal(err)
	}
	return out
}

// request makes a request that succeeds for who may send it.
func (s *site) request(route string, n int) (method, path, body string, headers []string) {
	method, path, _ = strings.Cut(route, " ")
	picture := "0000000000000000000000000000000000000000000000000000000000000000"
	switch route {
	case "POST /api/jobs":
		body = text(map[string]any{"id": "new-" + itoa(n), "bundle": exampleBundle(s.T, "fennel-yard")})
	case "PUT /api/jobs/{job}":
		r, err := s.store.Revision(s.Context(), "yard", 0)
		if err != nil {
			s.Fatal(err)
		}
		b := exampleBundle(s.T, "fennel-yard")
		b.Files["job.toml"] += "\n# " + itoa(n) + "\n"
		body, headers = text(map[string]any{"bundle": b}), []string{"If-Match", quoted(r.Number)}
	case "POST /api/jobs/{job}/records":
		body = `{"device":{"id":"x","name":"x"},"records":[]}`
	case "GET /api/photos/{digest}", "PUT /api/photos/{digest}":
		picture, body = s.picture(method)
	case "POST /api/sign-in/password":
		body = `{"name":"nobody-` + itoa(n) + `","password":"x","device":{"id":"d","name":"d"}}`
	case "POST /api/sign-in/passkey/finish":
		body = `{"ceremony":"x","credential":{},"device":{"id":"d","name":"d"}}`
	case "PUT /api/me/person":
		body = `{"person":"stranger"}`
	case "PUT /api/me/password":
		body = `{"password":"ditch spoon lantern 9"}`
	case "POST /api/me/passkeys/finish":
		body = `{"ceremony":"x","credential":{}}`
	case "POST /api/invitations/look":
		body = `{"secret":"guess"}`
	case "POST /api/invitations/passkey":
		body = `{"secret":"guess","name":"x"}`
	case "POST /api/invitations/join":
		body = `{"secret":"guess","name":"x","language":"en","password":"ditch spoon lantern 9","device":{"id":"d","name":"d"}}`
	case "PUT /api/jobs/{job}/people/{person}":
		body = `{"roles":["operator"],"every_job":false}`
	case "POST /api/jobs/{job}/invitations":
		body = `{"person":"Newcomer","roles":["operator"],"every_job":false}`
	case "POST /api/jobs/{job}/devices/{device}/revoke":
		body = `{"reason":"lost"}`
	}
	path = strings.NewReplacer("{job}", "yard", "{digest}", picture, "{person}", "O", "{session}", s.session(route), "{invitation}", s.invitation(route), "{device}", s.device(route)).Replace(path)
	return method, path, body, headers
}

// session is one to end: of somebody new in the yard, or of a stranger to the
// person who asks.
func (s *site) session(route string) string {
	if route != "DELETE /api/jobs/{job}/sessions/{session}" {
		return "strange"
	}
	v, _, err := s.store.Session(s.Context(), s.cookie(s.newcomer()))
	if err != nil {
		s.Fatal(err)
	}
	return v.ID
}

func (s *site) device(route string) string {
	if !strings.Contains(route, "{device}") {
		return ""
	}
	name := s.newcomer()
	s.cookie(name)
	return strings.ReplaceAll("phone of "+name, " ", "%20")
}

func (s *site) newcomer() string {
	name := "newcomer-" + store.NewSecret()[:8]
	s.joins(name, "yard", store.Operator)
	return name
}

func (s *site) invitation(route string) string {
	if !strings.Contains(route, "{invitation}") {
		return ""
	}
	_, made, err := s.store.Invite(s.Context(), store.Invitation{Job: "yard", Roles: []string{store.Checker}, By: "F"}, time.Hour)
	if err != nil {
		s.Fatal(err)
	}
	return made.ID
}

// picture is one that a record of the yard names.
func (s *site) picture(method string) (digest, body string) {
	body = "\x89PNG\r\n\x1a\n a picture"
	sum := record.Hash(sha(body))
	if method == "GET" {
		if _, err := s.store.SavePhoto(s.Context(), sum, "image/png", strings.NewReader(body)); err != nil {
			s.Fatal(err)
		}
		writer := phoneOf("yard", "camera", "boss")
		ack, err := s.store.Append(s.Context(), "yard", []store.Entry{{Body: writer.writes(s.T, &record.Photo{Digest: sum, Size: 1, Media: "image/png", Words: "the bottom"})}})
		if err != nil || ack.Answers[0].Outcome == store.Refused {
			s.Fatal(ack, err)
		}
		body = ""
	}
	return sum.String(), body
}

func TestEveryRouteForEveryRoleInOwnAndOtherJobs(t *testing.T) {
	s := openSite(t)
	cookies := s.whose()
	all := map[string]string{}
	for _, table := range []map[string]string{grid, outside} {
		for route, cells := range table {
			all[route] = cells
		}
	}
	cells := 0
	for route, want := range all {
		if len(want) != len(columns) {
			t.Fatalf("%s has %d cells, want %d", route, len(want), len(columns))
		}
		for i := range columns {
			if columns[i] == ' ' {
				continue
			}
			cells++
			method, path, body, headers := s.request(route, cells)
			cookie := cookies[columns[i]]
			if route == "POST /api/sign-out" && cookie != "" && columns[i] != 'E' {
				cookie = s.cookie(string(columns[i])) // a session to lose
			}
			// Each cell has an address and a device of its own: the limits are not what is tried here.
			headers = append(headers, "From-Address", "198.51."+itoa(cells/200)+"."+itoa(1+cells%200)+":9")
			w := s.asks(cookie, method, path, body, headers)
			if got := class(w.Code); got != want[i] {
				t.Errorf("%s by %c = %d %.120s, want class %c", route, columns[i], w.Code, w.Body, want[i])
			}
		}
	}
	t.Logf("%d cells", cells)
}

// asks is ask for a route that may stream: its caller goes at once.
func (s *site) asks(cookie, method, path, body string, headers []string) *httptest.ResponseRecorder {
	if !strings.HasSuffix(path, "/events") {
		return s.ask(cookie, method, path, body, headers...)
	}
	r := httptest.NewRequest(method, "https://"+siteHost+path, nil)
	r.AddCookie(&http.Cookie{Name: cookieName, Value: cookie})
	ctx, cancel := contextFor(s.T, 300*time.Millisecond)
	defer cancel()
	w := httptest.NewRecorder()
	s.server.ServeHTTP(w, r.WithContext(ctx))
	return w
}

func class(status int) byte {
	switch status {
	case http.StatusUnauthorized:
		return '1'
	case http.StatusForbidden:
		return '3'
	}
	return "0?2?45"[status/100]
}

// Every operation that the server describes is in the grid, every route of its
// table is known here, and nothing else is.
func TestEveryRouteIsInTheGrid(t *testing.T) {
	s := openSite(t)
	var d description
	if err := json.Unmarshal(s.wants(200, "", "GET", "/api/openapi.json", "").Body.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	described := 0
	for path, operations := range d.Paths {
		for method := range operations {
			described++
			if route := strings.ToUpper(method) + " " + path; grid[route] == "" {
				t.Errorf("%s is described and not in the grid", route)
			}
		}
	}
	if described != len(grid) || described < 30 {
		t.Errorf("%d operations are described and %d are in the grid", described, len(grid))
	}
	beside := []string{"/", "/api/", "GET /healthz", "GET /metrics", "GET /api/openapi.json", "GET /api/openapi.yaml", "GET /api/openapi-3.0.json", "GET /api/openapi-3.0.yaml"}
	for route := range rights {
		if grid[route] == "" && !slices.Contains(beside, route) {
			t.Errorf("%s is in the server's table and nowhere in the tests", route)
		}
	}
}

// A route that the table does not tell cannot be registered.
func TestRouteWithoutARightIsRefused(t *testing.T) {
	s := openSite(t)
	defer func() {
		if recover() == nil {
			t.Error("a route outside the table was registered")
		}
	}()
	s.server.gate("GET /api/back-door", http.NotFoundHandler())
}
