package editor

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"strings"

	"guidecoat/internal/mend"
	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
)

// errChanged says that what was asked about is no longer what is written.
var errChanged = errors.New("the file has changed since; ask again")

// mender mends as the page was judged: with the texts of the open files, the
// shop's rules and the day's waivers.
func (s *server) mender(r *sheet.Reader) *mend.Mender {
	return &mend.Mender{Reader: r, Judge: s.byRules}
}

// latest waits until the text of a page has been judged. Where another file has
// changed meanwhile, it is the page that took this one's place.
func (s *server) latest(ctx context.Context, p *page) (*page, *outcome, error) {
	for {
		select {
		case <-ctx.Done():
			return nil, nil, ctx.Err()
		case <-p.done:
		}
		if p.outcome != nil {
			return p, p.outcome, nil
		}
		next := s.page(p.uri)
		if next == nil || next == p || next.version != p.version {
			return nil, nil, errChanged
		}
		p = next
	}
}

// wornYet is said of a mend that leaves something to a person.
const wornYet = " (then write what is worn for it)"

// actions are what is offered under a range: for a name that is not known, the
// names that may have been meant; for a finding, the mends that the rulebook
// offers, each judged, and the finding gone with it. The last mends the whole
// sheet.
func (s *server) actions(ctx context.Context, p *page, q *onDocument) (any, error) {
	all := []codeAction{}
	p, out, err := s.latest(ctx, p)
	if errors.Is(err, errChanged) {
		return all, nil // the client asks again of the newer text
	}
	if err != nil {
		return nil, err
	}
	r := s.reader(nil)
	defer func() { _ = r.Close() }()
	wanted := func(kind string) bool {
		return len(q.Context.Only) == 0 || slices.ContainsFunc(q.Context.Only, func(only string) bool { return kind == only || strings.HasPrefix(kind, only+".") })
	}
	if wanted(actionQuickFix) {
		for _, problem := range out.wrong {
			if p.under(problem.Place, q.Range) {
				all = append(all, p.meant(r, problem)...)
			}
		}
		for _, f := range out.findings {
			if p.under(f.Place, q.Range) {
				all = withMends(all, p.mends(ctx, s.mender(r), f))
			}
		}
	}
	mendable := slices.ContainsFunc(out.findings, func(f rulebook.Finding) bool { return rulebook.AtLeast(f.Grade, "risk") && len(f.Mend) > 0 })
	if mendable && wanted(actionMendAll) {
		a := codeAction{Title: "Mend the whole sheet", Kind: actionMendAll, Data: &actionData{p.uri, p.version}}
		if !s.client.resolve {
			if a, err = s.mendWhole(ctx, p, a); err != nil {
				return all, nil // what cannot be mended is not offered
			}
		}
		all = append(all, a)
	}
	return all, nil
}

// withMends adds mends to those of other findings. One edit that answers several
// is offered once, and says so.
func withMends(all, more []codeAction) []codeAction {
	for _, a := range more {
		i := slices.IndexFunc(all, func(o codeAction) bool { return o.Title == a.Title && reflect.DeepEqual(o.Edit, a.Edit) })
		if i < 0 {
			all = append(all, a)
			continue
		}
		all[i].Diagnostics = append(all[i].Diagnostics, a.Diagnostics...)
		all[i].IsPreferred = all[i].IsPreferred || a.IsPreferred
	}
	return all
}

// mends are the quick fixes of one finding.
func (p *page) mends(ctx context.Context, m *mend.Mender, f rulebook.Finding) []codeAction {
	fixes, err := p.offered(ctx, m, f)
	if err != nil {
		if ctx.Err() == nil {
			p.s.log(messageWarning, "no mend could be worked out for "+f.Rule+": "+err.Error())
		}
		return nil
	}
	var all []codeAction
	for i, fix := range fixes {
		title := fix.Title
		if len(fix.Decide) > 0 {
			title += wornYet
		}
		all = append(all, codeAction{
			Title: printable.Visible(title), Kind: actionQuickFix, IsPreferred: i == 0,
			Diagnostics: []diagnostic{p.told(p.file, f, len(p.built().doc.Zones) > 1)}, Edit: p.edits(fix.Edits),
		})
	}
	return all
}

