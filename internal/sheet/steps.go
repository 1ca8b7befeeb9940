package sheet

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"guidecoat/internal/trade"
)

var cutSpec = newKeySet(stepSpecs["sand"].byName["cuts_to"].Fields)

// laying are the verbs that lay a film of a card.
var laying = map[string]bool{"spray": true, "brush": true, "spread": true, "caulk": true}

// fitFor are the helper kinds that a verb's `with` takes. A wipe with an acid,
// a tack cloth or a compound is another step; the rest is the rulebook's.
var fitFor = map[string][]string{
	"clean": {"wax and grease remover", "waterborne cleaner", "plastic cleaner", "lacquer thinner", "soap and water",
		"alcohol wipe", "reducer", "retarder"},
	"treat":      {"acid wash", "conversion coating"},
	"neutralize": {"neutralizer", "soap and water"},
	"polish":     {"polishing compound"},
}

// verbFor is the verb that a helper kind is used with.
var verbFor = map[string]string{
	"acid wash": "treat", "conversion coating": "treat", "neutralizer": "neutralize", "tack cloth": "tack",
	"polishing compound": "polish", "wax and grease remover": "clean", "waterborne cleaner": "clean",
	"plastic cleaner": "clean", "lacquer thinner": "clean", "soap and water": "clean", "alcohol wipe": "clean",
}

func verbNames() []string {
	all := make([]string, len(verbs))
	for i, v := range verbs {
		all[i] = v.Do
	}
	return all
}

func (rd *reading) steps(root table) {
	items := root.subs("step")
	if len(items) > MaxSteps {
		rd.d.say(headOf(items[MaxSteps].n), items[MaxSteps].n.Path(), "this is step %d of %d, and a sheet may have %d; write two sheets", MaxSteps+1, len(items), MaxSteps)
		items = items[:MaxSteps]
	}
	tables := make([]table, len(items))
	for i, it := range items {
		tables[i] = table{d: rd.d, n: it.n, v: it.v.(map[string]any)}
		rd.calls(&tables[i], i+1)
	}
	rd.s.Steps = slices.Grow(rd.s.Steps, len(tables))
	for i := range tables {
		if rd.d.full() {
			return
		}
		rd.s.Steps = append(rd.s.Steps, rd.step(tables[i], i+1))
	}
}

// calls takes the calls of a step into the book before any step is read, so
// that one named too early can be told from one that does not exist.
func (rd *reading) calls(t *table, step int) {
	do, _ := t.v["do"].(string)
	if w, ok := wordOf(do, verbNames()); ok {
		do = w
	}
	t.spec = stepSpecs[do]
	if t.spec == nil {
		t.spec = anyStep
	}
	type named struct {
		name string
		n    *Node
	}
	var cuts []named
	entries := 0
	if t.spec.byName["cuts_to"] != nil {
		for _, it := range listOfAny(t.v["cuts_to"]) {
			entries++
			m, ok := it.(map[string]any)
			if !ok {
				continue
			}
			name, _ := m["call"].(string)
			n := t.n.Get("cuts_to")
			if n.Form == FormList || n.Form == FormTables {
				n = n.Entry(entries)
			}
			if n = n.Get("call"); n != nil && strings.TrimSpace(name) != "" {
				cuts = append(cuts, named{name, n})
			}
		}
	}
	if name, _ := t.v["call"].(string); strings.TrimSpace(name) != "" {
		rd.names.called(name, t.n.Get("call"), call{
			step: step, lays: laying[do] || do == "solder", zone: entries == 1 && len(cuts) == 0,
		})
	}
	for _, c := range cuts {
		rd.names.called(c.name, c.n, call{step: step, cut: true, zone: true})
	}
}

// listOfAny is a list's entries, or the one value that stands alone.
func listOfAny(v any) []any {
	switch v := v.(type) {
	case nil:
		return nil
	case []any:
		return v
	case []map[string]any:
		var all []any
		for _, m := range v {
			all = append(all, m)
		}
		return all
	}
	return []any{v}
}

