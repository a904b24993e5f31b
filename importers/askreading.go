package importers

import (
	"fmt"
	"strings"
)

// openReading is a question about how the values of one column are read.
type openReading struct {
	question int // among the questions of the proposal
	setting  string
	heading  string
}

// settingFor returns what was said about a column: of itself, or else of the
// whole sheet.
func (p *proposal) settingFor(c *candidate, name string) (value string, own bool) {
	return p.settings.ofColumn(name, c.Heading)
}

// askReading asks how the values of a column are read; a setting answers it.
func (p *proposal) askReading(c *candidate, code, setting string, choices []string, format string, args ...any) {
	p.readings = append(p.readings, openReading{len(p.result.Questions), setting, c.Heading})
	p.ask(code, "", choices, format, args...)
}

// writeAnswers writes the flags that answer the questions about readings. Where
// several columns ask for the same setting, each is answered by its heading, so
// that no answer decides about a column that it was not given for.
func (p *proposal) writeAnswers() {
	columns := map[string]int{}
	for _, r := range p.readings {
		columns[r.setting]++
	}
	for _, r := range p.readings {
		name := r.setting
		if columns[name] > 1 {
			name += ":" + quoted(r.heading)
		}
		q := &p.result.Questions[r.question]
		var flags []string
		for _, choice := range q.Choices {
			flags = append(flags, fmt.Sprintf("--set %s=%s", name, shellWord(choice)))
		}
		q.Command = strings.Join(flags, " or ")
	}
}

// checkColumns asks about settings of columns that are not there.
func (p *proposal) checkColumns() {
	for full := range p.opt.Settings {
		if name, heading, two := strings.Cut(full, ":"); two && p.find(heading) < 0 {
			p.ask("no-column", "--set "+name+`:"HEADING"=VALUE`, p.headings(), "There is no column %q to set %s of. Which one was meant?", heading, name)
		}
	}
}
