# METADATA
# title: a waiver has run out
# description: |
#   Whoever waived the fault answered for it up to a day, and that day is over. What was right for
#   one week in spring may not be for the next job: other weather, other hands, another can. The
#   waiver sets nothing aside any more. It looks like a fault that comes back on a sheet nobody
#   changed. In the shop: look at the panel the waiver was written for, and see how it has kept.
# custom:
#   grade: risk
#   defect: a fault nobody answers for any more
#   remedy: "Mend the sheet, or have the one who answers for it look again and write a new last day."
#   safety:
#     signal: CAUTION
#     text: "A waiver makes the paper quiet, not the work safe. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - this rulebook
#   limits: []
#   needs: []
package guidecoat.paper["waiver-expired"]

# The program gives this finding itself: waivers are not part of the stack, and a stock OPA
# knows no day to hold them against. This folder carries its texts and its two sheets.
verdict := set()
