// Command mutate weakens the rulebook one thing at a time, and tells which of
// the weakened rules nothing notices. A rule whose tests do not see that a line
// of it is gone has a line nobody can trust.
//
//	go run ./internal/mutate                       # all of it, about a minute
//	go run ./internal/mutate -only clock/          # files whose path holds that
//	go run ./internal/mutate -one-in 30            # the same thirtieth each time
//	go run ./internal/mutate -only clock/ -witness # and a sheet each survivor judges otherwise
//
// A file is weakened in one place: an expression is taken out of a body, one of
// several bodies is taken away, a comparison is turned, a not is added or taken
// away, a grade or certainty is changed, a number is moved, lo and hi change
// places, a word is taken out of a list. The weakened rule is compiled with the
// library and its own tests; who notices is the first test that does not pass,
// or one of its two sheets that is not judged as it must be. The library is
// held to its own tests and then to those of every rule.
//
// What nothing notices has to stand in survivors.toml with the reason why
// no test could tell: the exit status is 1 where one does not, or where a
// reason is given for what is noticed.
package main

import (
	"context"
	"flag"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"
	"text/tabwriter"

	"guidecoat/policies"
)

func main() {
	only := flag.String("only", "", "weaken only files below policies/ whose path holds this `text`")
	oneIn := flag.Int("one-in", 1, "weaken one in `n` places, the same each time")
	file := flag.String("survivors", "internal/mutate/survivors.toml", "`file` of reasons for what nothing notices")
	witness := flag.Bool("witness", false, "look for a sheet of the rulebook that each survivor without a reason judges otherwise")
	flag.Parse()
	ok, err := run(context.Background(), os.Stdout, *only, *oneIn, *file, *witness)
	if err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(2)
	}
	if !ok {
		os.Exit(1)
	}
}

func run(ctx context.Context, w io.Writer, only string, oneIn int, file string, witness bool) (ok bool, err error) {
	why, err := readReasons(file)
	if err != nil {
		return false, err
	}
	b, err := load(policies.Files)
	if err != nil {
		return false, err
	}
	all := b.mutants()
	tried, err := b.tryAll(ctx, picked(all, only, oneIn))
	if err != nil {
		return false, err
	}
	if err := table(w, tried); err != nil {
		return false, err
	}
	faults := why.faults(all, tried)
	for _, f := range faults {
		fmt.Fprintln(w, f)
	}
	for _, o := range tried {
		if _, excused := why[o.mutant.name()]; !witness || excused || o.fate != survived {
			continue
		}
		at, err := b.witness(ctx, o.mutant)
		if err != nil {
			return false, err
		}
		fmt.Fprintf(w, "%s\n    %s\n", o.mutant, at)
	}
	return len(faults) == 0, nil
}

// picked are the mutants of the files whose path holds only, one in n of them:
// which, goes by their names, so that it is the same each time and a change to
// one rule does not change the sample of another.
func picked(all []Mutant, only string, n int) []Mutant {
	var out []Mutant
	for _, m := range all {
		h := fnv.New32a()
		h.Write([]byte(m.name()))
		if strings.Contains(m.File, only) && h.Sum32()%uint32(max(n, 1)) == 0 {
			out = append(out, m)
		}
	}
	return out
}

// outcome is what became of a mutant.
type outcome struct {
	mutant Mutant
	fate   string // noticed, survived or stillborn
	by     string // who noticed, or why it does not compile
}

// tryAll tries mutants on all cores, and gives what became of each, in order.
func (b *book) tryAll(ctx context.Context, mutants []Mutant) ([]outcome, error) {
	out := make([]outcome, len(mutants))
	errs := make([]error, len(mutants))
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				fate, by, err := b.try(ctx, mutants[i])
				out[i], errs[i] = outcome{mutants[i], fate, by}, err
			}
		})
	}
	for i := range mutants {
		next <- i
	}
	close(next)
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// tally counts the mutants that compile.
type tally struct{ noticed, survived int }

func (t *tally) add(o outcome) {
	switch o.fate {
	case noticed:
		t.noticed++
	case survived:
		t.survived++
	}
}

func (t tally) String() string {
	all := t.noticed + t.survived
	share := 100.0
	if all > 0 {
		share = 100 * float64(t.noticed) / float64(all)
	}
	return fmt.Sprintf("%d of %d\t%.1f %%", t.noticed, all, share)
}

// table writes the share noticed by way of weakening, by family and in all.
func table(w io.Writer, tried []outcome) error {
	byOp, byFamily, whole := map[string]*tally{}, map[string]*tally{}, &tally{}
	count := func(in map[string]*tally, key string, o outcome) {
		if in[key] == nil {
			in[key] = &tally{}
		}
		in[key].add(o)
	}
	var families []string
	for _, o := range tried {
		family := strings.Split(o.mutant.File, "/")[0]
		if path.Dir(o.mutant.File) == "." {
			family = o.mutant.File
		}
		if !slices.Contains(families, family) {
			families = append(families, family)
		}
		count(byOp, o.mutant.Op, o)
		count(byFamily, family, o)
		whole.add(o)
	}
	t := tabwriter.NewWriter(w, 0, 8, 2, ' ', 0)
	fmt.Fprintln(t, "weakened\tnoticed\tshare")
	for _, op := range ops {
		if byOp[op] != nil {
			fmt.Fprintf(t, "%s\t%s\n", op, byOp[op])
		}
	}
	fmt.Fprintln(t, "\t\t")
	for _, f := range families {
		fmt.Fprintf(t, "%s\t%s\n", f, byFamily[f])
	}
	fmt.Fprintln(t, "\t\t")
	fmt.Fprintf(t, "all\t%s\n", whole)
	return t.Flush()
}
