package cli

import (
	"github.com/spf13/cobra"

	"guidecoat/internal/report"
	"guidecoat/internal/rulebook"
)

func (p *program) inspect() *cobra.Command {
	var flags judgingFlags
	var known baselineFlags
	c := &cobra.Command{
		Use:   "inspect [PATH...]",
		Short: "Read sheets and judge them: the main job",
		Long: `Reads each sheet, carries it out on paper and judges the stack.

A folder means every *.toml under it that is a sheet; no path means the working
folder. The exit status is 0 when nothing is at or above --stop-at, 1 when
something is, 2 when a sheet, shelf, house file, rule or baseline could not be
read, and 3 for a wrong command line.

With --baseline only what is not in that file counts: a finding that has become
graver, or has reached another zone, is new. The file names findings by rule and
place, and knows them again after lines have moved and steps were put in.`,
		Example: `  guidecoat inspect sheets/door.toml
  guidecoat inspect --stop-at risk sheets
  guidecoat inspect --keep-baseline sheets/known.toml sheets
  guidecoat inspect --baseline sheets/known.toml sheets`,
		RunE: func(c *cobra.Command, args []string) error {
			base, err := p.readBaseline(&known)
			if err != nil {
				return err
			}
			flags.known = known != baselineFlags{}
			sheets, err := p.judge(c.Context(), args, &flags)
			if err != nil {
				return err
			}
			p.setAside(sheets, base, &known)
			if err := p.print(sheets, &flags); err != nil {
				return err
			}
			if err := p.keepBaseline(sheets, &known); err != nil {
				return err
			}
			return outcome(sheets, flags.stopAt)
		},
	}
	flags.add(c.Flags())
	known.add(c.Flags())
	return c
}

// outcome is the exit status the judged sheets call for.
func outcome(sheets []report.Judged, stopAt string) error {
	status := exitClean
	for _, j := range sheets {
		for _, f := range j.Result.Findings {
			if rulebook.AtLeast(f.Grade, stopAt) {
				status = max(status, exitFindings)
			}
		}
		if !j.Readable() {
			status = max(status, exitUnreadable)
		}
	}
	if status == exitClean {
		return nil
	}
	return &statusError{status: status}
}
