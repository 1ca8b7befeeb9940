package rulebook

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
	"go.yaml.in/yaml/v3"
)

// Rule is everything a person reads about one rule: its METADATA, and the two
// sheets in its folder.
type Rule struct {
	Name        string   `json:"rule"`
	Family      string   `json:"family"`
	Title       string   `json:"title"`
	Description string   `json:"description"` // paragraphs, parted by an empty line
	Grade       string   `json:"grade"`       // the gravest it can give
	Defect      string   `json:"defect"`      // the trade's word; of a people rule, the harm
	Remedy      string   `json:"remedy"`
	Safety      Safety   `json:"safety"`
	Source      []string `json:"source"`
	Limits      []string `json:"limits"` // names of the limits it is held to
	Covers      []string `json:"covers"` // rules it silences on the same place
	Needs       []Need   `json:"-"`      // what a stack must hold for it to speak; nil where that is not told
	House       bool     `json:"house"`  // a shop's own
	Breaks      string   `json:"breaks"` // the smallest sheet that breaks it, "" if a shop's rule has none
	Holds       string   `json:"holds"`  // a near miss
	File        string   `json:"file"`
	Line        int      `json:"line"` // where its METADATA begins
}

// Families are the families of the catalogue, in its order.
var Families = []string{"substrate", "adhesion", "porosity", "clock", "abrasive", "film", "weather", "mix", "finish", "people", "paper"}

const people = "people"

var grades = []string{"advice", "risk", "fails"}

// rank orders grades; 0 is no grade.
func rank(grade string) int { return slices.Index(grades, grade) + 1 }

// AtLeast tells whether one grade is as grave as another, or graver.
func AtLeast(grade, other string) bool { return rank(grade) >= rank(other) }

var signals = []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}

// The keys a METADATA block may have. OPA takes any without a word, so that a
// misspelt one would be a text nobody ever reads.
var (
	metadataKeys = []string{"title", "description", "custom", "scope", "authors", "organizations", "related_resources", "entrypoint"}
	customKeys   = []string{"grade", "defect", "remedy", "safety", "source", "limits", "needs", "covers"}
	safetyKeys   = []string{"signal", "text"}
)

// readMetadata reads the METADATA block over the package line of a rule's file
// into r, and tells everything wrong with it at once.
func readMetadata(r *Rule, text string) []problemAt {
	lines := strings.Split(text, "\n")
	pkg := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "package ") })
	if pkg < 0 {
		return []problemAt{{1, 1, "there is no package line; a rule begins with its METADATA and package guidecoat.FAMILY[\"NAME\"]"}}
	}
	start := -1
	for i := pkg - 1; i >= 0 && (strings.HasPrefix(lines[i], "#") || strings.TrimSpace(lines[i]) == ""); i-- {
		if strings.TrimSpace(strings.TrimPrefix(lines[i], "#")) == "METADATA" {
			start = i
			break
		}
	}
	if start < 0 {
		return []problemAt{{pkg + 1, 1, "there is no METADATA block over the package line; it carries the title, the description and everything else a person reads"}}
	}
	var block strings.Builder
	for i := start + 1; i < pkg; i++ {
		l, ok := strings.CutPrefix(lines[i], "#")
		if !ok {
			return []problemAt{{i + 1, 1, "the METADATA block must reach down to the package line without a gap, or it is not the package's"}}
		}
		block.WriteString(strings.TrimPrefix(l, " "))
		block.WriteByte('\n')
	}
	r.Line = start + 1
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(block.String()), &doc); err != nil {
		return []problemAt{{start + 1, 1, "the METADATA block cannot be read: " + yamlFault(err, start+1)}}
	}
	if len(doc.Content) == 0 || doc.Content[0].Kind != yaml.MappingNode {
		return []problemAt{{start + 1, 1, "the METADATA block is empty; it needs " + listed(metadataKeys[:3])}}
	}
	m := metadata{first: start + 1}
	top := m.table(doc.Content[0], "METADATA", metadataKeys)
	r.Title = m.text(top, "METADATA", "title")
	r.Description = paragraphs(m.text(top, "METADATA", "description"))
	if scope, ok := top.keys["scope"]; ok && scope.Value != "package" {
		m.at(scope, fmt.Sprintf("scope is %q; a rule's METADATA is the package's: leave scope out", scope.Value))
	}
	node, ok := top.keys["custom"]
	if !ok {
		m.missing(top, "METADATA", "custom")
		return m.problems
	}
	custom := m.table(node, "custom", customKeys)
	r.Grade = m.oneOf(custom, "custom", "grade", grades)
	r.Defect = m.text(custom, "custom", "defect")
	r.Remedy = paragraphs(m.text(custom, "custom", "remedy"))
	r.Source = m.list(custom, "custom", "source", 1)
	r.Limits = m.list(custom, "custom", "limits", 0)
	r.Covers = []string{}
	if _, ok := custom.keys["covers"]; ok {
		r.Covers = m.list(custom, "custom", "covers", 1)
	}
	r.Needs = m.needsOf(custom)
	if node, ok := custom.keys["safety"]; ok {
		safety := m.table(node, "safety", safetyKeys)
		r.Safety.Signal = m.oneOf(safety, "safety", "signal", signals)
		r.Safety.Text = paragraphs(m.text(safety, "safety", "text"))
	} else {
		m.missing(custom, "custom", "safety")
	}
	slices.SortStableFunc(m.problems, func(a, b problemAt) int {
		if a.line != b.line {
			return a.line - b.line
		}
		return a.column - b.column
	})
	return m.problems
}

