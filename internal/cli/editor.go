package cli

import (
	"context"
	"errors"
	"io"
	"time"

	"github.com/spf13/cobra"

	"guidecoat/internal/editor"
)

func (p *program) editor() *cobra.Command {
	var flags judgingFlags
	c := &cobra.Command{
		Use:   "editor",
		Short: "Stand behind a text editor while sheets are written",
		Long: `A language server on standard input and output, for any text editor that speaks
the Language Server Protocol. It tells what is wrong as a sheet, shelf or house
file is typed, what a word means, what may stand at the cursor and where a card,
zone or call is written, and offers mends that it has judged.

An editor starts it; there is nothing to type at it.`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return p.serve(c.Context(), &flags)
		},
	}
	f := c.Flags()
	flags.addShop(f)
	f.Bool("stdio", true, "talk on standard input and output: what it always does, for editors that ask for it")
	return c
}

func (p *program) serve(ctx context.Context, flags *judgingFlags) error {
	book, err := p.builtin()
	if err != nil {
		return err
	}
	today := p.Now
	if flags.today != "" {
		day, err := p.day(flags.today)
		if err != nil {
			return err
		}
		today = func() time.Time { return day }
	}
	err = editor.Serve(ctx, talk{p.In, p.Out}, editor.Options{
		Version: Version, Dir: p.Dir, House: flags.house, Rules: flags.rules, Book: book, Today: today,
	})
	if err != nil {
		// The protocol's own status for a client that did not take its leave.
		return &statusError{exitFindings, err}
	}
	return nil
}

// talk is standard input and output as one.
type talk struct {
	io.Reader
	io.Writer
}

// Close closes both, where they can be closed.
func (t talk) Close() error {
	var errs []error
	for _, end := range []any{t.Reader, t.Writer} {
		if c, ok := end.(io.Closer); ok {
			errs = append(errs, c.Close())
		}
	}
	return errors.Join(errs...)
}
