// Package cluster runs a real PostgreSQL in a folder of its own, from the
// programs that Debian's package puts under /usr/lib/postgresql, for tests of
// what rests on one. It listens on a socket in that folder alone.
package cluster

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Nobody is a user that owns nothing: PostgreSQL refuses to run as root.
const Nobody = 65534

// Cluster is a running PostgreSQL.
type Cluster struct {
	dir, bin string
	next     int
}

// ErrNone says that the machine has no PostgreSQL.
var ErrNone = errors.New("no initdb under /usr/lib/postgresql")

// Start makes a cluster and starts it. Stop it.
func Start() (*Cluster, error) {
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if err != nil || len(found) == 0 {
		return nil, errors.Join(ErrNone, err)
	}
	dir, err := os.MkdirTemp("", "spadework-pg")
	if err != nil {
		return nil, err
	}
	c := &Cluster{dir: dir, bin: filepath.Dir(found[len(found)-1])}
	if os.Getuid() == 0 {
		err = os.Chown(dir, Nobody, Nobody)
	}
	if err == nil {
		err = c.run("initdb", "-D", dir+"/data", "-U", "spadework", "-A", "trust", "-E", "UTF8", "--locale=C")
	}
	if err == nil {
		err = c.Restart()
	}
	if err != nil {
		return nil, errors.Join(err, os.RemoveAll(dir))
	}
	return c, nil
}

// Restart starts a cluster that was killed.
func (c *Cluster) Restart() error {
	err := c.run("pg_ctl", "-D", c.dir+"/data", "-w", "-l", c.dir+"/log", "-o", "-k "+c.dir+" -c listen_addresses=''", "start")
	if err != nil {
		log, _ := os.ReadFile(c.dir + "/log")
		err = fmt.Errorf("%w\n%s", err, log[max(0, len(log)-2000):])
	}
	return err
}

// Stop ends the cluster and removes it.
func (c *Cluster) Stop() error {
	return errors.Join(c.run("pg_ctl", "-D", c.dir+"/data", "-m", "immediate", "-w", "stop"), os.RemoveAll(c.dir))
}

// Database is the address of a new empty database.
func (c *Cluster) Database() (string, error) {
	c.next++
	name := "t" + strconv.Itoa(c.next)
	err := c.run("createdb", "-h", c.dir, "-U", "spadework", name)
	return "postgres://spadework@/" + name + "?host=" + c.dir, err
}

// Kill kills every process of the cluster where it stands (SIGKILL) and waits
// till none is left.
func (c *Cluster) Kill() error {
	data, err := os.ReadFile(c.dir + "/data/postmaster.pid")
	if err != nil {
		return err
	}
	line, _, _ := strings.Cut(string(data), "\n")
	pid, err := strconv.Atoi(line)
	if err != nil {
		return err
	}
	if err := syscall.Kill(pid, syscall.SIGSTOP); err != nil { // so that it starts no more
		return err
	}
	all := append([]int{pid}, children(pid)...)
	for _, p := range all {
		if err := syscall.Kill(p, syscall.SIGKILL); err != nil && !errors.Is(err, syscall.ESRCH) {
			return err
		}
	}
	for range 500 {
		if !anyAlive(all) {
			return c.unlock()
		}
		time.Sleep(10 * time.Millisecond)
	}
	return fmt.Errorf("processes %v of the cluster outlive SIGKILL", all)
}

// unlock removes the locks that name a process which is dead but perhaps not
// yet waited for, and would so pass for alive; a machine that lost its power has
// no such process.
func (c *Cluster) unlock() error {
	return errors.Join(os.Remove(c.dir+"/data/postmaster.pid"), os.Remove(c.dir+"/.s.PGSQL.5432.lock"))
}

func anyAlive(list []int) bool {
	for _, p := range list {
		if state, _ := stat(p); state != "" && state != "Z" {
			return true
		}
	}
	return false
}

// children are the processes that a process started.
func children(of int) (list []int) {
	entries, _ := filepath.Glob("/proc/[0-9]*")
	for _, e := range entries {
		pid, err := strconv.Atoi(filepath.Base(e))
		if err != nil {
			continue
		}
		if _, parent := stat(pid); parent == of {
			list = append(list, pid)
		}
	}
	return list
}

// stat is a process's state and parent, "" where it is gone.
func stat(pid int) (state string, parent int) {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return "", 0
	}
	fields := strings.Fields(string(data[strings.LastIndexByte(string(data), ')')+1:]))
	if len(fields) < 2 {
		return "", 0
	}
	parent, _ = strconv.Atoi(fields[1])
	return fields[0], parent
}

// run runs one of PostgreSQL's programs.
func (c *Cluster) run(name string, args ...string) error {
	p := exec.Command(filepath.Join(c.bin, name), args...)
	p.Dir = c.dir
	if runtime.GOOS == "linux" && os.Getuid() == 0 {
		p.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: Nobody, Gid: Nobody}}
	}
	if out, err := p.CombinedOutput(); err != nil {
		return fmt.Errorf("%s: %w: %s", name, err, strings.TrimSpace(string(out)))
	}
	return nil
}
