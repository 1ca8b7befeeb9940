package sheet

import (
	"slices"

	"guidecoat/internal/quantity"
)

// Format is the version of the sheet's language that this program reads.
const Format = 1

// Takes says what the value of a key is.
type Takes int

// What a key takes. Each is written as a text unless its comment says else.
const (
	TakesText     Takes = iota + 1 // any words
	TakesWord                      // one of Key.Words
	TakesFlag                      // true or false, without quotes
	TakesWhole                     // a whole number, without quotes
	TakesDay                       // a date, without quotes
	TakesQuantity                  // a number or range with a unit of Key.Dim
	TakesGrade                     // an abrasive
	TakesGrades                    // a range of abrasives
	TakesMix                       // a mix
	TakesKind                      // a kind of one of Key.Roles, by its own or an everyday name
	TakesZone                      // a zone, or a cut's call
	TakesCall                      // a step's call
	TakesProduct                   // a card's name
	TakesHelper                    // a card's name, or a helper kind
	TakesRule                      // a rule's name
	TakesFile                      // a file, or folder, relative to the file it stands in
	TakesTable                     // a table with Key.Fields
	TakesNamed                     // a table of tables, each with Key.Fields, by names of the shop's own
	TakesTables                    // a list of tables with Key.Fields, each under a [[header]]
	TakesName                      // a name that this gives away and others refer to
)

// Key is one key of a sheet, a shelf or a house file: what may stand there.
type Key struct {
	Name     string
	Takes    []Takes // the ways its value may be written; the first is the usual one
	List     bool    // a list of such values; one alone may stand without brackets
	Some     bool    // a list that names at least one
	Dim      quantity.Dimension
	Units    []string // the only units of Dim that it may be written in; nil where all may
	Least    int      // of TakesWhole and of a plain number: the least it may be; 0 is no bound
	Most     int      // of TakesWhole: the most it may be; 0 is no bound
	Words    []string // of TakesWord, in the order they are told
	Open     bool     // other words than Words are taken as they are written
	Roles    []string // of TakesKind
	Fields   []Key    // of TakesTable, TakesNamed, TakesTables
	Required bool
	Example  string // a value as it is written, quotes included
	Meaning  string // one line for whoever writes a sheet
}

// Verb is what a step may do, with the keys that go with it beside those that
// any step may have.
type Verb struct {
	Do      string
	Keys    []Key
	Meaning string
}

// The words of the closed lists.
var (
	works      = []string{"restoration", "collision"}
	endings    = []string{"finished", "primed", "sealed"}
	wheres     = []string{"booth", "prep bay", "open shop", "outdoors"}
	blastWhere = []string{"booth", "prep bay", "open shop", "outdoors", "cabinet"}
	regions    = []string{"us", "eu", "quebec", "none"}
	plastics   = []string{"TPO", "PP", "PE", "EPDM", "ABS", "PC", "PUR", "nylon", "SMC", "unknown"}
	rusts      = []string{"none", "light", "pitted", "holes"}
	conditions = []string{"sound", "peeling", "chalking", "cracked", "unknown"}
	roles      = []string{"repair", "blend", "edge"}
	faces      = []string{"weather", "inside", "underside", "cavity"}
	edges      = []string{"panel break", "open"}
	protection = []string{"supplied-air respirator", "blast hood", "cartridge respirator", "particulate respirator",
		"gloves", "eye protection", "face shield", "coverall", "apron", "hearing protection", "extraction"}
	stripTools = []string{"strip disc", "sander", "grinder", "wire wheel", "razor", "blast", "chemical stripper"}
	sandTools  = []string{"sander", "grinder", "hand", "block", "file", "belt sander"}
	mediaWords = []string{"grit", "glass bead", "soda", "plastic"}
	heaters    = []string{"booth", "lamp"}
	guns       = []string{"hvlp", "conventional", "airless"}
	effects    = []string{"solid", "metallic", "pearl", "candy"}
	hazards    = []string{"isocyanate", "epoxy hardener", "chromate", "lead", "acid", "fluoride", "caustic", "peroxide",
		"styrene", "flammable", "silica"}
	measures = []string{"film", "profile", "dew point", "temperature", "adhesion", "solvent rub", "lead", "chromate",
		"moisture", "plastic type", "substrate", "filler depth", "color"}
	gradeWords = []string{"fails", "risk", "advice"}
)

