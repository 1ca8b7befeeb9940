package rulebook

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"unicode"

	"github.com/open-policy-agent/opa/v1/ast"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// OPA's type checker follows the schema of the stack only as far as a rule's
// own body: what is handed to a function, and what lies in a table by name,
// is anything to it. A misspelt field there would make a rule that stays silent
// for ever. What follows walks compiled rules once more and carries the shape
// of the stack into functions and tables too.

// form is what is known of a value; nil is nothing.
type form struct {
	name   string           // what the schema calls it, for messages
	fields map[string]*form // a record: these fields and no others
	any    *form            // a table by name, or a set: its values
	table  bool
	set    bool
	items  *form // a list
	list   bool
}

// stackShape is the form of the whole input, from the stack's schema.
var stackShape = sync.OnceValues(func() (*form, error) {
	raw, err := stack.SchemaValue()
	if err != nil {
		return nil, fmt.Errorf("reading the schema of the stack: %w", err)
	}
	root, _ := raw.(map[string]any)
	defs, _ := root["definitions"].(map[string]any)
	s := schemaForms{defs: defs, made: map[string]*form{}}
	return s.of(root, "stack"), nil
})

type schemaForms struct {
	defs map[string]any
	made map[string]*form
}

func (s *schemaForms) of(raw any, name string) *form {
	o, ok := raw.(map[string]any)
	if !ok {
		return nil
	}
	if ref, ok := o["$ref"].(string); ok {
		def := ref[strings.LastIndexByte(ref, '/')+1:]
		if f, ok := s.made[def]; ok {
			return f
		}
		f := &form{}
		s.made[def] = f
		if made := s.of(s.defs[def], strings.TrimSuffix(def, "OrNull")); made != nil {
			*f = *made
		} else {
			s.made[def] = nil
			return nil
		}
		return f
	}
	if items, ok := o["items"]; ok {
		return &form{name: name, list: true, items: s.of(items, name)}
	}
	if fields, ok := o["properties"].(map[string]any); ok && o["additionalProperties"] == false {
		f := &form{name: name, fields: map[string]*form{}}
		for key, v := range fields {
			f.fields[key] = s.of(v, key)
		}
		return f
	}
	if values, ok := o["additionalProperties"].(map[string]any); ok {
		return &form{name: name, table: true, any: s.of(values, name)}
	}
	return nil
}

// withLimits is the shape of the stack with its limits by name: a limit that
// does not exist is a misspelt field too.
func withLimits(root *form, names []string) *form {
	if root == nil || root.fields["limits"] == nil {
		return root
	}
	out := &form{name: root.name, fields: maps.Clone(root.fields)}
	limits := &form{name: "the limits", fields: map[string]*form{}}
	for _, n := range names {
		limits.fields[n] = root.fields["limits"].any
	}
	out.fields["limits"] = limits
	return out
}

// misspelt tells every field that a compiled module asks for and that what it
// asks does not have, and every name of another package that does not exist.
func misspelt(c *ast.Compiler, file string, input *form) []sheet.Problem {
	m, ok := c.Modules[file]
	if !ok {
		return nil
	}
	w := walker{c: c, file: file, input: input, told: map[string]bool{}, values: map[*ast.Rule]*form{}, open: map[*ast.Rule]bool{}}
	for _, r := range m.Rules {
		w.rule(r, nil)
	}
	return w.problems
}

type walker struct {
	c        *ast.Compiler
	file     string // only what this file does wrong is told
	input    *form
	problems []sheet.Problem
	told     map[string]bool
	calls    []*ast.Location     // where functions now walked were called, outermost first
	values   map[*ast.Rule]*form // of rules without arguments
	open     map[*ast.Rule]bool  // being walked
	env      map[ast.Var]*form   // of the body being walked
	with     func(target ast.Ref, made *form, at *ast.Location)
	bound    map[ast.Var]struct{} // known to have a value, even if nothing is known of it
}

