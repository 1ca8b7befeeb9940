package draft

import (
	"strings"

	"guidecoat/internal/sheet"
)

// text is the sheet of a node, as it would be handed over less its head comment.
func (s *searcher) text(n *node) string { return s.head + s.body(n.steps) }

func (s *searcher) body(steps []step) string {
	var b strings.Builder
	for _, st := range steps {
		st.write(&b)
	}
	return b.String()
}

// table writes keys in a column, as the tables at the head of a sheet stand.
type table struct {
	b     *strings.Builder
	width int
}

func (t table) line(name, value string) {
	t.b.WriteString(name + strings.Repeat(" ", max(0, t.width-len(name))) + " = " + value + "\n")
}

func (t table) text(name, value string) {
	if value != "" {
		t.line(name, sheet.Quote(value))
	}
}

// writeHead is everything of a sheet above its steps.
func (w Wish) writeHead() string {
	var b strings.Builder
	b.WriteString("format = 1\n\n[sheet]\n")
	t := table{&b, 8}
	t.text("title", w.Title)
	b.WriteString("# number, revision, date and author are the shop's to write.\n")
	t.text("work", w.Work)
	if w.Ending == Primed {
		t.text("ends_as", "primed")
	} else {
		t.text("ends_as", "finished")
	}
	if len(w.Shelves) > 0 {
		t.line("shelf", list(w.Shelves))
	}
	b.WriteString("\n[booth]\n")
	if w.Air == "" || w.Panel == "" || w.Humidity == "" {
		b.WriteString("# Measure and write what is missing here: air, panel and humidity of the day.\n")
	}
	t.text("air", w.Air)
	t.text("panel", w.Panel)
	t.text("humidity", w.Humidity)
	t.text("where", w.Where)
	t.text("region", w.Region)
	b.WriteString("\n[panel]\n")
	t = table{&b, 9}
	t.text("substrate", w.Substrate)
	t.text("plastic", w.Plastic)
	t.line("carries", w.carries())
	t.text("rust", w.Rust)
	if w.Year != 0 {
		t.line("year", itoa(w.Year))
	}
	t.text("area", w.Area)
	if w.Repair != "" {
		b.WriteString("\n[[zone]]\n")
		t = table{&b, 4}
		t.text("name", dentName)
		t.text("area", w.Repair)
		t.text("role", "repair")
	}
	return b.String()
}

func (w Wish) carries() string {
	var all []string
	for _, c := range w.Carries {
		if c.Condition == "" && c.Film == "" {
			all = append(all, sheet.Quote(c.Kind))
			continue
		}
		entry := "{kind = " + sheet.Quote(c.Kind)
		if c.Film != "" {
			entry += ", film = " + sheet.Quote(c.Film)
		}
		if c.Condition != "" {
			entry += ", condition = " + sheet.Quote(c.Condition)
		}
		all = append(all, entry+"}")
	}
	return "[" + strings.Join(all, ", ") + "]"
}

// stub is a sheet with the head alone, for reading what was wished for. Its one
// step changes nothing.
func (w Wish) stub() string {
	return w.writeHead() + "\n[[step]]\ndo = \"inspect\"\nmeasure = [\"film\"]\n"
}

// flagOf is the flag that a key of the head came from.
func flagOf(p sheet.Problem) string {
	key := p.Key
	for _, f := range []struct{ key, flag string }{
		{"sheet.title", "title"}, {"sheet.work", "work"}, {"sheet.shelf", "shelf"}, {"booth.air", "air"}, {"booth.panel", "panel"},
		{"booth.humidity", "humidity"}, {"booth.where", "where"}, {"booth.region", "region"},
		{"panel.substrate", "substrate"}, {"panel.plastic", "plastic"}, {"panel.rust", "rust"}, {"panel.year", "year"},
		{"panel.area", "area"}, {"panel.carries", "carries"}, {"zone", "repair"},
	} {
		if key == f.key || strings.HasPrefix(key, f.key+".") || strings.HasPrefix(key, f.key+"[") {
			return f.flag
		}
	}
	return ""
}
