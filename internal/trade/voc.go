package trade

import (
	"encoding/json"
	"fmt"
	"slices"
	"sort"
	"sync"

	"guidecoat/internal/quantity"
	"guidecoat/policies"
)

// VOCRow is one published VOC figure.
type VOCRow struct {
	Region   string  `json:"-"`
	Binds    string  `json:"-"`        // "maker" or "user": whom the region's rule binds
	Category string  `json:"category"` // "primer, surfacer"
	Limit    float64 `json:"limit"`    // g/L, as applied, less water and exempt compounds
	// Kinds are the kinds of product it holds for, each by itself. Which kind
	// falls in which category is this table's own reading, from memory; a kind
	// that could fall in several is left out.
	Kinds []string `json:"kinds"`
	// Stages: "two" or "more" where it holds for a topcoat system of so many
	// coatings together, "" else.
	Stages string `json:"stages"`
	Source string `json:"source"` // citation
	Status string `json:"status"` // read | second | memory
}

// Citation is the source with how it was come by, for a report.
func (r VOCRow) Citation() string { return r.Source + " (" + r.Status + ")" }

type vocRegion struct {
	Binds string   `json:"binds"`
	Rows  []VOCRow `json:"rows"`
}

var loadVOC = sync.OnceValues(func() (map[string]vocRegion, error) {
	data, err := policies.Files.ReadFile("voc.json")
	if err != nil {
		return nil, fmt.Errorf("reading the VOC figures: %w", err)
	}
	return readVOC(data)
})

func readVOC(data []byte) (map[string]vocRegion, error) {
	var file struct {
		VOC map[string]vocRegion `json:"voc"`
	}
	if err := json.Unmarshal(data, &file); err != nil {
		return nil, fmt.Errorf("reading the VOC figures: %w", err)
	}
	for name, region := range file.VOC {
		for i := range region.Rows {
			region.Rows[i].Region, region.Rows[i].Binds = name, region.Binds
		}
	}
	return file.VOC, nil
}

// VOCRegions are the regions whose figures are known, sorted.
func VOCRegions() []string {
	regions, _ := loadVOC()
	names := make([]string, 0, len(regions))
	for name := range regions {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// VOCRows are a region's figures in the order of the published table; none
// for a region that is not known.
func VOCRows(region string) []VOCRow {
	regions, _ := loadVOC()
	return slices.Clone(regions[region].Rows)
}

// VOCLimit is the figure that holds for a kind of product by itself in a
// region; false where none is known, or where it counts only as part of a
// topcoat system (see VOCSystemLimit).
func VOCLimit(region, kind string) (VOCRow, bool) {
	for _, row := range VOCRows(region) {
		if row.Stages == "" && slices.Contains(row.Kinds, kind) {
			return row, true
		}
	}
	return VOCRow{}, false
}

// VOCSystemLimit is the figure for a topcoat system of base, mid coats and
// clear together; false where the region takes each by itself.
func VOCSystemLimit(region string, mids int) (VOCRow, bool) {
	stages := "two"
	if mids > 0 {
		stages = "more"
	}
	for _, row := range VOCRows(region) {
		if row.Stages == stages {
			return row, true
		}
	}
	return VOCRow{}, false
}

// VOCAsApplied is the VOC of what is in the gun, in the unit of its parts: that
// of base and hardener mixed, and reducer at a share r of them with its own.
// Volume-weighted: (card + r × reducer) ÷ (1 + r). Source: the worked dilution
// of the Organic Finishing Guidebook, app. B.
func VOCAsApplied(card quantity.Interval, r float64, reducer quantity.Interval) quantity.Interval {
	if r <= 0 {
		return card
	}
	return card.Add(reducer.Scale(r)).Scale(1 / (1 + r))
}

// VOCLessWater is the VOC of a coating less water and exempt compounds: the
// mass of its volatiles without theirs over its volume without theirs (40 CFR
// 59.104(a)(1); the arrangement from memory). Masses and volumes in whatever
// units, the answer in theirs; false if nothing but water and exempt compounds
// is there.
func VOCLessWater(volatiles, water, exempt, volume, waterVolume, exemptVolume float64) (float64, bool) {
	left := volume - waterVolume - exemptVolume
	if left <= 0 {
		return 0, false
	}
	return (volatiles - water - exempt) / left, true
}

// MostReducer is how much reducer of its own VOC a volume of paint may take
// before it reaches a limit, in the unit of the volume: from (mass + voc × v)
// ÷ (volume + v) = limit. Zero if the paint is at or over the limit already;
// false if the reducer could never bring it there. Source: the worked example
// of the Organic Finishing Guidebook, app. B.
func MostReducer(volume, mass, reducerVOC, limit float64) (float64, bool) {
	if reducerVOC <= limit {
		return 0, false
	}
	return max(0, (limit*volume-mass)/(reducerVOC-limit)), true
}

// VOCSystem is the VOC of a topcoat system of one base, any mid coats and a
// clear, each as applied: (base + mids + 2 × clear) ÷ (mids + 3). 40 CFR
// 59.104(a)(2), from memory.
func VOCSystem(base quantity.Interval, mids []quantity.Interval, clear quantity.Interval) quantity.Interval {
	sum := base.Add(clear.Scale(2))
	for _, m := range mids {
		sum = sum.Add(m)
	}
	return sum.Scale(1 / float64(len(mids)+3))
}
