package guidecoat.substrate["rust-left-in-place_test"]

import data.guidecoat.substrate["rust-left-in-place"] as rule

contact(rust) := {
	"id": "panel/4:grey", "zone": "panel", "step": 4, "upper": "4:grey", "lower": "0:mild-steel", "upper_name": "grey",
	"lower_name": "mild steel", "wipes": [], "place": {}, "prep": {"last_abraded_step": 2}, "rust": rust,
}

rusty(how, more) := contact(object.union(
	{
		"rust": how, "blasted": false, "sanded": false, "acid_wash": false, "converter": false, "metalwork": false,
	},
	more,
))

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "limits": {"rust_sanded": {"measure": {"text": "P80"}}}}
}

fails(c) if {
	some v in found(c)
	v.grade == "fails"
	v.certainty == "will"
}

test_light_rust_left_alone_fails if fails(rusty("light", {}))

test_light_rust_is_dealt_with_by_any_one if {
	every act in ["blasted", "sanded", "acid_wash", "converter"] {
		found(rusty("light", {act: true})) == set()
	}
}

test_pitted_rust_left_alone_fails if fails(rusty("pitted", {}))

test_pitted_rust_only_sanded_fails if {
	fails(rusty("pitted", {"sanded": true}))
	some v in found(rusty("pitted", {"sanded": true}))
	contains(v.message, "sanding alone")
	v.mend[0].set == {"do": "treat", "with_kind": "acid wash"}
}

test_pitted_rust_only_acid_washed_or_converted_fails if {
	fails(rusty("pitted", {"acid_wash": true}))
	fails(rusty("pitted", {"converter": true}))
}

test_pitted_rust_blasted_is_silent if found(rusty("pitted", {"blasted": true})) == set()

test_pitted_rust_sanded_and_acid_washed_or_converted_is_silent if {
	found(rusty("pitted", {"sanded": true, "acid_wash": true})) == set()
	found(rusty("pitted", {"sanded": true, "converter": true})) == set()
}

test_holes_count_as_pitted if {
	fails(rusty("holes", {"sanded": true}))
	found(rusty("holes", {"blasted": true})) == set()
}

test_no_rust_is_silent if found(contact(null)) == set()

test_light_rust_is_mended_by_sanding if {
	some v in found(rusty("light", {}))
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "sand", "grit": "P80"}}]
}

test_acid_is_offered_after_the_sanding_where_there_was_one if {
	some v in found(object.union(rusty("pitted", {"sanded": true}), {"prep": {"last_abraded_step": 1}}))
	[[e.where, e.step, e.set.do] | some e in v.mend] == [["after", 1, "treat"]]
	every prep in [null, {"last_abraded_step": 0}] {
		some w in found(object.union(rusty("pitted", {"sanded": true}), {"prep": prep}))
		w.mend == []
	}
}
