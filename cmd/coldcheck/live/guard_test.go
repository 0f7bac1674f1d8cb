package live

import (
	"bytes"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestRefusals: what does not come from the bench's own page is refused in one sentence, that tells no token; and
// nothing of it is kept or handed on.
func TestRefusals(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	spoilt := func(change func(*http.Request)) *http.Request {
		r := x.request("state", []byte("{}"))
		change(r)
		return r
	}
	port := x.host[strings.Index(x.host, ":"):]
	for name, c := range map[string]struct {
		change func(*http.Request)
		want   int
		words  string
	}{
		"wrong token":      {func(r *http.Request) { r.Header.Set(tokenHeader, strings.Repeat("0", 32)) }, 403, "address alone"},
		"no token":         {func(r *http.Request) { r.Header.Del(tokenHeader) }, 403, "address alone"},
		"half a token":     {func(r *http.Request) { r.Header.Set(tokenHeader, x.token[:16]) }, 403, "address alone"},
		"localhost":        {func(r *http.Request) { r.Host = "localhost" + port }, 403, "no other name"},
		"another host":     {func(r *http.Request) { r.Host = "example.org" }, 403, "no other name"},
		"host, no port":    {func(r *http.Request) { r.Host = "127.0.0.1" }, 403, "no other name"},
		"another origin":   {func(r *http.Request) { r.Header.Set("Origin", "http://example.org") }, 403, "own page alone"},
		"origin null":      {func(r *http.Request) { r.Header.Set("Origin", "null") }, 403, "own page alone"},
		"no origin":        {func(r *http.Request) { r.Header.Del("Origin") }, 403, "own page alone"},
		"https origin":     {func(r *http.Request) { r.Header.Set("Origin", "https://"+x.host) }, 403, "own page alone"},
		"GET":              {func(r *http.Request) { r.Method, r.Body, r.ContentLength = http.MethodGet, nil, 0 }, 405, "by POST"},
		"PUT":              {func(r *http.Request) { r.Method = http.MethodPut }, 405, "by POST"},
		"OPTIONS":          {func(r *http.Request) { r.Method = http.MethodOptions }, 405, "by POST"},
		"form":             {func(r *http.Request) { r.Header.Set("Content-Type", "application/x-www-form-urlencoded") }, 415, "in JSON"},
		"text":             {func(r *http.Request) { r.Header.Set("Content-Type", "text/plain") }, 415, "in JSON"},
		"no type":          {func(r *http.Request) { r.Header.Del("Content-Type") }, 415, "in JSON"},
		"nothing there":    {func(r *http.Request) { r.URL.Path = "/shell" }, 404, "nothing of that name"},
		"page, no token":   {func(r *http.Request) { r.URL.Path, r.Method = "/", http.MethodGet; r.Header.Del(tokenHeader) }, 403, "address alone"},
		"page, POST":       {func(r *http.Request) { r.URL.Path = "/" + x.token + "/" }, 405, "GET"},
		"file under token": {func(r *http.Request) { r.URL.Path, r.Method = "/"+x.token+"/../set.toml", http.MethodGet }, 404, "nothing of that name"},
		"a ticket made up": {func(r *http.Request) {
			r.URL.Path, r.Method = ticketPath+x.token, http.MethodGet
			r.Header.Del(tokenHeader)
		}, 403, "address alone"},
	} {
		t.Run(name, func(t *testing.T) {
			x.t = t
			x.refused(spoilt(c.change), c.want, c.words)
		})
	}
	x.t = t
	_, _, h := x.do(x.request("state", []byte("{}")))
	for key, want := range map[string]string{"Referrer-Policy": "no-referrer", "Cache-Control": "no-store", "X-Content-Type-Options": "nosniff"} {
		if h.Get(key) != want {
			t.Errorf("%s: %q", key, h.Get(key))
		}
	}
	if csp := h.Get("Content-Security-Policy"); !strings.Contains(csp, "frame-ancestors 'none'") || !strings.Contains(csp, "default-src 'none'") {
		t.Errorf("policy %q", csp)
	}
	for key := range h {
		if strings.HasPrefix(key, "Access-Control") {
			t.Errorf("%s is sent: another page may read the answer", key)
		}
	}
}

// TestBadRequests: too much, or what is no request.
func TestBadRequests(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	big := append(append([]byte(`{"plug": "`), bytes.Repeat([]byte("a"), mostBytes)...), `"}`...)
	x.refused(x.request("state", big), 413, "1 MB at most")
	unknownLength := x.request("state", big)
	unknownLength.ContentLength = -1
	x.refused(unknownLength, 413, "1 MB at most")
	for body, words := range map[string]string{
		"":                    "ends in the middle",
		"{":                   "ends in the middle",
		"nonsense":            "no JSON",
		"{} {}":               "more behind it",
		`{"plug": 7}`:         "another type",
		`{"shell": "rm"}`:     "unknown field",
		`{"settings": ["a"]}`: "another type",
		"[]":                  "another type",
		`{"faults": "C1"}`:    "another type",
	} {
		x.refused(x.request("state", []byte(body)), 400, words)
	}
	for body, words := range map[string]string{
		`{"plug": "sideways"}`:                             "as-marked or reversed",
		`{"done": 1, "steps": [{"text": "do = \"cut\""}]}`: "step 1",
	} {
		x.refused(x.request("state", []byte(body)), 422, words)
	}
}

// TestPage: the page, its style and its script are had under the token; the page has nothing from elsewhere in it.
func TestPage(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	for name, kind := range map[string]string{"": "text/html", "live.css": "text/css", "live.js": "text/javascript"} {
		r, err := http.NewRequest(http.MethodGet, x.URL()+name, nil)
		if err != nil {
			t.Fatal(err)
		}
		status, body, h := x.do(r)
		if status != 200 || !strings.HasPrefix(h.Get("Content-Type"), kind) || len(body) < 1000 {
			t.Errorf("%q: %d, %s, %d bytes", name, status, h.Get("Content-Type"), len(body))
		}
		if strings.Contains(body, "http://") || strings.Contains(body, "https://") || strings.Contains(body, x.token) {
			t.Errorf("%q names an address", name)
		}
	}
}

// TestTicket: the address that a browser is started with opens the page once, and does not have the token in it.
func TestTicket(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	ticket := x.Ticket()
	if strings.Contains(ticket, x.token) {
		t.Fatal("the ticket has the token in it")
	}
	first, err := x.client.Get(ticket)
	if err != nil {
		t.Fatal(err)
	}
	first.Body.Close()
	if first.StatusCode != 200 || first.Request.URL.String() != x.URL() {
		t.Errorf("%d at %s", first.StatusCode, first.Request.URL)
	}
	r, err := http.NewRequest(http.MethodGet, ticket, nil)
	if err != nil {
		t.Fatal(err)
	}
	x.refused(r, 403, "address alone")
}

// TestPortTaken: said in words, with what to do.
func TestPortTaken(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	_, err := New(Options{Set: x.file, Port: x.listener.Addr().(*net.TCPAddr).Port})
	if err == nil || !strings.Contains(err.Error(), "is taken by another program") {
		t.Errorf("%v", err)
	}
}

// TestLoopbackAlone: the bench is at no other address of the machine.
func TestLoopbackAlone(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	if ip := x.listener.Addr().(*net.TCPAddr).IP; !ip.Equal(net.IPv4(127, 0, 0, 1)) {
		t.Errorf("listens at %s", ip)
	}
}

// TestNoSuchFile: a bench on nothing is not opened.
func TestNoSuchFile(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	for _, o := range []Options{{Set: filepath.Join(t.TempDir(), "none.toml")}, {Set: x.file, Plan: "none.toml"}, {Set: t.TempDir()}, {Set: x.file, Plan: x.file}} {
		if _, err := New(o); err == nil {
			t.Errorf("%+v: opened", o)
		}
	}
}

// TestSlowRequest: who sends nothing is hung up on.
func TestSlowRequest(t *testing.T) {
	if testing.Short() {
		t.Skip("takes as long as the bench waits")
	}
	x := open(t, exampleText(t, "line-bypass"))
	c, err := net.Dial("tcp", x.host)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	c.SetReadDeadline(time.Now().Add(3 * headerTime))
	if _, err := c.Write([]byte("GET / HTTP/1.1\r\n")); err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	if n, err := c.Read(make([]byte, 1)); err == nil || n > 0 || time.Since(began) > 2*headerTime {
		t.Errorf("%d bytes, %v after %s", n, err, time.Since(began))
	}
}
