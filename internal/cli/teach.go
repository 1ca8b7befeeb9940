package cli

import (
	"context"
	"fmt"
	"io"
	"maps"
	"os/exec"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"guidecoat/internal/printable"
	"guidecoat/internal/report"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/trade"
)

func (p *program) builtin() (*rulebook.Book, error) {
	book, err := rulebook.Builtin()
	if err != nil {
		return nil, &statusError{exitWrong, fmt.Errorf("the rulebook inside the program does not hold together: %w", err)}
	}
	if p.Self != "" {
		book.HousesApart(func() *exec.Cmd {
			return &exec.Cmd{Path: p.Self, Args: []string{"guidecoat", shopRules}}
		})
	}
	return book, nil
}

const shopRules = "shop-rules"

// shopRules is what the program starts itself with to ask a shop's own rules.
func (p *program) shopRules() *cobra.Command {
	return &cobra.Command{
		Use:    shopRules,
		Short:  "Ask a shop's own rules for the process that started this one",
		Hidden: true,
		Args:   cobra.NoArgs,
		RunE:   func(*cobra.Command, []string) error { return rulebook.ServeApart(p.In, p.Out) },
	}
}

func (p *program) why() *cobra.Command {
	var as string
	var drilled bool
	var variation int
	c := &cobra.Command{
		Use:   "why RULE",
		Short: "Explain a rule: mechanism, remedy, caution, a sheet that breaks it",
		Long: `Why explains a rule the way a teacher would: what happens in the film, what it
looks like when it fails, how to tell in the shop, what to do and what to mind;
then a sheet that breaks it, the same put right, and both drawn in section.

With --drill it prints a sheet that nobody has seen yet, with that one fault in
it, and asks where it fails before it tells. Others are --variation 2, 3, ...`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return &statusError{exitWrong, fmt.Errorf("why takes the name of one rule; 'guidecoat rulebook' lists them")}
			}
			return nil
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			book, err := rulebook.Builtin()
			if err != nil {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return book.Names(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			if err := oneOf("as", as, "text", "json"); err != nil {
				return err
			}
			book, err := p.builtin()
			if err != nil {
				return err
			}
			name := args[0]
			if book.Family(name) == "" {
				near := book.Nearest(name)
				for _, known := range book.Names() {
					if len(name) > 3 && strings.Contains(known, name) {
						near = known
						break
					}
				}
				hint := "'guidecoat rulebook' lists them all"
				if near != "" {
					hint = fmt.Sprintf("did you mean %q? %s", near, hint)
				}
				return &statusError{exitWrong, fmt.Errorf("there is no rule called %q; %s", printable.Visible(name), hint)}
			}
			r, err := book.Rule(name)
			if err != nil {
				return &statusError{exitWrong, err}
			}
			switch {
			case drilled || c.Flags().Changed("variation"):
				return p.drill(c.Context(), book, r, variation, as)
			case as == "json":
				return writeJSON(p.Out, r)
			}
			return p.explain(c.Context(), book, r)
		},
	}
	c.Flags().StringVar(&as, "as", "text", "how to print: text or json")
	c.Flags().BoolVar(&drilled, "drill", false, "print an unseen sheet with this fault in it, ask, and then tell")
	c.Flags().IntVar(&variation, "variation", 1, "which sheet of the drill, from 1")
	return c
}

// explain writes one rule the way a teacher would.
func (p *program) explain(ctx context.Context, book *rulebook.Book, r rulebook.Rule) error {
	var b strings.Builder
	para := func(label, text string) {
		if strings.TrimSpace(text) == "" {
			return
		}
		hang(&b, fmt.Sprintf("%12s  ", label), 14, 78, text)
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "%s\n%s; %s at the gravest\n\n", r.Name, r.Family, r.Grade)
	para("", strings.ToUpper(r.Title[:1])+r.Title[1:]+".")
	for i, text := range strings.Split(r.Description, "\n\n") {
		label := ""
		if i == 0 {
			label = "why"
		}
		para(label, text)
	}
	para("defect", r.Defect)
	para("do", r.Remedy)
	para("caution", r.Safety.Signal+": "+r.Safety.Text)
	para("source", strings.Join(r.Source, "; "))
	if len(r.Limits) > 0 {
		var said []string
		for _, name := range r.Limits {
			if l, ok := trade.LimitNamed(name); ok {
				said = append(said, name+" "+limitText(l))
			}
		}
		para("limits", strings.Join(said, "; "))
	}
	if err := p.examples(ctx, &b, book, r); err != nil {
		return err
	}
	_, err := io.WriteString(p.Out, b.String())
	return err
}

func limitText(l trade.Limit) string {
	if l.Differs {
		return fmt.Sprintf("%s in restoration, %s in collision", l.Restoration, l.Collision)
	}
	return l.Restoration.String()
}

func (p *program) rulebook() *cobra.Command {
	var as, test string
	var limits, kinds bool
	c := &cobra.Command{
		Use:   "rulebook",
		Short: "List what is checked: every rule by family, the limits, the kinds",
		Args:  noArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if err := oneOf("as", as, "text", "json"); err != nil {
				return err
			}
			book, err := p.builtin()
			if err != nil {
				return err
			}
			switch {
			case test != "":
				return p.testRules(c, book, test)
			case limits:
				return p.listLimits(as)
			case kinds:
				return p.listKinds(as)
			}
			rules, err := book.Rules()
			if err != nil {
				return &statusError{exitWrong, err}
			}
			if as == "json" {
				return writeJSON(p.Out, rules)
			}
			return p.listRules(rules)
		},
	}
	c.Flags().StringVar(&as, "as", "text", "how to print: text or json")
	c.Flags().BoolVar(&limits, "limits", false, "list the limits with their sources")
	c.Flags().BoolVar(&kinds, "kinds", false, "list the kinds with their everyday names and typical numbers")
	c.Flags().StringVar(&test, "test", "", "run the tests of a shop's own rules in this `folder`")
	return c
}