func (rd *reading) step(t table, number int) Step {
	st := Step{N: number, Place: t.place(), Keys: t.keyPlaces()}
	st.Do = rd.verb(t)
	what := "a step that does " + st.Do
	if st.Do == "" {
		what = "a step"
	}
	for _, c := range t.n.Children {
		if t.spec.byName[c.Name] == nil {
			rd.unknownStepKey(t, c, what)
		}
	}
	if st.Do != "" {
		t.missing(what)
	}
	st.Call = t.text("call").Value
	if t.written("call") && strings.TrimSpace(st.Call) == "" && t.n.Get("call").Form == FormText {
		rd.d.say(t.n.Get("call").Value, t.key("call"), "a call of blanks cannot be referred to; write a name, such as call = %s", `"first clear"`)
	}
	st.Weather = weather(t)
	st.For, st.ThenWait = t.amount("for"), t.amount("then_wait")
	st.Wear = t.texts("wear")
	if says := t.text("says"); says.Written {
		st.Says = Texts{Values: []string{says.Value}, Written: true, Place: says.Place, Places: []Place{says.Place}}
	}
	rd.reach(t, &st)

	has := func(name string) bool { return t.spec.byName[name] != nil && t.written(name) }
	st.Tool, st.Media = t.word("tool"), t.word("media")
	st.Profile, st.TakesOff = t.amount("profile"), t.amount("takes_off")
	st.Grit, st.Pad = t.grade("grit"), t.grade("pad")
	st.Wet, st.GuideCoat, st.Feathers = t.flag("wet"), t.flag("guide_coat"), t.flag("feathers")
	st.DriedWithin = t.amount("dried_within")
	st.Over = rd.zoneList(t, "over", number)
	st.By, st.Welding, st.Measure = t.word("by"), t.flag("welding"), t.texts("measure")
	if has("metal") {
		st.Metal = t.amount("metal")
	}
	switch st.Do {
	case "strip":
		rd.strip(t, &st)
	case "scuff":
		if !t.written("grit") && !t.written("pad") {
			rd.d.say(t.at(), t.key("grit"), "a step that does scuff needs \"grit\" or \"pad\" (the abrasive); write, for example, pad = \"fine pad\"")
		}
	case "inspect":
		if st.Measure.Written && len(st.Measure.Places) == 0 && len(listOfAny(t.v["measure"])) == 0 {
			rd.d.say(t.n.Get("measure").Value, t.key("measure"), "nothing is measured; name what is, such as measure = [\"film\"]")
		}
	}
	if has("cuts_to") {
		rd.cutsTo(t, &st)
	}
	if has("with") {
		rd.with(t, &st)
	}
	if has("product") {
		rd.lay(t, &st)
	}
	if st.Do == "solder" {
		rd.names.lays(st.Call, "body solder")
	}
	if st.Coats.Value == 0 {
		st.Coats.Value = 1
	}
	return st
}

// verb reads what a step does; "" where that is not known.
func (rd *reading) verb(t table) string {
	text := t.text("do")
	if !text.Written {
		if !t.written("do") {
			k := *anyStep.byName["do"]
			near := ""
			for _, c := range t.n.Children {
				if anyStep.byName[c.Name] == nil && slices.Contains(nearest(c.Name, anyStep.names()), "do") {
					near = c.Name
				}
			}
			if near == "" {
				t.lacks(k, "a step")
			}
		}
		return ""
	}
	w, ok := wordOf(text.Value, verbNames())
	if ok {
		return w
	}
	message := "there is no step " + quoted(text.Value) + "; "
	if near := nearest(text.Value, verbNames()); len(near) > 0 {
		message += didYouMean(near)
	} else {
		message += "a step does one of " + listed(verbNames(), "or", asIs)
	}
	rd.d.sayAt(text.Place, t.key("do"), message)
	return ""
}

func (rd *reading) unknownStepKey(t table, c *Node, what string) {
	if with := verbsWith[c.Name]; len(with) > 0 {
		message := what + " has no " + quoted(c.Name) + "; that goes with " + listed(with, "and", asIs)
		if near := nearest(c.Name, t.spec.names()); len(near) > 0 {
			message += "; " + didYouMean(near)
		}
		rd.d.say(headOf(c), c.Path(), "%s", message)
		return
	}
	t.unknown(c, what)
}