// sameWord are other ways to say a word of a list, each with the list's own.
var sameWord = map[string]string{
	"orbital sander": "sander", "random-orbital sander": "sander", "random orbital sander": "sander",
	"dual-action sander": "sander", "dual action sander": "sander", "da sander": "sander", "da": "sander",
	"sanding block": "block", "long board": "block", "longboard": "block",
	"by hand": "hand", "air file": "file", "inline sander": "file",
	"colour": "color",
}

// Spellings are the words of a closed list and every other way to say one of
// them, sorted. Case and doubled blanks never matter.
func Spellings(words []string) []string {
	all := append([]string{}, words...)
	for other, own := range sameWord {
		if slices.Contains(words, own) {
			all = append(all, other)
		}
	}
	slices.Sort(all)
	return all
}

// The roles of kinds.
var (
	substrateRoles = []string{"substrate"}
	carriedRoles   = []string{"finish", "film"}
	beneathRoles   = []string{"substrate", "finish", "film"}
	cardRoles      = []string{"film", "helper", "finish"}
)

func takes(ts ...Takes) []Takes { return ts }

func textKey(name, example, meaning string) Key {
	return Key{Name: name, Takes: takes(TakesText), Example: example, Meaning: meaning}
}

func nameKey(name, example, meaning string) Key {
	return Key{Name: name, Takes: takes(TakesName), Example: example, Meaning: meaning}
}

func wordKey(name string, words []string, meaning string) Key {
	return Key{Name: name, Takes: takes(TakesWord), Words: words, Example: `"` + words[0] + `"`, Meaning: meaning}
}

func flagKey(name, meaning string) Key {
	return Key{Name: name, Takes: takes(TakesFlag), Example: "true", Meaning: meaning}
}

func amountKey(name string, dim quantity.Dimension, example, meaning string) Key {
	return Key{Name: name, Takes: takes(TakesQuantity), Dim: dim, Example: example, Meaning: meaning}
}

func dayKey(name, meaning string) Key {
	return Key{Name: name, Takes: takes(TakesDay), Example: "2026-03-02", Meaning: meaning}
}

func listOf(k Key) Key {
	k.List = true
	if k.Example != "" && k.Example[0] != '[' {
		k.Example = "[" + k.Example + "]"
	}
	return k
}

func required(k Key) Key { k.Required = true; return k }

func optional(k Key) Key { k.Required = false; return k }

func someOf(k Key) Key { k = listOf(k); k.Some = true; return k }

func tipKey(example string) Key {
	k := amountKey("tip", quantity.Film, example, "fluid tip")
	k.Units = []string{"mm"}
	return k
}

var formatKey = Key{Name: "format", Takes: takes(TakesWhole), Least: Format, Most: Format, Required: true, Example: "1", Meaning: "version of the sheet's language"}

var substrateKey = Key{Name: "substrate", Takes: takes(TakesKind), Roles: substrateRoles, Example: `"mild steel"`,
	Meaning: "what the panel is made of"}

var carriesKey = Key{Name: "carries", Takes: takes(TakesKind, TakesTable), Roles: carriedRoles, List: true, Example: `["e-coat", "factory finish"]`,
	Meaning: "what is on it at the start, from the metal upward; nothing, or [], is bare",
	Fields: []Key{
		required(Key{Name: "kind", Takes: takes(TakesKind), Roles: carriedRoles, Example: `"factory finish"`, Meaning: "what kind of film it is"}),
		amountKey("film", quantity.Film, `"4-6 mil"`, "how thick it is"),
		wordKey("condition", conditions, "how it holds; sound when not written"),
	}}

