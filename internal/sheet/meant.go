package sheet

import (
	"regexp"
	"slices"
	"strings"
	"time"
)

// What a line that is no TOML was meant to be: the same line as it would be
// right, where that can be told.

// closers are what closes a list and a table in braces.
var closers = map[byte]string{'[': "]", '{': "}"}

// opened is a value that a bracket begins and none closes.
type opened struct {
	key   string
	line  int
	value Span
}

// openAt is the value that still stands open at an offset of a line: on that
// line, or on one above with no header between.
func (x *Index) openAt(line, offset int) (opened, bool) {
	const farBack = 200 // lines; no list of a sheet is as long
	for at := line; at > max(line-farBack, 0); at-- {
		from := x.LineStart(at)
		text := x.line(at)
		if !strings.ContainsAny(text, "[{") {
			continue
		}
		if at < line && header.MatchString(strings.TrimSpace(text)) {
			break
		}
		m := statement.FindStringSubmatchIndex(text)
		if m == nil || m[6] == m[7] || closers[text[m[6]]] == "" {
			continue
		}
		start := from + m[6]
		if start >= offset || !staysOpen(x.text[start:offset]) {
			break
		}
		return opened{key: text[m[2]:m[3]], line: at, value: Span{start, from + m[7]}}, true
	}
	return opened{}, false
}

// staysOpen tells whether the bracket that a text begins with is not closed in it.
func staysOpen(text []byte) bool {
	depth := 0
	var quote byte
	comment, escaped := false, false
	for _, c := range text {
		switch {
		case c == '\n':
			quote, comment, escaped = 0, false, false
		case comment:
		case escaped:
			escaped = false
		case quote != 0:
			escaped = c == '\\' && quote == '"'
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '#':
			comment = true
		case c == '[' || c == '{':
			depth++
		case c == ']' || c == '}':
			if depth--; depth == 0 {
				return false
			}
		}
	}
	return true
}

// notClosed says that a list or a table in braces lacks its end; end is where
// what no longer belongs to it begins.
func (x *Index) notClosed(o opened, end int) string {
	first := strings.TrimRight(withoutComment(string(x.Slice(o.value))), ", \t")
	if first[0] == '{' {
		message := "a table in braces stands on one line, and the } that closes this one is missing"
		if len(first) > 1 {
			message += ": " + o.key + " = " + first + "}"
		}
		return message
	}
	within := strings.TrimSpace(string(x.text[o.value.Start:end]))
	alone := !strings.Contains(within, "\n")
	within = strings.TrimRight(withoutComment(within), ", \t")
	message := "the ] that closes this list is missing"
	switch meant, _, ok := entries(within[1:]); {
	case alone && ok && len(meant) > 0:
		return message + ": " + o.key + " = " + bracketed(meant)
	default:
		return message + "; it stands after the last entry"
	}
}

func bracketed(entries []string) string { return "[" + strings.Join(entries, ", ") + "]" }

// closedList is a list on one line, with what stands in it.
var closedList = regexp.MustCompile(`^\[(.*?)\]\s*,?\s*(#.*)?$`)

// bareValue is what stands in a list without quotes and is right so.
var bareValue = regexp.MustCompile(`^([+-]?\d+(\.\d+)?|true|false|\d{4}-\d\d-\d\d)$`)

// entries takes what stands between the brackets of a list apart: the entries
// as they should be written, and those that lack a quote as they are. ok is
// false where it cannot be told.
func entries(within string) (meant, lacking []string, ok bool) {
	for rest := strings.TrimSpace(within); rest != ""; {
		if quote := rest[0]; quote == '"' || quote == '\'' {
			if end := strings.IndexByte(rest[1:], quote) + 1; end > 0 {
				after := strings.TrimSpace(rest[end+1:])
				if after == "" || after[0] == ',' {
					meant = append(meant, rest[:end+1])
					rest = strings.TrimSpace(strings.TrimPrefix(after, ","))
					continue
				}
				if !strings.Contains(rest[:end], ",") {
					return nil, nil, false
				}
			}
		}
		entry, after, _ := strings.Cut(rest, ",")
		entry, rest = strings.TrimSpace(entry), strings.TrimSpace(after)
		inner := strings.Trim(entry, `"'`)
		switch {
		case bareValue.MatchString(entry):
			meant = append(meant, entry)
		case inner == "" || strings.ContainsAny(inner, `"'[]{}()\=#;`):
			return nil, nil, false
		default:
			meant, lacking = append(meant, Quote(inner)), append(lacking, entry)
		}
	}
	return meant, lacking, true
}

