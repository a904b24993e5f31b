// Package shelf writes what a job takes as a list for the shelf. It names no
// customer, no vehicle, no tax and no labour.
package shelf

import (
	"bytes"
	"embed"
	"html/template"
	"strconv"
	"strings"
	"sync"

	"fitfill/cmd/internal/app"
	"fitfill/compat/job"
)

//go:embed page.html list.html
var files embed.FS

// templates are read when the first list is written: most commands write none.
var templates = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page.html").Funcs(template.FuncMap{
		"amount": Amount, "total": Total, "mark": func(l app.JobLine) string { return app.Marks[l.Outcome] },
		"phase": func(n int, a app.JobAnswer) string {
			if n > 0 && a.Notes[n-1].Phase == a.Notes[n].Phase {
				return ""
			}
			return PhaseTitle[a.Notes[n].Phase]
		},
	}).ParseFS(files, "page.html", "list.html"))
})

// Page writes the list as a page of its own, to print on A4.
func Page(a app.JobAnswer) ([]byte, error) {
	var b bytes.Buffer
	err := templates().Execute(&b, a)
	return b.Bytes(), err
}

// List writes the list alone, to stand in another page.
func List(a app.JobAnswer) (template.HTML, error) {
	var b bytes.Buffer
	err := templates().ExecuteTemplate(&b, "list", a)
	return template.HTML(b.String()), err // of a template that escapes
}

// PhaseTitle heads the notes of each phase.
var PhaseTitle = map[job.Phase]string{
	job.First: "Before anything is bought", job.Out: "Taking apart", job.In: "Putting together", job.Fill: "Filling",
	job.After: "Before it is handed over", job.Overheats: "If it overheats after the job, look in this order",
}

// Total words how many lines the list has and what they cost.
func Total(a app.JobAnswer) string {
	if len(a.Total) == 0 {
		return app.Plural(len(a.Lines), "line", "lines")
	}
	return app.Plural(len(a.Lines), "line", "lines") + ", " + strings.Join(a.Total, " and ")
}

// Amount writes "2 x" or "4.4 L of", with the packs it comes in.
func Amount(l app.JobLine) string {
	if l.Unit == "litre" {
		if l.Quantity == 0 {
			return "?"
		}
		text := strconv.FormatFloat(l.Quantity, 'f', 1, 64) + " L"
		if l.Packs != "" {
			text += " (" + l.Packs + ")"
		}
		return text
	}
	if l.Quantity == 0 {
		return "? x"
	}
	return strconv.FormatFloat(l.Quantity, 'f', -1, 64) + " x"
}
