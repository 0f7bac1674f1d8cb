package live

import (
	_ "embed"
	"html/template"
	"io"
	"net/http"
	"strings"
	"sync"

	"coldcheck/cmd/coldcheck/page"
)

//go:embed live.html.tmpl
var pageText string

//go:embed live.css
var styleText string

//go:embed live.js
var scriptText string

// pageTemplate escapes everything that it is given.
var pageTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page").Parse(pageText))
})

func fragment(name string, data any) (template.HTML, error) {
	var b strings.Builder
	err := pageTemplate().ExecuteTemplate(&b, name, data)
	return template.HTML(page.Apart([]byte(b.String()))), err
}

func (b *Bench) page(w http.ResponseWriter, _ *http.Request) error {
	symbols, err := page.Symbols()
	if err != nil {
		return err
	}
	html, err := fragment("page", struct {
		Symbols template.HTML
		Name    string
		Failing []int
	}{symbols, b.Set(), []int{1, 2, 3}})
	if err != nil {
		return err
	}
	return send(w, "text/html", string(html))
}

func (b *Bench) style(w http.ResponseWriter, _ *http.Request) error {
	return send(w, "text/css", page.Style()+"\n"+styleText)
}

func (b *Bench) script(w http.ResponseWriter, _ *http.Request) error {
	return send(w, "text/javascript", scriptText)
}

func send(w http.ResponseWriter, kind, text string) error {
	w.Header().Set("Content-Type", kind+"; charset=utf-8")
	io.WriteString(w, text)
	return nil // a page that went away is no fault
}