func (w *walker) fault(at *ast.Location, format string, args ...any) {
	if at == nil || at.File != w.file {
		// In the library: what was handed to it is wrong, and that stands where it was called.
		i := len(w.calls) - 1
		for i >= 0 && (w.calls[i] == nil || w.calls[i].File != w.file) {
			i--
		}
		if i < 0 {
			return
		}
		at = w.calls[i]
	}
	p := problem(w.file, at.Row, at.Col, format, args...)
	key := fmt.Sprint(p.Place.Line, ":", p.Place.Column, ":", p.Message)
	if !w.told[key] {
		w.told[key] = true
		w.problems = append(w.problems, p)
	}
}

// rule walks one rule with the forms of its arguments and gives the form of its value.
func (w *walker) rule(r *ast.Rule, args []*form) *form {
	if w.open[r] || len(w.calls) > 50 {
		return nil
	}
	w.open[r] = true
	env, bound := w.env, w.bound
	defer func() {
		w.open[r] = false
		w.env, w.bound = env, bound
	}()
	var value *form
	for first, at := true, r; at != nil; first, at = false, at.Else {
		w.env, w.bound = map[ast.Var]*form{}, map[ast.Var]struct{}{}
		for i, a := range at.Head.Args {
			var f *form
			if i < len(args) {
				f = args[i]
			}
			w.match(a, f)
		}
		w.body(at.Body)
		f := w.head(at)
		if first {
			value = f
		} else {
			value = either(value, f)
		}
	}
	return value
}

func (w *walker) head(r *ast.Rule) *form {
	h := r.Head
	switch {
	case h.RuleKind() == ast.MultiValue:
		f := &form{set: true}
		if h.Key != nil {
			f.any = w.term(h.Key)
		}
		return f
	case h.Value != nil && len(h.Reference) > 1 && h.Args == nil:
		w.term(h.Value)
		return nil
	case h.Value != nil:
		return w.term(h.Value)
	}
	return nil
}

func (w *walker) body(b ast.Body) {
	for _, e := range b {
		w.expr(e)
	}
}

func (w *walker) expr(e *ast.Expr) {
	for _, with := range e.With {
		f := w.term(with.Value)
		if target, ok := with.Target.Value.(ast.Ref); ok && w.with != nil {
			w.with(target, f, with.Value.Location)
		}
	}
	switch t := e.Terms.(type) {
	case *ast.Term:
		w.term(t)
	case *ast.Every:
		env, bound := maps.Clone(w.env), maps.Clone(w.bound)
		domain := w.term(t.Domain)
		w.match(t.Value, element(domain))
		if t.Key != nil {
			w.match(t.Key, nil)
		}
		w.body(t.Body)
		w.env, w.bound = env, bound
	case []*ast.Term:
		if len(t) == 0 {
			return
		}
		op, _ := t[0].Value.(ast.Ref)
		if len(t) == 3 && (op.String() == ast.Equality.Name || op.String() == ast.Assign.Name) {
			w.unify(t[1], t[2])
			return
		}
		f, output := w.call(t[0], t[1:])
		if output != nil {
			w.match(output, f)
		}
	}
}

// unify is a = b: the side that has no value yet gets the other's form.
func (w *walker) unify(a, b *ast.Term) {
	if w.fresh(a) {
		w.match(a, w.term(b))
		return
	}
	if w.fresh(b) {
		w.match(b, w.term(a))
		return
	}
	x, okX := a.Value.(*ast.Array)
	y, okY := b.Value.(*ast.Array)
	if okX && okY && x.Len() == y.Len() {
		for i := range x.Len() {
			w.unify(x.Elem(i), y.Elem(i))
		}
		return
	}
	fa, fb := w.term(a), w.term(b)
	w.match(a, fb)
	w.match(b, fa)
}

