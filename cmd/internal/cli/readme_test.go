package cli

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write what the commands print now into README.md")

const readme = "../../../README.md"

// elided stands in README.md for lines of an output that are left out.
const elided = "..."

// TestTheTourOfTheReadme runs every command of README.md in an empty folder,
// from top to bottom, and compares what it prints with what stands there.
func TestTheTourOfTheReadme(t *testing.T) {
	raw, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	t.Chdir(dir)
	t.Setenv("NO_COLOR", "1")
	ran := 0
	text := regexp.MustCompile("(?ms)^```(\\w+)( \\S+)?\n(.*?)^```$").ReplaceAllStringFunc(string(raw), func(block string) string {
		head, body, _ := strings.Cut(block, "\n")
		body = strings.TrimSuffix(body, "```")
		kind, name, _ := strings.Cut(strings.TrimPrefix(head, "```"), " ")
		switch kind {
		case "csv":
			if err := os.WriteFile(filepath.Join(dir, name), []byte(body), 0o644); err != nil {
				t.Fatal(err)
			}
		case "console":
			var n int
			body, n = tour(t, body)
			ran += n
		}
		return head + "\n" + body + "```"
	})
	if ran < 8 {
		t.Errorf("only %d commands stand in README.md", ran)
	}
	if *update && text != string(raw) {
		if err := os.WriteFile(filepath.Join(sourceDir, readme), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// sourceDir is the folder of this test before it changes to an empty one.
var sourceDir = func() string {
	dir, err := os.Getwd()
	if err != nil {
		panic(err)
	}
	return dir
}()

// tour runs the commands of one block and returns it with the outputs of now.
func tour(t *testing.T, body string) (string, int) {
	t.Helper()
	var out strings.Builder
	ran := 0
	for _, part := range strings.Split("\n"+strings.TrimSuffix(body, "\n"), "\n$ ")[1:] {
		command, want, _ := strings.Cut(part, "\n")
		out.WriteString("$ " + command + "\n")
		words := splitWords(command)
		if words[0] == "export" {
			name, value, _ := strings.Cut(words[1], "=")
			t.Setenv(name, value)
			continue
		}
		if words[0] != "fitfill" {
			t.Fatalf("README.md shows a command that the tour cannot run: %s", command)
		}
		ran++
		_, printed, errs := call(t, words[1:]...)
		got := strings.TrimRight(printed+errs, "\n")
		if !matchesOutput(want, got) {
			if !*update {
				t.Errorf("$ %s\nprints\n%s\nREADME.md shows\n%s", command, got, want)
			}
			want = got
		}
		if want != "" {
			out.WriteString(want + "\n")
		}
	}
	return out.String(), ran
}

// matchesOutput compares an output with what is shown of it; a line of three
// dots stands for any number of lines.
func matchesOutput(want, got string) bool {
	var pattern strings.Builder
	pattern.WriteString(`(?s)\A`)
	for i, line := range strings.Split(want, "\n") {
		if strings.TrimSpace(line) == elided {
			pattern.WriteString(`(?:\n.*?|.*?)`)
			continue
		}
		if i > 0 {
			pattern.WriteString(`\n`)
		}
		pattern.WriteString(regexp.QuoteMeta(line))
	}
	pattern.WriteString(`\z`)
	return regexp.MustCompile(pattern.String()).MatchString(got)
}

// splitWords splits a command line as a shell would: at spaces, but not inside
// quotes.
func splitWords(line string) []string {
	var words []string
	var word strings.Builder
	var quote rune
	open := false
	for _, r := range line {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote != 0:
			word.WriteRune(r)
		case r == '"' || r == '\'':
			quote, open = r, true
		case r == ' ':
			if open || word.Len() > 0 {
				words = append(words, word.String())
			}
			word.Reset()
			open = false
		default:
			word.WriteRune(r)
		}
	}
	if open || word.Len() > 0 {
		words = append(words, word.String())
	}
	return words
}

func TestShownOutputsMatch(t *testing.T) {
	for _, tc := range []struct {
		want, got string
		ok        bool
	}{
		{"a\nb", "a\nb", true}, {"a\n...\nd", "a\nb\nc\nd", true}, {"a\n...", "a\nb", true}, {"...\nb", "a\nb", true},
		{"a\n...\nd", "a\nd", true}, {"a\nb", "a\nc", false}, {"a", "a\nb", false}, {"a\n...\nd", "b\nd", false},
	} {
		if matchesOutput(tc.want, tc.got) != tc.ok {
			t.Errorf("%q against %q", tc.want, tc.got)
		}
	}
}
