package guidecoat.clock["color-before-settled_test"]

import data.guidecoat.clock["color-before-settled"] as rule

# An age whose ratio to the settling time, 16 h, runs from lo to hi.
aged(lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "10 h", "shown": {"lo": 10, "hi": 10, "unit": "h"}},
	"limit": {"text": "16 h", "shown": {"lo": 16, "hi": 16, "unit": "h"}},
}

settling(age) := {"age": age, "baked": false, "doubled": false}

film(s, more) := object.union(
	{
		"layer": "4:build", "name": "build (urethane surfacer)", "traits": {"class": "surfacer"}, "step": 4,
		"blocked": true, "age": {"text": "10 h"}, "settling": s,
	},
	more,
)

sealer := {"layer": "6:seal", "name": "seal", "traits": {"class": "sealer"}, "step": 6, "blocked": false, "settling": null}

contact(class, beneath) := {
	"id": "panel/7:blue", "zone": "panel", "step": 7, "upper": "7:blue", "lower": "6:seal",
	"upper_name": "blue (solvent basecoat)", "upper_traits": {"class": class}, "beneath": beneath, "place": {},
}

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts_under_color": [c],
		"layers_by_id": {"4:build": {"steps": [4]}},
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

over(s) := found(contact("color", [film(s, {})]))

test_color_over_a_blocked_film_too_young_is_a_risk if {
	some v in over(settling(aged(0.63, 0.63)))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/7:blue"
	v.message == "blue (solvent basecoat) goes over build (urethane surfacer), which is 10 h old and was blocked; it settles for 16 h"
	v.mend == [{"edit": "set", "step": 4, "key": "then_wait", "value": "16 h"}]
}

test_a_sealer_between_does_not_help if {
	count(found(contact("color", [film(settling(aged(0.63, 0.63)), {}), sealer]))) == 1
}

test_an_age_that_may_be_too_young_may_be if {
	some v in over(settling(aged(0.63, 2)))
	v.certainty == "may"
}

test_a_typical_time_is_said if {
	some v in over(settling(object.union(aged(0.63, 0.63), {"leaned": ["build.settles"]})))
	v.certainty == "may"
	v.leaned == ["build.settles"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_a_film_over_its_range_settles_twice_as_long if {
	some v in over(object.union(settling(aged(0.63, 0.63)), {"doubled": true}))
	contains(v.message, "twice as long as usual")
}

test_exactly_the_time_is_silent if count(over(settling(aged(1, 1)))) == 0

test_an_age_nobody_wrote_is_silent if count(over(settling(object.union(aged(0, null), {"open": true})))) == 0

test_a_bake_to_the_schedule_counts_as_settled if {
	count(over(object.union(settling(aged(0.63, 0.63)), {"baked": true}))) == 0
}

test_a_film_that_was_not_blocked_is_silent if {
	count(found(contact("color", [film(settling(aged(0.63, 0.63)), {"blocked": false})]))) == 0
}

test_a_film_that_does_not_settle_is_silent if {
	count(over(null)) == 0
	count(over(settling(null))) == 0
}

test_clear_is_no_color if {
	count(found(contact("clear", [film(settling(aged(0.63, 0.63)), {})]))) == 0
}

test_the_first_color_speaks_for_those_after_it if {
	base := {"layer": "6:base", "name": "base", "traits": {"class": "color"}, "step": 6, "blocked": false, "settling": null}
	count(found(contact("color", [film(settling(aged(0.63, 0.63)), {}), base]))) == 0
}

test_color_beneath_the_film_does_not_speak_for_it if {
	base := {"layer": "2:base", "name": "base", "traits": {"class": "color"}, "step": 2, "blocked": false, "settling": null}
	count(found(contact("color", [base, film(settling(aged(0.63, 0.63)), {})]))) == 1
}

test_of_two_films_too_young_the_one_laid_last_is_told_of if {
	vs := found(contact("color", [
		film(settling(aged(0.4, 0.4)), {"layer": "2:grey", "name": "grey (epoxy primer)", "step": 2}),
		film(settling(aged(0.63, 0.63)), {}),
	]))
	count(vs) == 1
	some v in vs
	contains(v.message, "goes over build (urethane surfacer)")
}

test_color_on_color_that_was_blocked_and_settles_is_no_exception if {
	count(found(contact("color", [film(settling(aged(0.5, 0.5)), {"traits": {"class": "color"}})]))) == 1
}