var weatherKeys = []Key{
	amountKey("air", quantity.Temperature, `"72 F"`, "temperature of the air"),
	amountKey("panel", quantity.Temperature, `"70 F"`, "temperature of the panel itself"),
	amountKey("humidity", quantity.Share, `"45 %"`, "relative humidity of the air"),
}

var regionKey = wordKey("region", regions, "whose VOC limits apply; none when not written")

var noteFields = []Key{
	textKey("number", `"T-020"`, "number of the sheet"),
	dayKey("issued", "date it was issued"),
	dayKey("checked", "date somebody last looked whether it is still the newest"),
}

// rootKeys are the tables of a sheet.
var rootKeys = []Key{
	formatKey,
	{Name: "sheet", Takes: takes(TakesTable), Required: true, Meaning: "what this sheet is", Fields: []Key{
		required(textKey("title", `"Delivery van door, bare steel to clear"`, "what the sheet is for")),
		textKey("number", `"TL-014"`, "the shop's own number for it"),
		textKey("revision", `"C"`, "which revision this is"),
		dayKey("date", "date of this revision"),
		textKey("author", `"paint bench"`, "who wrote it"),
		wordKey("work", works, "which limits and which patience apply; restoration when not written"),
		wordKey("ends_as", endings, "how the sheet leaves the panel; finished when not written"),
		listOf(Key{Name: "shelf", Takes: takes(TakesFile), Example: `"shelf.toml"`, Meaning: "files of product cards, relative to this file"}),
	}},
	{Name: "booth", Takes: takes(TakesTable), Meaning: "conditions that hold unless a step says otherwise", Fields: append(append([]Key{}, weatherKeys...),
		wordKey("where", wheres, "where the work is done; booth when not written"),
		regionKey,
	)},
	{Name: "panel", Takes: takes(TakesTable), Required: true, Meaning: "the part as it comes in", Fields: []Key{
		textKey("part", `"front door"`, "which part it is"),
		required(substrateKey),
		wordKey("plastic", plastics, "of a plastic: which one; unknown when not written"),
		carriesKey,
		wordKey("rust", rusts, "how far it has rusted; none when not written"),
		{Name: "year", Takes: takes(TakesWhole), Least: 1880, Most: 2200, Example: "1961", Meaning: "year of the vehicle, if it matters for lead"},
		amountKey("area", quantity.Area, `"14 ft2"`, "area of the whole panel"),
		wordKey("faces", faces, "what it faces in use; weather when not written"),
	}},
	{Name: "zone", Takes: takes(TakesTables), Meaning: "a part of the panel that is treated differently", Fields: []Key{
		required(nameKey("name", `"dent"`, "what the steps call it")),
		amountKey("area", quantity.Area, `"1.5 ft2"`, "its area"),
		substrateKey,
		wordKey("plastic", plastics, "which plastic it is, if not the panel's"),
		carriesKey,
		wordKey("rust", rusts, "how far it has rusted, if not as the panel"),
		wordKey("role", roles, "what it is for: a repair, a blend of the color, or an edge"),
		wordKey("faces", faces, "what it faces in use, if not as the panel"),
		wordKey("edge", edges, "where color and clear end; panel break when not written"),
	}},
	{Name: "product", Takes: takes(TakesNamed), Meaning: "cards of this sheet's own; a card here wins over one of a shelf", Fields: cardKeys},
	{Name: "step", Takes: takes(TakesTables), Meaning: "one step, in the order they are done", Fields: nil}, // by verb
	{Name: "waiver", Takes: takes(TakesTables), Meaning: "a finding that somebody answers for", Fields: []Key{
		required(Key{Name: "rule", Takes: takes(TakesRule), Example: `"stack-too-thick"`, Meaning: "which rule"}),
		{Name: "step", Takes: takes(TakesCall, TakesWhole), Least: 1, Most: MaxSteps, Example: `"second clear"`, Meaning: "only at this step: its call, or its number"},
		{Name: "zone", Takes: takes(TakesZone), Example: `"dent"`, Meaning: "only in this zone"},
		textKey("reason", `"show finish, cut flat and polished within the week"`, "why; without one nothing is waived"),
		textKey("by", `"foreman"`, "who answers for it"),
		dayKey("until", "last day it holds"),
	}},
}

