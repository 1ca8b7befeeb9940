package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/raced"
	"guidecoat/internal/sheet"
)

// attacks are what strangers may write into a sheet, by what they attack.
var attacks = []struct{ name, text string }{
	{"terminal", "\x1b[31;1mred\x1b[2J\x1b]0;title\x07\x1b]8;;http://e.invalid/\x1b\\link\x1b]8;;\x1b\\\u009b31m\u009d0;t\u009c\u0090q\b\b\b\x7f\r\x00\x1bc\x0e\x1b(0"},
	{"lines", "\nFAILS  forged.toml:1:1 forged\r\n  FAILS  step 1: forged\n\tCANNOT READ forged\v\f\u0085FAILS forged\u2028FAILS forged\u2029FAILS forged\n\n1 sheet: no fault found."},
	{"bidi", "\u202eevil\u202c \u2066x\u2069 \u2067y\u2069 \u200e\u200f\u061c end"},
	{"unseen", "a\u200bb\u200cc\u200dd\u2060e\ufefff\u00adg\U000e0041h\ufe0fi\ue000j\ufffek\uffffl\ufffdm\u180en\u115fo\u3164p"},
	{"wide", "漢字かな e\u0301\u0301\u0301\u0301\u0301 👩‍🔧 🇩🇪 ﷽ Ａ 𝕏"},
	{"html", "<script>alert(1)</script><img src=x onerror=alert(1)><a href=\"javascript:alert(1)\">x</a></title></style></textarea></template><!-- --><![CDATA[x]]>'\"`&lt;&#60;&amp;<iframe srcdoc=x><form><base href=//e.invalid><meta http-equiv=refresh>"},
	{"attributes", "\" onload=\"alert(1)\" x='y' ' onclick='alert(1)' style=\"background:url(http://e.invalid)\" = ` //-->"},
	{"svg", "</text></svg><svg onload=alert(1)><foreignObject><use href=\"http://e.invalid#x\"/><image href=\"http://e.invalid\"/><style>*{}</style><animate/>"},
	{"markdown in a line", "[x](http://e.invalid) ![i](http://e.invalid/i.png) **b** __c__ _i_ `c` ``d`` ~~s~~ <http://e.invalid> http://e.invalid www.e.invalid a@e.invalid @someone @team/all #123 GH-1 org/repo#1 :smile: $x$ ||s|| [^1] [r] [r][r] &copy; \\\\ \\* <b>h</b> <!-- c"},
	{"markdown in blocks", "\n\n# Heading\n\n| a | b |\n|---|---|\n| 1 | 2 |\n\n> quote\n\n- entry\n1. entry\n\n---\n\n```\ncode\n```\n\n<details><summary>s</summary>\n\nx\n\n</details>\n\n[r]: http://e.invalid\n\n    code\n\nSetext\n===\n"},
	{"markdown tables", "| a | b |\\| c || | ---: | x"},
	{"xml", "]]> <![CDATA[x]]> &#0; &#x1b; &unknown; \x00\x01\x0b\ufffe <?xml version=\"1.0\"?> <!DOCTYPE x [<!ENTITY y SYSTEM \"file:///etc/passwd\">]> &y; --> <failure message=\"forged\"/></testcase></testsuite>"},
	{"calendar", "\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:forged\r\n\r\n ATTENDEE:mailto:a@e.invalid\nATTACH;VALUE=URI:http://e.invalid\r ; , \\n \\, \\; : \" \u0085END:VCALENDAR\u2028BEGIN:VTODO"},
	{"graph", "\"]; forged [label=\"x\"]; \"a\" -> \"b\" [URL=\"javascript:alert(1)\"]; \\N \\G \\l \\r \\n \\\" \\\\\" \\ <<TABLE><TR><TD>x</TD></TR></TABLE>> } digraph forged { /* // # \\"},
	{"table", "=cmd|'/C calc'!A0\t,;\"+1-1@x\n=1+1"},
	{"objects", "{\"forged\": 1} {0} {1} {{x}} [a](1) [b](http://e.invalid) [c] (x) \\[d\\](2) __proto__ \", \"forged\": \"x </script> \\u0000 \\ud800 \u2028"},
	{"formats", "%s %d %n %v %[1]s %!s %% ${HOME} $(id) `id` {{.}} {{template}} %(x)s {x}"},
	{"rego", "\", []) } verdict contains v if { v := 1 } # METADATA \n# title: forged\n\x60"},
	{"diff", "\n--- a/forged\n+++ b/forged\n@@ -1 +1 @@\n-old\n+new\n\\ No newline"},
	{"file names", "..\\..\\x .-rf -- -o x ~ * ? %00 %2e%2e: CON NUL  "},
}

