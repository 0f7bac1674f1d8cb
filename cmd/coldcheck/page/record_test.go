package page

import (
	"bytes"
	"context"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules/record"
)

// recordOf is the record of an example's plan.
func recordOf(t *testing.T, e examples.Example) *record.Record {
	t.Helper()
	of, ok := examples.FindSet(strings.TrimSuffix(e.Name, examples.PlanSuffix))
	if !ok {
		t.Fatal("no set for the plan")
	}
	set, err := setfile.Load(of.Name, strings.NewReader(of.Text))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Parse(e.Name, []byte(e.Text))
	if err != nil {
		t.Fatal(err)
	}
	r, err := record.OfPlan(set, p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func recordPage(t *testing.T, r *record.Record) string {
	t.Helper()
	var b bytes.Buffer
	if err := Record(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestRecord: the page of a record has every line of the sheet, allows itself its own style and nothing else, and
// has no script.
func TestRecord(t *testing.T) {
	e := examples.Plans()[0]
	r := recordOf(t, e)
	told := recordPage(t, r)
	if strings.Contains(told, "<script") || strings.Contains(told, "script-src") || !strings.Contains(told, "default-src &#39;none&#39;; style-src &#39;sha256-") {
		t.Error("the page has a script, or another policy")
	}
	plainly := func(s string) string {
		return strings.NewReplacer("\u00a0", " ", "&#39;", "'", "&#43;", "+", "&gt;", ">").Replace(s)
	}
	lines := 0
	for _, s := range text.RecordWords(r).Sections {
		for _, l := range s.Lines {
			if lines++; !strings.Contains(plainly(told), plainly(l.Text)) {
				t.Errorf("the page lacks %q", l.Text)
			}
		}
	}
	if lines < 20 {
		t.Errorf("only %d lines", lines)
	}
	if found := regexp.MustCompile(` style=| on[a-z]+=|https?:`).FindString(told); found != "" {
		t.Errorf("the page has %q", found)
	}
}

// TestChecklistIsThreePages: the checklist of an example prints on three sheets of either paper at most.
func TestChecklistIsThreePages(t *testing.T) {
	sheet := regexp.MustCompile(`/Type /Page\b`)
	b := newBrowser(t)
	for _, name := range []string{"series-string-doubler", "floating-b-minus", "european-dropper", "line-bypass-leaky", "autotransformer"} {
		html, _ := checklistPage(t, name)
		b.open(html)
		for kind, paper := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
			pdf, err := chromedp.Run(b.Context(), chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
			if err != nil {
				t.Fatal(err)
			}
			if n := len(sheet.FindAll(pdf, -1)); n < 1 || n > 3 {
				t.Errorf("%s: %d sheets of %s", name, n, kind)
			}
		}
	}
}

// TestRecordIsOnePage: the record of every example plan prints on one sheet of letter paper, and nothing goes wrong
// in the browser.
func TestRecordIsOnePage(t *testing.T) {
	sheet := regexp.MustCompile(`/Type /Page\b`)
	for _, e := range examples.Plans() {
		t.Run(e.Name, func(t *testing.T) {
			b := newBrowser(t)
			address := b.open(recordPage(t, recordOf(t, e)))
			b.Call(func(ctx context.Context, tab *chromedp.Target) error {
				printed, err := cdp.Call(ctx, tab, page.PrintToPDF, page.PrintToPDFParams{})
				if err != nil {
					return err
				}
				if n := len(sheet.FindAll(printed.Data, -1)); n != 1 {
					t.Errorf("%d sheets", n)
				}
				return nil
			})
			b.clean(address)
		})
	}
}