// shelfKeys are the tables of a shelf.
var shelfKeys = []Key{
	formatKey,
	{Name: "shelf", Takes: takes(TakesTable), Meaning: "what this shelf is", Fields: []Key{
		textKey("title", `"mixing room"`, "what the shelf is"),
		dayKey("date", "date it was last gone over"),
	}},
	{Name: "product", Takes: takes(TakesNamed), Meaning: "product cards", Fields: cardKeys},
}

// houseKeys are the tables of a house file. The keys of [limits] and [grades]
// are names of limits and rules.
var houseKeys = []Key{
	optional(formatKey),
	{Name: "house", Takes: takes(TakesTable), Meaning: "what holds for every sheet of the shop", Fields: []Key{
		listOf(Key{Name: "shelf", Takes: takes(TakesFile), Example: `"shelf.toml"`, Meaning: "files of product cards, read before a sheet's own"}),
		regionKey,
		{Name: "rules", Takes: takes(TakesFile), Example: `"rules"`, Meaning: "folder of the shop's own rules"},
	}},
	{Name: "limits", Takes: takes(TakesTable), Meaning: "numbers of the shop's own for the limits that rules compare with"},
	{Name: "grades", Takes: takes(TakesTable), Meaning: "the most that a rule can give, or {off = true, reason = \"...\"}"},
}

// GradeWords are the grades that a house file can give a rule, gravest first.
func GradeWords() []string { return gradeWords }

// GradeKeys are the keys of a grade that switches its rule off.
func GradeKeys() []Key { return gradeFields }

// gradeFields are the keys of a grade that switches its rule off.
var gradeFields = []Key{
	flagKey("off", "the rule is not judged"),
	textKey("reason", `"..."`, "why; listed at the foot of every report"),
}

// cardKeys are the keys of a product card; useKeys those of another use of the
// same can. They are filled in init, for a card's `as` holds cards.
var cardKeys, useKeys = makeCardKeys()

