package draft

import "math"

// cost is what a sheet costs, in whole numbers so that sums do not depend on
// the order they were made in. Times, films and litres are in thousandths.
type cost struct {
	grave   int // verdicts at fails or risk that no later step takes away
	advice  int
	minutes int64
	film    int64
	litres  int64
	passes  int64
	steps   int
}

// thousandths is a number in whole thousandths.
func thousandths(v float64) int64 { return int64(math.Round(v * 1000)) }

// in is the cost in the order that counts for what there should be least of.
// What breaks a rule comes first whatever is asked for.
func (c cost) in(least Least) [7]int64 {
	days, film, passes, litres := c.minutes, c.film, c.passes, c.litres
	grave, advice, steps := int64(c.grave), int64(c.advice), int64(c.steps)
	switch least {
	case LeastFilm:
		return [7]int64{grave, film, advice, days, passes, litres, steps}
	case LeastPasses:
		return [7]int64{grave, passes, advice, days, film, litres, steps}
	case LeastLitres:
		return [7]int64{grave, litres, advice, days, passes, film, steps}
	}
	return [7]int64{grave, days, advice, passes, film, litres, steps}
}

// plus adds what is still to come.
func (c cost) plus(d cost) cost {
	return cost{c.grave + d.grave, c.advice + d.advice, c.minutes + d.minutes, c.film + d.film, c.litres + d.litres, c.passes + d.passes, c.steps + d.steps}
}

// least is the lesser of two costs in each of their parts.
func (c cost) least(d cost) cost {
	return cost{min(c.grave, d.grave), min(c.advice, d.advice), min(c.minutes, d.minutes), min(c.film, d.film), min(c.litres, d.litres), min(c.passes, d.passes), min(c.steps, d.steps)}
}

// before compares two costs in the order that counts.
func before(a, b [7]int64) int {
	for i := range a {
		switch {
		case a[i] < b[i]:
			return -1
		case a[i] > b[i]:
			return 1
		}
	}
	return 0
}
