package trade

import (
	"encoding/json"
	"errors"
	"math"
	"os/exec"
	"testing"
)

// The Magnus form beside another program's iteration of ASHRAE's formulas. It
// needs node and the package that testdata/reference/node names; where either
// is missing it is skipped, and the continuous build installs both.
func TestDewPointAgreesWithASHRAEIteration(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here")
	}
	cmd := exec.Command(node, "psychrolib.mjs")
	cmd.Dir = referenceDir
	out, err := cmd.Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) && exit.ExitCode() == 3 {
		t.Skip("psychrolib is not installed: npm install --no-package-lock --prefix testdata/reference/node")
	}
	if err != nil {
		t.Fatalf("node psychrolib.mjs: %v", err)
	}
	var rows [][3]float64
	if err := json.Unmarshal(out, &rows); err != nil {
		t.Fatal(err)
	}
	compared := 0
	for _, row := range rows {
		air, humidity, want := row[0], row[1], row[2]
		// Under freezing ASHRAE gives the frost point, over ice; the Magnus
		// form of WMO-No. 8 stays over water.
		if want < 0 {
			continue
		}
		compared++
		if got := DewPoint(air, humidity); math.Abs(got-want) > 0.05 {
			t.Errorf("air %v °C, %v %%: %.3f °C, PsychroLib %.3f", air, humidity, got, want)
		}
	}
	if compared < 200 {
		t.Errorf("only %d of %d rows could be compared", compared, len(rows))
	}
}