// metadata gathers what is wrong with one block.
type metadata struct {
	first    int // the line in the file of the METADATA line
	problems []problemAt
}

// table is one mapping of the block.
type table struct {
	node *yaml.Node
	keys map[string]*yaml.Node // by the right name, misspelt ones too, so that they are not told twice
}

func (m *metadata) at(n *yaml.Node, message string) {
	// In the file a line has '# ' before it.
	m.problems = append(m.problems, problemAt{m.first + n.Line, n.Column + 2, message})
}

func (m *metadata) missing(t table, in, key string) {
	if t.node == nil {
		return
	}
	if _, misspelt := t.keys["misspelt "+key]; misspelt {
		return
	}
	m.problems = append(m.problems, problemAt{m.first + max(0, t.node.Line-1), 1, fmt.Sprintf("%s has no %q", in, key)})
}

func (m *metadata) table(n *yaml.Node, in string, known []string) table {
	t := table{keys: map[string]*yaml.Node{}}
	if n.Kind != yaml.MappingNode {
		m.at(n, fmt.Sprintf("%q must be a table with %s", in, listed(known)))
		return t
	}
	t.node = n
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		switch _, twice := t.keys[k.Value]; {
		case twice:
			m.at(k, fmt.Sprintf("%q is written twice", k.Value))
		case slices.Contains(known, k.Value):
			t.keys[k.Value] = v
		default:
			near := nearest(k.Value, known)
			message := fmt.Sprintf("%s knows no key %q", in, k.Value)
			if near != "" {
				message += fmt.Sprintf("; did you mean %q?", near)
				t.keys["misspelt "+near] = v
			} else {
				message += "; it may have " + listed(known)
			}
			m.at(k, message)
		}
	}
	return t
}

func (m *metadata) text(t table, in, key string) string {
	n, ok := t.keys[key]
	if !ok {
		m.missing(t, in, key)
		return ""
	}
	if n.Kind != yaml.ScalarNode {
		m.at(n, fmt.Sprintf("%q must be a text", key))
		return ""
	}
	s := strings.TrimSpace(n.Value)
	if s == "" || n.Tag == "!!null" {
		m.at(n, fmt.Sprintf("%q is empty", key))
		return ""
	}
	return s
}

func (m *metadata) oneOf(t table, in, key string, among []string) string {
	s := m.text(t, in, key)
	if s != "" && !slices.Contains(among, s) {
		m.at(t.keys[key], fmt.Sprintf("%q is %q; it must be one of %s", key, s, listed(among)))
		return ""
	}
	return s
}

func (m *metadata) list(t table, in, key string, least int) []string {
	n, ok := t.keys[key]
	if !ok {
		m.missing(t, in, key)
		return []string{}
	}
	out := []string{}
	if n.Kind != yaml.SequenceNode {
		m.at(n, fmt.Sprintf("%q must be a list", key))
		return out
	}
	for _, item := range n.Content {
		if item.Kind != yaml.ScalarNode || item.Tag == "!!null" || strings.TrimSpace(item.Value) == "" {
			m.at(item, fmt.Sprintf("an entry of %q is empty or no text", key))
			continue
		}
		out = append(out, strings.TrimSpace(item.Value))
	}
	if len(n.Content) < least {
		m.at(n, fmt.Sprintf("%q is empty", key))
	}
	return out
}

// yamlFault is a YAML error with the line of the file instead of the block's.
func yamlFault(err error, first int) string {
	s := strings.TrimPrefix(err.Error(), "yaml: ")
	if rest, ok := strings.CutPrefix(s, "line "); ok {
		if n, message, ok := strings.Cut(rest, ": "); ok {
			if line, err := strconv.Atoi(n); err == nil {
				return fmt.Sprintf("line %d: %s", first+line, message)
			}
		}
	}
	return s
}

// paragraphs unfolds a text that was broken to fit the page: a single line end
// is a space, an empty line parts paragraphs.
func paragraphs(s string) string {
	parts := strings.Split(s, "\n\n")
	for i, p := range parts {
		parts[i] = strings.Join(strings.Fields(p), " ")
	}
	return strings.Join(parts, "\n\n")
}

// nearest is the known word nearest to one that is not known, or "" when none
// is near enough to be what was meant.
func nearest(word string, known []string) string {
	best, distance := "", len([]rune(word))/3+2
	for _, k := range known {
		if d := levenshtein.ComputeDistance(word, k); d < distance {
			best, distance = k, d
		}
	}
	return best
}

// listed puts words in a row: a, b and c.
func listed(ws []string) string {
	switch len(ws) {
	case 0:
		return ""
	case 1:
		return ws[0]
	}
	return strings.Join(ws[:len(ws)-1], ", ") + " and " + ws[len(ws)-1]
}
