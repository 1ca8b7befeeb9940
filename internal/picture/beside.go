package picture

import (
	"strings"

	"guidecoat/internal/printable"
)

// between is how far apart two drawings stand.
const between = 3

// Half is how wide each of two drawings may be to stand side by side in so
// many columns.
func Half(columns int) int { return (columns - between) / 2 }

// Beside lays two drawings for the terminal side by side where their widest
// lines leave room for both in so many columns, else one under the other with
// an empty line between. An empty drawing leaves the other as it is.
func Beside(left, right string, columns int) string {
	if strings.TrimSpace(left) == "" {
		return right
	}
	if strings.TrimSpace(right) == "" {
		return left
	}
	a, b := rows(left), rows(right)
	wide := widest(a)
	if wide+between+widest(b) > columns {
		return strings.Join(a, "\n") + "\n\n" + strings.Join(b, "\n") + "\n"
	}
	var out strings.Builder
	for i := range max(len(a), len(b)) {
		line := printable.Pad(nth(a, i), wide+between) + nth(b, i)
		out.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return out.String()
}

func rows(s string) []string { return strings.Split(strings.TrimRight(s, "\n"), "\n") }

func widest(lines []string) int {
	w := 0
	for _, l := range lines {
		w = max(w, printable.Width(l))
	}
	return w
}
