package generate

import (
	"regexp"
	"strings"
)

// edgeValues are what a key may say at the edge, for values that match.
var edgeValues = []struct {
	like *regexp.Regexp
	say  []string
}{
	{regexp.MustCompile(`\d (s|min|h|days?|weeks?)\b`), []string{`"0 min"`, `"any"`, `"at least 1 min"`, `"up to 1000 weeks"`, `"100000 h"`, `"0.000001 h"`, `"1 h - 1000 days"`, `"1 s"`}},
	{regexp.MustCompile(`\d (mil|um|mm|in)\b`), []string{`"0.01 mil"`, `"1000 mil"`, `"0.0001 um"`, `"1 - 900 um"`, `"0 mil"`, `"3 mm"`}},
	{regexp.MustCompile(`\d [FC]\b`), []string{`"-40 F"`, `"200 F"`, `"31.9 F"`, `"0 C"`, `"-10 - 120 F"`}},
	{regexp.MustCompile(`\d %`), []string{`"0 %"`, `"100 %"`, `"0.001 %"`, `"1 - 99 %"`}},
	{regexp.MustCompile(`"P\d`), []string{`"P12"`, `"P5000"`, `"P40-P3000"`, `"P80"`, `"P2500"`}},
	{regexp.MustCompile(`\d (ft2|m2)`), []string{`"0.01 ft2"`, `"100000 ft2"`, `"1 m2"`}},
	{regexp.MustCompile(`\d (psi|bar)`), []string{`"1 psi"`, `"100 psi"`}},
	{regexp.MustCompile(`\d g/L`), []string{`"0 g/L"`, `"1500 g/L"`}},
	{regexp.MustCompile(`\d:\d`), []string{`"1:1"`, `"100:1"`, `"1:0:1"`, `"1:100"`, `"1"`}},
	{regexp.MustCompile(`^(true|false)$`), []string{"true", "false"}},
	{regexp.MustCompile(`^\d$`), []string{"1", "2", "9"}},
	{regexp.MustCompile(`.`), []string{`""`, `[]`, `"any"`, "0"}},
}

// Changed is a made-up sheet in which, for each change, the value at one place
// is that of another place or one at the edge of what can be said: most such
// sheets still read. A change is the number of the place and that of the value;
// any numbers do.
func Changed(seed uint64, changes ...[2]uint64) string {
	lines := strings.Split(Sheet(seed%5000, Options{Steps: 3 + int(seed%17), Zones: 1 + int(seed%4)}), "\n")
	var values []int
	for i, line := range lines {
		if strings.Contains(line, " = ") && !strings.HasPrefix(line, "format") && !strings.HasPrefix(line, "do ") && !strings.HasPrefix(line, "kind ") {
			values = append(values, i)
		}
	}
	for _, c := range changes {
		to := &lines[values[c[0]%uint64(len(values))]]
		key, was, _ := strings.Cut(*to, " = ")
		with := ""
		for _, edge := range edgeValues {
			if edge.like.MatchString(was) {
				with = edge.say[c[1]%uint64(len(edge.say))]
				break
			}
		}
		for i := c[1] / 8; c[1]%3 == 0 && i < c[1]/8+uint64(len(values)); i++ {
			// The same key of another product, step or zone.
			if k, v, _ := strings.Cut(lines[values[i%uint64(len(values))]], " = "); k == key && v != was {
				with = v
				break
			}
		}
		*to = key + " = " + with
	}
	return strings.Join(lines, "\n")
}
