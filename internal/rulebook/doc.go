// Package rulebook reads the trade's rules, has OPA judge a stack by them, and
// joins what a person needs to what they say: title, mechanism, remedy,
// caution, source, and the places in the file.
//
// It promises that a rule which cannot be judged is told and never makes a
// clean sheet, that the same stack gives the same findings in the same order,
// and that a shop's own rule can neither leave the stack it is given nor run on
// for ever. House grades, waivers and the findings about waivers are made here,
// as a stock OPA knows neither the shop nor the day.
//
// It must not judge: there is no trade knowledge in it. What a rule says, what
// silences it and what it is held to stand in policies/.
package rulebook
