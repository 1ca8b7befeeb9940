# METADATA
# title: a waiver does not say what it must
# description: |
#   A waiver lets a known fault stand because somebody answers for it. Without a reason it looks the
#   same on paper whether a fault was weighed or only silenced. So it sets nothing aside. A rule
#   about people asks for more: the name of who answers for it, and a last day no more than 90 days
#   off. In the shop: ask whoever wrote the waiver to say it at the bench, in front of the one who
#   will spray.
# custom:
#   grade: risk
#   defect: a fault nobody has answered for
#   remedy: "Write the reason, and for a rule about people also by and until; or take the waiver out and mend the sheet."
#   safety:
#     signal: CAUTION
#     text: "A waiver makes the paper quiet, not the work safe. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - this rulebook
#   limits:
#     - people_waiver
#   needs: []
package guidecoat.paper["waiver-without-reason"]

# The program gives this finding itself: waivers are not part of the stack, and a stock OPA
# knows no day to hold them against. This folder carries its texts and its two sheets.
verdict := set()