// together are the attacks that are made at once, by their names.
var together = [][]string{
	{"terminal", "lines", "bidi", "unseen", "wide"},
	{"html", "attributes", "svg", "xml", "file names"},
	{"markdown in a line", "markdown tables", "graph", "objects", "formats", "rego", "table"},
	{"calendar", "markdown in blocks", "diff"},
}

// benign is what the shop says when nobody means harm: what the structure of
// every format is compared with.
const benign = "words of a painter"

// The tables of keys lead the shop: no key that takes the shop's own words may
// be without its attack.
func TestEveryFieldOfASheetAShelfAndAHouseIsAttacked(t *testing.T) {
	s := &hostileShop{attack: "x", t: t}
	s.write(t.TempDir())
	attacked := map[string]bool{}
	for _, f := range s.fields {
		name := f[strings.LastIndex(f, ".")+1:]
		attacked[name] = true
	}
	var look func(where string, keys []sheet.Key)
	look = func(where string, keys []sheet.Key) {
		for _, k := range keys {
			if worded(k) && !attacked[k.Name] && k.Name != "do" && k.Name != "except" {
				t.Errorf("nothing hostile stands in %s.%s", where, k.Name)
			}
			look(where+"."+k.Name, k.Fields)
		}
	}
	look("sheet", sheet.SheetKeys())
	look("shelf", sheet.ShelfKeys())
	look("house", sheet.HouseKeys())
	look("card", sheet.CardKeys())
	for _, v := range sheet.Verbs() {
		look(v.Do, sheet.KeysOf(v.Do))
	}
	if len(s.fields) < 100 {
		t.Errorf("only %d fields are attacked", len(s.fields))
	}
}

// printout is what a command line gave, in one format.
type printout struct{ line, format, text string }

// hostileRuns are the command lines that print what a sheet says, SHEET in the
// place of its name, each with its format. Those that judge many times over, or
// draw large, get a shop with few steps.
var hostileRuns = []struct {
	line, format string
	few          bool
}{
	{line: "inspect --color never SHEET", format: "text"},
	{line: "inspect --color always SHEET", format: "colored"},
	{line: "inspect --quiet --color never SHEET", format: "text"},
	{line: "inspect --as json SHEET", format: "json"},
	{line: "inspect --as sarif SHEET", format: "sarif"},
	{line: "inspect --as junit SHEET", format: "junit"},
	{line: "inspect --as markdown SHEET", format: "markdown"},
	{line: "section SHEET", format: "text"},
	{line: "section --ascii SHEET", format: "text"},
	{line: "section --as json SHEET", format: "json"},
	{line: "section --as svg SHEET", format: "svg"},
	{line: "section --as png --scale 1 --out drawing.png SHEET", format: "png", few: true},
	{line: "clock SHEET", format: "text"},
	{line: "clock --as json SHEET", format: "json"},
	{line: "clock --as ical SHEET", format: "ical"},
	{line: "clock --as svg SHEET", format: "svg"},
	{line: "mixes SHEET", format: "text"},
	{line: "mixes --as json SHEET", format: "json"},
	{line: "stack SHEET", format: "json"},
	{line: "stack --as dot SHEET", format: "dot"},
	{line: "mend --color never SHEET", format: "text", few: true},
	{line: "mend --as diff SHEET", format: "diff", few: true},
	{line: "handout SHEET", format: "html", few: true},
	{line: "compare --color never SHEET SHEET", format: "text", few: true},
	{line: "compare --as json SHEET SHEET", format: "json", few: true},
	{line: "compare --as markdown SHEET SHEET", format: "markdown", few: true},
}

// commandsThere are the names of the program's commands.
func commandsThere() map[string]bool {
	there := map[string]bool{}
	for _, c := range (&program{}).root().Commands() {
		there[c.Name()] = true
	}
	return there
}

// printouts runs every command line over a shop's sheets.
func printouts(t *testing.T, attack string) []printout {
	t.Helper()
	there := commandsThere()
	var all []printout
	for _, few := range []bool{false, true} {
		t.Chdir(t.TempDir())
		s := &hostileShop{attack: attack, few: few, t: t}
		sheetName := s.write(".")
		for _, r := range hostileRuns {
			command, _, _ := strings.Cut(r.line, " ")
			if !there[command] || r.few != few {
				continue
			}
			status, out, errs := onTerminal(r.line, sheetName)
			if status > exitFindings || errs != "" {
				t.Errorf("%s: exit status %d: %.600s", r.line, status, errs+out)
				continue
			}
			if r.format == "png" {
				drawing, err := os.ReadFile("drawing.png")
				if err != nil {
					t.Error(err)
				}
				out = string(drawing)
			}
			all = append(all, printout{line: r.line, format: r.format, text: out})
		}
	}
	return all
}

