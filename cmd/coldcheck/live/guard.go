package live

import (
	"context"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"mime"
	"net/http"
	"strings"
	"time"

	"coldcheck/netlist"
)

// tokenHeader carries the token of a request that has something worked out or written.
const tokenHeader = "Coldcheck-Token"

// mostBytes is the largest request that is read.
const mostBytes = 1 << 20

// silent is a log that nothing is written to: it would have addresses in it, and so the token.
func silent() *log.Logger { return log.New(io.Discard, "", 0) }

// refusal is what a request is told that is not answered.
type refusal struct {
	status int
	text   string
}

func (r *refusal) Error() string { return r.text }

func refuse(status int, format string, args ...any) error {
	return &refusal{status, fmt.Sprintf(format, args...)}
}

// handler answers the page's own requests and refuses all others.
func (b *Bench) handler() http.Handler {
	gets := map[string]func(http.ResponseWriter, *http.Request) error{
		"": b.page, "live.css": b.style, "live.js": b.script, "events": b.events,
	}
	posts := map[string]func(*http.Request) (any, error){
		"state": b.answerState, "offers": aboutASet(b, b.work, answerTime, answerOffers), "save-plan": aboutASet(b, b.work, answerTime, b.answerSavePlan),
		"findings": aboutASet(b, b.long, answerTime, answerFindings), "plan": aboutASet(b, b.long, answerTime, (*edition).rework),
		"proposals": aboutASet(b, b.long, proposalTime, answerProposals), "checks": aboutASet(b, b.long, answerTime, answerChecks),
		"readings": aboutASet(b, b.long, answerTime, (*edition).judge), "save-readings": aboutASet(b, b.long, answerTime, b.answerSaveReadings),
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		secure(w.Header())
		if err := b.answer(w, r, gets, posts); err != nil {
			tell(w, err)
		}
	})
}

// aboutASet makes the answer to what can be asked of a set alone: worked out on the edition of now, within a time.
func aboutASet[A, R any](b *Bench, w *work, within time.Duration, answer func(*edition, A) (R, error)) func(*http.Request) (any, error) {
	return func(r *http.Request) (any, error) {
		var a A
		if err := read(r, &a); err != nil {
			return nil, err
		}
		e := b.files.now()
		if e.set == nil {
			return nil, e.noSet()
		}
		work := func(ctx context.Context) (any, error) {
			var out R
			err := w.do(ctx, within, func() (err error) {
				out, err = answer(e, a)
				return err
			})
			if err != nil { // it may still be at work on its answer
				return nil, err
			}
			return out, nil
		}
		if w == b.long {
			return b.pickups.answer(r, work)
		}
		return work(r.Context())
	}
}

// secure keeps the page to itself: no other page may frame it, no address leaves it, nothing of it is kept.
func secure(h http.Header) {
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
}

func tell(w http.ResponseWriter, err error) {
	var refused *refusal
	if !errors.As(err, &refused) {
		refused = &refusal{http.StatusInternalServerError, err.Error()}
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(refused.status)
	io.WriteString(w, refused.text+"\n")
}

func (b *Bench) answer(w http.ResponseWriter, r *http.Request, gets map[string]func(http.ResponseWriter, *http.Request) error, posts map[string]func(*http.Request) (any, error)) error {
	if err := b.mayAsk(r); err != nil {
		return err
	}
	if word, ok := strings.CutPrefix(r.URL.Path, ticketPath); ok && r.Method == http.MethodGet && b.ticket.admits(word) {
		http.Redirect(w, r, "/"+b.token+"/", http.StatusSeeOther)
		return nil
	}
	if name, ok := b.underToken(r.URL.Path); ok {
		get := gets[name]
		switch {
		case get == nil:
			return refuse(http.StatusNotFound, "there is nothing of that name on this bench")
		case r.Method != http.MethodGet:
			return refuse(http.StatusMethodNotAllowed, "this is only to be looked at (GET)")
		}
		return get(w, r)
	}
	post := posts[strings.TrimPrefix(r.URL.Path, "/")]
	switch {
	case !b.isToken(r.Header.Get(tokenHeader)):
		return refuse(http.StatusForbidden, "this bench opens at the address alone that its terminal shows")
	case post == nil:
		return refuse(http.StatusNotFound, "there is nothing of that name on this bench")
	case r.Method != http.MethodPost:
		return refuse(http.StatusMethodNotAllowed, "this is asked by POST")
	case r.Header.Get("Origin") != "http://"+b.host:
		return refuse(http.StatusForbidden, "the bench answers its own page alone")
	}
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		return refuse(http.StatusUnsupportedMediaType, "the bench is asked in JSON")
	}
	r.Body = http.MaxBytesReader(w, r.Body, mostBytes)
	result, err := post(r)
	if err != nil {
		return err
	}
	data, err := json.Marshal(result)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write(data)
	return nil
}

// mayAsk refuses what comes by another name of this machine, from elsewhere or from another page. A name that leads
// here by someone's doing (DNS rebinding) is no host of ours.
func (b *Bench) mayAsk(r *http.Request) error {
	switch origin := r.Header.Get("Origin"); {
	case r.Host != b.host:
		return refuse(http.StatusForbidden, "this bench is at %s and answers to no other name", b.host)
	case origin != "" && origin != "http://"+b.host:
		return refuse(http.StatusForbidden, "the bench answers its own page alone")
	case r.ContentLength > mostBytes:
		return tooLarge()
	}
	return nil
}

func tooLarge() error {
	return refuse(http.StatusRequestEntityTooLarge, "a request has 1 MB at most")
}

// underToken is the rest of a path that begins with the token.
func (b *Bench) underToken(path string) (string, bool) {
	first, rest, ok := strings.Cut(strings.TrimPrefix(path, "/"), "/")
	return rest, ok && b.isToken(first)
}

func (b *Bench) isToken(s string) bool {
	return subtle.ConstantTimeCompare([]byte(s), []byte(b.token)) == 1
}

// read reads what is asked. Keys that no request has are refused: they would be asked for in vain.
func read(r *http.Request, into any) error {
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	err := d.Decode(into)
	var large *http.MaxBytesError
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case err == nil && d.More():
		return refuse(http.StatusBadRequest, "a request is one JSON object, and here is more behind it")
	case err == nil:
		return nil
	case errors.As(err, &large):
		return tooLarge()
	case errors.As(err, &syntax):
		return refuse(http.StatusBadRequest, "the request is no JSON, from byte %d on", syntax.Offset)
	case errors.As(err, &kind):
		return refuse(http.StatusBadRequest, "%s is of another type in a request", netlist.Visible(kind.Field))
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return refuse(http.StatusBadRequest, "the request ends in the middle")
	}
	return refuse(http.StatusBadRequest, "the request is not understood: %s", netlist.Visible(strings.TrimPrefix(err.Error(), "json: ")))
}
