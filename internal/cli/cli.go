// Package cli is the command line: flags in, exit status out. It holds no
// trade knowledge; it reads files, hands them on and prints what comes back.
//
// The whole program runs inside Main with the streams it is given, so that
// tests run it in-process exactly as a shell would.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"guidecoat/internal/printable"
)

// The exit statuses of 5-interface.md. A higher one wins.
const (
	exitClean      = 0 // nothing at or above --stop-at
	exitFindings   = 1 // findings at or above it
	exitUnreadable = 2 // a sheet, shelf, house file or rule could not be read
	exitWrong      = 3 // wrong command line, or a fault inside
)

// Streams is what the program sees of the world around it.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
	Dir      string              // working directory
	Getenv   func(string) string // environment
	Terminal bool                // Out is a terminal
	// ErrTerminal: Err is a terminal, so that progress may be shown on it.
	ErrTerminal bool
	Asks        bool             // In is a terminal, at which somebody may answer
	Now         func() time.Time // the machine's date, only for --today's default
	// Self is the file of the running program, which asks a shop's own rules in
	// processes of its own; where it is "" they are asked in this one.
	Self string
}

// Process is the world of the running process.
func Process() Streams {
	dir, err := os.Getwd()
	if err != nil {
		dir = "."
	}
	self, err := os.Executable()
	if err != nil {
		self = ""
	}
	return Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Dir: dir, Getenv: os.Getenv,
		Self: self, Terminal: isTerminal(os.Stdout), ErrTerminal: isTerminal(os.Stderr), Asks: isTerminal(os.Stdin), Now: time.Now}
}

func isTerminal(f *os.File) bool { return isatty.IsTerminal(f.Fd()) }

// statusError carries an exit status out of a command; its message, if any, is for the person.
type statusError struct {
	status int
	err    error
}

func (e *statusError) Error() string {
	if e.err == nil {
		return fmt.Sprintf("exit status %d", e.status)
	}
	return e.err.Error()
}

func (e *statusError) Unwrap() error { return e.err }

// Main runs one command line and returns the exit status. It never panics: a
// fault inside is told as such.
func Main(args []string, streams Streams) (status int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(streams.Err, "guidecoat: a fault inside the program: %v\nNothing was judged. Please report the sheet that did this.\n", r)
			status = exitWrong
		}
	}()
	p := &program{Streams: streams}
	root := p.root()
	root.SetArgs(args)
	root.SetIn(streams.In)
	root.SetOut(streams.Out)
	root.SetErr(streams.Err)
	err := root.ExecuteContext(context.Background())
	if err == nil {
		return exitClean
	}
	var se *statusError
	if errors.As(err, &se) {
		if se.err != nil {
			fmt.Fprintln(streams.Err, "guidecoat: "+se.err.Error())
		}
		return se.status
	}
	fmt.Fprintln(streams.Err, "guidecoat: "+strings.TrimSpace(err.Error()))
	fmt.Fprintln(streams.Err, "See 'guidecoat --help'.")
	return exitWrong
}

type program struct {
	Streams
}

// Version of the program, as --version and reports give it.
const Version = "0.1.0"

func (p *program) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "guidecoat",
		Short: "Judges a written coating process before a gun is loaded",
		Long: `Guidecoat reads a shop's written coating process, builds every layer on every
part of the panel on paper, and says what will fail, where, why, what to write
instead, and what can hurt the one who does it.

It never says that work is safe: it says what it found.`,
		Version:                    Version,
		SilenceErrors:              true,
		SilenceUsage:               true,
		SuggestionsMinimumDistance: 3,
		Args:                       knownCommand,
		RunE:                       func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.CompletionOptions.HiddenDefaultCmd = false
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return flagWords(err) })
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), ".FlagUsages ", fmt.Sprintf(".FlagUsagesWrapped %d ", p.columns())))
	root.AddCommand(p.mixes(), p.clock(), p.inspect(), p.compare(), p.mend(), p.draft(), p.editor(), p.why(), p.rulebook(), p.section(), p.handout(), p.stack(), p.starter(), p.shopRules())
	root.InitDefaultHelpCmd()
	if help, _, err := root.Find([]string{"help"}); err == nil {
		help.Args = func(_ *cobra.Command, args []string) error {
			of, rest, _ := root.Find(args)
			return knownCommand(of, rest)
		}
	}
	return root
}

// flagWords says what is wrong with the value of a flag for whoever is no programmer.
func flagWords(err error) error {
	var invalid *pflag.InvalidValueError
	if !errors.As(err, &invalid) {
		return err
	}
	flag, value := "--"+invalid.GetFlag().Name, printable.Visible(invalid.GetValue())
	switch kind := invalid.GetFlag().Value.Type(); {
	case kind == "int" && errors.Is(err, strconv.ErrRange):
		return fmt.Errorf("%s %s: this number is too large", flag, value)
	case kind == "int":
		return fmt.Errorf("%s takes a whole number, and %q is none", flag, value)
	case kind == "bool":
		return fmt.Errorf("%s stands alone, or with =true or =false behind it, and not with %q", flag, value)
	}
	return err
}

// knownCommand refuses a word that is no command, and names the nearest ones.
func knownCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	hint := "'guidecoat --help' lists them"
	if near := c.SuggestionsFor(args[0]); len(near) > 0 {
		hint = fmt.Sprintf(`did you mean "%s"? %s`, strings.Join(near, `" or "`), hint)
	}
	return &statusError{exitWrong, fmt.Errorf("there is no command %q; %s", printable.Visible(args[0]), hint)}
}
