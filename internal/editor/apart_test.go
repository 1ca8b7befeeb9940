package editor

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"guidecoat/internal/raced"
	"guidecoat/internal/rulebook"
)

// The test's own program asks a shop's rules when it is called so.
const asApart = "GUIDECOAT_TEST_APART"

func init() {
	if os.Getenv(asApart) == "" {
		return
	}
	if err := rulebook.ServeApart(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// apart has the shop's rules asked in processes that start gives, for one test.
func apart(t *testing.T, start func() *exec.Cmd) {
	t.Helper()
	builtin().HousesApart(start)
	t.Cleanup(func() { builtin().HousesApart(nil) })
}

func child() *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), asApart+"=1")
	return cmd
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

func TestWhatIsAskedApartIsToldAlike(t *testing.T) {
	text := strings.Replace(example(t, "bad/water-on-steel.toml")+redStep, "no-such-thing-here", "film-too-thin", 1)
	var told [2][]diagnostic
	for i := range told {
		if i == 1 {
			apart(t, child)
		}
		before := runtime.NumGoroutine()
		c := dial(t, rulesShop(t), Options{})
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

// eating asks for more memory in one call than there is.
var eating = strings.NewReplacer(`["no-red"]`, `["eats-all"]`, `contains(l.name, "red")`,
	`contains(concat("", [long | some _ in numbers.range(1, 9000)]), l.name)`).Replace(houseRule) +
	"\nlong := concat(\"\", [\"0123456789\" | some _ in numbers.range(1, 100000)])\n"

func TestARuleThatEndsTheProcessApartCostsNoMoreThanThat(t *testing.T) {
	if raced.On {
		t.Skip("under the race detector a program that runs out of memory ends in other words")
	}
	files := rulesShop(t)
	files["rules/eats-all.rego"] = eating
	apart(t, child)
	c := dial(t, files, Options{})
	c.initialize(nil)
	text := example(t, "bad/water-on-steel.toml") + strings.Split(redStep, "[[waiver]]")[0]
	uri := c.open("door.toml", text)
	broke := func(d diagnostic) bool {
		return strings.Contains(d.Message, "the rule eats-all broke") &&
			(strings.Contains(d.Message, "more memory than it may have") || strings.Contains(d.Message, "did not come to an end"))
	}
	// A second time it is not asked again.
	for version := 1; version <= 2; version++ {
		ds := c.diagnosed(uri, int32(version))
		if i := slices.IndexFunc(ds, broke); i < 0 || ds[i].Severity != severityError || !slices.Contains(codes(ds), "no-red") {
			t.Errorf("version %d was told as %+v", version, ds)
		}
		c.change(uri, version+1, text+strings.Repeat("\n", version))
	}
	// Everything else went on all the while.
	var got *hoverResult
	c.call("textDocument/hover", at(uri, position{29, 3}), &got)
	if got == nil {
		t.Error("nothing is told of a step")
	}
	rule := filepath.Join(c.dir, "rules", "eats-all.rego")
	if err := os.WriteFile(rule, []byte(strings.ReplaceAll(houseRule, "no-red", "eats-all")), 0o600); err != nil {
		t.Fatal(err)
	}
	c.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []any{map[string]any{"uri": c.uri("rules/eats-all.rego"), "type": 2}}})
	c.wait("the finding of the mended rule", func() bool { return slices.Contains(codes(c.told[uri].Diagnostics), "eats-all") })
	var actions []codeAction
	c.call("textDocument/codeAction", whole(uri), &actions)
	if len(actions) == 0 {
		t.Error("no mend was offered")
	}
	if err := c.leave(); err != nil {
		t.Error(err)
	}
}

func TestARuleThatTakesTooLongIsNamedAndTheOthersAreJudged(t *testing.T) {
	files := rulesShop(t)
	files["rules/endless.rego"] = strings.NewReplacer(`["no-red"]`, `["endless"]`, `contains(l.name, "red")`,
		"some i in numbers.range(1, 20000)\n\tsome j in numbers.range(1, 20000)\n\ti * j == 0").Replace(houseRule)
	apart(t, child)
	c := dial(t, files, Options{})
	c.initialize(nil)
	uri := c.open("door.toml", example(t, "bad/water-on-steel.toml")+strings.Split(redStep, "[[waiver]]")[0])
	ds := c.diagnosed(uri, 1)
	if !slices.Contains(codes(ds), "no-red") || !slices.ContainsFunc(ds, func(d diagnostic) bool { return strings.Contains(d.Message, "the rule endless broke") }) {
		t.Errorf("it was told as %+v", ds)
	}
}

func TestAProcessApartThatCannotBeBegunIsTold(t *testing.T) {
	apart(t, func() *exec.Cmd { return exec.Command(filepath.Join(t.TempDir(), "no-such-program")) })
	c := dial(t, rulesShop(t), Options{})
	c.initialize(nil)
	uri := c.open("door.toml", example(t, "bad/water-on-steel.toml"))
	if ds := c.diagnosed(uri, 1); len(ds) != 1 || !strings.Contains(ds[0].Message, "the shop's rules could not be asked") {
		t.Errorf("it was told as %+v", ds)
	}
	if err := c.leave(); err != nil {
		t.Error(err)
	}
}