func makeCardKeys() (card, use []Key) {
	kind := Key{Name: "kind", Takes: takes(TakesKind), Roles: cardRoles, Example: `"epoxy primer"`, Meaning: "what kind of product it is"}
	rest := []Key{
		textKey("label", `"Grey epoxy 20"`, "what it says on the shop's can"),
		{Name: "data_sheet", Takes: takes(TakesTable), Fields: noteFields, Example: `{number = "T-020", checked = 2026-01-12}`, Meaning: "the technical data sheet that the numbers are from"},
		{Name: "safety_sheet", Takes: takes(TakesTable), Fields: noteFields, Example: `{number = "S-020", checked = 2026-01-12}`, Meaning: "the safety data sheet"},
		{Name: "mix", Takes: takes(TakesMix), Example: `"4:1:1"`, Meaning: "base, hardener, reducer by volume; of a filler its paste hardener by weight, such as \"2 %\""},
		listOf(Key{Name: "hardener", Takes: takes(TakesProduct, TakesText), Example: `"urethane-hardener"`, Meaning: "the hardeners that belong with it"}),
		listOf(Key{Name: "reducer", Takes: takes(TakesProduct, TakesText), Example: `"slow-reducer"`, Meaning: "the reducers that belong with it"}),
		amountKey("reduce_up_to", quantity.Share, `"10 %"`, "most reducer allowed, of base and hardener together"),
		amountKey("induction", quantity.Time, `"15 min"`, "stand time after mixing, before spraying"),
		amountKey("pot_life", quantity.Time, `"8 h"`, "usable life once mixed"),
		amountKey("volume_solids", quantity.Share, `"50 %"`, "solids by volume of base and hardener mixed, before reducer"),
		amountKey("voc", quantity.Concentration, `"420 g/L"`, "VOC of base and hardener mixed, before reducer, less water and exempt compounds"),
		amountKey("density", quantity.Concentration, `"0.87 g/mL"`, "weight per volume, where a reducer's or hardener's own VOC is not given"),
		amountKey("film", quantity.Film, `"1.5-3 mil"`, "dry film the whole layer should have"),
		amountKey("wet_max", quantity.Film, `"4 mil"`, "most wet film in one coat"),
		{Name: "coats", Takes: takes(TakesQuantity), Dim: quantity.Count, Least: 1, Example: `"2-3"`, Meaning: "how many coats make that film"},
		amountKey("flash", quantity.Time, `"15 min"`, "wait between its own coats"),
		{Name: "recoat", Takes: takes(TakesQuantity, TakesTable), Dim: quantity.Time, Example: `"1 h - 72 h"`, Meaning: "wait before another film, from the least to the most without sanding", Fields: []Key{
			amountKey("paint", quantity.Time, `"1 h - 72 h"`, "before every film without its own entry"),
			amountKey("filler", quantity.Time, `"12 h - 7 days"`, "before filler and putty"),
			amountKey("polyester", quantity.Time, `"12 h - 72 h"`, "before polyester surfacer"),
		}},
		amountKey("no_recoat", quantity.Time, `"4 h - 48 h"`, "a dead time in which it lifts if recoated"),
		amountKey("flash_most", quantity.Time, `"60 min"`, "longest gap after which a coat still joins the same layer"),
		amountKey("fill_after", quantity.Time, `"12 h"`, "least wait before filler on it"),
		amountKey("tape_after", quantity.Time, `"3 h"`, "least wait before tape on it"),
		flagKey("wet_on_wet", "true where color may go on it unsanded inside its window"),
		amountKey("spot_metal", quantity.Area, `"4 in2"`, "largest bare spot it may cover though not direct to metal"),
		wordKey("effect", effects, "of a color"),
		amountKey("lowest_cure", quantity.Temperature, `"55 F"`, "lowest temperature at which it goes on curing"),
		amountKey("sand_after", quantity.Time, `"16 h"`, "least wait before it can be sanded"),
		amountKey("settles", quantity.Time, `"24 h"`, "wait until it has stopped shrinking, before final blocking"),
		amountKey("polish_after", quantity.Time, `"20 h"`, "least wait before compounding"),
		{Name: "bake", Takes: takes(TakesTable), Example: `{metal = "140 F", for = "30 min"}`, Meaning: "its bake", Fields: []Key{
			amountKey("metal", quantity.Temperature, `"140 F"`, "temperature of the panel itself"),
			amountKey("for", quantity.Time, `"30 min"`, "time at that heat"),
			amountKey("flash_first", quantity.Time, `"15 min"`, "wait after the last coat, before the heat"),
			amountKey("max_metal", quantity.Temperature, `"160 F"`, "most the panel may get"),
		}},
		amountKey("times_at", quantity.Temperature, `"68-77 F"`, "temperature at which the card's times hold"),
		amountKey("air", quantity.Temperature, `"60-95 F"`, "air and panel it may be applied in"),
		amountKey("humidity", quantity.Share, `"up to 80 %"`, "humidity it may be applied in"),
		tipKey(`"1.3-1.6 mm"`),
		amountKey("pressure", quantity.Pressure, `"26-29 psi"`, "cap or inlet pressure"),
		{Name: "grit_beneath", Takes: takes(TakesGrades), Example: `"P80-P180"`, Meaning: "the abrasive range it wants beneath it"},
		flagKey("sandable", "whether it can be sanded, where the kind's habit differs"),
		{Name: "direct_to_metal", Takes: takes(TakesFlag, TakesKind), List: true, Roles: substrateRoles, Example: "true", Meaning: "true, or the substrates, where the data sheet allows bare metal"},
		listOf(Key{Name: "goes_on", Takes: takes(TakesKind), Roles: beneathRoles, Example: `"epoxy primer"`, Meaning: "kinds that the data sheet expressly allows beneath it"}),
		listOf(Key{Name: "keep_off", Takes: takes(TakesKind), Roles: beneathRoles, Example: `"aged lacquer"`, Meaning: "kinds that the data sheet forbids beneath it"}),
		flagKey("wet_sandable", "whether it may be sanded wet, where it differs from its kind"),
		flagKey("holds_out_water", "whether it keeps water out, where it differs from its kind"),
		flagKey("weatherproof", "whether it may face the weather, where it differs from its kind"),
		flagKey("flexible", "whether it bends, where it differs from its kind"),
		listOf(wordKey("hazards", hazards, "what is in it, beside what its kind has")),
	}
	use = append([]Key{kind}, rest...)
	card = append([]Key{required(kind)}, rest...)
	card = append(card, Key{Name: "as", Takes: takes(TakesNamed), Fields: use, Example: `[product.NAME.as.sealer]`, Meaning: "another use of the same can, with what differs"})
	return card, use
}

