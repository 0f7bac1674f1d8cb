package main

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
)

// readable are the files of the system that the server may read, each with what reads it; one that ends in a slash
// stands for what is below it.
var readable = []string{
	"/etc/ld.so.cache", "/lib/", "/lib64/", "/usr/lib/", // the system's loader, at the start: the C library
	"/sys/kernel/mm/transparent_hugepage/hpage_pmd_size", // Go's runtime, at its start: the size of large pages
	"/proc/self/", "/sys/fs/cgroup/", "/sys/devices/system/cpu/", // and how many processors it may use
	"/proc/sys/net/core/somaxconn",           // Go's net, when it listens: how many may wait
	"/etc/localtime", "/usr/share/zoneinfo/", // Go's time: of the hour at which a file was changed
}

// call is a line of strace: a system call with what it was given, and what came of it.
var call = regexp.MustCompile(`^\d+ +(\w+)\((.*)$`)

// quoted is a path in it.
var quoted = regexp.MustCompile(`"((?:[^"\\]|\\.)*)"`)

// looks are the calls that look whether something is there, or watch it, and read nothing of it.
var looks = []string{"newfstatat", "stat", "lstat", "statx", "access", "faccessat", "faccessat2", "readlink", "readlinkat", "inotify_add_watch", "getcwd", "execve"}

// ours are the calls about the sockets that are there already.
var ours = []string{"accept4", "accept", "getsockname", "getpeername", "setsockopt", "getsockopt", "shutdown", "recvfrom", "sendto", "recvmsg", "sendmsg"}

// judgeTrace holds what the server opened to what was named.
func (s *soak) judgeTrace() {
	data, err := os.ReadFile(s.trace())
	if err != nil {
		s.broken.say("there is no trace: %v", err)
		return
	}
	seen := map[string]int{}
	for line := range strings.Lines(string(data)) {
		m := call.FindStringSubmatch(strings.TrimSpace(line))
		if m == nil || strings.Contains(line, " resumed>") {
			continue // the end of a call that was told before, a signal, the end of a thread
		}
		var paths []string
		for _, q := range quoted.FindAllStringSubmatch(m[2], -1) {
			paths = append(paths, q[1])
		}
		if what, ok := s.allowed(m[1], m[2], paths); !ok {
			s.broken.say("the server did what it never may: %s", strings.TrimSpace(line))
		} else {
			seen[what]++
		}
	}
	if seen["reads set.toml"] == 0 || seen["listens"] == 0 {
		s.broken.say("the trace does not even tell of the set file and the address (%v): it is none of the server", seen)
	}
	fmt.Println("under strace:", counts(seen))
}

// allowed says what a call is, and reports whether it may be.
func (s *soak) allowed(name, args string, paths []string) (what string, ok bool) {
	switch {
	case slices.Contains(ours, name):
		return "its sockets", true
	case name == "listen":
		return "listens", true
	case name == "socket":
		return "opens a socket", strings.HasPrefix(args, "AF_INET, SOCK_STREAM") || strings.HasPrefix(args, "AF_INET6, SOCK_STREAM")
	case name == "bind":
		// Go's net tries at its start whether there is IPv6, on a port that nobody learns of and that is closed again.
		return "binds", strings.Contains(args, `inet_addr("127.0.0.1")`) || strings.Contains(args, "sin6_port=htons(0)")
	case len(paths) == 0:
		return name, false
	case slices.Contains(looks, name):
		return "looks", true
	case name == "openat" || name == "open":
		return s.opens(args, paths[0])
	}
	// What is left makes, moves or removes: all of it beside the set file, by what a button names.
	for _, path := range paths {
		if !s.written(path) {
			return name, false
		}
	}
	return name + " of what is saved", slices.Contains([]string{"linkat", "link", "renameat", "rename", "renameat2", "unlink", "unlinkat", "fchmodat", "chmod"}, name)
}

func (s *soak) opens(args, path string) (what string, ok bool) {
	if strings.Contains(args, "O_WRONLY") || strings.Contains(args, "O_RDWR") || strings.Contains(args, "O_CREAT") {
		return "writes what is saved", s.written(path)
	}
	switch path {
	case s.file("set.toml"):
		return "reads set.toml", true
	case s.file("begin.toml"):
		return "reads the plan", true
	case s.file(""):
		return "the folder of the set", true
	}
	of := func(name string) bool {
		return path == name || strings.HasSuffix(name, "/") && strings.HasPrefix(path, name)
	}
	return "reads " + path, slices.ContainsFunc(readable, of) && !strings.Contains(path, "..")
}

// written reports whether a path is one that a button writes, or is written on the way to it.
func (s *soak) written(path string) bool {
	for _, name := range []string{"set.plan.toml", "set.readings.toml"} {
		if path == s.file(name) || strings.HasPrefix(path, s.file("."+name)) {
			return true
		}
	}
	return false
}
