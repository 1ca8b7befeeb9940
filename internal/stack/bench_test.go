package stack_test

import (
	"fmt"
	"testing"

	"guidecoat/internal/stack"
)

// The time of a sheet goes with the contacts it makes: ns/contact stays level
// (falls, where few contacts share what every document carries) as steps and
// zones grow. A rise with them is a search of the whole document in some loop.
func BenchmarkBuildByStepsAndZones(b *testing.B) {
	for _, zones := range []int{1, 10, 50} {
		for _, steps := range []int{10, 100, 1000} {
			s := read(b, bigSheet(zones-1, steps)+cards(b))
			b.Run(fmt.Sprintf("%d-zones-%d-steps", zones, steps), func(b *testing.B) {
				contacts := 0
				for b.Loop() {
					d, problems := stack.Build(s)
					if len(problems) > 0 {
						b.Fatal(problems[0].Message)
					}
					contacts = len(d.Contacts)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(contacts), "ns/contact")
			})
		}
	}
}
