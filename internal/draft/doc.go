// Package draft searches for a process sheet that passes: from a panel, a
// wanted ending and a shop's shelf it tries steps one after the other, has the
// rulebook judge every partial sheet, and hands over the cheapest sheet that no
// rule breaks at fails or risk, with the runners-up and what they cost.
//
// What it promises: pass or fail is the rulebook's word alone, over the very
// text that is handed over; a product that is not on the shelf is never used; no
// wait is shorter than the card (or, where the card is silent, its kind) allows;
// the same wish and shelf give the same bytes; the search stops after a set
// number of judged sheets and says so. Cards and kinds only guide which steps
// are tried. It never says that a sheet is safe.
//
// It must not know of flags, files to write or colors.
package draft
