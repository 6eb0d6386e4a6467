package store

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
)

// nobody is a user that owns nothing: PostgreSQL refuses to run as root.
const nobody = 65534

// server is the PostgreSQL that the tests of this package share.
var server struct {
	sync.Once
	dir, bin string
	why      string
	next     int
}

func TestMain(m *testing.M) {
	if child := os.Getenv("STORE_TEST_CHILD"); child != "" {
		os.Exit(runChild(child))
	}
	status := m.Run()
	if server.dir != "" {
		_ = postgresCommand("pg_ctl", "-D", server.dir+"/data", "-m", "immediate", "-w", "stop").Run()
		_ = os.RemoveAll(server.dir)
	}
	os.Exit(status)
}

// newPostgres is the address of an empty database of a real PostgreSQL.
func newPostgres(t testing.TB) string {
	t.Helper()
	server.Do(startPostgres)
	if server.why != "" {
		t.Skip("PostgreSQL is not tested: " + server.why)
	}
	server.next++
	name := "t" + strconv.Itoa(server.next)
	if out, err := postgresCommand("createdb", "-h", server.dir, "-U", "spadework", name).CombinedOutput(); err != nil {
		t.Fatalf("createdb: %v: %s", err, out)
	}
	return "postgres://spadework@/" + name + "?host=" + server.dir
}

func startPostgres() {
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if len(found) == 0 {
		server.why = "no initdb under /usr/lib/postgresql"
		return
	}
	server.bin = filepath.Dir(found[len(found)-1])
	dir, err := os.MkdirTemp("", "spadework-pg")
	if err != nil {
		server.why = err.Error()
		return
	}
	server.dir = dir
	if os.Getuid() == 0 {
		if err := os.Chown(dir, nobody, nobody); err != nil {
			server.why = err.Error()
			return
		}
	}
	for _, c := range []*exec.Cmd{
		postgresCommand("initdb", "-D", dir+"/data", "-U", "spadework", "-A", "trust", "-E", "UTF8", "--locale=C"),
		postgresCommand("pg_ctl", "-D", dir+"/data", "-w", "-l", dir+"/log", "-o", "-k "+dir+" -c listen_addresses=''", "start"),
	} {
		if out, err := c.CombinedOutput(); err != nil {
			server.why = c.Path + ": " + err.Error() + ": " + strings.TrimSpace(string(out))
			return
		}
	}
}

func postgresCommand(name string, args ...string) *exec.Cmd {
	c := exec.Command(filepath.Join(server.bin, name), args...)
	c.Dir = server.dir
	if runtime.GOOS == "linux" && os.Getuid() == 0 {
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
	return c
}