// stepKeys are the keys that any step may have.
var stepKeys = append([]Key{
	required(textKey("do", `"sand"`, "what is done")),
	nameKey("call", `"first clear"`, "a name that others refer to"),
	someOf(Key{Name: "on", Takes: takes(TakesZone), Example: `"dent"`, Meaning: "the zones it is done on; all when not written"}),
	listOf(Key{Name: "except", Takes: takes(TakesZone), Example: `"dent"`, Meaning: "zones it is not done on"}),
	amountKey("for", quantity.Time, `"30 min"`, "how long it takes"),
	amountKey("then_wait", quantity.Time, `"16 h"`, "time after it, before the next step"),
	wordKey("where", wheres, "where it is done, if not where the booth table says"),
	listOf(wordKey("wear", protection, "the protection that is worn")),
	textKey("says", `"Two light coats."`, "the instruction as the technician reads it"),
}, weatherKeys...)

// verbs are the steps' verbs, in the order of a job.
var verbs = makeVerbs()

func makeVerbs() []Verb {
	gradeKey := Key{Name: "grit", Takes: takes(TakesGrade), Example: `"P180"`, Meaning: "the abrasive: P grade, grit, or pad"}
	// The language closes the list of a strip's tools alone: shops call what they sand with by many names.
	sandTool := wordKey("tool", sandTools, "what holds the abrasive")
	sandTool.Open = true
	wet := flagKey("wet", "true when it is done wet")
	takesOff := amountKey("takes_off", quantity.Film, `"0.5 mil"`, "film it takes off")
	cutsTo := Key{Name: "cuts_to", Takes: takes(TakesKind, TakesCall, TakesTable), List: true, Roles: beneathRoles,
		Example: `[{to = "body filler", call = "rub-through", area = "10 in2"}]`, Meaning: "where the abrasive goes through: substrate, a kind, or the call of the step that laid it",
		Fields: []Key{
			required(Key{Name: "to", Takes: takes(TakesKind, TakesCall), Roles: beneathRoles, Example: `"body filler"`, Meaning: "what it goes down to: substrate, a kind, or the call of the step that laid it"}),
			nameKey("call", `"rub-through"`, "name of the zone that this makes"),
			amountKey("area", quantity.Area, `"10 in2"`, "area of that zone"),
		}}
	feathers := flagKey("feathers", "true when the edge of the film is feathered out")
	with := func(example, meaning string) Key {
		return Key{Name: "with", Takes: takes(TakesHelper), Example: example, Meaning: meaning}
	}
	product := required(Key{Name: "product", Takes: takes(TakesProduct), Example: `"grey-epoxy"`, Meaning: "the card of what is laid"})
	mix := Key{Name: "mix", Takes: takes(TakesMix), Example: `"4:1:1"`, Meaning: "what is in the cup; the card's when not written"}
	sand := []Key{required(gradeKey), sandTool, wet, takesOff, cutsTo, feathers}
	lay := []Key{
		product,
		{Name: "coats", Takes: takes(TakesWhole), Least: 1, Most: MaxCoats, Example: "2", Meaning: "number of coats; 1 when not written"},
		amountKey("wet_film", quantity.Film, `"3 mil"`, "wet film of each coat"),
		amountKey("between", quantity.Time, `"10 min"`, "wait between the coats"),
		mix,
		{Name: "hardener", Takes: takes(TakesProduct, TakesText), Example: `"urethane-hardener"`, Meaning: "the hardener in the cup"},
		{Name: "reducer", Takes: takes(TakesProduct, TakesText), Example: `"slow-reducer"`, Meaning: "the reducer in the cup"},
		amountKey("stood", quantity.Time, `"15 min"`, "time between mixing and the first coat"),
		amountKey("batch", quantity.Volume, `"1 qt"`, "volume mixed"),
		flagKey("fresh_cup", "true when each coat is mixed fresh"),
		{Name: "additive", Takes: takes(TakesProduct), Example: `"flex additive"`, Meaning: "what else is in the cup: a card's name, or a helper kind"},
		textKey("as", `"sealer"`, "which use of the can, where its card has several"),
		{Name: "fades", Takes: takes(TakesFlag, TakesZone), List: true, Example: "true", Meaning: "true, or the zones, where the coat fades out"},
		wordKey("gun", guns, "the gun"),
		tipKey(`"1.4 mm"`),
		amountKey("pressure", quantity.Pressure, `"28 psi"`, "cap or inlet pressure"),
	}
	forTime := required(amountKey("for", quantity.Time, `"30 min"`, "how long it takes"))
	return []Verb{
		{Do: "strip", Meaning: "takes films off", Keys: []Key{
			required(wordKey("tool", stripTools, "what takes them off")),
			gradeKey,
			wordKey("media", mediaWords, "of a blast: what is blasted"),
			amountKey("profile", quantity.Film, `"1.5 mil"`, "of a blast: depth of the profile it leaves"),
			{Name: "down_to", Takes: takes(TakesKind), Roles: beneathRoles, Example: `"substrate"`, Meaning: "where it stops: substrate, which is meant when nothing is written, or a kind"},
			wordKey("where", blastWhere, "where it is done; a blast may be in a cabinet"),
		}},
		{Do: "sand", Keys: sand, Meaning: "abrades the top film"},
		{Do: "block", Keys: append(append([]Key{}, sand...), flagKey("guide_coat", "true when a guide coat shows the lows")), Meaning: "levels a film with a block"},
		{Do: "scuff", Keys: []Key{gradeKey, {Name: "pad", Takes: takes(TakesGrade), Example: `"fine pad"`, Meaning: "the nonwoven pad"}, sandTool, wet, takesOff}, Meaning: "abrades for grip only"},
		{Do: "clean", Keys: []Key{required(with(`"wax and grease remover"`, "the cleaner: a card's name, or a helper kind"))}, Meaning: "wipes with a cleaner"},
		{Do: "tack", Meaning: "takes dust off with a tack cloth"},
		{Do: "blow_off", Meaning: "takes dust off with air"},
		{Do: "treat", Keys: []Key{required(with(`"acid wash"`, "acid wash or conversion coating: a card's name, or the kind"))}, Meaning: "chemical treatment of bare metal"},
		{Do: "rinse", Keys: []Key{amountKey("dried_within", quantity.Time, `"5 min"`, "time until it is dry again")}, Meaning: "water rinse, then drying"},
		{Do: "neutralize", Keys: []Key{required(with(`"neutralizer"`, "the neutralizer: a card's name, or the kind"))}, Meaning: "neutralizes acid"},
		{Do: "mask", Keys: []Key{listOf(Key{Name: "over", Takes: takes(TakesZone), Example: `"panel"`, Meaning: "the zones that the tape lies on"})}, Meaning: "covers what is not to be painted"},
		{Do: "solder", Meaning: "body solder; leaves flux"},
		{Do: "spray", Keys: lay, Meaning: "lays a film with a gun"},
		{Do: "brush", Keys: lay, Meaning: "lays a film with a brush"},
		{Do: "spread", Keys: []Key{product, required(amountKey("thickness", quantity.Film, `"2 mm"`, "how thick it is laid")), mix}, Meaning: "lays filler or putty"},
		{Do: "caulk", Keys: []Key{product}, Meaning: "lays seam sealer"},
		{Do: "bake", Keys: []Key{
			required(amountKey("metal", quantity.Temperature, `"140 F"`, "temperature of the panel itself")),
			required(amountKey("for", quantity.Time, `"30 min"`, "time at that heat")),
			wordKey("by", heaters, "what heats it"),
		}, Meaning: "heats the panel"},
		{Do: "wait", Keys: []Key{forTime}, Meaning: "time passes"},
		{Do: "metalwork", Keys: []Key{forTime, flagKey("welding", "true when there is welding in it")}, Meaning: "hammering, dollying, welding"},
		{Do: "store", Keys: []Key{forTime}, Meaning: "the panel leaves the line"},
		{Do: "polish", Keys: []Key{with(`"polishing compound"`, "the compound: a card's name, or the kind"), takesOff}, Meaning: "compounds the last film"},
		{Do: "inspect", Keys: []Key{required(someOf(wordKey("measure", measures, "what is measured")))}, Meaning: "a stop to measure"},
	}
}

