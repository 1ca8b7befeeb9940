package rulebook

import (
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// reads tells which fields the files of a judge can read, so that what none of
// them reads need not be handed over: by file, every word that stands in it.
// A field is read by its name, and a name is a word; a file that takes the
// whole input reads anything, and has none.
type reads map[string]map[string]bool

// readsOf looks through modules for the words in each.
func readsOf(modules map[string]*ast.Module) reads {
	out := reads{}
	for file, m := range modules {
		words, whole := map[string]bool{}, false
		ast.WalkTerms(m, func(t *ast.Term) bool {
			switch v := t.Value.(type) {
			case ast.String:
				words[string(v)] = true
			case ast.Ref:
				if !v[0].Equal(ast.InputRootDocument) {
					return false
				}
				if len(v) == 1 || !isWord(v[1]) {
					whole = true
				}
				for _, part := range v[1:] {
					// Not the head: alone it would be the whole input.
					if s, ok := part.Value.(ast.String); ok {
						words[string(s)] = true
					} else if takesInput(part, words) {
						whole = true
					}
				}
				return true
			case ast.Var:
				whole = whole || v.Equal(ast.InputRootDocument.Value)
			}
			return false
		})
		if whole {
			words = nil
		}
		out[file] = words
	}
	return out
}

func isWord(t *ast.Term) bool {
	_, ok := t.Value.(ast.String)
	return ok
}

// takesInput notes the words in a part of a reference, and tells whether it
// takes the input itself, be it for no more than a field of it.
func takesInput(part *ast.Term, words map[string]bool) bool {
	takes := false
	ast.WalkTerms(part, func(t *ast.Term) bool {
		switch v := t.Value.(type) {
		case ast.String:
			words[string(v)] = true
		case ast.Var:
			takes = takes || v.Equal(ast.InputRootDocument.Value)
		}
		return false
	})
	return takes
}

// of tells of a field whether the library or some files of rules can read it;
// it is nil where all must be taken to be read.
func (r reads) of(files []string) func(field string) bool {
	sets := make([]map[string]bool, 0, len(files)+4)
	for file, words := range r {
		if strings.HasPrefix(file, "lib/") {
			sets = append(sets, words)
		}
	}
	for _, file := range files {
		sets = append(sets, r[file])
	}
	for _, words := range sets {
		if words == nil {
			return nil
		}
	}
	told := map[string]bool{}
	return func(field string) bool {
		read, ok := told[field]
		if !ok {
			for _, words := range sets {
				read = read || words[field]
			}
			told[field] = read
		}
		return read
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
