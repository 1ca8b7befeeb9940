package plan

import (
	"testing"

	"pgregory.net/rapid"
)

func TestAnActStartsWithinTheWorkingDay(t *testing.T) {
	day := Day{Opens: 8 * 60, Shuts: 17 * 60}
	const h = 3600
	for _, c := range []struct {
		name     string
		t, lasts int64
		at       int64
		overruns bool
	}{
		{"before the shop opens, it waits for the opening", 3 * h, h, 8 * h, false},
		{"in the day, it starts at once", 10 * h, h, 10 * h, false},
		{"it may end as the shop shuts", 16 * h, h, 16 * h, false},
		{"one that would end after hours waits for the morning", 16*h + 1, h, 32 * h, false},
		{"an act of no written length may not start as the shop shuts", 17 * h, 0, 32 * h, false},
		{"at night it waits for the next morning", 23 * h, h, 32 * h, false},
		{"one longer than the day starts in the morning and overruns", 9 * h, 10 * h, 32 * h, true},
		{"one longer than the day starts at the opening if it is due by then", 8 * h, 10 * h, 8 * h, true},
		{"on a later day the hours are the same", 24*h + 10*h, h, 24*h + 10*h, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if at, over := day.starts(c.t, c.lasts); at != c.at || over != c.overruns {
				t.Errorf("starts at %d (overruns %v), and should at %d (%v)", at, over, c.at, c.overruns)
			}
		})
	}
	if at, over := (Day{Shuts: 1440}).starts(23*h, 30*h); at != 23*h || over {
		t.Errorf("a shop that never shuts makes it wait until %d (%v)", at, over)
	}
}

// Both ends of a plan rest on this: what is due later, or lasts longer, never starts sooner.
func TestALaterOrLongerActNeverStartsSooner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		opens := rapid.IntRange(0, 1439).Draw(t, "opens")
		day := Day{Opens: opens, Shuts: rapid.IntRange(opens+1, 1440).Draw(t, "shuts")}
		due := rapid.Int64Range(0, 1e6).Draw(t, "due")
		lasts := rapid.Int64Range(0, 2e5).Draw(t, "lasts")
		at, over := day.starts(due, lasts)
		off := at % secondsADay
		if at < due {
			t.Fatalf("due at %d it starts at %d", due, at)
		}
		full := day == Day{Shuts: 1440}
		if !full && (off < int64(day.Opens)*60 || off >= int64(day.Shuts)*60 || !over && off+lasts > int64(day.Shuts)*60) {
			t.Fatalf("it starts at %d of the day, out of hours", off)
		}
		later, _ := day.starts(due+rapid.Int64Range(0, 1e5).Draw(t, "later"), lasts)
		longer, _ := day.starts(due, lasts+rapid.Int64Range(0, 1e5).Draw(t, "longer"))
		if later < at || longer < at {
			t.Fatalf("it starts at %d; due later at %d; lasting longer at %d", at, later, longer)
		}
	})
}
