package cli

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

func TestADrillAsksAndThenTells(t *testing.T) {
	dir := t.TempDir()
	ask := func(answer string) string {
		var out, errs strings.Builder
		s := Process()
		s.In, s.Out, s.Err, s.Dir, s.Terminal, s.Asks = strings.NewReader(answer), &out, &errs, dir, false, true
		s.Getenv = func(string) string { return "" }
		if status := Main([]string{"why", "window-missed", "--drill"}, s); status != 0 {
			t.Fatalf("%d %s", status, errs.String())
		}
		return out.String()
	}
	var made struct {
		Variation int
		Sheet     string
		Answer    []struct {
			Rule string
			Step int
		}
	}
	out, errs, status := runIn(t, dir, "why", "window-missed", "--drill", "--as", "json")
	if err := json.Unmarshal([]byte(out), &made); err != nil || status != 0 || made.Variation != 1 || len(made.Answer) == 0 || made.Answer[0].Rule != "window-missed" {
		t.Fatalf("%v %d %s%s", err, status, out, errs)
	}
	right := fmt.Sprint(made.Answer[0].Step)
	for answer, want := range map[string]string{
		right + "\n":           "Step " + right + " it is.",
		"Step " + right + "\n": "Step " + right + " it is.",
		"1\n":                  "Not step 1.",
		"dunno\n":              "dunno is no number of a step.",
		"\x1b[2J\n":            "is no number of a step.",
		"\n":                   "Enter to be told",
		"":                     "Enter to be told",
	} {
		got := ask(answer)
		asked, told := strings.Index(got, "At which step"), strings.Index(got, "[window-missed]")
		if !strings.Contains(got, want) || asked < 0 || told < asked || strings.Contains(got, "\x1b") {
			t.Errorf("%q: %s", answer, got)
		}
		if strings.Contains(got[:asked], "window-missed") {
			t.Errorf("the sheet tells its fault: %s", got[:asked])
		}
	}
}

func TestADrillIsToldAtOnceWhereNobodyCanAnswer(t *testing.T) {
	dir := t.TempDir()
	one, _, status := runIn(t, dir, "why", "coats-too-close", "--drill")
	if status != 0 || strings.Contains(one, "Enter to be told") || !strings.Contains(one, "--drill --variation 2") {
		t.Errorf("%d %s", status, one)
	}
	two, _, _ := runIn(t, dir, "why", "coats-too-close", "--variation", "2")
	if one == two || !strings.Contains(two, "--variation 3") {
		t.Errorf("%s", two)
	}
	if _, errs, status := runIn(t, dir, "why", "coats-too-close", "--drill", "--variation", "0"); status != 3 || !strings.Contains(errs, "less than 1") {
		t.Errorf("%d %s", status, errs)
	}
}

func TestWhyShowsTheSheetPutRightBesideTheBrokenOne(t *testing.T) {
	out, _, status := runIn(t, t.TempDir(), "why", "window-missed")
	if status != 0 {
		t.Fatal(status)
	}
	for _, want := range []string{"-- a sheet that breaks it", "-- the same sheet put right", "    +do = \"scuff\"", "-- a near miss that holds",
		"it breaks", "put right"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not told in\n%s", want, out)
		}
	}
	// Where no edit puts it right, the near miss stands in its place.
	out, _, _ = runIn(t, t.TempDir(), "why", "too-cold")
	if strings.Contains(out, "put right\n") || !strings.Contains(out, "the near miss, which holds") {
		t.Errorf("%s", out)
	}
}