func (w *walker) fresh(t *ast.Term) bool {
	v, ok := t.Value.(ast.Var)
	if !ok {
		return false
	}
	_, known := w.bound[v]
	return !known
}

// match gives the variables of a pattern the forms of what it is matched with.
func (w *walker) match(t *ast.Term, f *form) {
	switch p := t.Value.(type) {
	case ast.Var:
		if _, known := w.bound[p]; !known {
			w.bound[p] = struct{}{}
			w.env[p] = f
		}
	case *ast.Array:
		for i := range p.Len() {
			var item *form
			if f != nil {
				item = f.items
			}
			w.match(p.Elem(i), item)
		}
	case ast.Object:
		p.Foreach(func(k, v *ast.Term) {
			var field *form
			if key, ok := k.Value.(ast.String); ok && f != nil && f.fields != nil {
				field = f.fields[string(key)]
			}
			w.match(v, field)
		})
	}
}

// element is the form of what a list, a set or a table holds.
func element(f *form) *form {
	switch {
	case f == nil:
		return nil
	case f.list:
		return f.items
	case f.set, f.table:
		return f.any
	}
	return nil
}

// either is what is known of a value that is one or the other.
func either(a, b *form) *form {
	if a == b {
		return a
	}
	if a == nil || b == nil {
		return nil
	}
	switch {
	case a.fields != nil && b.fields != nil:
		f := &form{name: a.name, fields: map[string]*form{}}
		for k, v := range a.fields {
			f.fields[k] = v
		}
		for k, v := range b.fields {
			if old, ok := f.fields[k]; ok && old != v {
				v = nil
			}
			f.fields[k] = v
		}
		return f
	case a.set && b.set:
		return &form{set: true, any: either(a.any, b.any)}
	case a.list && b.list:
		return &form{list: true, items: either(a.items, b.items)}
	case a.table && b.table:
		return &form{table: true, any: either(a.any, b.any)}
	}
	return nil
}

func (w *walker) term(t *ast.Term) *form {
	switch v := t.Value.(type) {
	case ast.Var:
		return w.env[v]
	case ast.Ref:
		return w.ref(v, t.Location)
	case ast.Call:
		if len(v) == 0 {
			return nil
		}
		f, _ := w.call(v[0], v[1:])
		return f
	case *ast.Array:
		f := &form{list: true}
		for i := range v.Len() {
			item := w.term(v.Elem(i))
			if i == 0 {
				f.items = item
			} else {
				f.items = either(f.items, item)
			}
		}
		return f
	case ast.Set:
		f := &form{set: true}
		for i, x := range v.Slice() {
			item := w.term(x)
			if i == 0 {
				f.any = item
			} else {
				f.any = either(f.any, item)
			}
		}
		return f
	case ast.Object:
		f := &form{name: "this object", fields: map[string]*form{}}
		closed := true
		v.Foreach(func(k, x *ast.Term) {
			value := w.term(x)
			if key, ok := k.Value.(ast.String); ok {
				f.fields[string(key)] = value
			} else {
				w.term(k)
				closed = false
			}
		})
		if !closed {
			return nil
		}
		return f
	case *ast.ArrayComprehension:
		return w.comprehension(v.Body, func() *form { return &form{list: true, items: w.term(v.Term)} })
	case *ast.SetComprehension:
		return w.comprehension(v.Body, func() *form { return &form{set: true, any: w.term(v.Term)} })
	case *ast.ObjectComprehension:
		return w.comprehension(v.Body, func() *form {
			w.term(v.Key)
			return &form{table: true, any: w.term(v.Value)}
		})
	}
	return nil
}

func (w *walker) comprehension(b ast.Body, head func() *form) *form {
	env, bound := maps.Clone(w.env), maps.Clone(w.bound)
	w.body(b)
	f := head()
	w.env, w.bound = env, bound
	return f
}

