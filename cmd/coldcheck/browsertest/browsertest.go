// Package browsertest opens Chromium for the tests of what is shown in a browser, and listens to what goes wrong there.
package browsertest

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// patience is how long a browser may take for one test before it counts as hung.
const patience = 3 * time.Minute

// Tab is one of Chromium, with what went wrong in it and what it asked for.
type Tab struct {
	t   testing.TB
	ctx context.Context

	lock     sync.Mutex
	errors   []string
	requests []string
}

// Open opens Chromium. Without one the test is skipped, but on the build machine it fails. Short runs, those of the
// race detector among them, go without: what a page waits for would take too long there.
func Open(t testing.TB) *Tab {
	t.Helper()
	if testing.Short() {
		t.Skip("a short run opens no browser")
	}
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("no chromium here: nothing is tested in a browser")
		}
		t.Skip("SKIPPED, NOT TESTED IN A BROWSER: there is no chromium here; apt-get install chromium")
	}
	ctx, stop := context.WithTimeout(context.Background(), patience)
	ctx, stopBrowser := chromedp.NewExecAllocator(ctx, chromedp.ExecPath(path), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.NoFirstRun, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true), chromedp.Flag("disable-dev-shm-usage", true))
	ctx, stopTab := chromedp.NewContext(ctx)
	t.Cleanup(func() {
		if err := chromedp.Cancel(ctx); err != nil && !errors.Is(err, context.Canceled) {
			t.Log(err)
		}
		stopTab()
		stopBrowser()
		stop()
	})
	b := &Tab{t: t, ctx: ctx}
	if err := chromedp.Listen(ctx, b.hear); err != nil {
		t.Fatal(err)
	}
	b.Call(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, network.Enable, network.EnableParams{})
		return err
	})
	b.Call(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, log.Enable, cdp.Empty{})
		return err
	})
	return b
}

func (b *Tab) hear(event any) {
	b.lock.Lock()
	defer b.lock.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, e.Request.URL)
	case *runtime.EventExceptionThrown:
		b.errors = append(b.errors, e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		b.errors = append(b.errors, fmt.Sprintf("console %s", e.Type))
	case *log.EventEntryAdded:
		b.errors = append(b.errors, fmt.Sprintf("%s: %s", e.Entry.Level, e.Entry.Text))
	case *page.EventJavascriptDialogOpening:
		b.errors = append(b.errors, "dialog: "+e.Message)
	}
}

// Call calls the protocol on the tab.
func (b *Tab) Call(f func(context.Context, *chromedp.Target) error) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, chromedp.Func(f)); err != nil {
		b.t.Fatal(err)
	}
}

// Do takes steps one after another.
func (b *Tab) Do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// Eval is what a script in the tab gives.
func Eval[T any](b *Tab, script string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script))
	if err != nil {
		b.t.Fatalf("%s: %v", script, err)
	}
	return v
}

// Frame waits until the tab has drawn what was asked for, and done what a page leaves for then.
func (b *Tab) Frame() {
	b.t.Helper()
	const frame = `new Promise(function (done) { requestAnimationFrame(function () { done(true); }); })`
	if _, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](frame, chromedp.EvalAwaitPromise)); err != nil {
		b.t.Fatal(err)
	}
}

// Context is the tab's own, for what Do does not do.
func (b *Tab) Context() context.Context { return b.ctx }

// Heard is what went wrong in the tab so far, and the addresses that it asked for.
func (b *Tab) Heard() (errors, requests []string) {
	b.lock.Lock()
	defer b.lock.Unlock()
	return slices.Clone(b.errors), slices.Clone(b.requests)
}
