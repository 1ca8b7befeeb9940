package rulebook

import (
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// reads tells which of the stack's lists and tables the rules of a judge read,
// so that what nobody reads need not be handed over: by file, nil for a file
// that may read any.
type reads map[string]map[string]bool

// readsOf looks through modules for what each reads of its input.
func readsOf(modules map[string]*ast.Module) reads {
	out := reads{}
	for file, m := range modules {
		fields, whole := map[string]bool{}, false
		var look func(x any)
		look = func(x any) {
			ast.WalkTerms(x, func(t *ast.Term) bool {
				switch v := t.Value.(type) {
				case ast.Ref:
					if !v[0].Equal(ast.InputRootDocument) {
						return false
					}
					name, ok := ast.String(""), false
					if len(v) > 1 {
						name, ok = v[1].Value.(ast.String)
					}
					if !ok {
						whole = true
						return true
					}
					fields[string(name)] = true
					for _, part := range v[2:] {
						look(part)
					}
					return true
				case ast.Var:
					whole = whole || v.Equal(ast.InputRootDocument.Value)
				}
				return false
			})
		}
		look(m)
		if whole {
			fields = nil
		}
		out[file] = fields
	}
	return out
}

// of is what the library and some files of rules read between them.
func (r reads) of(files []string) func(field string) bool {
	sets := make([]map[string]bool, 0, len(files)+4)
	add := func(file string) bool {
		fields, known := r[file]
		if !known || fields == nil {
			return false
		}
		sets = append(sets, fields)
		return true
	}
	for file := range r {
		if strings.HasPrefix(file, "lib/") && !add(file) {
			return nil
		}
	}
	for _, file := range files {
		if !add(file) {
			return nil
		}
	}
	return func(field string) bool {
		for _, s := range sets {
			if s[field] {
				return true
			}
		}
		return false
	}
}

// filesOf are the files of the named rules.
func (b *Book) filesOf(names []string) []string {
	out := make([]string, len(names))
	for i, name := range names {
		out[i] = b.rules[name].file
	}
	return out
}
