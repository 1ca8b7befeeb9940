package cli

import (
	"io"

	"github.com/spf13/cobra"

	"guidecoat/internal/handout"
)

// handout writes a sheet as a page for the booth wall.
func (p *program) handout() *cobra.Command {
	var flags judgingFlags
	var days daysFlags
	c := &cobra.Command{
		Use:   "handout SHEET",
		Short: "Write a sheet as one HTML page for booth wall and classroom",
		Long: `Handout writes one HTML page that needs no network and reads without script:
the job, the steps as the technician reads them with what to wear, the films
drawn after each step that changes them, the clock with its windows, the cups,
what was found and why it matters, and the sources. It prints on A4 and US
Letter. With script it steps through the build one layer at a time.

What is found does not change the exit status; a sheet that cannot be read, or
a rule that breaks, writes no page and gives 2.`,
		Example: `  guidecoat handout --out door.html sheets/door.toml`,
		Args:    oneSheet,
		RunE: func(c *cobra.Command, args []string) error {
			if err := days.check(); err != nil {
				return err
			}
			j, err := p.judgeOne(c.Context(), args[0], &flags)
			if err != nil {
				return err
			}
			made, _, whose, err := days.plan(j.Sheet, j.Doc)
			if err != nil {
				return err
			}
			return p.deliver(flags.out, func(w io.Writer) error {
				return handout.Write(w, handout.Input{Judged: j, Plan: made, Whose: whose, Version: Version})
			})
		},
	}
	f := c.Flags()
	f.StringVar(&flags.out, "out", "", "write to this `file` instead of the terminal")
	f.StringVar(&flags.today, "today", "", "judge waivers as on this `date` (YYYY-MM-DD); the machine's date if not given")
	f.StringVar(&flags.house, "house", "", "use this house `file`")
	f.StringVar(&flags.rules, "rules", "", "`folder` of the shop's own rules, beside the built-in ones")
	days.add(f)
	return c
}
