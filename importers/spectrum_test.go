package importers

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Twelve cases after the description of the public collection csv-spectrum:
// comma, quote and line end inside quotes, both line ends, empty cells, a JSON
// document and coordinates in a cell, letters beyond ASCII. The cells are ours.
func TestTheTwelveCasesOfCSVSpectrum(t *testing.T) {
	for _, tc := range []struct {
		name, text string
		want       [][]string
	}{
		{"comma in quotes", "first,last,address,town\nAda,Quill,\"12 Mill Row, rear\",Larkmoor\n",
			[][]string{{"Ada", "Quill", "12 Mill Row, rear", "Larkmoor"}}},
		{"empty", "a,b,c\n1,\"\",\"\"\n2,3,4\n", [][]string{{"1", "", ""}, {"2", "3", "4"}}},
		{"empty, CRLF", "a,b,c\r\n1,\"\",\"\"\r\n2,3,4\r\n", [][]string{{"1", "", ""}, {"2", "3", "4"}}},
		{"doubled quotes", "a,b\n1,\"so \"\"it\"\" is\"\n3,4\n", [][]string{{"1", `so "it" is`}, {"3", "4"}}},
		{"JSON", "key,val\n1,\"{\"\"kind\"\": \"\"cap\"\", \"\"size\"\": [1.5, 2.0]}\"\n", [][]string{{"1", `{"kind": "cap", "size": [1.5, 2.0]}`}}},
		{"coordinates", "place,position\nyard,\"47.5,-0.25\"\n", [][]string{{"yard", "47.5,-0.25"}}},
		{"line ends", "a,b,c\n1,2,3\n\"One small \nstep\",5,6\n7,8,9\n", [][]string{{"1", "2", "3"}, {"One small \nstep", "5", "6"}, {"7", "8", "9"}}},
		{"line ends, CRLF", "a,b,c\r\n1,2,3\r\n\"One small \r\nstep\",5,6\r\n7,8,9\r\n", [][]string{{"1", "2", "3"}, {"One small \r\nstep", "5", "6"}, {"7", "8", "9"}}},
		{"quotes and line ends", "a,b\n1,\"so \n\"\"it\"\" \nis\"\n3,4\n", [][]string{{"1", "so \n\"it\" \nis"}, {"3", "4"}}},
		{"simple", "a,b,c\n1,2,3\n", [][]string{{"1", "2", "3"}}},
		{"simple, CRLF", "a,b,c\r\n1,2,3\r\n", [][]string{{"1", "2", "3"}}},
		{"letters", "a,b,c\n1,2,3\n4,5,ʤ\n", [][]string{{"1", "2", "3"}, {"4", "5", "ʤ"}}},
	} {
		in, err := inspect(testVocabulary(t), "case.csv", []byte(tc.text), nil)
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		var got [][]string
		for _, cells := range in.Rows() {
			got = append(got, append([]string{}, cells...))
		}
		header, _, _ := strings.Cut(tc.text, "\n")
		if d := cmp.Diff(tc.want, got); d != "" || strings.Join(in.Header, ",") != strings.TrimRight(header, "\r") {
			t.Errorf("%s: heading %q, rows (-want +got):\n%s", tc.name, in.Header, d)
		}
		if len(in.Accepted) > 0 {
			t.Errorf("%s: asked %q", tc.name, in.Accepted[0].Question)
		}
	}
}
