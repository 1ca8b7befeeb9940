package sheet

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"
)

var refresh = flag.Bool("refresh", false, "write the list of errors anew; read the diff before committing it")

// The files that the tests of errors spoil stand in a list of their own, for
// whoever else reads sheets to be tried on: the schemas are.
func TestTheListOfErrorsHoldsEveryFileThatTheTestsSpoil(t *testing.T) {
	type file struct {
		Name string `json:"name"` // of the case
		Kind string `json:"kind"` // sheet, shelf or house
		// Edits of the good sheet, by twos: the first of each pair is replaced by
		// the second, once. Or else the Text.
		Edits []string `json:"edits,omitempty"`
		Text  string   `json:"text,omitempty"`
	}
	list := struct {
		About string `json:"about"`
		Good  string `json:"good"`
		Files []file `json:"files"`
	}{About: "Files that are refused, as the tests of internal/sheet spoil them; written by those with -args -refresh.", Good: good}
	for _, test := range spoiledSheets() {
		edits := make([]string, len(test.edits))
		for i, e := range test.edits {
			edits[i], _ = marked(e)
		}
		list.Files = append(list.Files, file{Name: test.name, Kind: "sheet", Edits: edits})
	}
	kinds := map[string]string{"door.toml": "sheet", "guidecoat.toml": "house"}
	for _, test := range filesOfAShop() {
		seen := map[string]bool{}
		for _, want := range test.want {
			name, _, _ := strings.Cut(want, ":")
			if text, there := test.files[name]; there && !seen[name] {
				seen[name] = true
				kind := kinds[name]
				if kind == "" {
					kind = "shelf"
				}
				list.Files = append(list.Files, file{Name: test.name, Kind: kind, Text: text})
			}
		}
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(list); err != nil {
		t.Fatal(err)
	}
	const path = "../../testdata/schema/errors.json"
	if *refresh {
		if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(b.Bytes(), want) {
		t.Error(path + " does not hold what the tests spoil; refresh it")
	}
}
