package rulebook

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"guidecoat/internal/sheet"
)

// The findings about waivers are the program's own: a stock OPA knows no day.
// Their texts stand in policies/paper/ like any rule's.
const (
	waiverWithoutReason = "waiver-without-reason"
	waiverExpired       = "waiver-expired"
	waiverUnused        = "waiver-unused"
)

// peopleDays is how far off the end of a people rule's waiver may be, where the
// stack has no such limit.
const peopleDays = 90

// waiving is what became of verdicts under a sheet's waivers.
type waiving struct {
	standing []verdict
	waived   []waivedGroup
	findings []verdict // about the waivers themselves
}

// waivedGroup is the verdicts that one waiver set aside.
type waivedGroup struct {
	by       Applied
	verdicts []verdict
}

// waive sets aside what the sheet's waivers name. It works on verdicts a zone
// each, before those fall together that differ in the zone alone, so that a
// waiver for one zone leaves the others.
func (j joining) waive(verdicts []verdict, today time.Time) waiving {
	w := waiving{standing: verdicts}
	for _, waiver := range j.sheet.Waivers {
		name := waiver.Rule.Value
		family := j.family(name)
		if family == "" {
			continue // no rule at all: that is an error of the sheet, told as one
		}
		rule, message, grade := j.fault(waiver, family, today)
		if rule != "" {
			w.findings = append(w.findings, j.aboutWaiver(rule, grade, waiver, message))
			continue
		}
		g := waivedGroup{by: applied(waiver)}
		used := false
		if !ownWaiverRule(name) {
			kept := make([]verdict, 0, len(w.standing))
			for _, v := range w.standing {
				if j.holds(waiver, v) {
					g.verdicts = append(g.verdicts, v)
				} else {
					kept = append(kept, v)
				}
			}
			w.standing = kept
			used = len(g.verdicts) > 0
			// What an earlier waiver has set aside already makes this one no less used.
			for _, earlier := range w.waived {
				used = used || slices.ContainsFunc(earlier.verdicts, func(v verdict) bool { return j.holds(waiver, v) })
			}
		}
		if len(g.verdicts) > 0 {
			w.waived = append(w.waived, g)
		}
		if !used {
			message := fmt.Sprintf("the waiver of %s%s sets nothing aside: %s", name, j.narrowed(waiver), j.whyUnused(waiver, verdicts))
			if ownWaiverRule(name) {
				message = fmt.Sprintf("the waiver of %s sets nothing aside: what is said about waivers cannot be waived", name)
			}
			w.findings = append(w.findings, j.aboutWaiver(waiverUnused, "advice", waiver, message))
		}
	}
	return w
}

// whyUnused is why a waiver that is in order names none of the verdicts.
func (j joining) whyUnused(w sheet.Waiver, verdicts []verdict) string {
	anywhere := w
	anywhere.Zone = sheet.Text{}
	for _, v := range verdicts {
		switch {
		case v.zone != "" || !j.holds(anywhere, v):
		case v.step > 0:
			return fmt.Sprintf("that rule speaks of step %d and all it works on, not of a zone; leave zone out of the waiver", v.step)
		default:
			return "that rule speaks of no zone; leave zone out of the waiver"
		}
	}
	return "the sheet does not break that rule there"
}

func ownWaiverRule(name string) bool {
	return name == waiverWithoutReason || name == waiverExpired || name == waiverUnused
}

// fault is why a waiver sets nothing aside, whatever it names: the rule that
// says so, its words and grade. The rule is "" when the waiver holds.
func (j joining) fault(w sheet.Waiver, family string, today time.Time) (rule, message, grade string) {
	name := w.Rule.Value
	if strings.TrimSpace(w.Reason.Value) == "" {
		return waiverWithoutReason, fmt.Sprintf("the waiver of %s gives no reason, so it sets nothing aside", name), "risk"
	}
	if family == people {
		by := strings.TrimSpace(w.By.Value) != ""
		days := j.peopleDays()
		switch {
		case !by && !w.Until.Written:
			return waiverWithoutReason, fmt.Sprintf("%s is about people: its waiver needs by and until, and has neither, so it sets nothing aside", name), "risk"
		case !by:
			return waiverWithoutReason, fmt.Sprintf("%s is about people: its waiver needs the name of who answers for it (by), so it sets nothing aside", name), "risk"
		case !w.Until.Written:
			return waiverWithoutReason, fmt.Sprintf("%s is about people: its waiver needs a last day (until), no more than %d days off, so it sets nothing aside", name, days), "risk"
		case day(w.Until.Value).After(day(today).AddDate(0, 0, days)):
			return waiverWithoutReason, fmt.Sprintf("%s is about people: its waiver runs until %s, more than %d days off, so it sets nothing aside", name, date(w.Until.Value), days), "risk"
		}
	}
	if w.Until.Written && day(today).After(day(w.Until.Value)) {
		return waiverExpired, fmt.Sprintf("the waiver of %s ended on %s, so it sets nothing aside", name, date(w.Until.Value)), "risk"
	}
	return "", "", ""
}

