// Package mend puts a sheet right: from the edits that findings offer it
// searches for the least set after which every `fails` and `risk` it set out
// to answer is gone and nothing new has come, and proves it by building and
// judging the edited sheet.
//
// It promises to edit the text itself: comments, order, spacing and line ends
// stay, and only the lines it touches differ. It uses only what is on the
// shelf. It never writes `wear`, never adds a waiver, never takes out a stop
// to measure and never takes off what the sheet is for: what protects a person
// is told as words, for a person to decide and do.
//
// It must not know of rules: what to edit comes from the rulebook's offers,
// and whether it helped from the rulebook's judgement.
package mend
