package editor

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// The test's own program is the process apart when it is called so.
const asApart = "GUIDECOAT_TEST_APART"

func init() {
	switch os.Getenv(asApart) {
	case "judges":
		if err := JudgeApart(context.Background(), os.Stdin, os.Stdout, builtin()); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	case "dies": // as the rulebook's watchdog ends it
		_, _ = os.Stdin.Read(make([]byte, 100))
		fmt.Fprintln(os.Stderr, "guidecoat: the shop's rule no-red broke: it did not come to an end within 2s, nor when told to stop. Nothing was judged; mend that rule or take it out of the rules folder.")
		os.Exit(2)
	}
}

func apartAs(how func() string) func() *exec.Cmd {
	return func() *exec.Cmd {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), asApart+"="+how())
		return cmd
	}
}

func rulesShop(t *testing.T) map[string]string {
	files := shop(t)
	files["rules/no-red.rego"] = houseRule
	files["guidecoat.toml"] = "[house]\nshelf = [\"shelf.toml\"]\nrules = \"rules\"\n[grades]\ntoo-cold = \"advice\"\nclean-again-after-break = {off = true, reason = \"x\"}\n"
	return files
}

const redStep = `
[product.barn-red]
kind = "urethane clear"
mix = "2:1"
[[step]]
do = "spray"
product = "barn-red"
[[waiver]]
rule = "water-on-bare-steel"
reason = "to see"
[[waiver]]
rule = "no-such-thing-here"
step = "epoxy"
reason = "to see"
`

func TestWhatIsJudgedApartIsJudgedAlike(t *testing.T) {
	text := strings.Replace(example(t, "bad/water-on-steel.toml")+redStep, "no-such-thing-here", "film-too-thin", 1)
	var told [2][]diagnostic
	for i, apart := range []func() *exec.Cmd{nil, apartAs(func() string { return "judges" })} {
		before := runtime.NumGoroutine()
		c := dial(t, rulesShop(t), Options{Apart: apart})
		c.initialize(nil)
		uri := c.open("door.toml", text)
		told[i] = c.diagnosed(uri, 1)
		for j := range told[i] {
			told[i][j].Related = nil // it names the folder of the test
		}
		if !slices.Contains(codes(told[i]), "no-red") {
			t.Errorf("the shop's rule did not speak: %+v", told[i])
		}
		// A second time, by the same process.
		c.change(uri, 2, text+"\n")
		if again := c.diagnosed(uri, 2); !slices.Equal(codes(again), codes(told[i])) {
			t.Errorf("told again was %v, and before %v", codes(again), codes(told[i]))
		}
		if err := c.leave(); err != nil {
			t.Error(err)
		}
		_ = c.conn.Close()
		settled(t, before)
	}
	if !reflect.DeepEqual(told[0], told[1]) {
		t.Errorf("here it is told\n%+v\nand apart\n%+v", told[0], told[1])
	}
}

func TestARuleThatEndsTheProcessApartCostsNoMoreThanThat(t *testing.T) {
	how := "dies"
	c := dial(t, rulesShop(t), Options{Apart: apartAs(func() string { return how })})
	c.initialize(nil)
	text := example(t, "bad/water-on-steel.toml") + strings.Split(redStep, "[[waiver]]")[0]
	uri := c.open("door.toml", text)
	broke := func(d diagnostic) bool {
		return strings.Contains(d.Message, "the shop's rule no-red broke: it did not come to an end")
	}
	if ds := c.diagnosed(uri, 1); len(ds) != 1 || !broke(ds[0]) || ds[0].Severity != severityError {
		t.Errorf("it was told as %+v", ds)
	}
	// The rule as it is is not asked again, though it would answer now.
	how = "judges"
	c.change(uri, 2, text+"\n")
	if ds := c.diagnosed(uri, 2); len(ds) != 1 || !broke(ds[0]) {
		t.Errorf("the second time it was told as %+v", ds)
	}
	rule := filepath.Join(c.dir, "rules", "no-red.rego")
	if err := os.WriteFile(rule, []byte(houseRule+"# mended\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	c.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []any{map[string]any{"uri": c.uri("rules/no-red.rego"), "type": 2}}})
	c.wait("the finding of the mended rule", func() bool { return slices.Contains(codes(c.told[uri].Diagnostics), "no-red") })
	var actions []codeAction
	c.call("textDocument/codeAction", whole(uri), &actions)
	if len(actions) == 0 {
		t.Error("no mend was offered")
	}
	// Everything else went on all the while.
	var got *hoverResult
	c.call("textDocument/hover", at(uri, position{29, 3}), &got)
	if got == nil {
		t.Error("nothing is told of a step")
	}
	if err := c.leave(); err != nil {
		t.Error(err)
	}
}

func TestARuleThatTakesTooLongIsNamedAndTheOthersAreJudged(t *testing.T) {
	files := rulesShop(t)
	files["rules/endless.rego"] = strings.NewReplacer(`["no-red"]`, `["endless"]`, `contains(l.name, "red")`,
		"some i in numbers.range(1, 20000)\n\tsome j in numbers.range(1, 20000)\n\ti * j == 0").Replace(houseRule)
	c := dial(t, files, Options{Apart: apartAs(func() string { return "judges" })})
	c.initialize(nil)
	uri := c.open("door.toml", example(t, "bad/water-on-steel.toml")+strings.Split(redStep, "[[waiver]]")[0])
	ds := c.diagnosed(uri, 1)
	if !slices.Contains(codes(ds), "no-red") || !slices.ContainsFunc(ds, func(d diagnostic) bool { return strings.Contains(d.Message, "the rule endless broke") }) {
		t.Errorf("it was told as %+v", ds)
	}
}

func TestAProcessApartThatCannotBeBegunIsTold(t *testing.T) {
	c := dial(t, rulesShop(t), Options{Apart: func() *exec.Cmd { return exec.Command(filepath.Join(t.TempDir(), "no-such-program")) }})
	c.initialize(nil)
	uri := c.open("door.toml", example(t, "bad/water-on-steel.toml"))
	if ds := c.diagnosed(uri, 1); len(ds) != 1 || !strings.Contains(ds[0].Message, "could not be begun") {
		t.Errorf("it was told as %+v", ds)
	}
	if err := c.leave(); err != nil {
		t.Error(err)
	}
}
