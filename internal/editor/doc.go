// Package editor is a language server: it stands behind a text editor while a
// sheet, a shelf or a house file is written, tells what is wrong as it is typed,
// and knows what may stand at the cursor.
//
// It promises that nothing a client sends ends it: not half-typed TOML, nor a
// message that is none, nor one out of order; that what it tells of a text is
// of that very text and not of an older one; and that it is gone when its
// client is. What is written in another open file and not yet saved counts.
//
// It judges nothing itself and edits nothing: verdicts are the rulebook's, and
// every mend it offers is made by a Fixer. Places go out in UTF-16 units, as the
// protocol counts; everything it says is plain text.
package editor