// reach reads the zones of a step.
func (rd *reading) reach(t table, st *Step) {
	st.On = rd.zoneList(t, "on", st.N)
	st.Except = rd.zoneList(t, "except", st.N)
	if st.On.Written && len(listOfAny(t.v["on"])) == 0 {
		rd.d.say(t.n.Get("on").Value, t.key("on"), "this names no zone; leave it out where all are meant; %s", rd.names.zonesAt("", st.N))
		return
	}
	if !st.On.Written && len(st.Except.Values) == 0 {
		return
	}
	from := st.On.Values
	if !st.On.Written {
		for _, z := range rd.s.Zones {
			if z.Name != "" {
				from = append(from, z.Name)
			}
		}
		if rd.names.rest {
			from = append(from, RestZone)
		}
	}
	st.Zones = []string{}
	for _, z := range from {
		if !slices.Contains(st.Except.Values, z) {
			st.Zones = append(st.Zones, z)
		}
	}
	if len(st.Zones) == 0 && len(from) > 0 {
		rd.d.say(t.n.Get("except").Value, t.key("except"), "nothing is left to do this step on: every zone that it names is taken out again")
	}
}

// zoneList reads a list of zones that exist at a step.
func (rd *reading) zoneList(t table, name string, step int) Texts {
	if t.spec.byName[name] == nil {
		return Texts{}
	}
	texts := t.texts(name)
	out := texts
	out.Values, out.Places = nil, nil
	if texts.Written {
		out.Values = []string{}
	}
	for i, z := range texts.Values {
		at := texts.Places[i]
		if zone, ok := rd.names.at(z, Span{at.Start, at.End}, entryKey(t, name, at), step); ok {
			out.Values = append(out.Values, zone)
			out.Places = append(out.Places, at)
		}
	}
	return out
}

// entryKey is the path of a list's entry at a place, or of the key itself.
func entryKey(t table, name string, at Place) string {
	n := t.n.Get(name)
	for _, c := range n.Children {
		if c.Value.Start == at.Start {
			return c.Path()
		}
	}
	return n.Path()
}

func (rd *reading) strip(t table, st *Step) {
	if st.Tool.Written && st.Tool.Value != "blast" {
		for _, name := range []string{"media", "profile"} {
			if n := t.n.Get(name); n != nil {
				rd.d.say(n.Key, n.Path(), "%s goes with tool = \"blast\", and this strip is done by %s", quoted(name), st.Tool.Value)
			}
		}
		if st.Where.Value == "cabinet" {
			rd.d.sayAt(st.Where.Place, t.key("where"), notOf("cabinet", wheres)+"; a cabinet is for a blast")
		}
	}
	st.DownTo = t.text("down_to")
	if !st.DownTo.Written {
		return
	}
	n := t.n.Get("down_to")
	if foldWord(st.DownTo.Value) == "substrate" {
		st.DownTo.Value = "substrate"
		return
	}
	k, ok := t.kindOf(st.DownTo.Value, n.Value, n.Path(), beneathRoles)
	switch {
	case !ok:
		st.DownTo = Text{}
	case k.Role == "substrate" && rd.names.substrates[k.Name]:
		st.DownTo.Value = "substrate"
	case !rd.names.present[k.Name] && !rd.names.unsure:
		rd.d.say(n.Value, n.Path(), "the strip cannot stop at %s: nothing of that kind is carried or laid before this step; %s", quoted(k.Name), rd.films())
	default:
		st.DownTo.Value = k.Name
	}
}

// films says what lies on the panel so far.
func (rd *reading) films() string {
	kinds := slices.Sorted(maps.Keys(rd.names.present))
	if len(kinds) == 0 {
		return "there is only the substrate"
	}
	return "there is " + listed(kinds, "and", asIs) + ", and the substrate"
}