// unquoted says that entries of a list lack their quotes; written is how the
// list would be right.
func unquoted(lacking []string, written string) string {
	verb := " does not: "
	if len(lacking) > 1 {
		verb = " do not: "
	}
	return "every entry of a list stands between two quotes, and " + listed(lacking, "and", cut) + verb + written
}

// several are texts beside one another without a bracket before them.
var several = regexp.MustCompile(`^("[^"]*"|'[^']*')((\s*,\s*("[^"]*"|'[^']*'))+\s*,?\s*\]?|\s*\])$`)

// otherBrackets is a list as it would be right whose brackets are round,
// curly, or not there; "" where the value is none such.
func otherBrackets(bare string) string {
	within := strings.TrimSuffix(bare, "]")
	switch {
	case strings.HasPrefix(bare, "(") && strings.HasSuffix(bare, ")"), strings.HasPrefix(bare, "{") && strings.HasSuffix(bare, "}"):
		within = bare[1 : len(bare)-1]
		if strings.Contains(within, "=") {
			return ""
		}
	case !several.MatchString(bare):
		return ""
	}
	meant, _, ok := entries(within)
	if !ok || len(meant) == 0 {
		return ""
	}
	return bracketed(meant)
}

// closedTable is a table in braces on one line, with what stands in it, and
// inBraces one of its keys with its value, and what follows.
var (
	closedTable = regexp.MustCompile(`^\{(.*?)\}\s*,?\s*(#.*)?$`)
	inBraces    = regexp.MustCompile(`^\s*("[^"]*"|'[^']*'|[\w\-]+)\s*([=:])\s*("[^"]*"|'[^']*'|[^"'\[\]{}=,]+?)\s*(,|$)`)
)

// tableMeant is a table in braces as it would be right whose texts have no
// quotes, or whose keys stand before a colon; "" where it is none such.
func tableMeant(bare string) string {
	m := closedTable.FindStringSubmatch(bare)
	if m == nil {
		return ""
	}
	var pairs []string
	changed := false
	for rest := strings.TrimSpace(m[1]); rest != ""; {
		pair := inBraces.FindStringSubmatch(rest)
		if pair == nil {
			return ""
		}
		key, value := pair[1], pair[3]
		flag, isFlag := flagMeant(value)
		switch {
		case isFlag:
			value = flag
		case value[0] != '"' && value[0] != '\'' && !bareValue.MatchString(value):
			value = Quote(value)
		}
		changed = changed || value != pair[3] || pair[2] == ":"
		pairs = append(pairs, key+" = "+value)
		rest = strings.TrimSpace(rest[len(pair[0]):])
	}
	if !changed {
		return ""
	}
	return "{" + strings.Join(pairs, ", ") + "}"
}

// header is a line that is a table's name in brackets, rightly written or not.
var header = regexp.MustCompile(`^(\[{1,2})\s*([^\[\]]*?)\s*(\]{1,2})\s*(#.*)?$`)

// besideHeader is a header with a quote before or behind it.
var besideHeader = regexp.MustCompile(`^["']?(\[{1,2}[^\[\]"']+\]{1,2})["']?$`)

// bracketedName is a name with brackets of any sort and number around it.
var bracketedName = regexp.MustCompile(`^([\[\](){}\s]*)([A-Za-z_]+)((?:\.[\w\-]+)*)([\[\](){}\s]*)(#.*)?$`)

