// Package policies holds the trade's judgement: one folder a rule, and the
// kinds and limits as data. It embeds them, and knows nothing about them.
package policies

import "embed"

// What silences what, for a stock OPA too, and what each rule needs to speak, are written from the METADATA of the rules.
//go:generate go test ../internal/rulebook -run JSONIsWrittenFromTheMetadata$ -refresh

// Files is everything in this folder: rules, tests, the sheets that break and
// hold them, and the data they read.
//
//go:embed all:*
var Files embed.FS