func (rd *reading) cutsTo(t table, st *Step) {
	items, _, ok := t.items("cuts_to")
	if !ok {
		return
	}
	if len(items) > MaxCuts {
		rd.d.say(items[MaxCuts].n.Value, items[MaxCuts].n.Path(), "a sheet may cut in %d places at one step", MaxCuts)
		items = items[:MaxCuts]
	}
	k := t.spec.byName["cuts_to"]
	var made []cutMade
	for _, it := range items {
		c := Cut{Place: t.d.x.Place(it.n.Value)}
		to, at, key := "", it.n.Value, it.n.Path()
		switch v := it.v.(type) {
		case string:
			to = v
		case map[string]any:
			cut := table{d: t.d, n: it.n, v: v, spec: cutSpec}
			cut.check("a cut")
			text := cut.text("to")
			if text.Written {
				to, at, key = text.Value, it.n.Get("to").Value, it.n.Path()+".to"
			}
			c.Call, c.Area = cut.text("call").Value, cut.amount("area")
			if n := it.n.Get("call"); n != nil && n.Form == FormText && strings.TrimSpace(c.Call) == "" {
				rd.d.say(n.Value, n.Path(), "a zone of blanks cannot be referred to; write a name, such as call = \"rub-through\"")
			}
			if panel := rd.s.Panel.Area; c.Area.Written && panel.Written && c.Area.Lo > panel.Hi*(1+areaSlack) {
				rd.d.sayAt(c.Area.Place, it.n.Path()+".area", "the cut is larger than the panel, which has "+panel.Text)
			}
			c.Place = t.d.x.Place(it.n.Whole)
			if !text.Written {
				continue
			}
		default:
			t.wrongForm(it.n, k)
			continue
		}
		end, ok := rd.cutEnd(t, &c, to, at, key, st.N)
		if !ok {
			continue
		}
		own := c.Call != ""
		if len(items) == 1 && c.Call == "" && rd.names.calls[st.Call] != nil && rd.names.calls[st.Call].step == st.N {
			c.Call = st.Call
		}
		st.CutsTo = append(st.CutsTo, c)
		if end.step, end.call = st.N, c.Call; !own {
			made = append(made, end)
		}
	}
	rd.names.cuts = append(rd.names.cuts, made...)
}

// cutEnd reads what a cut goes down to, and gives every name it has.
func (rd *reading) cutEnd(t table, c *Cut, to string, at Span, key string, step int) (cutMade, bool) {
	n := rd.names
	ground := cutMade{to: append(slices.Sorted(maps.Keys(n.substrates)), "substrate", to), substrate: true}
	if foldWord(to) == "substrate" {
		c.To = "substrate"
		return ground, true
	}
	if call := n.calls[to]; call != nil {
		switch {
		case call.step >= step && !call.cut:
			t.d.say(at, key, "%s is laid only at step %d, and this is step %d; an abrasive goes through to what lies beneath", quoted(to), call.step, step)
			return cutMade{}, false
		case call.cut:
			t.d.say(at, key, "%s is a zone that step %d cuts; name the film that the abrasive comes to: substrate, a kind, or the call of the step that laid it", quoted(to), call.step)
			return cutMade{}, false
		case !call.lays:
			t.d.say(at, key, "%s is what step %d is called, and that step lays no film; name the film that the abrasive comes to: substrate, a kind, or the call of the step that laid it", quoted(to), call.step)
			return cutMade{}, false
		}
		c.To, c.ToCall = to, true
		return cutMade{to: []string{to, call.kind}, kind: call.kind}, true
	}
	k, ok := trade.Kinds().Lookup(to)
	if !ok {
		all := append(n.layingCalls(step), slices.Sorted(maps.Keys(n.present))...)
		message := "there is neither a film nor a call " + quoted(to)
		if near := nearest(to, append(all, "substrate")); len(near) > 0 {
			message += "; " + didYouMean(near)
		} else if near := trade.Kinds().Near(to, beneathRoles...); len(near) > 0 {
			message += "; " + didYouMean(near)
		} else {
			message += "; write substrate, a kind, or the call of the step that laid it"
		}
		t.d.say(at, key, "%s", message)
		return cutMade{}, false
	}
	switch {
	case k.Role == "helper":
		t.d.say(at, key, "%s", wrongRole(to, k, beneathRoles))
		return cutMade{}, false
	case k.Role == "substrate" && n.substrates[k.Name]:
		c.To = "substrate"
		return ground, true
	case !n.present[k.Name] && !n.unsure:
		t.d.say(at, key, "this cuts to nothing: no %s is carried or laid before this step; %s", k.Name, rd.films())
		return cutMade{}, false
	}
	c.To = k.Name
	return cutMade{to: []string{k.Name, to}, kind: k.Name}, true
}

