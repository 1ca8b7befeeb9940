package editor

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/generate"
	"guidecoat/internal/sheet"
)

// fortySteps is a made-up sheet of forty steps in two zones that can be judged.
func fortySteps(tb testing.TB) string {
	tb.Helper()
	text := generate.Sheet(7, generate.Options{Steps: 40, Zones: 2})
	if s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "x.toml", []byte(text)); len(problems) > 0 || len(s.Steps) != 40 {
		tb.Fatal("the made-up sheet cannot be read: ", problems)
	}
	return text
}

// From a change of the title, sent by the client, to the diagnostics of the
// changed text: reading, building, judging and telling, and before it the pause
// of 30 ms in which nothing else may be typed (it is left out for a letter that
// comes after a while). The aim is 100 ms. Beside the pause it takes about 45 ms
// of processor time, nearly all of it the rules.
func BenchmarkFromAChangeToItsDiagnosticsOnFortySteps(b *testing.B) {
	c := connect(b, nil)
	text := fortySteps(b)
	uri := c.open("forty.toml", text)
	c.diagnosed(uri, 1)
	head, tail, found := strings.Cut(text, "title")
	head, value := head+"title", strings.TrimLeft(tail, " =")
	if !found || value[0] != '"' {
		b.Fatal("the sheet has no title")
	}
	var took []time.Duration
	version := 1
	for b.Loop() {
		version++
		began := time.Now()
		c.change(uri, version, head+" = \""+fmt.Sprint(version, " ")+value[1:])
		c.diagnosed(uri, int32(version))
		took = append(took, time.Since(began))
	}
	slices.Sort(took)
	ms := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
	b.ReportMetric(ms(took[len(took)/2]), "ms-median")
	b.ReportMetric(ms(took[len(took)*19/20]), "ms-19of20")
}

// What is asked while typing, on the same sheet, half typed.
func BenchmarkCompletionInAHalfTypedSheetOfFortySteps(b *testing.B) {
	c := connect(b, nil)
	text := fortySteps(b) + "\n[[step]]\ndo = \"spray\"\nwear = [\nproduct = \""
	uri := c.open("forty.toml", text)
	lines := strings.Split(text, "\n")
	where := position{uint32(len(lines) - 1), uint32(len(lines[len(lines)-1]))}
	version := 1
	for b.Loop() {
		version++
		c.change(uri, version, text)
		var list completionList
		c.call("textDocument/completion", at(uri, where), &list)
		if len(list.Items) == 0 {
			b.Fatal("nothing was offered")
		}
	}
}