// onTerminal runs a command line as in a terminal, where what is printed is
// acted on.
func onTerminal(line, sheetName string) (status int, out, errs string) {
	args := strings.Fields(line)
	for i, a := range args {
		if a == "SHEET" {
			args[i] = sheetName
		}
	}
	var o, e strings.Builder
	status = Main(args, Streams{In: strings.NewReader(""), Out: &o, Err: &e, Dir: ".", Terminal: true,
		Getenv: func(string) string { return "" }, Now: func() time.Time { return time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC) }})
	return status, o.String(), e.String()
}

// complaints runs every command line over a sheet that cannot be read, and
// gives what each says of it.
func complaints(t *testing.T, attack string) []printout {
	t.Helper()
	there := commandsThere()
	var all []printout
	t.Chdir(t.TempDir())
	s := &hostileShop{attack: attack, t: t}
	sheetName := s.writeSpoiled(".")
	for _, r := range hostileRuns {
		command, _, _ := strings.Cut(r.line, " ")
		if !there[command] {
			continue
		}
		status, out, errs := onTerminal(r.line, sheetName)
		if status != exitUnreadable {
			t.Errorf("%s: exit status %d: %.600s", r.line, status, errs+out)
			continue
		}
		if out != "" {
			all = append(all, printout{line: r.line, format: r.format, text: out})
		}
		if errs != "" {
			all = append(all, printout{line: r.line + " (errors)", format: "text", text: errs})
		}
	}
	return all
}

// Every field of every file holds every attack, and in no format does any of
// them become more than words.
func TestNoTextOfAShopBecomesMoreThanWordsInAnyFormat(t *testing.T) {
	holdToWords(t, printouts)
}

// What cannot be read is told of, and what is told is words too.
func TestNothingThatCannotBeReadBecomesMoreThanWordsInAnyFormat(t *testing.T) {
	holdToWords(t, complaints)
}