// layingCalls are the calls of the steps before one that lay a film.
func (n *names) layingCalls(step int) []string {
	var all []string
	for _, name := range n.order {
		if c := n.calls[name]; c.lays && c.step < step {
			all = append(all, name)
		}
	}
	return all
}

// with reads what a wipe, treatment or polish is done with.
func (rd *reading) with(t table, st *Step) {
	st.With = t.text("with")
	if !st.With.Written || st.Do == "" {
		return
	}
	name := st.With.Value
	fit := fitFor[st.Do]
	var kind *trade.Kind
	shown := quoted(name)
	if card := rd.s.Cards[name]; card != nil {
		if card.Kind == "" {
			return // what is wrong with the card is told there
		}
		st.WithCard = name
		kind = kindNamed(card.Kind)
		shown += " is " + card.Kind
	} else if k := kindNamed(name); k != nil {
		kind = k
		if k.Name != name {
			shown += " is " + k.Name
		}
	}
	if kind == nil {
		if rd.names.unsure {
			return // it may stand on a shelf that could not be read
		}
		message := rd.noHelper(name, fit, st.Do)
		rd.d.sayAt(st.With.Place, t.key("with"), message)
		return
	}
	if slices.Contains(fit, kind.Name) {
		st.WithKind = kind.Name
		return
	}
	message := shown
	if shown == quoted(name) {
		message += " is"
	} else {
		message += ","
	}
	switch verb := verbFor[kind.Name]; {
	case kind.Role != "helper":
		message += " " + roleNames[kind.Role] + ", and nothing is done to a surface with that by " + st.Do + "; it takes " + listed(fit, "or", asIs)
	case verb != "" && verb != st.Do:
		message += " for do = " + quoted(verb) + "; " + st.Do + " takes " + listed(fit, "or", asIs)
	default:
		message += " not for " + st.Do + "; it takes " + listed(fit, "or", asIs)
	}
	rd.d.sayAt(st.With.Place, t.key("with"), message)
}

// noHelper says that a name is no card's and no helper kind's, and what would
// be right where a verb or key takes only some kinds.
func (rd *reading) noHelper(name string, fit []string, taker string) string {
	all := slices.Clone(fit)
	for _, c := range rd.s.CardNames {
		if slices.Contains(fit, rd.s.Cards[c].Kind) {
			all = append(all, c)
		}
	}
	message := "there is no card and no helper kind " + quoted(name) + "; "
	if near := nearest(name, all); len(near) > 0 {
		return message + didYouMean(near)
	}
	if near := trade.Kinds().Near(name, "helper"); len(near) > 0 {
		return message + didYouMean(near)
	}
	return message + taker + " takes a card's name, or " + listed(fit, "or", asIs)
}

