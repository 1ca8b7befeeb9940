package cli

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"guidecoat/internal/printable"
	"guidecoat/internal/starter"
	"guidecoat/internal/whole"
)

func (p *program) starter() *cobra.Command {
	var schemas bool
	c := &cobra.Command{
		Use:   "starter [DIR]",
		Short: "A folder for a new shop: house file, shelf, a first sheet",
		Long: `Makes what a shop begins with: a house file, a shelf of product cards, a first
sheet that passes, and the JSON Schemas by which a TOML editor checks and
completes all three while they are written. No DIR means the working folder; a
folder that is not there is made.

Nothing that is there is overwritten: if one of the files is, nothing at all is
written, and the exit status is 3.`,
		Example: `  guidecoat starter our-shop
  guidecoat starter --schemas our-shop`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			dir := "."
			if len(args) > 0 {
				dir = args[0]
			}
			return p.start(dir, schemas)
		},
	}
	c.Flags().BoolVar(&schemas, "schemas", false, "write the JSON Schemas alone")
	return c
}

// start puts the starter's files into a folder.
func (p *program) start(dir string, schemas bool) error {
	if strings.TrimSpace(dir) == "" || strings.ContainsRune(dir, 0) {
		return &statusError{exitWrong, fmt.Errorf("%q is no name of a folder", dir)}
	}
	make := starter.Files
	if schemas {
		make = starter.Schemas
	}
	files, err := make()
	if err != nil {
		return &statusError{exitWrong, err}
	}
	var fresh []whole.New
	for _, f := range files {
		fresh = append(fresh, whole.New{Name: f.Name, Text: f.Text})
	}
	name := printable.Visible(shown(dir))
	var exists *whole.Exists
	switch err := whole.Create(p.at(dir), fresh); {
	case errors.As(err, &exists):
		return &statusError{exitWrong, fmt.Errorf("nothing was written, for %s has %s already; %s", name, strings.Join(exists.Names, ", "), instead(schemas))}
	case err != nil:
		return &statusError{exitWrong, fmt.Errorf("nothing was written to %s: %w", name, err)}
	}
	return p.deliver("", func(w io.Writer) error {
		list := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		for _, f := range files {
			fmt.Fprintf(list, "%s\t%s\n", printable.Visible(filepath.ToSlash(filepath.Join(dir, f.Name))), f.About)
		}
		if err := list.Flush(); err != nil || schemas {
			return err
		}
		if strings.ContainsAny(name, " '") {
			name = strconv.Quote(name)
		}
		_, err := fmt.Fprintf(w, `
The products and their numbers are made up: put your own in their place, off
their data sheets, before anyone sprays by them.

  guidecoat inspect %s
`, name)
		return err
	})
}

// instead says what to do where files are there already.
func instead(schemas bool) string {
	if schemas {
		return "to have the schemas of this program in their place, remove them first"
	}
	return "name another folder, or have the schemas alone with --schemas"
}
