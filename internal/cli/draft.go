package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"guidecoat/internal/draft"
	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
)

// draftFlags are what a draft is asked for with.
type draftFlags struct {
	wish                  draft.Wish
	ending, least         string
	carries, shelves      []string
	as, out, house, rules string
	tries                 int
}

// draft is the command that writes a first sheet.
func (p *program) draft() *cobra.Command {
	var f draftFlags
	c := &cobra.Command{
		Use:   "draft --substrate KIND --ending LOOK --shelf FILE",
		Short: "A first sheet for a panel, found by search over the rulebook",
		Long: `Draft searches for a sheet that no rule breaks at fails or risk: from what the
panel is and carries to the ending that is wanted, with the products of the
shelf. It prints the sheet that costs the least, and on the error stream the
runners-up and why each lost. Where nothing passes it tells the fewest verdicts
that no way gets round, and which kind of product is missing.

A draft is for a painter to read and change. That the rulebook finds nothing in
it does not say that the work is safe: the safety data sheets, local code and
licensed practice decide.

The exit status is 0 when a sheet was found, 1 when none was, 2 when a shelf or
the house file could not be read, and 3 for a wrong command line.`,
		Example: `  guidecoat draft --substrate "mild steel" --carries e-coat \
      --carries "factory finish, chalking" --ending metallic --work collision \
      --area "12 ft2" --shelf shelf.toml --out sheets/fender.toml
  guidecoat draft --substrate "mild steel" --ending solid --shelf shelf.toml \
      --lays "epoxy primer" --lays "urethane surfacer"
  guidecoat draft --substrate "bare plastic" --plastic TPO --ending solid \
      --shelf shelf.toml --least film`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return p.runDraft(c, &f) },
	}
	w, fs := &f.wish, c.Flags()
	fs.StringVar(&w.Substrate, "substrate", "", "what the panel is made of, such as \"mild steel\"")
	fs.StringVar(&w.Plastic, "plastic", "", "of bare plastic: which one, such as TPO")
	fs.StringVar(&w.Rust, "rust", "", "none, light, pitted or holes")
	fs.StringArrayVar(&f.carries, "carries", nil, "what is on it, from the metal upward, with condition and film if known: e-coat, \"aged enamel, peeling\", \"two-part refinish, 6 mil\"; may be given again")
	fs.IntVar(&w.Year, "year", 0, "of the vehicle, if it matters for lead")
	fs.StringVar(&f.ending, "ending", "", "how it should look: solid, metallic (with clear) or primed")
	fs.StringVar(&w.Work, "work", "restoration", "restoration or collision: which limits apply")
	fs.StringVar(&w.Air, "air", "", "temperature of the air, such as \"72 F\"")
	fs.StringVar(&w.Panel, "panel", "", "temperature of the panel itself")
	fs.StringVar(&w.Humidity, "humidity", "", "relative humidity, such as \"45 %\"")
	fs.StringVar(&w.Where, "where", "", "booth, prep bay, open shop or outdoors")
	fs.StringVar(&w.Region, "region", "", "whose VOC limits apply: us, eu, quebec or none")
	fs.StringVar(&w.Area, "area", "", "of the panel, such as \"14 ft2\"")
	fs.StringVar(&w.Repair, "repair", "", "`area` of a dent to hammer out and fill, such as \"1.5 ft2\"")
	fs.StringVar(&w.Deep, "deep", "", "how thick the filler in it is; "+draft.DefaultDeep+" if not given")
	fs.StringArrayVar(&w.Lays, "lays", nil, "a `kind` that has to be among what is laid, such as \"epoxy primer\"; may be given again")
	fs.StringVar(&w.Color, "color", "", "the `product` that is the color; any that fits the ending if not given")
	fs.StringVar(&w.Title, "title", "", "title of the sheet")
	fs.StringArrayVar(&f.shelves, "shelf", nil, "`file` of product cards; may be given again (the house file's shelf counts too)")
	fs.StringVar(&f.least, "least", "days", "what there should be least of: days, film, passes or litres")
	fs.BoolVar(&w.Strip, "strip", false, "take off what the panel carries; else a sound finish is kept where a sheet that keeps it passes")
	fs.BoolVar(&w.Bake, "bake", false, "the booth can bake")
	fs.BoolVar(&w.Blast, "blast", false, "the shop can blast")
	fs.IntVar(&f.tries, "tries", draft.DefaultBudget, "most sheets the rulebook is asked about")
	fs.StringVar(&f.as, "as", "text", "how to print: text or json")
	fs.StringVar(&f.out, "out", "", "write to this `file` instead of the terminal")
	fs.StringVar(&f.house, "house", "", "use this house `file`")
	fs.StringVar(&f.rules, "rules", "", "`folder` of the shop's own rules, beside the built-in ones")
	return c
}

