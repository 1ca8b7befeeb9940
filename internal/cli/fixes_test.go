package cli

import (
	"encoding/json"
	"testing"
)

func TestSARIFOffersTheEditsThatWereProved(t *testing.T) {
	dir, _ := shopFolder(t, "window-missed.toml")
	out, errs, _ := runIn(t, dir, "inspect", "--as", "sarif", "sheet.toml")
	var log struct {
		Runs []struct {
			Results []struct {
				RuleID string
				Fixes  []struct {
					Description     struct{ Text string }
					ArtifactChanges []struct {
						Replacements []struct{ InsertedContent struct{ Text string } }
					}
				}
			}
		}
	}
	if err := json.Unmarshal([]byte(out), &log); err != nil {
		t.Fatalf("%v %s", err, errs)
	}
	fixes := 0
	for _, r := range log.Runs[0].Results {
		for _, f := range r.Fixes {
			fixes++
			if f.Description.Text == "" || len(f.ArtifactChanges) != 1 || len(f.ArtifactChanges[0].Replacements) == 0 {
				t.Errorf("%s: %+v", r.RuleID, f)
			}
		}
	}
	if fixes == 0 {
		t.Errorf("nothing is offered in %s", out)
	}
}
