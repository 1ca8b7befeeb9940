// Command mutate weakens the rulebook one thing at a time, and tells which of
// the weakened rules nothing notices: a rule whose tests do not see that a line
// of it is gone is a rule whose line nobody can trust.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"runtime"
	"strings"
	"sync"
	"time"

	"guidecoat/policies"
)

func main() {
	only := flag.String("only", "", "weaken only files whose path holds this")
	flag.Parse()
	t0 := time.Now()
	b, err := load(policies.Files)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Println("loaded", time.Since(t0))
	all := b.mutants()
	var picked []Mutant
	for _, m := range all {
		if strings.Contains(m.File, *only) {
			picked = append(picked, m)
		}
	}
	fmt.Println(len(all), "mutants", len(picked), "picked", time.Since(t0))
	type res struct{ outcome, by string }
	out := make([]res, len(picked))
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				o, by, err := b.try(context.Background(), picked[i])
				if err != nil {
					o, by = "ERR", err.Error()
				}
				out[i] = res{o, by}
			}
		}()
	}
	for i := range picked {
		next <- i
	}
	close(next)
	wg.Wait()
	count := map[string]map[string]int{}
	for i, m := range picked {
		if count[m.Op] == nil {
			count[m.Op] = map[string]int{}
		}
		count[m.Op][out[i].outcome]++
		if out[i].outcome == survived || out[i].outcome == "ERR" {
			fmt.Println(out[i].outcome, m, out[i].by)
		}
	}
	for op, c := range count {
		fmt.Println(op, c)
	}
	fmt.Println(time.Since(t0))
}