// peopleDays is the limit people_waiver in whole days.
func (j joining) peopleDays() int {
	l, ok := j.doc.Limits["people_waiver"]
	if !ok || l.Measure.Hi == nil {
		return peopleDays
	}
	return int(*l.Measure.Hi / (24 * 60))
}

// day is the date of a moment, its hour taken off.
func day(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

func date(t time.Time) string { return t.Format(time.DateOnly) }

// holds says whether a waiver that is in order names a verdict.
func (j joining) holds(w sheet.Waiver, v verdict) bool {
	if v.rule != w.Rule.Value {
		return false
	}
	if n, named := j.waiverStep(w); named && n != v.step {
		return false
	}
	return !w.Zone.Written || j.inZone(v, w.Zone.Value)
}

// inZone says whether all that a verdict speaks of lies in a zone: its own
// zone, or where it speaks of a step and no zone, all that the step works on.
func (j joining) inZone(v verdict, named string) bool {
	if v.zone != "" {
		return j.within(v.zone, named)
	}
	if v.step < 1 || v.step > len(j.doc.Steps) {
		return false
	}
	zones := j.doc.Steps[v.step-1].Zones
	return len(zones) > 0 && !slices.ContainsFunc(zones, func(zone string) bool { return !j.within(zone, named) })
}

// waiverStep is the step a waiver is narrowed to.
func (j joining) waiverStep(w sheet.Waiver) (n int, named bool) {
	if w.StepN > 0 {
		return w.StepN, true
	}
	if !w.Step.Written {
		return 0, false
	}
	for _, s := range j.sheet.Steps {
		if s.Call == w.Step.Value {
			return s.N, true
		}
	}
	return -1, true
}

// within says whether a zone is the one named, or was cut from it: as in a
// step, a zone's name reaches what was cut from it, and the name of a cut made
// in several zones reaches each of them.
func (j joining) within(zone, named string) bool {
	parents := map[string]string{}
	for _, z := range j.doc.Zones {
		parents[z.Name] = z.Parent
	}
	for at, left := zone, len(parents)+1; at != "" && left > 0; at, left = parents[at], left-1 {
		if at == named || (strings.HasPrefix(at, named+" (") && strings.HasSuffix(at, ")")) {
			return true
		}
	}
	return false
}

func (j joining) narrowed(w sheet.Waiver) string {
	s := ""
	if w.Step.Written {
		s += fmt.Sprintf(" at step %s", w.Step.Value)
	}
	if w.Zone.Written {
		s += fmt.Sprintf(" in %s", w.Zone.Value)
	}
	return s
}

// aboutWaiver is a verdict about a waiver itself. It stands on the rule that is
// waived, and the step and zone it is narrowed to.
func (j joining) aboutWaiver(rule, grade string, w sheet.Waiver, message string) verdict {
	on := w.Rule.Value
	if w.Zone.Written {
		on = w.Zone.Value + "/" + on
	}
	if w.Step.Written {
		on += "/" + w.Step.Value
	}
	v := verdict{
		rule: rule, family: "paper", on: on, grade: grade, certainty: "will", message: message,
		leaned: []string{}, mend: []Edit{}, place: w.Place,
	}
	if n, named := j.waiverStep(w); named && n > 0 {
		v.step = n
	}
	if w.Zone.Written {
		v.zone = w.Zone.Value
	}
	return v
}

func applied(w sheet.Waiver) Applied {
	a := Applied{Reason: strings.TrimSpace(w.Reason.Value)}
	if w.By.Written {
		by := w.By.Value
		a.By = &by
	}
	if w.Until.Written {
		until := date(w.Until.Value)
		a.Until = &until
	}
	return a
}

// CheckNames tells of waivers and house grades that name no rule there is, ours
// or the shop's, each at its place.
func (b *Book) CheckNames(s *sheet.Sheet, house *House) []sheet.Problem {
	var out []sheet.Problem
	known := map[string]string{}
	for name, e := range b.rules {
		known[name] = e.family
	}
	if house != nil {
		for name, r := range house.rules {
			known[name] = r.Family
		}
	}
	check := func(name string, at sheet.Place, key string) {
		if _, ok := known[name]; name != "" && !ok {
			out = append(out, sheet.UnknownRule(at, key, name, known))
		}
	}
	for i, w := range s.Waivers {
		at := w.Rule.Place
		if at.Line == 0 {
			at = w.Place
		}
		check(w.Rule.Value, at, fmt.Sprintf("waiver[%d].rule", i+1))
	}
	if s.House != nil {
		for _, g := range s.House.Grades {
			check(g.Rule, g.Place, "grades."+g.Rule)
		}
	}
	return out
}