func (p *program) runDraft(c *cobra.Command, f *draftFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	file := "draft.toml"
	if f.out != "" && f.as == "text" {
		file = shown(f.out)
		if _, err := os.Lstat(p.at(f.out)); err == nil {
			return &statusError{exitWrong, fmt.Errorf("--out %s: there is a file of that name, and a draft is put in the place of none", printable.Visible(shown(f.out)))}
		}
	}
	for _, s := range f.shelves {
		if _, err := os.Stat(p.at(s)); err != nil {
			return &statusError{exitUnreadable, fmt.Errorf("--shelf %s: %s", printable.Visible(shown(s)), whyNot(err))}
		}
		rel, err := filepath.Rel(filepath.Dir(p.at(file)), p.at(s))
		if err != nil {
			return &statusError{exitWrong, fmt.Errorf("--shelf %s cannot be named from where the sheet will lie: %w", printable.Visible(s), err)}
		}
		f.wish.Shelves = append(f.wish.Shelves, filepath.ToSlash(rel))
	}
	reader, err := p.reader(&judgingFlags{house: f.house}, nil)
	if err != nil {
		return err
	}
	defer reader.Close()
	shop, err := p.draftShop(f, reader, file)
	if err != nil {
		return p.undrafted(err)
	}
	told := p.progress(false, func(judged, most int) string {
		return fmt.Sprintf("drafting: judged %d sheets of %d at most", judged, most)
	})
	shop.Progress = told.set
	out, err := draft.Run(c.Context(), f.wish, shop)
	told.done()
	if err != nil {
		return p.undrafted(err)
	}
	return p.printDraft(f, out)
}

// check reads what flags say that are not written into a sheet as they are.
func (f *draftFlags) check() error {
	if err := oneOf("as", f.as, "text", "json"); err != nil {
		return err
	}
	if f.ending == "" {
		return &statusError{exitWrong, errors.New("--ending is needed: solid, metallic or primed")}
	}
	if err := oneOf("ending", f.ending, "solid", "metallic", "primed"); err != nil {
		return err
	}
	if err := oneOf("least", f.least, "days", "film", "passes", "litres"); err != nil {
		return err
	}
	if f.tries < 1 {
		return &statusError{exitWrong, fmt.Errorf("--tries %d is less than 1", f.tries)}
	}
	f.wish.Ending, f.wish.Least = draft.Ending(f.ending), draft.Least(f.least)
	for _, text := range f.carries {
		carried, err := draft.ParseCarried(text)
		if err != nil {
			return &statusError{exitWrong, err}
		}
		f.wish.Carries = append(f.wish.Carries, carried)
	}
	return nil
}

// draftShop is what the search works with, the shop's own rules included.
func (p *program) draftShop(f *draftFlags, reader *sheet.Reader, file string) (draft.Shop, error) {
	book, err := p.builtin()
	if err != nil {
		return draft.Shop{}, err
	}
	shop := draft.Shop{Reader: reader, File: file, Book: book, Budget: f.tries}
	folder := f.rules
	if folder == "" {
		house, err := draft.House(f.wish, reader, file)
		if err != nil {
			return shop, err
		}
		if house != nil {
			folder = house.Rules
		}
	}
	if folder == "" {
		return shop, nil
	}
	shop.House, err = book.LoadHouse(p.at(folder))
	return shop, err
}