// ref follows a reference field by field.
func (w *walker) ref(r ast.Ref, at *ast.Location) *form {
	var f *form
	rest := r[1:]
	switch head := r[0].Value.(type) {
	case ast.Var:
		switch {
		case head.Equal(ast.InputRootDocument.Value):
			f = w.input
		case head.Equal(ast.DefaultRootDocument.Value):
			f, rest = w.data(r, at)
		default:
			f = w.env[head]
		}
	default:
		f = w.term(r[0])
	}
	for _, t := range rest {
		f = w.step(f, t, at)
	}
	return f
}

func (w *walker) step(f *form, t *ast.Term, at *ast.Location) *form {
	if t.Location != nil && t.Location.Row > 0 {
		at = t.Location
	}
	key, isKey := t.Value.(ast.String)
	if !isKey {
		if inner, ok := t.Value.(ast.Ref); ok {
			w.ref(inner, at)
		}
		if f != nil && f.set {
			w.match(t, f.any)
		} else {
			w.match(t, nil)
		}
	}
	switch {
	case f == nil:
		return nil
	case f.fields != nil:
		if !isKey {
			return nil
		}
		field, ok := f.fields[string(key)]
		if !ok {
			w.fault(at, "%s", noField(string(key), f.called(), slices.Sorted(maps.Keys(f.fields))))
		}
		return field
	case f.list && isKey:
		w.fault(at, "there is no field %q here: this is a list", string(key))
		return nil
	}
	return element(f)
}