func noArgs(c *cobra.Command, args []string) error {
	if len(args) > 0 {
		return &statusError{exitWrong, fmt.Errorf("%s takes no path or name, but %q was given", c.Name(), printable.Visible(args[0]))}
	}
	return nil
}

func (p *program) listRules(rules []rulebook.Rule) error {
	var b strings.Builder
	family := ""
	for _, r := range rules {
		if r.Family != family {
			if family != "" {
				b.WriteString("\n")
			}
			family = r.Family
			fmt.Fprintf(&b, "%s\n", family)
		}
		hang(&b, fmt.Sprintf("  %-30s %-6s ", r.Name, r.Grade), 40, 78, r.Title)
	}
	fmt.Fprintf(&b, "\n%d rules. 'guidecoat why RULE' explains one.\n", len(rules))
	_, err := io.WriteString(p.Out, b.String())
	return err
}

func (p *program) listLimits(as string) error {
	all := trade.Limits()
	if as == "json" {
		type row struct {
			Name        string `json:"name"`
			Restoration string `json:"restoration"`
			Collision   string `json:"collision"`
			About       string `json:"about"`
			Source      string `json:"source"`
		}
		rows := make([]row, 0, len(all))
		for _, l := range all {
			rows = append(rows, row{l.Name, l.Restoration.String(), l.Collision.String(), l.About, l.Source})
		}
		return writeJSON(p.Out, rows)
	}
	var b strings.Builder
	for _, l := range all {
		fmt.Fprintf(&b, "%s: %s\n", l.Name, limitText(l))
		hang(&b, "    ", 4, 78, l.About+" ("+l.Source+")")
	}
	b.WriteString("\nA house file's [limits] replaces any of them by name.\n")
	_, err := io.WriteString(p.Out, b.String())
	return err
}

func (p *program) listKinds(as string) error {
	table := trade.Kinds()
	roles := []string{"substrate", "finish", "film", "helper"}
	titles := map[string]string{"substrate": "substrates", "finish": "existing finishes", "film": "films", "helper": "helpers"}
	if as == "json" {
		type row struct {
			Kind    string            `json:"kind"`
			Role    string            `json:"role"`
			Class   string            `json:"class"`
			Names   []string          `json:"names"`
			Traits  []string          `json:"traits"`
			Hazards []string          `json:"hazards"`
			Typical map[string]string `json:"typical"`
		}
		rows := []row{}
		for _, role := range roles {
			for _, name := range table.Names(role) {
				k := trade.KindOf(name)
				rows = append(rows, row{k.Name, k.Role, k.Class, k.Names, k.Traits, k.Hazards, k.Typical})
			}
		}
		return writeJSON(p.Out, rows)
	}
	var b strings.Builder
	for _, role := range roles {
		fmt.Fprintf(&b, "%s\n", titles[role])
		for _, name := range table.Names(role) {
			k := trade.KindOf(name)
			text := k.Name
			if len(k.Names) > 0 {
				text += " (also: " + strings.Join(k.Names, ", ") + ")"
			}
			hang(&b, "  ", 4, 78, text)
			var numbers []string
			for _, key := range slices.Sorted(maps.Keys(k.Typical)) {
				numbers = append(numbers, key+" "+k.Typical[key])
			}
			if len(numbers) > 0 {
				hang(&b, "      ", 6, 78, strings.Join(numbers, "; "))
			}
		}
		b.WriteString("\n")
	}
	hang(&b, "", 0, 78, "The numbers beneath a kind are typical ones: they stand in for what a card leaves out, and what leans on them is told as possible.")
	_, err := io.WriteString(p.Out, b.String())
	return err
}

func (p *program) stack() *cobra.Command {
	var as, house string
	c := &cobra.Command{
		Use:   "stack SHEET",
		Short: "Print the stack a sheet builds, as JSON or as a graph (DOT)",
		Args:  oneSheet,
		RunE: func(c *cobra.Command, args []string) error {
			if err := oneOf("as", as, "json", "dot"); err != nil {
				return err
			}
			doc, err := p.build(args[0], house)
			if err != nil {
				return err
			}
			if as == "dot" {
				return report.DOT(p.Out, doc)
			}
			if err := doc.WriteJSON(p.Out); err != nil {
				return &statusError{exitWrong, err}
			}
			return nil
		},
	}
	c.Flags().StringVar(&as, "as", "json", "how to print: json or dot")
	c.Flags().StringVar(&house, "house", "", "use this house `file`")
	return c
}

func oneSheet(c *cobra.Command, args []string) error {
	if len(args) != 1 {
		return &statusError{exitWrong, fmt.Errorf("%s takes one sheet", c.Name())}
	}
	return nil
}

// asciiLocale tells whether the locale says that only ASCII prints.
func (p *program) asciiLocale() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := p.Getenv(name); v != "" {
			return v == "C" || v == "POSIX"
		}
	}
	return false
}
