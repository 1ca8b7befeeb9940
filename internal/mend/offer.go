package mend

import (
	"context"

	"github.com/aymanbagabas/go-udiff"

	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
)

// TextEdit puts a new text in the place of the bytes from Start to End of a
// file as it was read, byte-order mark included.
type TextEdit struct {
	Start, End int
	New        string
}

// Fix is one offered edit as a change of the text. It was judged: the finding
// is gone with it, and nothing new has come but what a person has to decide.
type Fix struct {
	Title  string
	Edits  []TextEdit // in order, not overlapping
	Decide []Told     // the protection of a step that it puts in
}

// Offer gives, for one finding of a sheet, each offered edit that answers it
// and brings nothing new, the likeliest first. A sheet that cannot be read has
// none.
func (m *Mender) Offer(ctx context.Context, file string, text []byte, f rulebook.Finding) ([]Fix, error) {
	root, problems, err := m.try(ctx, file, text)
	if err != nil || len(problems) > 0 {
		return nil, err
	}
	return m.offer(ctx, file, root, f)
}

// Offers gives the same for every finding of a sheet, by finding id.
func (m *Mender) Offers(ctx context.Context, file string, text []byte) (map[string][]Fix, error) {
	root, problems, err := m.try(ctx, file, text)
	if err != nil || len(problems) > 0 {
		return nil, err
	}
	out := map[string][]Fix{}
	for _, f := range root.findings {
		if out[f.ID], err = m.offer(ctx, file, root, f); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (m *Mender) offer(ctx context.Context, file string, root *trial, f rulebook.Finding) ([]Fix, error) {
	s := &search{m: m, ctx: ctx, file: file, root: root, was: root.grades(), seen: map[string]*trial{}, left: Budget, ids: handle(len(root.steps))}
	moves, _ := root.offers(f)
	var fixes []Fix
	for _, mv := range moves {
		t, err := s.next(root, mv)
		if err != nil {
			return nil, err
		}
		if t == nil || t.broke || s.trouble(t, f) != "" {
			continue
		}
		st := s.state(t)
		fixes = append(fixes, Fix{Title: s.made(st, t.moves[0]).Does, Edits: Changes(root.text, t.text), Decide: tolds(st.told)})
	}
	return fixes, nil
}

// Changes are the edits that make one text of another, by whole lines.
func Changes(before, after []byte) []TextEdit {
	var out []TextEdit
	for _, e := range udiff.Lines(string(before), string(after)) {
		out = append(out, TextEdit{e.Start, e.End, e.New})
	}
	return out
}

// Diff is a mended sheet beside what it was, as a unified diff.
func (r *Result) Diff() string {
	if r.Outcome == Clean || len(r.Edits) == 0 {
		return ""
	}
	// A file's name must not end the line that it stands on.
	name := printable.Visible(r.File)
	return udiff.Unified(name, name+" (mended)", string(r.Before), string(r.After))
}
