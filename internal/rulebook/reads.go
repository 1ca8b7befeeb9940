package rulebook

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
)

// reads tells which fields the rules of a judge can read, so that what none of
// them reads need not be handed over. A field is read by its name, and a name
// is a word: what a rule can read are the words that stand in its file, and in
// the parts of the library that it names, and in those that these name.
type reads struct {
	files map[string]wordSet // by file, of the rules
	lib   map[string]wordSet // by name, of the library

	mu    sync.Mutex
	known map[string]func(field string) bool // by files, see of
}

// wordSet is the words of a text that may name a field or a part of the library.
// It is nil where the text may read anything: it takes the whole input or
// the whole library, or reaches for what it does not name.
type wordSet map[string]bool

// libraryPath is what a rule imports the library by.
var libraryPath = ast.MustParseTerm("data.guidecoat.lib")

// readsOf looks through modules for the words in each.
func readsOf(modules map[string]*ast.Module) *reads {
	out := &reads{known: map[string]func(string) bool{}, files: map[string]wordSet{}, lib: map[string]wordSet{}}
	for file, m := range modules {
		imports := wordSet{}
		if slices.ContainsFunc(m.Imports, func(i *ast.Import) bool { return i.Alias != "" || !i.Path.Equal(libraryPath) }) {
			imports = nil
		}
		if !strings.HasPrefix(file, "lib/") {
			out.files[file] = imports
		}
		for _, r := range m.Rules {
			to, name := out.files, file
			if strings.HasPrefix(file, "lib/") {
				to, name = out.lib, r.Head.Ref()[0].String()
			}
			was, ok := to[name]
			if !ok {
				was = maps.Clone(imports)
			}
			to[name] = was.and(wordsOf(r))
		}
	}
	return out
}

// and is what two texts can read between them.
func (w wordSet) and(others wordSet) wordSet {
	if w == nil || others == nil {
		return nil
	}
	maps.Copy(w, others)
	return w
}

// wordsOf are the words of one rule.
func wordsOf(r *ast.Rule) wordSet {
	out, anything := wordSet{}, false
	var look func(any)
	look = func(x any) {
		ast.WalkTerms(x, func(t *ast.Term) bool {
			switch v := t.Value.(type) {
			case ast.String:
				out[string(v)] = true
			case ast.Var:
				out[string(v)] = true // a part of the library, when it stands in the library
				anything = anything || whole[v]
			case ast.Ref:
				if head, ok := v[0].Value.(ast.Var); !ok || !whole[head] {
					return false
				} else if head == "data" || !namesWhat(v) {
					anything = true
				}
				for _, part := range v[1:] { // not the head: alone it would be all there is
					look(part)
				}
				return true
			}
			return false
		})
	}
	look(r)
	if anything {
		return nil
	}
	return out
}

// whole are the names of what holds everything, so that it counts what is taken from it.
var whole = map[ast.Var]bool{"input": true, "data": true, "lib": true}

// namesWhat tells whether a reference into the input or the library says by
// name what it takes, and of the limits, which of them.
func namesWhat(ref ast.Ref) bool {
	if len(ref) == 1 || !isWord(ref[1]) {
		return false
	}
	return !ref[1].Equal(limits) || len(ref) > 2 && isWord(ref[2])
}

// limits is a table whose keys rules know by name; handed over are those they name.
var limits = ast.StringTerm("limits")

func isWord(t *ast.Term) bool {
	_, ok := t.Value.(ast.String)
	return ok
}

// of tells of a field whether some files of rules can read it; it is nil where
// all must be taken to be read.
func (r *reads) of(files []string) func(field string) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	key := strings.Join(files, "\n")
	keep, ok := r.known[key]
	if !ok {
		keep = r.look(files)
		if len(r.known) < queriesMost {
			r.known[key] = keep
		}
	}
	return keep
}

func (r *reads) look(files []string) func(field string) bool {
	read := wordSet{}
	var named []wordSet
	for _, file := range files {
		named = append(named, r.files[file])
	}
	taken := map[string]bool{}
	for len(named) > 0 {
		said := named[len(named)-1]
		named = named[:len(named)-1]
		if said == nil {
			return nil
		}
		for word := range said {
			read[word] = true
			if part, ok := r.lib[word]; ok && !taken[word] {
				taken[word] = true
				named = append(named, part)
			}
		}
	}
	return func(field string) bool { return read[field] }
}

// filesOf are the files of the named rules.
func (b *Book) filesOf(names []string) []string {
	out := make([]string, len(names))
	for i, name := range names {
		out[i] = b.rules[name].file
	}
	return out
}
