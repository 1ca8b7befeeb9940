package guidecoat.mix["voc-over-limit_test"]

import data.guidecoat.mix["voc-over-limit"] as rule

# A VOC figure whose ratio to the published one, 250 g/L, runs from lo to hi.
figure(lo, hi) := {
	"sense": "most", "open": false, "source": "limit", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "420 g/L", "shown": {"lo": 420, "hi": 420, "unit": "g/L"}},
	"limit": {"text": "250 g/L", "shown": {"lo": 250, "hi": 250, "unit": "g/L"}},
}

found(binds, compared) := vs if {
	vs := rule.verdict with input as {
		"vocs": [{
			"id": "5", "steps": [5, 6], "name": "gloss (urethane clear)", "binds": binds,
			"category": "clear", "source": "Q-2 r. 4.1 s. 38", "compared": compared, "place": {"line": 40},
		}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_over_a_figure_that_binds_the_user_fails if {
	some v in found("user", figure(1.68, 1.68))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "5"
	v.step == 5
	v.message == "gloss (urethane clear) as applied holds 420 g/L of VOC; the figure for 'clear' is 250 g/L (Q-2 r. 4.1 s. 38)"
}

test_over_a_figure_that_binds_the_maker_is_a_risk if {
	some v in found("maker", figure(1.68, 1.68))
	v.grade == "risk"
	v.certainty == "will"
}

test_a_range_that_reaches_over_the_figure_may_be if {
	some v in found("user", figure(0.9, 1.68))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_hair_over_has_no_grace if {
	some v in found("user", figure(1.01, 1.01))
	v.grade == "fails"
}

test_exactly_the_figure_is_silent if count(found("user", figure(1, 1))) == 0

test_a_mix_with_an_unknown_part_is_silent if {
	count(found("user", object.union(figure(0, null), {"open": true}))) == 0
}

test_the_message_is_about_the_mix_and_blames_nobody if {
	some v in found("user", figure(1.68, 1.68))
	every word in ["illegal", "law", "violat", "guilt", "you"] { not contains(v.message, word) }
}
