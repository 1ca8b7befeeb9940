// Command measure sets the whole program beside a stock OPA, and a run over many
// sheets beside a run over one: each figure a ratio taken in turn in one run, so
// that it holds on a machine that others use too. It prints the tables of
// DEVELOPERS.md:
//
//	go run ./internal/measure -opa PATH
//
// Run it from the top of the checkout. It needs an opa of the version in go.mod.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"guidecoat/internal/generate"
	"guidecoat/policies"
)

func main() {
	opa := flag.String("opa", "opa", "the opa `command`")
	runs := flag.Int("runs", 11, "runs of each command, in turn")
	sheets := flag.Int("sheets", 1000, "sheets of the long run")
	flag.Parse()
	if err := measure(*opa, *runs, *sheets); err != nil {
		fmt.Fprintln(os.Stderr, "measure:", err)
		os.Exit(1)
	}
}

func measure(opa string, runs, sheets int) error {
	dir, err := os.MkdirTemp("", "measure")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "guidecoat")
	if out, err := exec.Command("go", "build", "-o", program, "./cmd/guidecoat").CombinedOutput(); err != nil {
		return fmt.Errorf("building the program: %w\n%s", err, out)
	}
	if err := writePolicies(filepath.Join(dir, "policies")); err != nil {
		return err
	}
	if err := cold(dir, program, opa, runs); err != nil {
		return err
	}
	return many(dir, program, runs, sheets)
}

// cost is what one process took.
type cost struct {
	wall, cpu time.Duration
	peak      int64 // kB, 0 where the system does not tell
}

