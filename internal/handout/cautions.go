package handout

import (
	"slices"
	"strings"

	"guidecoat/internal/stack"
)

// caution is what a hazard asks for, with a signal word of ANSI Z535.
type caution struct {
	name         string
	signal, text string
	short        string // what to do, for beside a step
	source       []string
}

// heed ends every caution on the page.
const heed = "Follow the safety data sheet, the local code and licensed practice."

var fromTheTrade = []string{"common practice"}

// cautions are the usual ones, by hazard as a card writes it, and for the
// hazards that come from the act and not from a can.
var cautions = map[string]caution{
	"isocyanate": {"Isocyanate", "WARNING", "Its mist can cause lasting and sometimes fatal lung disease, and gives no warning by smell. Supplied air, extraction on, skin and eyes covered.",
		"supplied air, extraction on, skin and eyes covered", []string{"US EPA 744-F-00-007 (read)", "Safe Work Australia 2020 (read)", "NIOSH 96-111 (read)"}},
	"epoxy hardener": {"Epoxy hardener", "WARNING", "On the skin it can bring on a rash that comes back for life. Gloves, arms and eyes covered; wash splashes off at once.",
		"gloves, arms and eyes covered; wash splashes off at once", fromTheTrade},
	"chromate": {"Chromate", "WARNING", "Its mist and dust can cause cancer. A respirator fit for it; keep the dust wet or drawn off.",
		"a respirator fit for it; dust wet or drawn off", []string{"29 CFR 1910.1026 (second)"}},
	"lead": {"Lead", "WARNING", "Its dust poisons whoever breathes or swallows it, and those at home. A respirator fit for it, no dry sweeping, wash before eating, work clothes stay in the shop.",
		"a respirator fit for it, no dry sweeping, wash before eating", []string{"29 CFR 1910.1025 (from memory)"}},
	"acid": {"Acid", "WARNING", "It burns skin and eyes. Gloves, eyes covered; rinse splashes with plenty of water at once and see a doctor.",
		"gloves, eyes covered; rinse splashes with plenty of water at once", fromTheTrade},
	"fluoride": {"Acid with fluoride", "DANGER", "It burns to the bone and may not hurt at first. Rinse with plenty of water and see a doctor without delay.",
		"rinse a splash with plenty of water and see a doctor without delay", fromTheTrade},
	"caustic": {"Caustic", "WARNING", "It eats skin and eyes. Gloves, eyes covered; rinse splashes with plenty of water at once and see a doctor.",
		"gloves, eyes covered; rinse splashes with plenty of water at once", fromTheTrade},
	"peroxide": {"Peroxide hardener", "WARNING", "A splash can blind an eye, and it feeds a fire. Eyes covered; rinse for 15 minutes and see a doctor; keep it from heat and from other hardeners.",
		"eyes covered; keep it from heat and from other hardeners", fromTheTrade},
	"styrene": {"Styrene", "WARNING", "Its vapor makes dizzy and harms the nerves. Keep air moving, and wear a respirator fit for vapor.",
		"air moving, and a respirator fit for vapor", fromTheTrade},
	"flammable": {"Flammable", "DANGER", "A flame or spark in its vapor can kill. No sparks, no heaters, no smoking; extraction on; used rags into a shut metal can.",
		"no sparks, no heaters, no smoking; extraction on", fromTheTrade},
	"silica": {"Silica", "WARNING", "Its dust scars the lungs for good. A respirator fit for it; draw the dust off or keep it wet.",
		"a respirator fit for it; dust wet or drawn off", fromTheTrade},

	dust: {"Dust", "WARNING", "Dust of old paint, primer and filler can cause lasting lung disease; old paint may hold lead, and some primers chromate. A respirator fit for it, and extraction at the tool.",
		"a respirator fit for it, and extraction at the tool", fromTheTrade},
	stripper: {"Stripper", "WARNING", "It burns skin and eyes, and its vapor in a closed space can kill. Gloves, apron, eyes covered, air moving.",
		"gloves, apron, eyes covered, air moving", fromTheTrade},
	welding: {"Welding", "WARNING", "Sparks glow on and start fires an hour later, and the fume of zinc and old paint is poison. Clear the place, have water by, draw the fume off.",
		"clear the place, have water by, draw the fume off", fromTheTrade},
	oldPaint: {"Old paint", "WARNING", "Old enamel, old lacquer, unknown finishes and body solder may hold lead, and their dust poisons whoever breathes or swallows it, and those at home. Test first; a respirator fit for lead, no dry sweeping, wash before eating, work clothes stay in the shop.",
		"it may hold lead: test first, a respirator fit for it, no dry sweeping, wash before eating", []string{"29 CFR 1910.1025 (from memory)", "common practice"}},
	solder: {"Body solder", "WARNING", "It may hold lead, and its flux burns skin and eyes. Draw the fume off, gloves, eyes covered, wash before eating.",
		"it may hold lead: draw the fume off, gloves, eyes covered, wash before eating", []string{"29 CFR 1910.1025 (from memory)", "common practice"}},
	neutralizer: {"Neutralizer", "WARNING", "It can burn skin and eyes as the acid does. Gloves, eyes covered; rinse splashes with plenty of water at once and see a doctor.",
		"gloves, eyes covered; rinse splashes with plenty of water at once", fromTheTrade},
	heat: {"Heat", "CAUTION", "Hot metal and lamps burn, and heat sets off the vapor of a wet film. Let the film flash first; keep cans, rags and masking paper away from the lamp.",
		"let the film flash first; keep cans, rags and paper away from the lamp", fromTheTrade},
}

const (
	dust        = "dust"
	oldPaint    = "old paint"
	stripper    = "stripper"
	welding     = "welding"
	solder      = "solder"
	neutralizer = "neutralizer"
	heat        = "heat"
)

// hazardsOf are the hazards of a step: of what is in its cup or on its rag, of
// the films it turns to dust, and of the act itself, the gravest first.
func hazardsOf(st stack.Step, cup *stack.Mix) []string {
	all := slices.Clone(st.Hazards)
	if cup != nil {
		all = append(all, cup.Hazards...)
	}
	if st.Dusty {
		all = append(all, dust)
		for _, w := range st.Worked {
			if mayHoldLead[w.Kind] {
				all = append(all, oldPaint)
			}
			for _, h := range w.Hazards {
				if inDust[h] {
					all = append(all, h)
				}
			}
		}
	}
	for _, act := range []struct {
		is     bool
		hazard string
	}{
		{st.Tool == "chemical stripper", stripper},
		{st.Welding, welding},
		{st.Do == "solder", solder},
		{st.Do == "neutralize", neutralizer},
		{st.Do == "bake", heat},
	} {
		if act.is {
			all = append(all, act.hazard)
		}
	}
	all = slices.DeleteFunc(all, func(h string) bool { _, known := cautions[h]; return !known })
	slices.SortFunc(all, graver)
	return slices.Compact(all)
}

// inDust are the hazards of a film that are still there when it is cured and
// sanded.
var inDust = map[string]bool{"chromate": true, "lead": true, "silica": true}

// mayHoldLead are the kinds whose dust is lead's until a test says otherwise.
var mayHoldLead = map[string]bool{"aged enamel": true, "aged lacquer": true, "unknown finish": true, "body solder": true}

// graver orders hazards, the gravest first, and by name among equals.
func graver(x, y string) int {
	a, b := cautions[x], cautions[y]
	if d := slices.Index(signals, a.signal) - slices.Index(signals, b.signal); d != 0 {
		return d
	}
	return strings.Compare(a.name, b.name)
}

// signals, the gravest first.
var signals = []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}
