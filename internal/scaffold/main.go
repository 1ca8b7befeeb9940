// Command scaffold writes the folder of a new rule: METADATA, a verdict, its
// tests, a sheet that breaks it and one that holds. What it writes passes the
// project's own check as it stands, so that whoever goes on from there always
// has something that works, and changes one thing at a time.
//
//	go run ./internal/scaffold -family adhesion -name epoxy-on-cast-iron \
//		-title "epoxy lies on cast iron" -grade risk -defect peeling \
//		-description "What happens in the film, what it looks like, how to tell in the shop." \
//		-remedy "What to do." -caution "Follow the safety data sheet, the local code and licensed practice." \
//		-source "common practice"
//
// The verdict it begins with is broken where a film of one kind lies on another
// (-upper, -lower), and held on mild steel; replace it with the rule's own.
// It writes into an existing rule's folder never.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, errs io.Writer) int {
	var r rule
	f := flag.NewFlagSet("scaffold", flag.ContinueOnError)
	f.SetOutput(errs)
	dir := f.String("dir", "policies", "`folder` of the rulebook")
	f.StringVar(&r.Family, "family", "", "the family it belongs to")
	f.StringVar(&r.Name, "name", "", "its name: small letters, figures and hyphens")
	f.StringVar(&r.Title, "title", "", "what has happened, in a few words")
	f.StringVar(&r.Description, "description", "", "what happens in the film, what it looks like, how to tell in the shop")
	f.StringVar(&r.Grade, "grade", "risk", "the gravest grade it gives: fails, risk or advice")
	f.StringVar(&r.Defect, "defect", "", "the trade's word for what comes of it; of a people rule, the harm")
	f.StringVar(&r.Remedy, "remedy", "", "what to do")
	f.StringVar(&r.Signal, "signal", "NOTICE", "DANGER, WARNING, CAUTION or NOTICE")
	f.StringVar(&r.Caution, "caution", "", "what to mind; it defers to the safety data sheet, the local code and licensed practice")
	f.StringVar(&r.Source, "source", "common practice", "a published source")
	f.StringVar(&r.Upper, "upper", "epoxy primer", "kind of the film it is about")
	f.StringVar(&r.Lower, "lower", "cast iron", "kind of what that lies on")
	if err := f.Parse(args); err != nil {
		return 2
	}
	if err := r.check(); err != nil {
		fmt.Fprintln(errs, "scaffold:", err)
		return 2
	}
	files, err := r.write(*dir)
	for _, name := range files {
		fmt.Fprintln(out, name)
	}
	if err != nil {
		fmt.Fprintln(errs, "scaffold:", err)
		return 1
	}
	fmt.Fprintf(out, "Check it with: go test ./internal/rulebook -run 'TestRules/%s/%s$'\n", r.Family, r.Name)
	return 0
}
