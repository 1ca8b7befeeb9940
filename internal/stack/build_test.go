package stack_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

const bareHead = `format = 1
[sheet]
title = "x"
[panel]
substrate = "mild steel"
`

const coatedHead = bareHead + `carries = ["e-coat", "factory finish"]
`

// Each sheet reads, and only carrying it out finds what is wrong with it.
func TestBuildSaysWhatOnlyTheBookkeepingCanFind(t *testing.T) {
	sand := "[[step]]\ndo = \"sand\"\ngrit = \"P320\"\n"
	tests := []struct {
		name, text string
		key, says  string
	}{
		{
			"a cut to a film that was stripped off again",
			bareHead + "[[step]]\ndo = \"spray\"\nproduct = \"grey-epoxy\"\n[[step]]\ndo = \"strip\"\ntool = \"sander\"\n" + sand + "cuts_to = \"epoxy primer\"\n",
			"step[3].cuts_to", `step 3 cuts through to "epoxy primer", but there is no epoxy primer where it sands; under it lie mild steel`,
		},
		{
			"a cut to a film that lies elsewhere",
			coatedHead + "[[zone]]\nname = \"dent\"\ncarries = []\n" + sand + "on = \"dent\"\ncuts_to = \"e-coat\"\n",
			"step[1].cuts_to", `there is no e-coat where it sands`,
		},
		{
			"a strip down to what was stripped before",
			coatedHead + "[[step]]\ndo = \"strip\"\ntool = \"sander\"\n[[step]]\ndo = \"strip\"\ntool = \"sander\"\ndown_to = \"e-coat\"\n",
			"step[2].down_to", `step 2 strips down to e-coat, but there is no e-coat where it strips; there are mild steel`,
		},
		{
			"a call whose cut went through nothing",
			bareHead + sand + "cuts_to = {to = \"substrate\", call = \"rub\"}\n[[step]]\ndo = \"clean\"\nwith = \"alcohol wipe\"\non = \"rub\"\n",
			"step[2].on", `step 1 cuts through nothing there`,
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := sheet.NewReader(sheet.Options{NoHouse: true})
			defer r.Close()
			s, problems := r.ReadText("sheet.toml", []byte(tt.text+cards(t)))
			if len(problems) > 0 {
				// The reader may find it first; then its words are the reader's to test.
				t.Skipf("the reader says: %s", problems[0].Message)
			}
			d, problems := stack.Build(s)
			if d != nil || len(problems) != 1 {
				t.Fatalf("a document, and %d problems", len(problems))
			}
			p := problems[0]
			if p.Key != tt.key || !strings.Contains(p.Message, tt.says) {
				t.Errorf("%s: %s", p.Key, p.Message)
			}
			if p.Place.Line == 0 {
				t.Error("no place")
			}
		})
	}
}

// Every cut doubles the zones: the twelfth would make four thousand.
func TestABombOfCutsIsAProblemAndNotAHang(t *testing.T) {
	var b strings.Builder
	b.WriteString(coatedHead)
	for i := 1; i <= 30; i++ {
		fmt.Fprintf(&b, "[[step]]\ndo = \"spray\"\nproduct = \"grey-epoxy\"\n[[step]]\ndo = \"sand\"\ngrit = \"P80\"\ncuts_to = \"substrate\"\n")
	}
	s := read(t, b.String()+cards(t))
	start := time.Now()
	d, problems := stack.Build(s)
	if d != nil || len(problems) == 0 || !strings.Contains(problems[0].Message, "2000 zones") {
		t.Fatalf("%d problems", len(problems))
	}
	if took := time.Since(start); took > 20*time.Second {
		t.Errorf("took %v", took)
	}
}

// bigSheet has zones and steps in plenty: every fourth step lays a film.
func bigSheet(zones, steps int) string {
	var b strings.Builder
	b.WriteString(bareHead)
	for i := range zones {
		fmt.Fprintf(&b, "[[zone]]\nname = \"zone %d\"\n", i+1)
	}
	for i := 0; i < steps; i += 4 {
		product := []string{"grey-epoxy", "build-2k", "silver-base", "glass-clear"}[i/4%4]
		fmt.Fprintf(&b, "[[step]]\ndo = \"sand\"\ngrit = \"P180\"\n[[step]]\ndo = \"clean\"\nwith = \"wax and grease remover\"\n[[step]]\ndo = \"tack\"\n[[step]]\ndo = \"spray\"\nproduct = %q\nthen_wait = \"2 h\"\n", product)
	}
	return b.String()
}

func TestALargeSheetIsCarriedOut(t *testing.T) {
	d := carry(t, bigSheet(9, 200)+cards(t))
	if len(d.Zones) != 10 || len(d.Contacts) != 10*50 || len(d.Touches) != 10*100 {
		t.Errorf("%d zones, %d contacts, %d touches", len(d.Zones), len(d.Contacts), len(d.Touches))
	}
}

// The time goes with the contacts. On two cores shared with other work:
// 30 steps × 5 zones, 200 × 10 and 1,000 × 50 (12,500 contacts, 50,000 acts).
func BenchmarkBuild(b *testing.B) {
	for _, size := range []struct{ zones, steps int }{{5, 30}, {10, 200}, {50, 1000}} {
		s := read(b, bigSheet(size.zones-1, size.steps)+cards(b))
		b.Run(fmt.Sprintf("%d-zones-%d-steps", size.zones, size.steps), func(b *testing.B) {
			for b.Loop() {
				if _, problems := stack.Build(s); len(problems) > 0 {
					b.Fatal(problems[0].Message)
				}
			}
		})
	}
}
