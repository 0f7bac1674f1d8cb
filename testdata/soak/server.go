package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// server is the program that is tried.
type server struct {
	cmd         *exec.Cmd
	pid         int
	url         string // of the page, with the token
	host, token string
	said        bytes.Buffer // at the terminal
	ended       chan error
	files       int // open when it had just begun
}

// startTime is how long it may take to tell its address.
const startTime = 20 * time.Second

// serve starts the bench and waits for its address.
func (s *soak) serve() error {
	words := []string{s.binary, "bench", "--no-open", "--plan", s.file("begin.toml"), s.file("set.toml")}
	if s.traced {
		words = append([]string{"strace", "-f", "-qq", "-e", "trace=file,network", "-o", s.trace()}, words...)
	}
	v := &server{cmd: exec.Command(words[0], words[1:]...), ended: make(chan error, 1)}
	v.cmd.Stderr = &v.said
	out, err := v.cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := v.cmd.Start(); err != nil {
		return err
	}
	address := make(chan string, 1)
	go func() {
		line, _ := bufio.NewReader(out).ReadString('\n')
		address <- strings.TrimSpace(line)
		v.ended <- v.cmd.Wait()
	}()
	select {
	case v.url = <-address:
	case <-time.After(startTime):
		v.cmd.Process.Kill()
		return errors.New("the bench does not tell its address")
	}
	parts := strings.Split(v.url, "/")
	if len(parts) != 5 || parts[0] != "http:" {
		return fmt.Errorf("the bench tells no address but %q, and %q", v.url, v.said.String())
	}
	v.host, v.token, v.pid = parts[2], parts[3], v.cmd.Process.Pid
	if s.traced {
		v.pid = childOf(v.pid)
	}
	s.server = v
	p := &page{soak: s, client: newClient()}
	p.learn()
	p.client.CloseIdleConnections()
	time.Sleep(time.Second)
	v.files = v.openFiles()
	return nil
}

func (s *soak) trace() string { return filepath.Join(s.folder, "trace") }

// childOf is the process that another started, itself where there is none.
func childOf(pid int) int {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", pid, pid))
	if err == nil {
		if child, err := strconv.Atoi(strings.TrimSpace(string(data))); err == nil {
			return child
		}
	}
	return pid
}

// resident is how much memory it has, in kB.
func (v *server) resident() int {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", v.pid))
	if err != nil {
		return 0
	}
	for line := range strings.Lines(string(data)) {
		if rest, ok := strings.CutPrefix(line, "VmRSS:"); ok {
			kb, _ := strconv.Atoi(strings.Fields(rest)[0])
			return kb
		}
	}
	return 0
}

func (v *server) openFiles() int {
	all, _ := os.ReadDir(fmt.Sprintf("/proc/%d/fd", v.pid))
	return len(all)
}

// What it may take to end, and to close the files of what has gone away.
const (
	endTime   = 10 * time.Second
	closeTime = 20 * time.Second
)

// end looks at what is left once nobody asks any more, and ends the server.
func (s *soak) end() {
	v := s.server
	s.edits.last(s)
	s.saves.check(s)
	s.filesLeft = v.openFiles()
	for end := time.Now().Add(closeTime); s.filesLeft > v.files && time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		s.filesLeft = v.openFiles()
	}
	if s.filesLeft > v.files {
		s.broken.say("the server has %d files open that had %d at the beginning", s.filesLeft, v.files)
	}
	syscall.Kill(v.pid, syscall.SIGINT)
	select {
	case err := <-v.ended:
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != 2 {
			s.broken.say("the server ended with %v and not with status 2: %s", err, v.said.String())
		}
	case <-time.After(endTime):
		s.broken.say("the server does not end when it is interrupted")
		v.cmd.Process.Kill()
	}
	s.leftover()
	s.judge()
	if s.traced {
		s.judgeTrace()
	}
}

// leftover finds what lies beside the set file that no button names.
func (s *soak) leftover() {
	all, err := os.ReadDir(s.file(""))
	if err != nil {
		s.broken.say("the folder of the set cannot be read: %v", err)
	}
	for _, e := range all {
		switch e.Name() {
		case "set.toml", "begin.toml", "set.plan.toml", "set.readings.toml":
		default:
			s.broken.say("%s was written beside the set file", e.Name())
		}
	}
}
