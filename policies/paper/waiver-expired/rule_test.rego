package guidecoat.paper["waiver-expired_test"]

import data.guidecoat.paper["waiver-expired"] as rule

test_a_stock_opa_knows_no_day if count(rule.verdict) == 0 with input as {"contacts": []}
