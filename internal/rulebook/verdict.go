package rulebook

import (
	"encoding/json"
	"fmt"
	"sort"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"guidecoat/internal/sheet"
)

// verdict is what a rule says of one place: facts, with no prose around them.
type verdict struct {
	rule, family     string
	on               string // id of the contact, step, touch, exposure, card ... it stands on
	zone             string // "" when it is about no zone
	step             int    // 0 when about none
	grade, certainty string
	message          string
	leaned           []string
	measured, limit  *Shown
	mend             []Edit
	upper, lower     string // layer ids it rests on
	stepRef          string // a step it rests on
	place            sheet.Place
	oddEdit          error     // an edit it offers that is none, and is left out
	value            ast.Value // as the rule gave it, with its name
}

// readVerdict reads what a rule gave. A verdict that lacks something is the
// rule's fault and told as such: it never just falls away.
func readVerdict(v ast.Value) (verdict, error) {
	raw, err := plain(v)
	if err != nil {
		return verdict{}, err
	}
	o, ok := raw.(map[string]any)
	if !ok {
		return verdict{}, fmt.Errorf("its verdict is no object: lib.verdict makes one")
	}
	r := reader{o: o}
	out := verdict{
		rule: r.word("rule", true), family: r.word("family", true),
		on: r.word("on", true), zone: r.word("zone", false), step: r.whole("step"),
		grade: r.word("grade", true), certainty: r.word("certainty", true),
		message: strings.TrimSpace(r.word("message", true)),
		leaned:  r.words("leaned"), measured: r.shown("measured"), limit: r.shown("limit"),
		place: r.place("place"),
	}
	out.mend, out.oddEdit = r.edits("mend")
	rests := reader{o: r.object("rests"), err: r.err}
	out.upper, out.lower, out.stepRef = rests.word("upper", false), rests.word("lower", false), rests.word("step", false)
	if err := rests.err; err != nil {
		return out, err
	}
	if rank(out.grade) == 0 {
		return out, fmt.Errorf("its verdict has the grade %q; the grades are %s", out.grade, listed(grades))
	}
	if out.certainty != "will" && out.certainty != "may" {
		return out, fmt.Errorf("its verdict has the certainty %q; it is will or may", out.certainty)
	}
	return out, nil
}

// reader takes the fields of a verdict and keeps the first fault.
type reader struct {
	o   map[string]any
	err error
}

func (r *reader) fault(format string, args ...any) {
	if r.err == nil {
		r.err = fmt.Errorf(format, args...)
	}
}

func (r *reader) word(key string, need bool) string {
	switch v := r.o[key].(type) {
	case string:
		if need && strings.TrimSpace(v) == "" {
			r.fault("its verdict's %q is empty", key)
		}
		return v
	case nil:
		if need {
			r.fault("its verdict has no %q", key)
		}
	default:
		r.fault("its verdict's %q is no text", key)
	}
	return ""
}

func (r *reader) whole(key string) int {
	switch v := r.o[key].(type) {
	case int:
		return v
	case nil:
	default:
		r.fault("its verdict's %q is no whole number", key)
	}
	return 0
}

func (r *reader) words(key string) []string {
	out := []string{}
	switch v := r.o[key].(type) {
	case []any:
		for _, x := range v {
			s, ok := x.(string)
			if !ok {
				r.fault("its verdict's %q is no list of texts", key)
				continue
			}
			out = append(out, s)
		}
		sort.Strings(out)
	case nil:
	default:
		r.fault("its verdict's %q is no list", key)
	}
	return out
}

func (r *reader) object(key string) map[string]any {
	switch v := r.o[key].(type) {
	case map[string]any:
		return v
	case nil:
	default:
		r.fault("its verdict's %q is no object", key)
	}
	return nil
}

func (r *reader) shown(key string) *Shown {
	o := r.object(key)
	if o == nil {
		return nil
	}
	out := &Shown{}
	if lo, ok := figure(o["lo"]); ok {
		out.Lo = lo
	} else {
		r.fault("its verdict's %q has no lo: give the comparison's own measured.shown or limit.shown", key)
	}
	if hi, ok := figure(o["hi"]); ok {
		out.Hi = &hi
	} else if o["hi"] != nil {
		r.fault("its verdict's %q has a hi that is no number", key)
	}
	unit, ok := o["unit"].(string)
	if !ok {
		r.fault("its verdict's %q has no unit", key)
	}
	out.Unit = unit
	return out
}

func figure(v any) (float64, bool) {
	switch v := v.(type) {
	case int:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

func (r *reader) place(key string) sheet.Place {
	o := r.object(key)
	p := reader{o: o}
	out := sheet.Place{
		File: p.word("file", false), Line: p.whole("line"), Column: p.whole("column"),
		EndLine: p.whole("end_line"), EndColumn: p.whole("end_column"),
	}
	if p.err != nil {
		r.fault("its verdict's %q is not the place of an entry of the stack", key)
	}
	return out
}

// edits reads the edits a verdict offers. One that is none is left out and
// told apart from the verdict, which stands without it.
func (r *reader) edits(key string) (edits []Edit, odd error) {
	edits = []Edit{}
	list, ok := r.o[key].([]any)
	if !ok {
		if r.o[key] != nil {
			odd = fmt.Errorf("its verdict's %q is no list of edits", key)
		}
		return edits, odd
	}
	for _, x := range list {
		o, _ := x.(map[string]any)
		e := reader{o: o}
		edit := Edit{Edit: e.word("edit", true), Where: e.word("where", false), Step: e.whole("step"),
			Set: e.object("set"), Key: e.word("key", false), Value: o["value"]}
		if e.err == nil {
			e.err = edit.check()
		}
		if e.err != nil {
			odd = fmt.Errorf("an edit in its verdict's %q is not right: %w", key, e.err)
			continue
		}
		edits = append(edits, edit)
	}
	return edits, odd
}

// check says whether an edit is one: whether it also reads back into a sheet
// is proved where it is made.
func (e Edit) check() error {
	if e.Step < 1 {
		return fmt.Errorf("it names no step")
	}
	switch e.Edit {
	case "insert":
		if e.Where != "before" && e.Where != "after" {
			return fmt.Errorf("an insert is before or after a step, not %q", e.Where)
		}
		if do, _ := e.Set["do"].(string); do == "" {
			return fmt.Errorf("the step it inserts does nothing: it has no do")
		}
	case "drop":
	case "unset":
		if e.Key == "" {
			return fmt.Errorf("it takes no key out")
		}
	case "set":
		if e.Key == "" || e.Value == nil {
			return fmt.Errorf("it sets no key or no value")
		}
	default:
		return fmt.Errorf("%q is no edit; there are insert, drop, set and unset", e.Edit)
	}
	return nil
}

// sameButZone is a key under which verdicts fall together that differ in the
// zone alone.
func (v verdict) sameButZone() string {
	on, lower := v.on, v.lower
	if v.zone != "" {
		on = strings.TrimPrefix(on, v.zone+"/")
		lower = strings.TrimSuffix(lower, " ("+v.zone+")")
	}
	b, err := json.Marshal([]any{v.rule, v.zone != "", on, v.step, v.grade, v.certainty, v.message, v.leaned,
		v.measured, v.limit, v.mend, v.upper, lower, v.stepRef, v.place})
	if err != nil {
		// Nothing in a verdict that was read cannot be written.
		return v.rule + " " + v.on
	}
	return string(b)
}