// wrongBrackets says what is wrong with the brackets around a table's name; ""
// where a line is none such.
func wrongBrackets(trimmed string) string {
	m := bracketedName.FindStringSubmatch(trimmed)
	if m == nil || m[1] == "" && strings.TrimSpace(m[4]) == "" {
		return ""
	}
	header := "[" + m[2] + m[3] + "]"
	switch {
	case slices.Contains(manyTables, m[2]) && m[3] == "":
		header = "[" + header + "]"
	case !slices.ContainsFunc([]*keySet{rootSpec, shelfSpec, houseSpec}, func(s *keySet) bool {
		k := s.byName[m[2]]
		return k != nil && !k.takes(TakesWhole)
	}):
		return ""
	}
	switch written := withoutComment(trimmed); {
	case written == header:
		return ""
	case strings.HasPrefix(header, written):
		return "this table's name is not closed; write " + header
	}
	return "the brackets around this table's name are not right; write " + header
}

// noSign is a key and a value with nothing between them.
var noSign = regexp.MustCompile(`^([\w\-]+)\s+(["'\[{\d].*)$`)

// ofHeader says what is wrong with the name of a table.
func ofHeader(trimmed string) string {
	m := header.FindStringSubmatch(trimmed)
	if m == nil || len(m[1]) != len(m[3]) || m[2] == "" || m[2][0] == '.' {
		return "this table's name is not closed; write [name], or [[name]] for a zone, a step or a waiver"
	}
	table, name, dotted := strings.Cut(m[2], ".")
	many := strings.Fields(table)[0]
	switch name = strings.TrimSpace(name); {
	case slices.Contains(manyTables, many) && many != m[2]:
		return "every " + many + " is headed [[" + many + "]], with no number and no name in the brackets"
	case !dotted:
		return `no table is called that; one is headed [panel], a card [product."grey epoxy"]`
	case name == "":
		return "a name is missing behind the point; write " + m[1] + table + ".NAME" + m[3]
	}
	card, use, used := strings.Cut(name, ".as.")
	name = quoteKey(strings.Trim(card, `"'`))
	if used {
		name += ".as." + quoteKey(strings.Trim(use, `"'`))
	}
	return "a name of more than the letters a to z, figures, - and _ stands in quotes: " + m[1] + table + "." + name + m[3]
}

// manyTables are the tables that a sheet may have many of.
var manyTables = []string{"zone", "step", "waiver"}

// keyIn is the key of that name in the table at a path; nil where it has none.
func keyIn(table, name string) *Key {
	head, _, _ := strings.Cut(table, ".")
	head, _, _ = strings.Cut(head, "[")
	if head == "step" {
		return anyStep.byName[name]
	}
	for _, spec := range []*keySet{rootSpec, shelfSpec, houseSpec} {
		if head != "" {
			k := spec.byName[head]
			if k == nil {
				continue
			}
			spec = newKeySet(k.Fields)
		}
		if k := spec.byName[name]; k != nil {
			return k
		}
	}
	return nil
}

// needsNoQuotes tells whether all that a key takes stands without quotes.
func needsNoQuotes(k *Key) bool {
	return k != nil && !slices.ContainsFunc(k.Takes, func(t Takes) bool { return t != TakesWhole && t != TakesFlag && t != TakesDay })
}

// asMeant is a value as it should have been written for a key.
func asMeant(k *Key, value string) string {
	bare := withoutComment(value)
	inner := strings.Trim(bare, `"'`)
	switch list := otherBrackets(bare); {
	case list != "":
		return list
	case k == nil:
	case k.takes(TakesDay) && dayOf(inner) != "":
		return dayOf(inner)
	case bareValue.MatchString(inner) && (k.takes(TakesWhole) || k.takes(TakesFlag) || k.takes(TakesDay)):
		return inner
	case needsNoQuotes(k):
		return k.Example
	}
	return quotedValue(value)
}

// flagMeant is true or false where a word stands for one of them.
func flagMeant(word string) (flag string, ok bool) {
	switch strings.ToLower(word) {
	case "yes", "on", "true":
		return "true", true
	case "no", "off", "false":
		return "false", true
	}
	return "", false
}

// dayOf is a date with its month in words, as a sheet has it; "" where it is none.
func dayOf(written string) string {
	written = strings.Join(strings.Fields(strings.NewReplacer(",", " ", ".", " ").Replace(written)), " ")
	for _, layout := range []string{"2 January 2006", "January 2 2006", "2 Jan 2006", "Jan 2 2006"} {
		if day, err := time.Parse(layout, written); err == nil {
			return day.Format(time.DateOnly)
		}
	}
	return ""
}
