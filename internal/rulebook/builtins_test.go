package rulebook

import (
	"bytes"
	"encoding/json"
	"os"
	"sort"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
)

// builtinsOf writes what rules may call with each one's signature, and what
// else OPA has, so that anything an upgrade changes is a changed line.
func builtinsOf(all *ast.Capabilities) ([]byte, error) {
	type call struct {
		Name      string `json:"name"`
		Signature any    `json:"signature"`
	}
	var golden struct {
		Allowed  []call   `json:"allowed"`
		Refused  []string `json:"refused"`
		Features []string `json:"features"`
		Keywords []string `json:"keywords"`
	}
	for _, b := range all.Builtins {
		if allowed[b.Name] {
			golden.Allowed = append(golden.Allowed, call{b.Name, b.Decl.String()})
		} else {
			golden.Refused = append(golden.Refused, b.Name)
		}
	}
	sort.Slice(golden.Allowed, func(i, j int) bool { return golden.Allowed[i].Name < golden.Allowed[j].Name })
	sort.Strings(golden.Refused)
	golden.Features, golden.Keywords = all.Features, all.FutureKeywords
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(golden)
	return b.Bytes(), err
}

func TestWhatRulesMayCallIsTheListThatIsCheckedIn(t *testing.T) {
	const file = "testdata/builtins.json"
	got, err := builtinsOf(ast.CapabilitiesForThisVersion())
	if err != nil {
		t.Fatal(err)
	}
	if *refresh {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("OPA's built-ins or our list have changed. Look at the difference, decide, and run the test with -refresh:\n%s", got)
	}
}

func TestAnUpgradeOfOPAWouldShow(t *testing.T) {
	now, err := builtinsOf(ast.CapabilitiesForThisVersion())
	if err != nil {
		t.Fatal(err)
	}
	change := func(name string, f func(*ast.Capabilities)) {
		c := ast.CapabilitiesForThisVersion()
		c.Builtins = append([]*ast.Builtin(nil), c.Builtins...)
		f(c)
		then, err := builtinsOf(c)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Equal(now, then) {
			t.Errorf("%s would not show", name)
		}
	}
	change("a new built-in", func(c *ast.Capabilities) {
		c.Builtins = append(c.Builtins, &ast.Builtin{Name: "disk.read", Decl: ast.Count.Decl})
	})
	change("a built-in that is gone", func(c *ast.Capabilities) { c.Builtins = c.Builtins[1:] })
	change("another signature", func(c *ast.Capabilities) {
		for i, b := range c.Builtins {
			if b.Name == "count" {
				c.Builtins[i] = &ast.Builtin{Name: "count", Decl: ast.WalkBuiltin.Decl}
			}
		}
	})
	change("a new feature", func(c *ast.Capabilities) { c.Features = append([]string{"telepathy"}, c.Features...) })
}

func TestEveryNameOnTheListIsABuiltin(t *testing.T) {
	have := map[string]bool{}
	for _, b := range ast.CapabilitiesForThisVersion().Builtins {
		have[b.Name] = true
	}
	for name := range allowed {
		if !have[name] {
			t.Errorf("%s is allowed, and OPA has no such built-in", name)
		}
	}
}

// What the brief of house rules names, and what is known to run on past a deadline.
func TestNothingThatReachesOutOrRunsOnIsOnTheList(t *testing.T) {
	for _, name := range []string{
		"http.send", "net.lookup_ip_addr", "net.cidr_expand", "providers.aws.sign_req", // network
		"time.now_ns", "time.clock", "time.date", "time.format", // clock, table of time zones
		"opa.runtime",                                                           // environment
		"json.match_schema", "json.verify_schema", "rego.parse_module", "trace", // disk, network, itself
		"rand.intn", "uuid.rfc4122", // chance
		"bits.lsh", "graph.reachable_paths", "graph.reachable", "walk", // run on
		"io.jwt.decode_verify", "crypto.x509.parse_certificates",
	} {
		why, known := refusal(name)
		switch {
		case allowed[name]:
			t.Errorf("%s is allowed", name)
		case !known:
			t.Errorf("%s is no built-in: the test is out of date", name)
		case why == "":
			t.Errorf("no reason is given for %s", name)
		}
	}
	if _, known := refusal("no.such"); known {
		t.Error("a name that is no built-in has a reason to be refused")
	}
}

func TestARefusedCallIsFoundWhereverItStands(t *testing.T) {
	for name, text := range map[string]string{
		"in a body":             `p if http.send({"url": "x"}, _)`,
		"in a term":             `p := http.send({"url": "x"})`,
		"in a comprehension":    `p := [x | x := http.send({"url": input.u}).body]`,
		"as a part of a call":   `p if count(http.send({"url": "x"})) == 1`,
		"in every":              `p if every x in input.a { http.send({"url": x}, _) }`,
		"in a default function": `f(x) := http.send({"url": x})`,
		"in an else":            `p if input.a else := http.send({"url": "x"})`,
		"negated":               `p if not http.send({"url": "x"})`,
		"as a stand-in":         `p if count(input.a) == 1 with count as http.send`,
		"in a head":             `p[http.send({"url": "x"})] := 1 if input.a`,
	} {
		t.Run(name, func(t *testing.T) {
			m, err := ast.ParseModuleWithOpts("r.rego", "package guidecoat.house[\"r\"]\n\n"+text+"\n", ast.ParserOptions{RegoVersion: ast.RegoV1})
			if err != nil {
				t.Fatal(err)
			}
			got := refusedCalls(m)
			if len(got) != 1 || got[0].line != 3 || got[0].message != "http.send may not be called here: it would reach the network" {
				t.Errorf("got %v", got)
			}
		})
	}
}
