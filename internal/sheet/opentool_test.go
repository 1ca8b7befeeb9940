package sheet

import "testing"

func TestWhatAFilmIsSandedWithIsTheShopsOwnWordAndWhatItIsStrippedWithIsNot(t *testing.T) {
	head := "format = 1\n[sheet]\ntitle = \"t\"\n[panel]\nsubstrate = \"mild steel\"\n[[step]]\n"
	s, problems := ReadText(Options{NoHouse: true}, "t.toml", []byte(head+"do = \"sand\"\ngrit = \"P80\"\ntool = \"foam interface\"\n"))
	if len(problems) > 0 || s.Steps[0].Tool.Value != "foam interface" {
		t.Errorf("the shop's own word is refused: %v", problems)
	}
	if _, problems := ReadText(Options{NoHouse: true}, "t.toml", []byte(head+"do = \"strip\"\ntool = \"long board\"\n")); len(problems) != 1 {
		t.Errorf("a strip's tools are a closed list, and %d problems are told", len(problems))
	}
}
