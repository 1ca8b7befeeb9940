package rulebook_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Processes out of published specifications, as sheets: right as they stand,
// and each with one fault sown into it. What the documents say stands at the
// head of each sheet. One thing they ask has no rule here: the hours that a
// washed underside dries before it is primed.
func TestPublishedProcessesAreRightAndTheirSownFaultsAreFound(t *testing.T) {
	const (
		steel   = "wash-primer-and-epoxy.toml"
		touchUp = "touch-up.toml"
		rust    = "rustproofing.toml"
	)
	for _, tc := range []struct {
		name, file string
		old, new   string // one change to the sheet; none leaves it right
		rule       string // that finds it
		grade      string
	}{
		{"TT-C-490F with SSPC-Paint 27 and 22", steel, "", "", "", ""},
		{"the touch-up of the technical manuals", touchUp, "", "", "", ""},
		{"the rustproofing of TB 43-0213", rust, "", "", "", ""},
		// TB 43-0213 (read): 10 mil wet for at least 5 mil dry; 8 mil wet leaves 4, a fifth too little.
		{"eight mil wet of the rustproofing", rust, `wet_film = "10 mil"`, `wet_film = "8 mil"`, "film-too-thin", "risk"},
		// TT-C-490F 3.5.4 (read): paint within 24 h of pretreatment; 30 h is a quarter over.
		{"thirty hours from pretreatment to paint", steel, `then_wait = "2 h" # pretreatment`, `then_wait = "30 h" #`, "window-missed", "fails"},
		// TT-C-490D Type III (second): 0.3-0.5 mil; 10 mil wet at 10 % is 1.0, twice the most.
		{"wash primer at one mil", steel, `wet_film = "4 mil" # 0.4`, `wet_film = "10 mil" # 1.0`, "film-too-thick", "fails"},
		// TT-C-490F (read): 40-70 % RH; wash primer at 70 % and more may blush (a US Air Force coatings manual, read).
		{"eighty percent humidity", steel, `humidity = "55 %"`, `humidity = "80 %"`, "too-humid", "risk"},
		// TM 43-0139 3-4a (read): wash primer does not stick to steel treated with phosphoric conditioner.
		{"conditioner, then wash primer", touchUp, "[[step]]\ndo = \"spray\"\nproduct = \"pretreatment\"",
			"[[step]]\ndo = \"treat\"\nwith = \"acid wash\"\nfor = \"5 min\"\nwear = [\"gloves\", \"eye protection\"]\n\n[[step]]\ndo = \"rinse\"\ndried_within = \"5 min\"\n\n[[step]]\ndo = \"spray\"\nproduct = \"pretreatment\"",
			"acid-primer-on-acid-wash", "fails"},
		// TM 55-1500-345-23 (read): after a break overnight or longer clean again.
		{"overnight and no wipe", touchUp, "[[step]]\ndo = \"clean\"\ncall = \"again after the night\"\nwith = \"cleaner\"\nthen_wait = \"15 min\"\n", "",
			"clean-again-after-break", "risk"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "published", tc.file))
			if err != nil {
				t.Fatal(err)
			}
			sown := string(text)
			if tc.old != "" {
				sown = strings.Replace(sown, tc.old, tc.new, 1)
				if sown == string(text) {
					t.Fatalf("the sheet does not hold %q", tc.old)
				}
			}
			var got []string
			found := false
			for _, f := range findingsOf(t, sown) {
				if f.Rule == tc.rule && f.Grade == tc.grade {
					found = true
				} else if f.Grade != "advice" {
					got = append(got, f.Grade+" "+f.Rule+": "+f.Message)
				}
			}
			if tc.rule != "" && !found {
				t.Errorf("%s is not found at %s", tc.rule, tc.grade)
			}
			slices.Sort(got)
			if len(got) > 0 {
				t.Errorf("found besides:\n%s", strings.Join(got, "\n"))
			}
		})
	}
}