// called is what a message calls a record: "a contact", "the limits".
func (f *form) called() string {
	var b strings.Builder
	for i, r := range strings.TrimSuffix(f.name, "Facts") {
		if unicode.IsUpper(r) && i > 0 {
			b.WriteByte(' ')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	name := b.String()
	switch {
	case name == "" || strings.HasPrefix(name, "th"):
		return name
	case strings.HasSuffix(name, "s"):
		return "the " + name
	case strings.ContainsRune("aeiou", rune(name[0])):
		return "an " + name
	}
	return "a " + name
}

// data follows a reference into a package to the rule it names.
func (w *walker) data(r ast.Ref, at *ast.Location) (*form, ast.Ref) {
	for n := len(r); n > 1; n-- {
		prefix := r[:n]
		if !prefix.IsGround() {
			continue
		}
		rules := w.c.GetRulesExact(prefix)
		if len(rules) == 0 {
			continue
		}
		if len(rules[0].Head.Args) > 0 {
			return nil, nil
		}
		return w.value(rules), r[n:]
	}
	if w.noSuch(r) {
		w.fault(at, "there is no %s: a rule reads its own package, guidecoat.lib and the data beside the rules", r)
	}
	return nil, nil
}

// noSuch says whether nothing can stand under a reference: no rule, no package,
// none of the data.
func (w *walker) noSuch(r ast.Ref) bool {
	if len(r) < 2 {
		return false
	}
	root, ok := r[1].Value.(ast.String)
	if !ok {
		return false
	}
	if root != "guidecoat" {
		return !slices.Contains([]string{"covers", "kinds", "limits"}, string(root))
	}
	prefix := r.GroundPrefix()
	if len(prefix) == 3 && slices.Contains(Families, strings.Trim(prefix[2].String(), `"`)) {
		return false // a family without rules is no mistake
	}
	return len(w.c.GetRulesWithPrefix(prefix)) == 0
}

// value is the form of a rule without arguments, all its clauses together.
func (w *walker) value(rules []*ast.Rule) *form {
	var f *form
	for i, r := range rules {
		v, ok := w.values[r]
		if !ok {
			v = w.rule(r, nil)
			w.values[r] = v
		}
		if i == 0 {
			f = v
		} else {
			f = either(f, v)
		}
	}
	return f
}

// call walks a call. Output is the argument that takes its value, if there is one.
func (w *walker) call(op *ast.Term, args []*ast.Term) (f *form, output *ast.Term) {
	ref, ok := op.Value.(ast.Ref)
	if !ok {
		return nil, nil
	}
	if rules := w.c.GetRulesExact(ref); len(rules) > 0 && len(rules[0].Head.Args) > 0 {
		n := len(rules[0].Head.Args)
		if len(args) > n {
			args, output = args[:n], args[n]
		}
		forms := make([]*form, len(args))
		for i, a := range args {
			forms[i] = w.term(a)
		}
		w.calls = append(w.calls, op.Location)
		for i, r := range rules {
			v := w.rule(r, forms)
			if i == 0 {
				f = v
			} else {
				f = either(f, v)
			}
		}
		w.calls = w.calls[:len(w.calls)-1]
		return f, output
	}
	name := ref.String()
	if b, ok := ast.BuiltinMap[name]; ok {
		if n := b.Decl.Arity(); len(args) > n {
			args, output = args[:n], args[n]
		}
	}
	forms := make([]*form, len(args))
	for i, a := range args {
		forms[i] = w.term(a)
	}
	return built(name, args, forms), output
}

// built is the form of what a built-in gives, where it hands on what it is given.
func built(name string, args []*ast.Term, forms []*form) *form {
	switch name {
	case ast.ObjectUnion.Name:
		a, b := forms[0], forms[1]
		if a == nil || b == nil || a.fields == nil || b.fields == nil {
			return nil
		}
		f := &form{name: a.name, fields: maps.Clone(a.fields)}
		maps.Copy(f.fields, b.fields)
		return f
	case ast.ObjectGet.Name:
		key, ok := args[1].Value.(ast.String)
		if f := forms[0]; ok && f != nil && f.fields != nil {
			return f.fields[string(key)]
		}
	case ast.ArrayConcat.Name:
		if forms[0] != nil && forms[1] != nil && forms[0].list && forms[1].list {
			return &form{list: true, items: either(forms[0].items, forms[1].items)}
		}
	case ast.ArraySlice.Name, ast.ArrayReverse.Name:
		return forms[0]
	case ast.Sort.Name:
		if e := element(forms[0]); e != nil {
			return &form{list: true, items: e}
		}
	}
	return nil
}

// strangeInputs tells every field of an input that a test makes up and that no
// stack has: such a test proves nothing.
func strangeInputs(c *ast.Compiler, file string, input *form) []sheet.Problem {
	m, ok := c.Modules[file]
	if !ok {
		return nil
	}
	w := walker{c: c, file: file, told: map[string]bool{}, values: map[*ast.Rule]*form{}, open: map[*ast.Rule]bool{}}
	w.with = func(target ast.Ref, made *form, at *ast.Location) {
		f := input
		if !target[0].Equal(ast.InputRootDocument) {
			return
		}
		for _, t := range target[1:] {
			key, ok := t.Value.(ast.String)
			if !ok || f == nil {
				return
			}
			if f.fields != nil {
				f = f.fields[string(key)]
			} else {
				f = f.any
			}
		}
		w.strange(made, f, at)
	}
	for _, r := range m.Rules {
		w.rule(r, nil)
	}
	return w.problems
}

// strange tells the fields of what is made up that what it stands for has not.
func (w *walker) strange(made, real *form, at *ast.Location) {
	if made == nil || real == nil {
		return
	}
	switch {
	case made.fields != nil && real.fields != nil:
		for _, key := range slices.Sorted(maps.Keys(made.fields)) {
			field, ok := real.fields[key]
			if !ok {
				w.fault(at, "the input made up here: %s", noField(key, real.called(), slices.Sorted(maps.Keys(real.fields))))
				continue
			}
			w.strange(made.fields[key], field, at)
		}
	case made.fields != nil && real.table:
		for _, key := range slices.Sorted(maps.Keys(made.fields)) {
			w.strange(made.fields[key], real.any, at)
		}
	case made.list && real.list:
		w.strange(made.items, real.items, at)
	case made.table && real.table:
		w.strange(made.any, real.any, at)
	}
}
