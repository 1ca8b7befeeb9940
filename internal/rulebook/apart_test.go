package rulebook

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/raced"
	"guidecoat/internal/sheet"
)

const servesApart = "GUIDECOAT_TEST_SERVES_APART"

// TestServingApart is the child of the tests below.
func TestServingApart(t *testing.T) {
	if os.Getenv(servesApart) == "" {
		t.Skip("this is what other tests start as a process of its own")
	}
	if err := ServeApart(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// apartOf is a house whose rules are asked in a process of its own; starts
// counts how many were started.
func apartOf(t *testing.T, rules map[string]string) (h *House, starts *int) {
	t.Helper()
	h = houseOf(t, rules)
	var files []houseFile
	for name, text := range rules {
		files = append(files, houseFile{name, text})
	}
	starts = new(int)
	h.apart = newAsker(func() *exec.Cmd {
		*starts++
		cmd := exec.Command(os.Args[0], "-test.run=^TestServingApart$")
		cmd.Env = append(os.Environ(), servesApart+"=1")
		return cmd
	}, files)
	t.Cleanup(h.Close)
	return h, starts
}

// sound is a rule that speaks of every contact.
func sound(name string) string {
	return ruleText("house", name, "risk", "", onContacts("risk", "true"))
}

func TestRulesAskedApartSayTheSame(t *testing.T) {
	rules := map[string]string{
		"a.rego": sound("a"),
		"b.rego": ruleText("house", "b", "fails", "", onContacts("fails", "c.step == 2")),
		"c.rego": ruleText("house", "c", "risk", "", "verdict := 7"),
		"d.rego": ruleText("house", "d", "risk", "", "verdict contains v if {\n\tv := {\"on\": \"x\"}\n}"),
	}
	book := bookOf(t, nil)
	here := judged(t, book, twoZones(), nil, Options{House: houseOf(t, rules)})
	h, starts := apartOf(t, rules)
	for range 3 {
		there := judged(t, book, twoZones(), nil, Options{House: h})
		if got, want := asJSON(t, there.Findings), asJSON(t, here.Findings); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
		if got, want := ids(there.Findings), ids(here.Findings); got != want || got == "" {
			t.Errorf("got %s, want %s", got, want)
		}
		if got, want := fmt.Sprint(there.Broke), fmt.Sprint(here.Broke); got != want || len(here.Broke) != 2 {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	if *starts != 1 {
		t.Errorf("%d processes were started for three stacks", *starts)
	}
}

// What a rule can do to a process without anything that is refused when it is
// compiled. Each is stopped and named, and the sound rule before and after it
// is heard all the same.
func TestARuleThatWouldBringTheProgramDownIsStoppedAndNamed(t *testing.T) {
	double := func(first, op string) string {
		var b strings.Builder
		fmt.Fprintf(&b, "x0 := %s\n", first)
		for i := range 60 {
			fmt.Fprintf(&b, "x%d := %s\n", i+1, strings.ReplaceAll(op, "x", fmt.Sprint("x", i)))
		}
		return b.String() + "verdict contains v if {\n\tv := {\"on\": x60}\n}"
	}
	contains := func(what string) string { return "verdict contains v if {\n\tv := {\"on\": " + what + "}\n}" }
	const soon, late = time.Second, time.Minute // late: it is to be the memory that stops it
	for name, bomb := range map[string]struct {
		body     string
		deadline time.Duration
		says     string
	}{
		"a billion numbers":     {contains("count([n | some n in numbers.range(1, 1000000000); n % 7 == 3])"), soon, "was stopped"},
		"a number that squares": {double("3", "x * x"), soon, "come to an end"},
		"a huge set":            {contains(`count({[a, b] | some a in numbers.range(1, 100000); some b in numbers.range(1, 100000)})`), soon, "was stopped"},
		"a string that doubles": {double(`"0123456789"`, `concat("", [x, x])`), late, "memory"},
		"a list that doubles":   {double(`[1, 2, 3]`, `array.concat(x, x)`), late, "memory"},
		"replacing that grows":  {double(`"aa"`, `replace(x, "a", x)`), late, "memory"},
		"one huge call": {contains(`concat("", [long | some _ in numbers.range(1, 3000)])`) +
			"\n\nlong := concat(\"\", [\"0123456789\" | some _ in numbers.range(1, 100000)])", late, "memory"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h, _ := apartOf(t, map[string]string{
				"a.rego": sound("a-sound"), "b.rego": ruleText("house", "bomb", "risk", "", bomb.body), "c.rego": sound("c-sound"),
			})
			h = h.Guarded(bomb.deadline, 64<<20, nil)
			r := judged(t, bookOf(t, nil), twoZones(), nil, Options{House: h})
			if len(r.Broke) != 1 || r.Broke[0].Rule != "bomb" {
				t.Fatalf("what broke is %v", r.Broke)
			}
			// A child that watches for races dies in other words when it is given no more memory.
			if m := r.Broke[0].Message; !strings.Contains(m, bomb.says) && !((raced.On || bomb.deadline == late) && strings.Contains(m, "ended the process")) {
				t.Errorf("it is told as: %s", m)
			}
			heard := map[string]bool{}
			for _, f := range r.Findings {
				heard[f.Rule] = true
			}
			if !heard["a-sound"] || !heard["c-sound"] {
				t.Errorf("heard were %v", heard)
			}
			again := judged(t, bookOf(t, nil), twoZones(), nil, Options{House: h})
			if len(again.Broke) != 1 || again.Broke[0].Rule != "bomb" {
				t.Errorf("on the next sheet broke %v", again.Broke)
			}
		})
	}
}

func TestAChildThatCannotBeStartedIsAnErrorAndNoVerdict(t *testing.T) {
	for name, start := range map[string]func() *exec.Cmd{
		"there is no such program": func() *exec.Cmd { return exec.Command("/no/such/program") },
		"it ends at once":          func() *exec.Cmd { return exec.Command(os.Args[0], "-test.run=^$") },
	} {
		t.Run(name, func(t *testing.T) {
			h, _ := apartOf(t, map[string]string{"a.rego": sound("a")})
			h.apart.start = start
			_, err := bookOf(t, nil).Judge(context.Background(), twoZones(), &sheet.Sheet{}, Options{House: h})
			if err == nil || !strings.Contains(err.Error(), "the shop's rules could not be asked") {
				t.Errorf("got %v", err)
			}
		})
	}
}

const counting = "verdict contains v if {\n\tv := {\"on\": count([n | some n in numbers.range(1, 1000000000); n % 7 == 3])}\n}"

// A sheet that is being typed is judged again and again: what nobody waits for
// any more must not hold anything up, nor cost a new child each time.
func TestJudgingThatIsOverComesBackAtOnceAndTheChildGoesOn(t *testing.T) {
	h, starts := apartOf(t, map[string]string{"a.rego": sound("a"), "b.rego": ruleText("house", "bomb", "risk", "", counting)})
	h = h.Guarded(2*time.Second, 0, nil)
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(500*time.Millisecond, cancel)
	if _, err := bookOf(t, nil).Judge(ctx, twoZones(), &sheet.Sheet{}, Options{House: h}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	// The next judging waits for the rule to be stopped, and does not ask it again.
	r := judged(t, bookOf(t, nil), twoZones(), nil, Options{House: h})
	if len(r.Broke) != 1 || r.Broke[0].Rule != "bomb" || len(r.Findings) == 0 {
		t.Errorf("broke %v, and %d findings", r.Broke, len(r.Findings))
	}
	if *starts > 2 {
		t.Errorf("%d children were started", *starts)
	}
}

func TestClosingEndsTheChildWhateverItIsAsking(t *testing.T) {
	h, starts := apartOf(t, map[string]string{"b.rego": ruleText("house", "bomb", "risk", "", counting)})
	h = h.Guarded(time.Minute, 0, nil)
	closed := make(chan struct{})
	time.AfterFunc(500*time.Millisecond, func() {
		h.Close()
		close(closed)
	})
	if _, err := bookOf(t, nil).Judge(context.Background(), twoZones(), &sheet.Sheet{}, Options{House: h}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	<-closed
	if len(h.apart.stopped) > 0 {
		t.Errorf("%v is taken to have been stopped", h.apart.stopped)
	}
	if h.apart.child != nil || *starts != 1 {
		t.Errorf("the child is still there, or %d were started", *starts)
	}
	h.Close() // twice is as good as once
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