// What is no TOML at all is quoted where it is told of.
func TestNothingThatIsNoTOMLBecomesMoreThanWordsInAnyFormat(t *testing.T) {
	holdToWords(t, func(t *testing.T, attack string) []printout {
		t.Chdir(t.TempDir())
		var all []printout
		for i, text := range []string{attack, "title = " + attack, "[" + attack + "]", "title = \"" + attack, attack + " = \"\"", "title = '''" + attack} {
			name := fmt.Sprintf("sheet%d.toml", i)
			if err := os.WriteFile(name, []byte("format = 1\n[sheet]\n"+text+"\n"), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		for _, r := range hostileRuns {
			if !strings.HasPrefix(r.line, "inspect ") {
				continue
			}
			status, out, errs := onTerminal(r.line, ".")
			if status != exitUnreadable || errs != "" {
				t.Errorf("%s: exit status %d: %.600s", r.line, status, errs)
			}
			all = append(all, printout{line: r.line, format: r.format, text: out})
		}
		return all
	})
}

// The names of files may hold what no text may: bytes that are no UTF-8, too.
func TestTheNameOfAFileIsOnlyWords(t *testing.T) {
	good, err := os.ReadFile(filepath.Join(examples(t), "good", "hood-block-out.toml"))
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	for i, name := range []string{"a\xff\x9b31m.toml", "\xc3\x28.toml", "\x1b[31m.toml", "a\nFAILS  forged.toml", "  FAILS  forged.toml", "-x.toml"} {
		text := good
		if i%2 == 1 {
			text = []byte("[sheet]\n")
		}
		if err := os.WriteFile(name, text, 0o644); err != nil {
			t.Skip(err) // a disk that takes UTF-8 alone
		}
	}
	words := func(line, format, text string) {
		t.Run(line, func(t *testing.T) {
			p := printout{line: line, format: format, text: text}
			printsNothingRaw(t, p)
			shapeOf(t, p)
		})
	}
	for _, r := range hostileRuns {
		if strings.HasPrefix(r.line, "inspect ") {
			_, out, errs := onTerminal(r.line, ".")
			words(r.line, r.format, out)
			words(r.line+" (errors)", "text", errs)
		}
	}
	for _, name := range []string{"no\x1b[31m.toml", "no\nFAILS  forged.toml", "\u202e.toml"} {
		for _, command := range []string{"inspect", "section", "clock", "mixes", "stack", "mend", "handout", "why", "starter", "inspect --as", "inspect --today", "inspect --baseline", "inspect --out", "inspect --house", "inspect --rules", ""} {
			args := append(strings.Fields(command), name)
			switch command {
			case "starter":
				args[1] = "./-x.toml/" + name
			case "inspect --out":
				args[2] = "-x.toml/" + name
				args = append(args, ".")
			case "inspect --baseline", "inspect --house", "inspect --rules":
				args = append(args, ".")
			}
			status, out, errs := run(t, ".", args...)
			if status < exitUnreadable {
				t.Errorf("%q: exit status %d", args, status)
			}
			words(command+" (errors)", "text", out+errs)
		}
	}
}

// A command that comes new gets its line among the hostile runs, or its reason
// here.
func TestEveryCommandThatPrintsASheetIsAttacked(t *testing.T) {
	attacked := map[string]string{
		"draft":      "has a test of its own",
		"editor":     "speaks a protocol: its tests hold it to words",
		"starter":    "prints names of folders: they are among the names of files",
		"why":        "prints the rulebook's own words",
		"rulebook":   "prints the rulebook's own words",
		"completion": "prints a shell's script",
		"help":       "prints the program's own words",
	}
	for _, r := range hostileRuns {
		command, _, _ := strings.Cut(r.line, " ")
		attacked[command] = r.line
	}
	for _, c := range (&program{}).root().Commands() {
		if attacked[c.Name()] == "" && !c.Hidden {
			t.Errorf("nobody attacks %s", c.Name())
		}
	}
}

// What is known is known again, whatever the sheet calls it.
func TestABaselineOfAHostileShopKnowsItAgain(t *testing.T) {
	for _, attack := range attacks {
		t.Run(attack.name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			s := &hostileShop{attack: attack.text, few: true, t: t}
			sheetName := s.write(".")
			known := s.fileName("known", ".toml")
			if status, _, errs := run(t, ".", "inspect", "--stop-at", "advice", "--keep-baseline", known, sheetName); status != exitFindings {
				t.Fatalf("exit status %d: %s", status, errs)
			}
			text, err := os.ReadFile(known)
			if err != nil {
				t.Fatal(err)
			}
			printsNothingRaw(t, printout{line: "the baseline", format: "text", text: string(text)})
			if status, out, errs := run(t, ".", "inspect", "--stop-at", "advice", "--baseline", known, sheetName); status != exitClean || errs != "" {
				t.Errorf("exit status %d: %s\n%.600s", status, errs, out)
			}
		})
	}
}

// What is drafted is a sheet, and its names and title read back as they were.
func TestADraftFromAHostileShelfIsWordsAndReadsBack(t *testing.T) {
	if !commandsThere()["draft"] {
		t.Skip("there is no draft")
	}
	for _, attack := range attacks {
		t.Run(attack.name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			s := &hostileShop{attack: attack.text, few: true, t: t}
			title := s.says("title")
			if err := os.WriteFile("shelf.toml", []byte("format = 1\n"+s.cards()), 0o644); err != nil {
				t.Fatal(err)
			}
			for _, format := range []string{"text", "json"} {
				var out, errs strings.Builder
				status := Main([]string{"draft", "--substrate", "mild steel", "--ending", "primed", "--shelf", "shelf.toml", "--title", title, "--as", format},
					Streams{In: strings.NewReader(""), Out: &out, Err: &errs, Dir: ".", Terminal: true, Getenv: func(string) string { return "" }, Now: time.Now})
				if status != exitClean {
					t.Fatalf("exit status %d: %.600s", status, errs.String())
				}
				for _, text := range []string{out.String(), errs.String()} {
					printsNothingRaw(t, printout{line: "draft", format: format, text: text})
				}
				if format == "json" {
					continue
				}
				if err := os.WriteFile("drafted.toml", []byte(out.String()), 0o644); err != nil {
					t.Fatal(err)
				}
				status, told, _ := run(t, ".", "inspect", "--as", "json", "drafted.toml")
				if sheets := judgedJSON(t, told); status != exitClean || sheets[0].Title != title {
					t.Errorf("exit status %d: the title reads %q", status, sheets[0].Title)
				}
			}
		})
	}
}

// holdToWords attacks a shop in every way, and holds what is printed of it to
// the structure that harmless words have.
func holdToWords(t *testing.T, printed func(t *testing.T, attack string) []printout) {
	raced.Skip(t)
	shape := map[string]string{}
	t.Run("words", func(t *testing.T) {
		for _, p := range printed(t, benign) {
			shape[p.line] = shapeOf(t, p)
		}
	})
	text := map[string]string{}
	for _, a := range attacks {
		text[a.name] = a.text
	}
	made := 0
	for _, names := range together {
		var whole []string
		for _, name := range names {
			if text[name] == "" {
				t.Fatalf("there is no attack %q", name)
			}
			whole = append(whole, text[name])
			made++
		}
		t.Run(strings.Join(names, ", "), func(t *testing.T) {
			for _, p := range printed(t, strings.Join(whole, " ")) {
				t.Run(p.line, func(t *testing.T) {
					printsNothingRaw(t, p)
					if got, want := shapeOf(t, p), shape[p.line]; got != want {
						t.Errorf("its structure is another:\n%s", apart(want, got))
					}
				})
			}
		})
	}
	if made != len(attacks) {
		t.Errorf("%d of %d attacks are made", made, len(attacks))
	}
}
