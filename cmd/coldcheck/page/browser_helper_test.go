package page

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
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

// browserPatience is how long a browser may take for one test before it counts as hung.
const browserPatience = 2 * time.Minute

// browser is a tab, with what went wrong in it and what it asked for.
type browser struct {
	ctx context.Context
	t   testing.TB

	lock     sync.Mutex
	errors   []string
	requests []string
}

// newBrowser opens Chromium. Without one the test is skipped, but on the build machine it fails.
func newBrowser(t testing.TB) *browser {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("no chromium here: the page is not tested in a browser")
		}
		t.Skip("SKIPPED, NOT TESTED IN A BROWSER: there is no chromium here; apt-get install chromium")
	}
	ctx, stop := context.WithTimeout(context.Background(), browserPatience)
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
	b := &browser{ctx: ctx, t: t}
	if err := chromedp.Listen(ctx, b.hear); err != nil {
		t.Fatal(err)
	}
	b.call(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, network.Enable, network.EnableParams{})
		return err
	})
	b.call(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, log.Enable, cdp.Empty{})
		return err
	})
	return b
}

func (b *browser) hear(event any) {
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

func (b *browser) call(f func(context.Context, *chromedp.Target) error) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, chromedp.Func(f)); err != nil {
		b.t.Fatal(err)
	}
}

func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

func eval[T any](b *browser, script string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script))
	if err != nil {
		b.t.Fatalf("%s: %v", script, err)
	}
	return v
}

// open writes a page to a file and opens it from there. It gives the file's address.
func (b *browser) open(html string) string {
	b.t.Helper()
	file := filepath.Join(b.t.TempDir(), "page.html")
	if err := os.WriteFile(file, []byte(html), 0o600); err != nil {
		b.t.Fatal(err)
	}
	address := "file://" + file
	b.do(chromedp.Navigate(address))
	return address
}

// clean tells what went wrong in the tab, and any request but that for the page.
func (b *browser) clean(address string) {
	b.t.Helper()
	b.lock.Lock()
	defer b.lock.Unlock()
	for _, e := range b.errors {
		b.t.Errorf("the console has: %s", e)
	}
	asked := 0
	for _, r := range b.requests {
		if r != address {
			b.t.Errorf("the page asked for %s", r)
		} else {
			asked++
		}
	}
	if asked == 0 {
		b.t.Error("not even the page was asked for: requests are not seen")
	}
}
