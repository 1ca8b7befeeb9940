package picture

import (
	"strings"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/stack"
)

// Marks finds where in the section each finding of fails and risk is about:
// the contact of the film it speaks of, else the contact that covered the
// surface it speaks of, else that surface where nothing covers it. What is
// about no film in particular (what is worn, where it is sprayed, what is in a
// cup) comes back as elsewhere.
func Marks(d *stack.Document, findings []rulebook.Finding) (marks []Mark, elsewhere []rulebook.Finding) {
	covered := map[string][]stack.Contact{} // by zone and lower layer, in order of steps
	known := map[string]bool{}
	for _, c := range d.Contacts {
		key := c.Zone + "/" + c.Lower
		covered[key] = append(covered[key], c)
		known[c.ID] = true
	}
	for _, f := range findings {
		if f.Grade == "advice" {
			continue
		}
		placed := false
		for _, z := range f.Zones {
			m := Mark{Finding: f.ID, Rule: f.Rule, Grade: f.Grade, Will: f.Certainty == "will",
				Label: strings.ToUpper(f.Grade) + ": " + f.Message + " [" + f.Rule + "]"}
			switch {
			case f.Upper != "" && known[z+"/"+f.Upper]:
				m.Contact = z + "/" + f.Upper
			case f.Lower != "":
				m.Surface = z + "/" + f.Lower
				for _, c := range covered[m.Surface] {
					if f.Step == nil || c.Step >= *f.Step {
						m.Contact, m.Surface = c.ID, ""
						break
					}
				}
			default:
				continue
			}
			placed = true
			marks = append(marks, m)
		}
		if !placed {
			elsewhere = append(elsewhere, f)
		}
	}
	return marks, elsewhere
}
