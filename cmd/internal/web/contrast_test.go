package web

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The colours of the style, light and dark, against what they stand on. The
// ratios are those of WCAG 2.2: success criterion 1.4.3 (text, 4.5 to 1) and
// 1.4.11 (edges of fields and marks, 3 to 1), by its definitions of contrast
// ratio and relative luminance.
func TestColoursCanBeRead(t *testing.T) {
	css, err := staticFS.ReadFile("static/fitfill.css")
	if err != nil {
		t.Fatal(err)
	}
	light, dark, ok := strings.Cut(string(css), "@media (prefers-color-scheme: dark)")
	if !ok {
		t.Fatal("the style has no dark colours")
	}
	dark, _, _ = strings.Cut(dark, "\n}")
	for name, block := range map[string]string{"light": light, "dark": dark} {
		c := colours(t, block)
		for _, on := range []string{"paper", "field", "tint"} {
			for _, text := range []string{"ink", "faint", "link", "yes", "caution", "no", "open"} {
				if r := contrast(c[text], c[on]); r < 4.5 {
					t.Errorf("%s: %s on %s has a contrast of %.2f, want 4.5", name, text, on, r)
				}
			}
		}
		for _, on := range []string{"paper", "field"} {
			if r := contrast(c["edge"], c[on]); r < 3 {
				t.Errorf("%s: the edge of a field on %s has a contrast of %.2f, want 3", name, on, r)
			}
		}
	}
	// Known pairs, worked out by the same definition: black on white is 21 to 1,
	// #767676 on white the lightest grey that just passes 4.5 to 1.
	for _, k := range []struct {
		a, b string
		want float64
	}{{"#000000", "#ffffff", 21}, {"#767676", "#ffffff", 4.54}} {
		if r := contrast(luminance(t, k.a), luminance(t, k.b)); math.Abs(r-k.want) > 0.005 {
			t.Errorf("%s on %s: %.3f, want %.2f", k.a, k.b, r, k.want)
		}
	}
}

func colours(t *testing.T, css string) map[string]float64 {
	t.Helper()
	c := map[string]float64{}
	for _, m := range regexp.MustCompile(`--([a-z]+): (#[0-9a-f]{6})`).FindAllStringSubmatch(css, -1) {
		c[m[1]] = luminance(t, m[2])
	}
	for _, name := range []string{"paper", "field", "tint", "ink", "faint", "link", "yes", "caution", "no", "open", "edge"} {
		if _, ok := c[name]; !ok {
			t.Fatalf("the colour --%s is missing", name)
		}
	}
	return c
}

// luminance is the relative luminance of a colour by WCAG 2.2.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	part := func(shift uint) float64 {
		v := float64(n>>shift&255) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*part(16) + 0.7152*part(8) + 0.0722*part(0)
}

func contrast(a, b float64) float64 { return (max(a, b) + 0.05) / (min(a, b) + 0.05) }
