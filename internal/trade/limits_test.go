package trade

import (
	"errors"
	"strings"
	"testing"

	"guidecoat/internal/quantity"
)

func TestEveryLimitReads(t *testing.T) {
	if err := LoadError(); err != nil {
		t.Fatal(err)
	}
	if len(Limits()) == 0 {
		t.Fatal("no limits")
	}
	for i, l := range Limits() {
		if l.About == "" || l.Source == "" {
			t.Errorf("%s: about %q, source %q", l.Name, l.About, l.Source)
		}
		if i > 0 && Limits()[i-1].Name >= l.Name {
			t.Errorf("%s is out of order", l.Name)
		}
		for _, v := range []LimitValue{l.Restoration, l.Collision} {
			if !v.Written || v.Dim == 0 || v.IsOpen() || v.Until != "" {
				t.Errorf("%s: %+v is no number to compare with", l.Name, v)
			}
			// What the rulebook writes, a house may write too.
			text := v.Text
			again, err := l.ParseHouse(text)
			if err != nil || again.Interval != v.Interval || again.Grade.Name != v.Grade.Name {
				t.Errorf("%s: a house that writes %q gets %v, %v", l.Name, text, again, err)
			}
		}
		if l.Differs == (l.Restoration.Interval == l.Collision.Interval) {
			t.Errorf("%s: differs is %v between %v and %v", l.Name, l.Differs, l.Restoration, l.Collision)
		}
		if got, ok := LimitNamed(l.Name); !ok || got.Name != l.Name {
			t.Errorf("LimitNamed(%q) finds %v", l.Name, got)
		}
	}
}

func TestLimitsAreWhatTheRulebookSays(t *testing.T) {
	// 3-rulebook.md, worked out in canonical units.
	for _, tt := range []struct {
		name, work string
		dim        quantity.Dimension
		want       quantity.Interval
		text       string
	}{
		{"bare_steel_open", "restoration", quantity.Time, quantity.Exactly(480), "8 h"},
		{"stack_max", "restoration", quantity.Film, quantity.Exactly(20), "20 mil"},
		{"stack_max", "collision", quantity.Film, quantity.Exactly(12), "12 mil"},
		{"porous_open", "restoration", quantity.Time, quantity.Exactly(10080), "7 days"},
		{"porous_open", "collision", quantity.Time, quantity.Exactly(2880), "2 days"},
		{"filler_max", "collision", quantity.Film, quantity.Exactly(250), "0.25 in"},
		{"dew_margin", "restoration", quantity.TempMargin, quantity.Exactly(3), "3 °C"},
		{"spot_metal_typical", "restoration", quantity.Area, quantity.Exactly(4.0 / 144), "4 in2"},
		{"grade_step", "restoration", quantity.Count, quantity.Exactly(2.7), "2.7"},
		{"dry_abrasive", "restoration", quantity.Particle, quantity.Exactly(82), "P180"},
		{"ratio_tolerance", "restoration", quantity.Share, quantity.Exactly(5), "5 %"},
		{"transfer_hvlp", "restoration", quantity.Share, quantity.Interval{Lo: 60, Hi: 70}, "60 - 70 %"},
		{"temperature_high_typical", "restoration", quantity.Temperature, quantity.Exactly(35), "95 °F"},
	} {
		l, ok := LimitNamed(tt.name)
		v := l.For(tt.work)
		if !ok || v.Dim != tt.dim || v.Interval != tt.want || v.String() != tt.text {
			t.Errorf("%s in %s is %v %v (%s), want %v (%s)", tt.name, tt.work, v.Dim, v.Interval, v, tt.want, tt.text)
		}
	}
	if _, ok := LimitNamed("no_such_limit"); ok {
		t.Error("a limit that is none")
	}
}

func TestAHouseMayReplaceALimitByOneOfItsKind(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"bare_steel_open", "4 h", "4 h"},
		{"bare_steel_open", "240 min", "240 min"},
		{"stack_max", "400 µm", "400 µm"},
		{"dry_abrasive", "P120", "P120"},
		{"dry_abrasive", "180 grit", "180 grit"},
		{"grade_step", "2.5", "2.5"},
		{"dew_margin", "5 F", "5 °F"},
		{"transfer_hvlp", "65 %", "65 %"},
	} {
		l, _ := LimitNamed(tt.name)
		if v, err := l.ParseHouse(tt.text); err != nil || v.String() != tt.want {
			t.Errorf("%s = %q gives %v, %v; want %s", tt.name, tt.text, v, err, tt.want)
		}
	}
	for _, tt := range []struct{ name, text, problem string }{
		{"bare_steel_open", "4", "no unit"},
		{"bare_steel_open", "4 mil", "a time is wanted"},
		{"bare_steel_open", "2-4 h", "one number"},
		{"bare_steel_open", "any", "no upper end"},
		{"bare_steel_open", "at least 4 h", "no upper end"},
		{"bare_steel_open", "until matte", "condition"},
		{"bare_steel_open", "overnight", "one number"},
		{"bare_steel_open", "-4 h", "negative"},
		{"dry_abrasive", "P181", "no grade"},
		{"dry_abrasive", "very fine pad", "is a pad"},
		{"dry_abrasive", "80 µm", "no abrasive grade"},
		{"grade_step", "0", "is nothing"},
		{"grade_step", "2.5 mil", "plain number"},
	} {
		l, _ := LimitNamed(tt.name)
		v, err := l.ParseHouse(tt.text)
		var e *quantity.Error
		if !errors.As(err, &e) || !strings.Contains(e.Problem, tt.problem) || e.Want == "" {
			t.Errorf("%s = %q gives %v, %v; want a problem with %q", tt.name, tt.text, v, err, tt.problem)
		}
	}
}

func TestNearLimitsNamesTheLikeliest(t *testing.T) {
	for said, want := range map[string]string{
		"steel_open":      "bare_steel_open",
		"stack-max":       "stack_max",
		"bare_stel_open":  "bare_steel_open",
		"filler_maximum":  "filler_max",
		"wipe_good":       "wipe_good_for",
		"porous dry out":  "porous_dry_out",
		"ratio_tolerence": "ratio_tolerance",
	} {
		if near := NearLimits(said); len(near) == 0 || len(near) > 3 || near[0] != want {
			t.Errorf("NearLimits(%q) = %q, want %s first", said, near, want)
		}
	}
	if near := NearLimits("zzzzzz"); len(near) != 0 {
		t.Errorf("NearLimits(zzzzzz) = %q", near)
	}
}

func TestALimitThatIsBrokenSaysSo(t *testing.T) {
	for name, tt := range map[string]struct{ data, want string }{
		"no JSON":             {`{`, "reading the limits"},
		"no value":            {`{"limits": {"a": {}}}`, "limit a: it needs a value"},
		"one work only":       {`{"limits": {"a": {"restoration": "1 h"}}}`, "limit a: it needs a value"},
		"value and works":     {`{"limits": {"a": {"value": "1 h", "collision": "1 h"}}}`, "limit a: it needs a value"},
		"no unit":             {`{"limits": {"a": {"value": "1"}}}`, `"1" is no quantity`},
		"a bad second value":  {`{"limits": {"a": {"restoration": "1 h", "collision": "x"}}}`, `"x" is no quantity`},
		"two different kinds": {`{"limits": {"a": {"restoration": "1 h", "collision": "1 mil"}}}`, "different things"},
		"a truth":             {`{"limits": {"a": {"value": true}}}`, "neither a number nor a text"},
	} {
		if _, err := readLimits([]byte(tt.data)); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q in it", name, err, tt.want)
		}
	}
}
