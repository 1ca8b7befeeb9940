// Package handout writes a sheet as one page for the booth wall and the
// classroom: what to do, in what order and protected how, with the films drawn
// as they grow, the hours, the cups, and what was found, taught.
//
// It promises one self-contained HTML file that reads without script and
// without a network, the same bytes for the same sheet, and that no string of
// a sheet can do anything in it but be read. It must not judge: the findings
// are handed to it, and it never says that work is safe.
package handout

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"

	"guidecoat/internal/plan"
	"guidecoat/internal/report"
)

// Input is what a handout is made from.
type Input struct {
	Judged  report.Judged // a readable sheet, judged
	Plan    *plan.Plan
	Whose   string // who says when work begins
	Version string // of the program
}

// The page's look and its script hold nothing of a sheet, so that their hashes
// are all that the page's security policy lets in.
var (
	//go:embed page.html
	pageHTML string
	//go:embed page.css
	pageCSS string
	//go:embed page.js
	pageJS string

	layout = template.Must(template.New("page").Parse(pageHTML))
)

// Write writes the page. The error is of the stack that cannot be drawn, or of w.
func Write(w io.Writer, in Input) error {
	v, err := newView(in)
	if err != nil {
		return err
	}
	// Into memory first: what fails half-way has written nothing.
	var b bytes.Buffer
	if err := layout.Execute(&b, v); err != nil {
		return fmt.Errorf("laying out the page: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}

// policy is the page's content security policy: nothing from anywhere, and of
// what stands in the page itself this one style and this one script.
func policy() said {
	return said(fmt.Sprintf("default-src 'none'; style-src '%s'; script-src '%s'; base-uri 'none'; form-action 'none'",
		hashOf(pageCSS), hashOf(pageJS)))
}

func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
