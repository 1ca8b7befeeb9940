# METADATA
# title: a waiver sets nothing aside
# description: |
#   The sheet does not break the rule that is waived, or not at that step or in that zone. Mostly
#   the sheet has been mended since and the waiver forgotten; sometimes the name of the step has
#   changed. It looks harmless, and left in place it would hide the same fault when somebody brings
#   it back. In the shop: read the waiver's reason, and ask whether it still says anything about
#   this job.
# custom:
#   grade: advice
#   defect: a forgotten promise
#   remedy: "Take the waiver out of the sheet, or point it at the step and zone it is meant for."
#   safety:
#     signal: NOTICE
#     text: "A waiver makes the paper quiet, not the work safe. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - this rulebook
#   limits: []
#   needs: []
package guidecoat.paper["waiver-unused"]

# The program gives this finding itself: waivers are not part of the stack, and a stock OPA
# knows no day to hold them against. This folder carries its texts and its two sheets.
verdict := set()
