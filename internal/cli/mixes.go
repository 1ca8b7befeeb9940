package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"guidecoat/internal/plan"
)

// mixes is the mixing bench's command.
func (p *program) mixes() *cobra.Command {
	var as, units, house, out string
	c := &cobra.Command{
		Use:   "mixes SHEET",
		Short: "What to pour for each layer, how far it goes, and what to buy",
		Long: `Mixes works out one cup for every laying step: how much of each part for the
area it goes on, the film wet and dry, how far it spreads, its VOC as applied
beside the published limit, and everything to buy for the sheet.

A number that rests on a range is given with both its ends.`,
		Args: oneSheet,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := oneOf("as", as, "text", "json"); err != nil {
				return err
			}
			if err := oneOf("units", units, "both", "metric", "us"); err != nil {
				return err
			}
			doc, err := p.build(args[0], house)
			if err != nil {
				return err
			}
			table := plan.Mixes(doc, plan.Units{Metric: units != "us", US: units != "metric"})
			return p.deliver(out, func(w io.Writer) error {
				if as == "json" {
					return writeJSON(w, struct {
						Guidecoat printedBy `json:"guidecoat"`
						File      string    `json:"file"`
						plan.Table
					}{printed(), shown(args[0]), table})
				}
				return mixesText(w, shown(args[0]), table)
			})
		},
	}
	c.Flags().StringVar(&as, "as", "text", "how to print: text or json")
	c.Flags().StringVar(&units, "units", "both", "which units: both, metric or us")
	c.Flags().StringVar(&house, "house", "", "use this house `file`")
	c.Flags().StringVar(&out, "out", "", "write to this `file` instead of the terminal")
	return c
}

// both writes a quantity in whichever units were asked for.
func both(b *plan.Both) string {
	switch {
	case b == nil:
		return "not known"
	case b.Metric == nil && b.US == nil:
		return "not known"
	case b.US == nil:
		return b.Metric.Text
	case b.Metric == nil:
		return b.US.Text
	}
	return b.Metric.Text + " (" + b.US.Text + ")"
}

func text(a *plan.Amount) string {
	if a == nil {
		return ""
	}
	return a.Text
}

// titled is the sheet's title with its number and revision.
func titled(title, number, revision string) string {
	of := strings.TrimSpace(number + " " + revision)
	if of == "" {
		return title
	}
	return title + " (" + of + ")"
}

// steps names steps: "step 3", "steps 3, 5".
func stepsNamed(list []int) string {
	var names []string
	for _, n := range list {
		names = append(names, fmt.Sprint(n))
	}
	if len(names) == 1 {
		return "step " + names[0]
	}
	return "steps " + strings.Join(names, ", ")
}

func mixesText(w io.Writer, file string, t plan.Table) error {
	var g page
	g.head("Mixing table: " + titled(t.Title, t.Number, t.Revision))
	g.head(file)
	for _, c := range t.Cups {
		g.b.WriteString("\n")
		g.head(c.Name + ": " + c.Film)
		cupText(&g, c)
	}
	g.b.WriteString("\n")
	if len(t.Cups) == 0 {
		g.head("No step of this sheet lays a film: there is nothing to mix.")
	}
	if len(t.Buy) > 0 {
		g.head("To buy, all steps together")
		for _, can := range t.Buy {
			words := can.Weight
			if can.Volume != nil {
				words = both(can.Volume)
			}
			g.line("", can.Name+": "+words+", "+stepsNamed(can.Steps))
		}
	}
	if len(t.Uncounted) > 0 {
		g.head("Not counted in it")
		for _, u := range t.Uncounted {
			g.line("", fmt.Sprintf("step %d, %s: %s", u.Step, u.Name, u.Why))
		}
	}
	if len(t.Cups) > 0 {
		g.b.WriteString("\n")
		if t.Region == "" {
			g.head("The sheet names no region, so that no VOC limit is shown.")
		}
		g.head("Before a can is opened: follow its safety data sheet, local code and licensed practice. These figures say how much, never that it is safe.")
	}
	_, err := io.WriteString(w, g.b.String())
	return err
}

func cupText(g *page, c plan.Cup) {
	zones := strings.Join(c.Zones, ", ")
	if c.Area == nil {
		g.line("area", "not known: the sheet does not write it ("+zones+")")
	} else {
		g.line("area", both(c.Area)+", "+zones)
	}
	coats := fmt.Sprintf("%d", c.Coats)
	if c.Coats == 1 {
		coats += " coat"
	} else {
		coats += " coats, each"
	}
	if c.Wet != nil {
		coats += " " + both(c.Wet) + " wet"
		if c.Reckoned {
			coats += " (reckoned from the dry film)"
		}
	}
	if c.Dry != nil {
		if c.Wet != nil {
			coats += ","
		}
		coats += " " + both(c.Dry) + " dry"
	}
	g.line("coats", coats)
	switch {
	case c.AllDry == nil:
		g.line("film", "not known: neither the sheet nor the card says")
	case c.Assumed:
		g.line("film", both(c.AllDry)+" dry; no wet film is written, so the film of the card or its kind stands in")
	default:
		g.line("film", both(c.AllDry)+" dry")
	}
	if c.Solids != nil {
		g.line("solids", c.Solids.Text+" by volume in the gun")
	}
	if c.Rate != nil {
		g.line("covers", both(c.Rate)+" with nothing lost")
		words := fmt.Sprintf("%s counting that %s of it lands and %s stays in cup and gun", both(c.Real), text(c.Lands), text(c.Waste))
		g.line("", words)
	}
	switch c.MixOf {
	case "step", "card":
		g.line("mix", c.Mix+", as the "+c.MixOf+" says")
	default:
		g.line("mix", "none is written: counted as it comes from the can")
	}
	for _, part := range c.Parts {
		words := part.Weight
		if part.Volume != nil {
			words = both(part.Volume)
		}
		g.line(part.Part, words+"  "+part.Name)
	}
	if c.Pour == nil {
		g.line("in all", "not known; see the foot")
	} else {
		g.line("in all", both(c.Pour))
	}
	if c.Batch != nil {
		g.line("batch", both(c.Batch)+", as the sheet says")
	}
	if c.Stand != nil {
		g.line("stands", c.Stand.Text+" after mixing, in this air")
	}
	if c.PotLife != nil {
		g.line("pot life", c.PotLife.Text+" from mixing, in this air")
	}
	if c.Voc == nil {
		g.line("VOC", "as applied not known: a part's own is not on its card")
	} else {
		g.line("VOC", both(c.Voc)+" as applied")
	}
	for _, l := range c.Limits {
		if len(l.Steps) > 1 {
			g.line("", fmt.Sprintf("%s taken together: %s", stepsNamed(l.Steps), both(l.Voc)))
		}
		g.line("limit", fmt.Sprintf("%s for %s; region %s, binds the %s (%s)", both(&l.Limit), l.Category, l.Region, l.Binds, l.Source))
	}
	if c.Given != nil {
		g.line("", c.Given.Text+" given off where it is laid")
	}
	if len(c.Hazards) > 0 {
		g.line("caution", "holds: "+strings.Join(c.Hazards, ", "))
	}
}
