package guidecoat.lib_test

import data.guidecoat.lib

layers := {"3:grey": {"steps": [3, 5]}, "0.1:e-coat": {"steps": []}}

test_a_layer_of_two_steps_is_laid_at_the_later if lib.laid_last("3:grey") == 5 with input.layers_by_id as layers

test_the_wait_is_written_after_the_last_coat if {
	lib.waited("3:grey", "1 h") == [{"edit": "set", "step": 5, "key": "then_wait", "value": "1 h"}] with input.layers_by_id as layers
}

test_what_was_there_has_no_step_to_wait_after if lib.waited("0.1:e-coat", "1 h") == [] with input.layers_by_id as layers

both := {"3:grey": [{"id": "panel/3:grey"}, {"id": "dent/3:grey"}]}

test_a_lay_makes_the_contacts_of_its_own_zones if {
	lib.laid({"layer": "3:grey", "contacts": ["dent/3:grey"]}) == [{"id": "dent/3:grey"}] with input.contacts_by_upper as both
}

test_a_laying_stands_at_its_own_step_of_the_layer if {
	c := {"id": "dent/3:grey", "zone": "dent", "step": 3, "upper": "3:grey", "lower": "0:mild-steel", "place": {"line": 1}}
	lib.at_laying({"step": 5, "place": {"line": 9}}, c) == {
		"on": "dent/3:grey", "zone": "dent", "step": 5,
		"rests": {"upper": "3:grey", "lower": "0:mild-steel"},
		"place": {"line": 9},
	}
}

test_of_several_breaches_the_sure_one_is_spoken_of if {
	lib.worse([null, least(1, 1), least(0.5, 1.5), least(0.4, 0.4)]) == least(0.4, 0.4)
}

test_a_possible_breach_is_spoken_of_where_none_is_sure if {
	lib.worse([least(1, 1), least(0.5, 1.5)]) == least(0.5, 1.5)
}

test_nothing_broken_is_not_spoken_of if not lib.worse([null, least(1, 1)])

test_a_baked_film_stands_on_itself_at_the_bake if {
	lib.at_baked({"id": "7", "step": 7, "place": {"line": 50}}, {"zone": "panel", "layer": "3:grey"}) == {
		"on": "panel/3:grey", "zone": "panel", "step": 7,
		"rests": {"lower": "3:grey", "step": "7"},
		"place": {"line": 50},
	}
}

test_one_coat_more_is_offered_where_one_step_lays_the_film if {
	lays := [
		{"layer": "3:grey", "step": 3, "coats_more": 3, "coats_enough": 2},
		{"layer": "4:red", "step": 4, "coats_more": 2, "coats_enough": 0},
	]
	lib.coated("3:grey") == [{"edit": "set", "step": 3, "key": "coats", "value": 3}] with input.lays as lays
	lib.coated("4:red") == [] with input.lays as lays
}

test_clear_and_color_are_scuffed_finer_than_a_primer if {
	every class, pad in {"color": "very fine pad", "clear": "very fine pad", "primer": "fine pad"} {
		lib.grip_for({"upper_kind": "", "upper_traits": {"class": class}}).pad == pad
	}
}
