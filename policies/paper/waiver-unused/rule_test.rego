package guidecoat.paper["waiver-unused_test"]

import data.guidecoat.paper["waiver-unused"] as rule

test_a_stock_opa_knows_of_no_waivers if count(rule.verdict) == 0 with input as {"contacts": []}
