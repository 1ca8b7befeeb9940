package rulebook

import (
	"fmt"
	"sort"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// allowed lists every built-in a rule may call, ours and a shop's alike: those
// that only compare, pick, count and put words together. Whatever reaches the
// network, the clock, the environment or the disk is left out, and so is what
// does not look up to see that its time is over (bits.lsh,
// graph.reachable_paths, walk) and what a rule about a stack has no use for.
//
// testdata/builtins.json holds this list with each one's signature, and all
// that OPA has beside it, so that what an upgrade of OPA adds, takes away or
// changes shows as a difference there.
var allowed = words(`
	assign eq equal neq lt lte gt gte
	plus minus mul div rem abs ceil floor round numbers.range numbers.range_step
	and or minus intersection union set_diff
	internal.member_2 internal.member_3 internal.template_string internal.print print
	count sum product max min sort
	array.concat array.flatten array.reverse array.slice
	object.filter object.get object.keys object.remove object.subset object.union object.union_n
	concat contains endswith startswith format_int indexof indexof_n lower upper replace split sprintf substring
	trim trim_left trim_prefix trim_right trim_space trim_suffix
	strings.any_prefix_match strings.any_suffix_match strings.count strings.replace_n strings.reverse strings.split_n
	regex.is_valid regex.match regex.split
	is_array is_boolean is_null is_number is_object is_set is_string type_name to_number
	time.parse_rfc3339_ns time.parse_duration_ns
`)

func words(s string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(s) {
		out[w] = true
	}
	return out
}

// capabilities is what the compiler lets rules use.
func capabilities() *ast.Capabilities {
	all := ast.CapabilitiesForThisVersion()
	c := &ast.Capabilities{
		FutureKeywords: all.FutureKeywords,
		Features:       all.Features,
		AllowNet:       []string{}, // none: a schema that points elsewhere is not fetched
	}
	for _, b := range all.Builtins {
		if allowed[b.Name] {
			c.Builtins = append(c.Builtins, b)
		}
	}
	return c
}

// testCapabilities adds what OPA's test runner itself puts into a test.
func testCapabilities() *ast.Capabilities {
	c := capabilities()
	for _, b := range ast.CapabilitiesForThisVersion().Builtins {
		if b.Name == ast.InternalTestCase.Name {
			c.Builtins = append(c.Builtins, b)
		}
	}
	return c
}

// refusals gives, for a group of built-ins, why a rule may not call them. The
// longest prefix that fits speaks.
var refusals = []struct{ prefix, why string }{
	{"http.", "it would reach the network"},
	{"net.lookup_ip_addr", "it would reach the network"},
	{"net.", "nothing in a stack is a network address, and some of these never stop"},
	{"providers.", "it would sign requests to the network"},
	{"time.", "it would read the machine's clock or its table of time zones, and a sheet must be judged the same on any day and machine"},
	{"opa.runtime", "it would read the environment"},
	{"rand.", "it gives another answer each time, and a sheet must be judged the same each time"},
	{"uuid.rfc4122", "it gives another answer each time, and a sheet must be judged the same each time"},
	{"rego.", "it would read the rules instead of the stack"},
	{"trace", "it prints, and a rule may only judge; in a test use print"},
	{"bits.", "it can eat all memory without looking up to see that its time is over"},
	{"graph.", "it can run on without looking up to see that its time is over"},
	{"walk", "it can run on without looking up to see that its time is over; name the fields you mean"},
	{"json.match_schema", "it can fetch a schema from the network"},
	{"json.verify_schema", "it can fetch a schema from the network"},
	{"yaml.", "a rule may read nothing but the stack"},
	{"graphql.", "a rule may read nothing but the stack"},
}

// refusal says in words why a built-in may not be called. Ok is false when
// there is no such built-in at all.
func refusal(name string) (why string, ok bool) {
	known := false
	for _, b := range ast.CapabilitiesForThisVersion().Builtins {
		known = known || b.Name == name
	}
	if !known {
		return "", false
	}
	for _, r := range refusals {
		if strings.HasPrefix(name, r.prefix) {
			return r.why, true
		}
	}
	return "a rule needs only to compare, pick, count and put words together", true
}

// refusedCalls finds every call in a module to a built-in that is not allowed,
// in the order of the file. Calls of a module's own functions, and of those of
// packages it imports, are the compiler's to check.
func refusedCalls(m *ast.Module) []problemAt {
	var found []problemAt
	seen := map[string]bool{}
	call := func(op *ast.Term) {
		ref, ok := op.Value.(ast.Ref)
		if !ok {
			return
		}
		name := ref.String()
		if allowed[name] || op.Location == nil {
			return
		}
		why, known := refusal(name)
		at := fmt.Sprint(op.Location.Row, ":", op.Location.Col, name)
		if !known || seen[at] {
			return
		}
		seen[at] = true
		found = append(found, problemAt{op.Location.Row, op.Location.Col,
			fmt.Sprintf("%s may not be called here: %s", name, why)})
	}
	ast.WalkExprs(m, func(x *ast.Expr) bool {
		if x.IsCall() {
			if terms, ok := x.Terms.([]*ast.Term); ok && len(terms) > 0 {
				call(terms[0])
			}
		}
		for _, w := range x.With {
			// 'with http.send as f' names a built-in without calling it.
			if w.Target != nil {
				call(w.Target)
			}
			if w.Value != nil {
				if _, ok := w.Value.Value.(ast.Ref); ok {
					call(w.Value)
				}
			}
		}
		return false
	})
	inTerm := func(t *ast.Term) bool {
		if c, ok := t.Value.(ast.Call); ok && len(c) > 0 {
			call(c[0])
		}
		return false
	}
	ast.WalkTerms(m, inTerm)
	ast.WalkRules(m, func(r *ast.Rule) bool {
		for _, t := range r.Head.Reference {
			ast.WalkTerms(t, inTerm)
		}
		return false
	})
	sort.SliceStable(found, func(i, j int) bool {
		if found[i].line != found[j].line {
			return found[i].line < found[j].line
		}
		return found[i].column < found[j].column
	})
	return found
}

// problemAt is a fault in a file whose name the caller knows.
type problemAt struct {
	line, column int
	message      string
}