// offered are the mends of one finding, worked out once: an editor asks for them
// wherever the cursor rests.
func (p *page) offered(ctx context.Context, m *mend.Mender, f rulebook.Finding) ([]mend.Fix, error) {
	p.mu.Lock()
	fixes, known := p.offers[f.ID]
	p.mu.Unlock()
	if known {
		return fixes, nil
	}
	fixes, err := m.Offer(ctx, p.file, p.text.bytes, f)
	if err != nil {
		return nil, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.offers[f.ID] = fixes
	return fixes, nil
}

// meant are the names that may stand in the place of one that is not known:
// those with which its problem is gone.
func (p *page) meant(r *sheet.Reader, problem sheet.Problem) []codeAction {
	from, to := problem.Place.Start, problem.Place.End
	if from < 0 || from >= to || to > len(p.text.bytes) {
		return nil
	}
	var all []codeAction
	for _, name := range sheet.Meant(problem.Message) {
		written := inPlaceOf(string(p.text.bytes[from:to]), name)
		edited := slices.Concat(p.text.bytes[:from], []byte(written), p.text.bytes[to:])
		var left []sheet.Problem
		if p.kind == sheet.IsSheet {
			_, left = r.ReadText(p.file, edited)
		} else {
			left = r.Check(p.kind, p.file, edited)
		}
		if slices.ContainsFunc(left, func(o sheet.Problem) bool { return o.Message == problem.Message && o.Place.Line == problem.Place.Line }) {
			continue
		}
		d := diagnostic{Range: p.text.place(problem.Place, false), Severity: severityError, Source: source, Message: printable.Visible(problem.Message)}
		all = append(all, codeAction{Title: "Write " + printable.Visible(written), Kind: actionQuickFix, IsPreferred: len(all) == 0,
			Diagnostics: []diagnostic{d}, Edit: p.edits([]mend.TextEdit{{Start: from, End: to, New: written}})})
	}
	return all
}

// inPlaceOf is a name written as another was: in its quotes, between its
// brackets, behind the rest of its dotted key.
func inPlaceOf(was, name string) string {
	switch was[0] {
	case '"', '\'':
		return was[:1] + name + was[:1]
	case '[':
		brackets := len(was) - len(strings.TrimLeft(was, "["))
		if dot := strings.LastIndexByte(was, '.'); dot > 0 {
			return was[:dot+1] + name + was[len(was)-brackets:]
		}
		return was[:brackets] + name + was[len(was)-brackets:]
	}
	return name
}

// under tells whether a place in the page's own file lies under a range. A
// finding counts with its whole step, not with the one line that is underlined.
func (p *page) under(place sheet.Place, at span) bool {
	if p.fileOf(place) != p.file {
		return false
	}
	where := p.text.place(place, false)
	return where.Start.Line <= at.End.Line && at.Start.Line <= where.End.Line
}

// edits are edits of the text as the protocol has them.
func (p *page) edits(edits []mend.TextEdit) *workspaceEdit {
	out := make([]textEdit, 0, len(edits))
	for _, e := range edits {
		out = append(out, textEdit{p.text.span(e.Start, e.End), e.New})
	}
	return &workspaceEdit{map[string][]textEdit{p.uri: out}}
}

// resolve works out the edit of an action that was chosen.
func (s *server) resolve(ctx context.Context, a codeAction) (any, error) {
	if a.Edit != nil || a.Data == nil {
		return a, nil
	}
	p := s.page(a.Data.URI)
	if p == nil || p.version != a.Data.Version {
		return nil, errChanged
	}
	return s.mendWhole(ctx, p, a)
}

// mendWhole mends the whole sheet. What it could not mend it says.
func (s *server) mendWhole(ctx context.Context, p *page, a codeAction) (codeAction, error) {
	r := s.reader(nil)
	defer func() { _ = r.Close() }()
	result, problems, err := s.mender(r).Mend(ctx, p.file, p.text.bytes)
	switch {
	case err != nil:
		return a, err
	case len(problems) > 0:
		return a, fmt.Errorf("%s cannot be read: %s", filepath.Base(p.file), problems[0].Message)
	case result.Outcome == mend.None:
		return a, errors.New("no edit that the rulebook offers mends this sheet with what is on the shelf" + leftWords(result))
	}
	if said := leftWords(result) + decideWords(result); said != "" {
		_ = s.conn.Notify(s.ctx, "window/showMessage", showMessage{messageWarning, "The sheet was mended" + said})
	}
	a.Edit, a.Data = p.edits(mend.Changes(result.Before, result.After)), nil
	return a, nil
}

func leftWords(r *mend.Result) string {
	var left []string
	for _, l := range r.Left {
		left = append(left, l.Rule+" ("+l.Why+")")
	}
	if len(left) == 0 {
		return ""
	}
	return printable.Visible("; what stays: " + strings.Join(left, "; "))
}

func decideWords(r *mend.Result) string {
	var left []string
	for _, d := range r.Decide {
		left = append(left, d.Message)
	}
	if len(left) == 0 {
		return ""
	}
	return printable.Visible("; for you to decide and write: " + strings.Join(left, "; "))
}
