package main

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"time"
)

// spoilt is a request that must be refused, as it goes over the wire.
type spoilt struct {
	name string
	// text begins the request; more is sent behind it in so many pieces of 64 kB. After that it is waited for an
	// answer, unless the sender goes away.
	text   string
	pieces int
	leaves bool
	want   []int // statuses; one that is hung up on has none
}

// spoilts are the ways to spoil one.
func (p *page) spoilts() []spoilt {
	v := p.server
	post := func(method, what, host, origin, token, kind, length, body string) string {
		return fmt.Sprintf("%s /%s HTTP/1.1\r\nHost: %s\r\nOrigin: %s\r\nColdcheck-Token: %s\r\nContent-Type: %s\r\n%s\r\n\r\n%s", method, what, host, origin, token, kind, length, body)
	}
	origin, kind, length := "http://"+v.host, "application/json", "Content-Length: 2"
	forbidden, large := []int{403}, []int{413}
	wrong := strings.Repeat("0", len(v.token))
	return []spoilt{
		{"wrong token", post("POST", "state", v.host, origin, wrong, kind, length, "{}"), 0, false, forbidden},
		{"wrong host", post("POST", "state", "localhost", origin, v.token, kind, length, "{}"), 0, false, forbidden},
		{"wrong origin", post("POST", "state", v.host, "http://example.org", v.token, kind, length, "{}"), 0, false, forbidden},
		{"wrong method", post("DELETE", "save-plan", v.host, origin, v.token, kind, length, "{}"), 0, false, []int{405}},
		{"wrong type", post("POST", "state", v.host, origin, v.token, "text/plain", length, "{}"), 0, false, []int{415}},
		{"no such name", post("POST", "../../etc/passwd", v.host, origin, v.token, kind, length, "{}"), 0, false, []int{404}},
		{"page by a wrong token", "GET /" + wrong + "/ HTTP/1.1\r\nHost: " + v.host + "\r\n\r\n", 0, false, forbidden},
		{"file by its name", "GET /" + v.token + "/../set.toml HTTP/1.1\r\nHost: " + v.host + "\r\n\r\n", 0, false, []int{404}},
		{"ticket made up", "GET /open/" + wrong + " HTTP/1.1\r\nHost: " + v.host + "\r\n\r\n", 0, false, forbidden},
		{"too large", post("POST", "state", v.host, origin, v.token, kind, "Content-Length: 9999999", "{"), 0, false, large},
		{"too large, unsaid", post("POST", "state", v.host, origin, v.token, kind, "Transfer-Encoding: chunked", ""), 20, false, large},
		{"cut short", post("POST", "state", v.host, origin, v.token, kind, "Content-Length: 500", `{"plug": "re`), 0, true, nil},
		{"cut in its head", post("POST", "state", v.host, origin, v.token, kind, length, "")[:60], 0, true, nil},
		{"no request", "\x16\x03\x01 hello\r\n\r\n", 0, false, []int{400}},
		{"long head", "GET / HTTP/1.1\r\nHost: " + v.host + "\r\nX: " + strings.Repeat("x", 40<<10) + "\r\n\r\n", 0, false, []int{431}},
	}
}

// spoil sends one, and holds the answer to what was due.
func (p *page) spoil() {
	all := p.spoilts()
	x := all[p.IntN(len(all))]
	began := time.Now()
	status, text, err := p.send(x)
	if x.leaves {
		p.took("none: "+x.name, 0, time.Since(began))
		return
	}
	p.took("none: "+x.name, status, time.Since(began))
	ok := false
	for _, want := range x.want {
		ok = ok || status == want
	}
	if !ok || strings.Contains(text, p.server.token) {
		p.broken.say("a request with %s has status %d (%v), %q", x.name, status, err, text)
	}
}

func (p *page) send(x spoilt) (status int, text string, err error) {
	c, err := net.Dial("tcp", p.server.host)
	if err != nil {
		return 0, "", err
	}
	defer c.Close()
	c.SetDeadline(time.Now().Add(10 * time.Second))
	if _, err := io.WriteString(c, x.text); err != nil {
		return 0, "", err
	}
	piece := "10000\r\n" + strings.Repeat(" ", 0x10000) + "\r\n"
	for range x.pieces {
		if _, err := io.WriteString(c, piece); err != nil {
			break // it is hung up on, and the answer may be there
		}
	}
	if x.leaves {
		time.Sleep(time.Duration(p.IntN(50)) * time.Millisecond)
		return 0, "", nil
	}
	answer, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		return 0, "", err
	}
	defer answer.Body.Close()
	data, err := io.ReadAll(io.LimitReader(answer.Body, 1<<12))
	return answer.StatusCode, string(data), err
}
