package guidecoat.weather["weather-not-written_test"]

import data.guidecoat.weather["weather-not-written"] as rule

lay(n, air, panel, humidity) := {
	"id": sprintf("%d", [n]), "step": n, "name": "grey (epoxy primer)",
	"air": air, "panel": panel, "humidity": humidity, "place": {"line": n},
}

written := {"text": "72 °F"}

found(lays) := vs if {
	vs := rule.verdict with input as {"lays": lays}
}

test_a_missing_humidity_is_advice if {
	some v in found([lay(3, written, written, null)])
	v.grade == "advice"
	v.certainty == "will"
	v.on == "3"
	v.step == 3
	v.message == "nobody says how damp the air is when grey (epoxy primer) is laid, so the dew point cannot be told"
}

test_a_missing_panel_is_advice if {
	some v in found([lay(3, written, null, written)])
	contains(v.message, "how warm the panel is")
}

test_a_missing_air_is_advice if {
	some v in found([lay(3, null, written, written)])
	contains(v.message, "how warm the air is")
}

test_all_three_missing_are_told_together if {
	vs := found([lay(3, null, null, null)])
	count(vs) == 1
	some v in vs
	contains(v.message, "how warm the air is or how warm the panel is or how damp the air is")
}

test_the_same_gap_in_every_step_is_told_once_at_the_first if {
	vs := found([lay(3, written, written, null), lay(5, written, written, null)])
	count(vs) == 1
	some v in vs
	v.step == 3
	contains(v.message, "(and in later steps)")
}

test_different_gaps_are_told_apart if {
	count(found([lay(3, written, written, null), lay(5, written, null, written)])) == 2
}

test_weather_written_for_every_film_is_silent if {
	count(found([lay(3, written, written, written), lay(5, written, written, written)])) == 0
}

test_a_sheet_that_lays_no_film_is_silent if count(found([])) == 0

test_each_gap_stands_at_the_first_film_laid_with_it if {
	vs := found([lay(3, written, written, null), lay(5, written, null, written)])
	{[v.step, contains(v.message, "how damp"), contains(v.message, "later steps")] | some v in vs} == {[3, true, false], [5, false, false]}
}