// run runs a command to its end. Exit status 1 is of a program that found something.
func run(name string, args ...string) (cost, error) {
	cmd := exec.Command(name, args...)
	if name == oneCore {
		cmd = exec.Command(args[0], args[1:]...)
		cmd.Env = append(os.Environ(), "GOMAXPROCS=1")
	}
	began := time.Now()
	err := cmd.Run()
	c := cost{wall: time.Since(began)}
	var exit *exec.ExitError
	if err != nil && (!errors.As(err, &exit) || exit.ExitCode() != 1) {
		return c, fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	c.cpu = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	c.peak = peak(cmd.ProcessState)
	return c, nil
}

// oneCore, in the place of a command's name, has the command that follows use one
// core for all it does: --jobs 1 judges one sheet at a time and leaves the
// collecting of memory to the other core.
const oneCore = "on one core"

// inTurn runs commands one after the other, again and again, and gives the
// costs of each after one run that does not count.
func inTurn(runs int, commands ...[]string) ([][]cost, error) {
	out := make([][]cost, len(commands))
	for i := range runs + 1 {
		for k, c := range commands {
			took, err := run(c[0], c[1:]...)
			if err != nil {
				return nil, err
			}
			if i > 0 {
				out[k] = append(out[k], took)
			}
		}
	}
	return out, nil
}

// median of what a figure is over runs.
func median(costs []cost, of func(cost) float64) float64 {
	var all []float64
	for _, c := range costs {
		all = append(all, of(c))
	}
	slices.Sort(all)
	return all[len(all)/2]
}

func wall(c cost) float64 { return c.wall.Seconds() * 1000 }
func cpu(c cost) float64  { return c.cpu.Seconds() * 1000 }
func mem(c cost) float64  { return float64(c.peak) / 1024 }

// ratio is the median of a figure of one command over that of another in the
// same turn.
func ratio(a, b []cost, of func(cost) float64) float64 {
	var all []float64
	for i := range a {
		all = append(all, of(a[i])/of(b[i]))
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// cold prints one process over one sheet beside opa over the same stack.
func cold(dir, program, opa string, runs int) error {
	fmt.Printf("One sheet, one process, beside `opa eval -d policies -i STACK data.guidecoat.findings` (%d runs in turn, medians):\n\n", runs)
	fmt.Println("| sheet | guidecoat, wall ms / CPU ms | opa, rules alone | opa, tests beside them | wall, of rules alone | CPU | wall, with tests |")
	fmt.Println("|---|---|---|---|---|---|---|")
	files := []string{filepath.Join("specs-examples", "good", "door-bare-steel.toml"), filepath.Join("specs-examples", "bad", "rushed-clear.toml")}
	for _, seed := range []uint64{1, 2, 3} {
		file := filepath.Join(dir, fmt.Sprintf("made-up-%d.toml", seed))
		if err := os.WriteFile(file, []byte(generate.Sheet(seed, generate.Options{})), 0o644); err != nil {
			return err
		}
		files = append(files, file)
	}
	for _, file := range files {
		from, name := ".", file
		if filepath.IsAbs(file) {
			from, name = filepath.Dir(file), filepath.Base(file)
		}
		stack := filepath.Join(dir, "stack.json")
		text, err := in(from, program, "stack", name)
		if err != nil {
			return err
		}
		if err := os.WriteFile(stack, text, 0o644); err != nil {
			return err
		}
		took, err := inTurn(runs,
			[]string{program, "inspect", "--quiet", file},
			[]string{opa, "eval", "-d", filepath.Join(dir, "policies"), "-i", stack, "data.guidecoat.findings"},
			[]string{opa, "eval", "-d", "policies", "-i", stack, "data.guidecoat.findings"})
		if err != nil {
			return err
		}
		fmt.Printf("| %s |", filepath.Base(file))
		for _, t := range took {
			fmt.Printf(" %.0f / %.0f |", median(t, wall), median(t, cpu))
		}
		fmt.Printf(" %.2f | %.2f | %.2f |\n", ratio(took[0], took[1], wall), ratio(took[0], took[1], cpu), ratio(took[0], took[2], wall))
	}
	return nil
}

// in runs a command in a folder and gives what it prints.
func in(dir, name string, args ...string) ([]byte, error) {
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return out, nil
}

// many prints long runs beside cold ones over the same sheets: of sheets made
// up, which have dozens of faults each, and of the good examples with a number
// in their titles, as a shop's own mostly are.
func many(dir, program string, runs, sheets int) error {
	wrong := make([][]byte, sheets)
	for i := range wrong {
		wrong[i] = []byte(generate.Sheet(uint64(i), generate.Options{}))
	}
	if err := longRun(filepath.Join(dir, "made-up"), program, runs, "different sheets made up", wrong, nil); err != nil {
		return err
	}
	examples := os.DirFS("specs-examples")
	good, err := fs.Glob(examples, "good/*.toml")
	if err != nil || len(good) == 0 {
		return fmt.Errorf("there are no good examples: %w", err)
	}
	shop := map[string][]byte{}
	for _, name := range []string{"guidecoat.toml", "shelf.toml"} {
		if shop[name], err = fs.ReadFile(examples, name); err != nil {
			return err
		}
	}
	right := make([][]byte, sheets)
	for i := range right {
		text, err := fs.ReadFile(examples, good[i%len(good)])
		if err != nil {
			return err
		}
		right[i] = bytes.Replace(text, []byte("title = \""), fmt.Appendf(nil, "title = \"%d, ", i), 1)
	}
	return longRun(filepath.Join(dir, "right"), program, runs, "sheets with nothing wrong", right, shop)
}

// longRun prints what sheets take in one process, beside twenty of them alone.
func longRun(dir, program string, runs int, what string, sheets [][]byte, shop map[string][]byte) error {
	folder, few := filepath.Join(dir, "all"), filepath.Join(dir, "few")
	for _, d := range []string{folder, few} {
		if err := os.MkdirAll(d, 0o755); err != nil {
			return err
		}
		for name, text := range shop {
			if err := os.WriteFile(filepath.Join(d, name), text, 0o644); err != nil {
				return err
			}
		}
	}
	var one [][]string
	for i, text := range sheets {
		file := filepath.Join(folder, fmt.Sprintf("s%05d.toml", i))
		if err := os.WriteFile(file, text, 0o644); err != nil {
			return err
		}
		if i%(max(len(sheets)/20, 1)) == 0 {
			one = append(one, []string{program, "inspect", "--quiet", file})
		}
		if i < len(sheets)/10 {
			if err := os.WriteFile(filepath.Join(few, filepath.Base(file)), text, 0o644); err != nil {
				return err
			}
		}
	}
	single, err := inTurn(max(runs/4, 1), one...)
	if err != nil {
		return err
	}
	alone := slices.Concat(single...)
	took, err := inTurn(max(runs/4, 1),
		[]string{oneCore, program, "inspect", "--quiet", folder},
		[]string{program, "inspect", "--quiet", "--jobs", fmt.Sprint(runtime.NumCPU()), folder},
		[]string{oneCore, program, "inspect", "--quiet", few})
	if err != nil {
		return err
	}
	fmt.Printf("\n%d %s, in one process (medians; a cold run is the mean of %d of them alone):\n\n", len(sheets), what, len(one))
	fmt.Println("| | wall ms a sheet | CPU ms a sheet | of a cold run, wall | CPU | peak MB |")
	fmt.Println("|---|---|---|---|---|---|")
	coldWall, coldCPU := mean(alone, wall), mean(alone, cpu)
	fmt.Printf("| a cold run | %.1f | %.1f | 1 | 1 | %.0f |\n", coldWall, coldCPU, median(alone, mem))
	row := func(name string, t []cost, n int) {
		w, c := median(t, wall)/float64(n), median(t, cpu)/float64(n)
		fmt.Printf("| %s | %.2f | %.2f | 1/%.0f | 1/%.0f | %.0f |\n", name, w, c, coldWall/w, coldCPU/c, median(t, mem))
	}
	row("one core", took[0], len(sheets))
	row(fmt.Sprintf("%d cores", runtime.NumCPU()), took[1], len(sheets))
	row(fmt.Sprintf("one core, %d sheets", len(sheets)/10), took[2], len(sheets)/10)
	fmt.Printf("\n%d cores are %.2f times as fast as one.\n", runtime.NumCPU(), ratio(took[0], took[1], wall))
	return nil
}

func mean(costs []cost, of func(cost) float64) float64 {
	sum := 0.0
	for _, c := range costs {
		sum += of(c)
	}
	return sum / float64(len(costs))
}

// writePolicies writes the rulebook without its tests and sheets: what a chain
// that only judges would give an OPA.
func writePolicies(dir string) error {
	return fs.WalkDir(policies.Files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		to := filepath.Join(dir, filepath.FromSlash(name))
		if d.IsDir() {
			return os.MkdirAll(to, 0o755)
		}
		if ext := filepath.Ext(name); strings.HasSuffix(name, "_test.rego") || ext != ".rego" && ext != ".json" {
			return nil
		}
		text, err := fs.ReadFile(policies.Files, name)
		if err != nil {
			return err
		}
		return os.WriteFile(to, text, 0o644)
	})
}
