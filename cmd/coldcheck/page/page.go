package page

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"strings"
	"sync"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/rules"
)

//go:embed page.html.tmpl
var pageText string

//go:embed symbols.html.tmpl
var symbolText string

//go:embed drawing.html.tmpl
var drawingText string

//go:embed paper.html.tmpl
var paperText string

//go:embed rework.html.tmpl
var reworkText string

//go:embed checklist.html.tmpl
var checklistText string

//go:embed record.html.tmpl
var recordText string

//go:embed style.css
var styleText string

//go:embed script.js
var scriptSource string

// scriptText is the script as a page has it: without comments, which are for those who work on it.
var scriptText = sync.OnceValue(func() string { return bare(scriptSource) + readingsText() })

//go:embed readings.js
var readingsSource string

// readingsText is the script of a checklist's fields.
var readingsText = sync.OnceValue(func() string { return bare(readingsSource) })

// typeNote is a type told within a line, for the check of types alone.
var typeNote = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`/\*\* @type [^*]*\*/ `) })

// bare is a script without comments that have lines of their own, types told within lines, and indentation.
func bare(script string) string {
	var b strings.Builder
	comment := false
	for line := range strings.Lines(script) {
		line = strings.TrimSpace(line)
		switch {
		case comment:
			comment = !strings.HasSuffix(line, "*/")
		case strings.HasPrefix(line, "/**") && !strings.Contains(line, "*/"):
			comment = true
		case line == "", strings.HasPrefix(line, "//"), strings.HasPrefix(line, "/**") && strings.HasSuffix(line, "*/"):
		default:
			b.WriteString(typeNote().ReplaceAllString(line, "") + "\n")
		}
	}
	return b.String()
}

// pageTemplate escapes everything that it is given; style and script are the program's own.
var pageTemplate = sync.OnceValue(func() *template.Template {
	t := template.Must(template.New("page").Funcs(template.FuncMap{"lower": strings.ToLower, "bind": text.Bound, "inc": func(n int) int { return n + 1 }}).Parse(pageText))
	for name, body := range map[string]string{"symbols": symbolText, "drawing": drawingText, "checklist": checklistText, "rework": reworkText, "record": recordText, "paper": paperText} {
		template.Must(t.New(name).Parse(body))
	}
	return t
})

// document is the whole page.
type document struct {
	Title  string
	Policy string
	Style  template.CSS
	Script template.JS
	Sets   []*view
	Rework *reworkView
}

// policy forbids the page everything but its own style and script (Content Security Policy 3).
func policy() string {
	return policyOf("style-src "+hashOf(styleText), "script-src "+hashOf(scriptText()))
}

// stylePolicy forbids a page everything but its own style.
func stylePolicy() string { return policyOf("style-src " + hashOf(styleText)) }

func policyOf(allowed ...string) string {
	return fmt.Sprintf("default-src 'none'; %s; base-uri 'none'; form-action 'none'", strings.Join(allowed, "; "))
}

// hashOf names a style or a script to the browser.
func hashOf(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// Inspect writes a page about one set or several.
func Inspect(w io.Writer, reports []*rules.Report) error {
	d := &document{Title: "What stands between the line and a hand"}
	for i, r := range reports {
		d.Sets = append(d.Sets, newView(r, fmt.Sprintf("set%d", i+1), ""))
	}
	return d.write(w)
}

func (d *document) write(w io.Writer) error {
	if len(d.Sets) == 1 {
		d.Title = d.Sets[0].Name + ": " + strings.ToLower(d.Title[:1]) + d.Title[1:]
	}
	d.Policy, d.Style, d.Script = policy(), template.CSS(styleText), template.JS(scriptText())
	return execute(w, "page", d)
}
