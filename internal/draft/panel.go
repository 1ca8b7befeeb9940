package draft

import (
	"math"
	"slices"
	"strings"

	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// The existing finishes that may hold lead, and those of which nobody knows how they hold.
var (
	mayHoldLead = map[string]bool{"aged enamel": true, "aged lacquer": true, "unknown finish": true}
	doubted     = map[string]bool{"aged enamel": true, "aged lacquer": true, "unknown finish": true}
)

func (s *searcher) maybeLead() bool {
	for _, c := range s.base.Panel.Carries {
		if mayHoldLead[c.Kind] {
			return true
		}
	}
	return false
}

// cleaners are what wipes are tried with, one a kind, the likeliest first. ""
// is no wipe at all, where the shelf has no cleaner.
func (s *searcher) cleaners() []string {
	kinds := []string{"wax and grease remover", "waterborne cleaner", "plastic cleaner"}
	if trade.KindOf(s.base.Panel.Substrate.Value).Has("plastic") {
		kinds = []string{"plastic cleaner", "wax and grease remover", "waterborne cleaner"}
	}
	var found []string
	for _, k := range kinds {
		if names := s.helpers(k); len(names) > 0 {
			found = append(found, names[0])
		}
	}
	if len(found) == 0 {
		found = []string{""}
	}
	return found
}

// helpers are the cards of a kind of helper, by name.
func (s *searcher) helpers(kind string) []string {
	var names []string
	for _, name := range s.base.CardNames {
		if s.base.Cards[name].Kind == kind {
			names = append(names, name)
		}
	}
	return names
}

// wipe is a clean with the cleaner of a node; which one is filled in when the
// step is put down. It is left as long as the rulebook's own offered wipes are.
func (s *searcher) wipe() step {
	wait := s.limit("water_flash")
	if s.base.Panel.Substrate.Value == "fiberglass" && len(s.base.Panel.Carries) == 0 {
		wait = math.Max(wait, s.limit("porous_dry_out")) // abraded, it drinks
	}
	return step{do: "clean", wear: wearWipe, wait: wait}
}

// arrival is what is done to the whole panel before anything else: the stops
// to measure, and the first wash.
func (s *searcher) arrival() []step {
	var steps []step
	var measures, says []string
	p := s.base.Panel
	if s.maybeLead() {
		measures = append(measures, "lead")
		says = append(says, "Test a chip down to the metal for lead before the first disc touches it.")
	}
	if len(p.Carries) > 0 {
		measures = append(measures, "film")
	}
	if s.keeps() && s.doubtful() {
		measures = append(measures, "adhesion", "solvent rub")
		says = append(says, "Cut a cross and pull tape; rub with a solvent rag. Where it lets go or softens the old finish comes off, and a sheet that keeps it is not the one.")
	}
	substrate := trade.KindOf(p.Substrate.Value)
	if substrate.Has("plastic") {
		measures = append(measures, "plastic type")
		says = append(says, "Read the mark molded into the back of the part.")
	}
	if len(measures) > 0 {
		steps = append(steps, step{do: "inspect", says: strings.Join(says, " ")}.raw("measure", list(measures)))
	}
	top := substrate
	if len(p.Carries) > 0 {
		top = trade.KindOf(p.Carries[len(p.Carries)-1].Kind)
	}
	if top != nil && (top.Has("plastic") || top.Has("composite")) {
		st := step{do: "clean", wait: 60, wear: []string{"gloves", "eye protection"}}.text("with", "soap and water")
		st.says = "Wash the mold release off, rinse, let it dry all through."
		steps = append(steps, st)
	}
	first := s.wipe()
	first.why = []string{"Degrease before anything is abraded, or the wax goes into the scratch."}
	return append(steps, first)
}

// doubtful says whether it has to be tried how the old finish holds.
func (s *searcher) doubtful() bool {
	return slices.ContainsFunc(s.base.Panel.Carries, func(c sheet.Carried) bool { return doubted[c.Kind] || c.Condition != "sound" })
}

// limit is a named limit of the rulebook as this shop has it, in its canonical unit.
func (s *searcher) limit(name string) float64 { return s.limits[name].Measure.Lo }

// limitText is the same in words.
func (s *searcher) limitText(name string) string { return s.limits[name].Measure.Text }