// undrafted tells why there could be no search.
func (p *program) undrafted(err error) error {
	var flag *draft.FlagError
	var file *draft.FileError
	var rules *rulebook.RulesError
	switch {
	case errors.As(err, &flag):
		status := exitWrong
		if flag.Flag == "shelf" {
			status = exitUnreadable
		}
		return &statusError{status, errors.New(printable.Visible(err.Error()))}
	case errors.As(err, &file) && len(file.Problems) > 0:
		return p.refuse(file.Problems[0].Place.File, file.Problems)
	case errors.As(err, &rules) && len(rules.Problems) > 0:
		return p.refuse(rules.Problems[0].Place.File, rules.Problems)
	}
	return err
}

// printDraft prints the sheet, what came next, or why there is none.
func (p *program) printDraft(f *draftFlags, out draft.Outcome) error {
	if f.as == "json" {
		err := p.deliver(f.out, func(w io.Writer) error {
			return writeJSON(w, struct {
				Guidecoat printedBy `json:"guidecoat"`
				Least     string    `json:"least"`
				draft.Outcome
			}{printed(), f.least, out})
		})
		if err != nil {
			return err
		}
	} else {
		if out.Best != nil {
			err := p.deliver(f.out, func(w io.Writer) error {
				_, err := io.WriteString(w, out.Best.Text)
				return err
			})
			if err != nil {
				return err
			}
		}
		if _, err := io.WriteString(p.Err, draftWords(f, out)); err != nil {
			return &statusError{exitWrong, err}
		}
	}
	if out.Best == nil {
		return &statusError{status: exitFindings}
	}
	return nil
}

// layered names what a way lays on what.
func layered(w draft.Way) string { return w.Begun + ": " + strings.Join(w.Layers, ", ") }

// draftWords is what is told beside the sheet.
func draftWords(f *draftFlags, out draft.Outcome) string {
	var g page
	switch {
	case out.Best != nil:
		g.head(fmt.Sprintf("The least %s: %s.", f.least, layered(*out.Best)))
		g.line("", out.Best.Cost.Words())
		for _, a := range out.Best.Advice {
			g.line("to decide", a.Message+" ("+a.Rule+")")
		}
		for _, r := range out.Runners {
			g.head("Next: " + layered(r))
			g.line("lost by", r.Lost)
			g.line("", r.Cost.Words())
		}
		if out.Cut {
			g.head("There may be nearer runners-up: the search for them was cut short.")
		}
		g.head(fmt.Sprintf("%d sheets were judged. The sheet is a draft: it has none of the faults this rulebook knows, and there are others. Nothing here says that the work is safe.", out.Judged))
	case len(out.Missing) > 0:
		g.head("No sheet can be drafted: the shelf has nothing for")
		for _, m := range out.Missing {
			g.line("missing", m)
		}
	case out.Reached:
		g.head(fmt.Sprintf("No sheet was found among the %d that were judged, and not all were looked at. Give more with --tries, or a smaller shelf.", out.Judged))
	case len(out.Reasons) == 0:
		g.head("No sheet can be drafted: none of the steps that a draft knows leads from there to that ending with these products.")
	default:
		g.head(fmt.Sprintf("No sheet passes: %d were judged, and every way breaks a rule. The one that breaks the fewest lays %s, and meets", out.Judged, strings.Join(out.Nearest, ", ")))
		var missing []string
		for _, r := range out.Reasons {
			g.line(strings.ToUpper(r.Grade), r.Message+" ("+r.Rule+")")
			for _, m := range r.Missing {
				if !slices.Contains(missing, m) {
					missing = append(missing, m)
				}
			}
		}
		if len(missing) > 0 {
			g.line("missing", "the shelf has none of what would answer it: "+strings.Join(missing, ", "))
		}
	}
	return g.b.String()
}