// lay reads what a step lays, and what is in the cup.
func (rd *reading) lay(t table, st *Step) {
	st.Product = t.text("product")
	st.As = t.text("as")
	st.Coats = t.whole("coats", "a film is laid in one coat or more", "a step lays at most "+strconv.Itoa(MaxCoats)+" coats")
	st.WetFilm, st.Between, st.Thickness = t.amount("wet_film"), t.amount("between"), t.amount("thickness")
	st.Mix = t.mix("mix")
	st.Stood, st.Batch, st.FreshCup = t.amount("stood"), t.amount("batch"), t.flag("fresh_cup")
	st.Gun, st.Tip, st.Pressure = t.word("gun"), t.amount("tip"), t.amount("pressure")
	st.Hardener, st.HardenerCard, st.HardenerKind = rd.inCup(t, "hardener")
	st.Reducer, st.ReducerCard, st.ReducerKind = rd.inCup(t, "reducer")
	st.Additive, st.AdditiveCard, st.AdditiveKind = rd.inCup(t, "additive")
	rd.fades(t, st)
	if !st.Product.Written {
		return
	}
	name := st.Product.Value
	card := rd.s.Cards[name]
	if card == nil {
		if rd.names.unsure {
			return // it may stand on a shelf that could not be read
		}
		rd.names.unsure = true
		var films []string
		for _, c := range rd.s.CardNames {
			if k := kindNamed(rd.s.Cards[c].Kind); k == nil || k.Role != "helper" {
				films = append(films, c)
			}
		}
		message := "there is no card " + quoted(name)
		if near := nearest(name, films); len(near) > 0 {
			message += "; " + didYouMean(near)
		} else if k := kindNamed(name); k != nil {
			message += "; that is a kind, and a step names a card: write [product.NAME] with kind = " + quoted(k.Name) + ", or name one of a shelf"
		} else {
			message += "; " + among(name, films, 6, "no card of a film is in reach: write one under [product.NAME], or name a shelf in the sheet table")
		}
		if rd.s.House == nil {
			if shop := rd.r.unreadShop(rd.d.loc); shop != "" {
				message += "; " + shop
			}
		}
		rd.d.sayAt(st.Product.Place, t.key("product"), message)
		return
	}
	if st.As.Written {
		use := card.Uses[st.As.Value]
		if use == nil {
			uses := slices.Sorted(maps.Keys(card.Uses))
			rd.d.sayAt(st.As.Place, t.key("as"), "the card "+quoted(name)+" has no use "+quoted(st.As.Value)+"; "+
				among(st.As.Value, uses, 6, "it has one use only: leave `as` out, or write [product."+quoteKey(name)+".as."+quoteKey(st.As.Value)+"]"))
			rd.names.unsure = true
			return
		}
		card = use
	}
	kind := kindNamed(card.Kind)
	if kind == nil {
		rd.names.unsure = true // what is wrong with the card is told there
		return
	}
	if kind.Role == "helper" {
		message := quoted(name) + " is " + card.Kind + ", a helper, and never a film"
		if verb := verbFor[card.Kind]; verb != "" {
			message += "; it is for do = " + quoted(verb)
		} else {
			message += "; name the card of what is laid"
		}
		rd.d.sayAt(st.Product.Place, t.key("product"), message)
		rd.names.unsure = true
		return
	}
	st.Card = card
	rd.names.lays(st.Call, kind.Name)
}

// additives are the helper kinds that go into a cup beside its mix.
var additives = []string{"flex additive", "fisheye additive"}

// inCup reads a hardener, reducer or additive: a card's name, a helper kind, or,
// of a hardener or reducer, any text.
func (rd *reading) inCup(t table, name string) (Text, *Card, string) {
	if t.spec.byName[name] == nil {
		return Text{}, nil, ""
	}
	text := t.text(name)
	if !text.Written {
		return text, nil, ""
	}
	if card := rd.s.Cards[text.Value]; card != nil {
		if k := kindNamed(card.Kind); k != nil && k.Role == "helper" {
			return text, card, k.Name
		}
		return text, card, ""
	}
	if k := kindNamed(text.Value); k != nil && k.Role == "helper" {
		return text, nil, k.Name
	}
	if name == "additive" && !rd.names.unsure {
		rd.d.sayAt(text.Place, t.key(name), rd.noHelper(text.Value, additives, name))
	}
	return text, nil, ""
}

func (rd *reading) fades(t table, st *Step) {
	_, n, _, ok := t.get("fades")
	if !ok {
		return
	}
	st.Fades = Fades{Written: true, Place: t.d.x.Place(n.Value)}
	if n.Form == FormFlag {
		st.Fades.All = t.flag("fades").Value
		return
	}
	if t.isQuotedFlag("fades") {
		return
	}
	st.Fades.Zones = rd.zoneList(t, "fades", st.N).Values
}