// SheetKeys are the keys and tables of a sheet, in the order they are told.
// The keys of a step go by its verb: see Verbs and StepKeys.
func SheetKeys() []Key { return rootKeys }

// ShelfKeys are the keys and tables of a shelf.
func ShelfKeys() []Key { return shelfKeys }

// HouseKeys are the keys and tables of a house file.
func HouseKeys() []Key { return houseKeys }

// CardKeys are the keys of a product card.
func CardKeys() []Key { return cardKeys }

// StepKeys are the keys that any step may have, whatever it does.
func StepKeys() []Key { return stepKeys }

// Verbs are what a step may do.
func Verbs() []Verb { return verbs }

// KeysOf are all the keys that a step of a verb may have: its own first, then
// those of any step. Nil for an unknown verb.
func KeysOf(do string) []Key {
	if s, ok := stepSpecs[do]; ok {
		return s.keys
	}
	return nil
}

// keySet is a table's keys with a look-up by name.
type keySet struct {
	keys   []Key
	byName map[string]*Key
}

func newKeySet(keys []Key) *keySet {
	s := &keySet{keys: keys, byName: make(map[string]*Key, len(keys))}
	for i := range keys {
		s.byName[keys[i].Name] = &keys[i]
	}
	return s
}

func (s *keySet) names() []string {
	names := make([]string, len(s.keys))
	for i, k := range s.keys {
		names[i] = k.Name
	}
	return names
}

// stepSpecs are the keys of each verb's step; those of the verb stand before
// a common key of the same name.
var stepSpecs = makeStepSpecs()

// anyStep are the keys of all verbs together, for a step whose verb is not
// known; verbsWith are the verbs that each key goes with.
var anyStep, verbsWith = makeAnyStep()

func makeStepSpecs() map[string]*keySet {
	specs := map[string]*keySet{}
	for _, v := range verbs {
		keys := append([]Key{}, v.Keys...)
		own := newKeySet(v.Keys)
		for _, k := range stepKeys {
			if own.byName[k.Name] == nil {
				keys = append(keys, k)
			}
		}
		specs[v.Do] = newKeySet(keys)
	}
	return specs
}

func makeAnyStep() (*keySet, map[string][]string) {
	with := map[string][]string{}
	keys := append([]Key{}, stepKeys...)
	for _, k := range stepKeys {
		with[k.Name] = nil
	}
	for _, v := range verbs {
		for _, k := range v.Keys {
			if _, known := with[k.Name]; !known {
				k.Required = false
				keys = append(keys, k)
			}
			with[k.Name] = append(with[k.Name], v.Do)
		}
	}
	return newKeySet(keys), with
}
