package page

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"

	"coldcheck/cmd/coldcheck/browsertest"
)

// browser is a tab that opens pages from files.
type browser struct {
	*browsertest.Tab
	t testing.TB
}

func newBrowser(t testing.TB) *browser {
	t.Helper()
	return &browser{browsertest.Open(t), t}
}

func eval[T any](b *browser, script string) T {
	b.t.Helper()
	return browsertest.Eval[T](b.Tab, script)
}

// open writes a page to a file and opens it from there. It gives the file's address.
func (b *browser) open(html string) string {
	b.t.Helper()
	file := filepath.Join(b.t.TempDir(), "page.html")
	if err := os.WriteFile(file, []byte(html), 0o600); err != nil {
		b.t.Fatal(err)
	}
	address := "file://" + file
	b.to(address)
	return address
}

// to goes to an address, and waits until the page there is loaded and what it does then is done.
func (b *browser) to(address string) {
	b.t.Helper()
	b.Do(chromedp.Navigate(address))
	b.until(`document.readyState === 'complete' && !document.documentElement.classList.contains('opening')`, "loaded")
}

// clean tells what went wrong in the tab, and any request but that for the page.
func (b *browser) clean(address string) {
	b.t.Helper()
	wrong, requests := b.Heard()
	for _, e := range wrong {
		b.t.Errorf("the console has: %s", e)
	}
	asked := 0
	for _, r := range requests {
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
