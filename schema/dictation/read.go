package dictation

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"fairlead/schema"
)

// Limit is the longest text that is read, in bytes. It is some hundred times
// the longest dictation.
const Limit = 500_000

// ErrTooLong is what a text over the limit is refused with; the text is kept.
var ErrTooLong = errors.New("the text is too long to read")

// Reading is a text with what was understood of it.
type Reading struct {
	Kind      schema.Kind `json:"kind"`
	Text      string      `json:"text"`
	Proposals []Proposal  `json:"proposals"`
	Groups    []Group     `json:"groups,omitempty"`
	// Pieces in order are the whole text, byte for byte.
	Pieces []Piece `json:"pieces"`
	// Refused says why nothing was read, in words; "" where the text was read.
	Refused string `json:"refused,omitempty"`

	cache map[cacheKey]*segment
	cuts  *cuts
}

// cacheKey is all that the reading of a segment depends on.
type cacheKey struct {
	text string
	ctx  context
}

// Read reads a text for a note of a kind. A text over Limit is kept whole as
// narrative and not read: Refused says so.
func Read(kind schema.Kind, text string) *Reading {
	r := &Reading{Kind: kind}
	r.Update(text)
	return r
}

// Update reads a text that was changed: sentences that stand as they were are
// not read again. It gives what Read would.
func (r *Reading) Update(text string) {
	r.Text, r.Proposals, r.Groups, r.Pieces, r.Refused = text, nil, nil, nil, ""
	if len(text) > Limit {
		r.Refused = fmt.Sprintf("The text has %d bytes; the most that is read is %d. It is kept as it is: divide it, or take out what was not dictated.", len(text), Limit)
		r.Pieces = []Piece{{Span: Span{0, len(text)}}}
		return
	}
	if schema.KindNamed(r.Kind) == nil {
		r.Refused = fmt.Sprintf("There is no kind of note called %q: choose one of the kinds of note first.", r.Kind)
		if text != "" {
			r.Pieces = []Piece{{Span: Span{0, len(text)}}}
		}
		return
	}
	lex := lexiconOf(r.Kind)
	kept := make(map[cacheKey]*segment)
	var ctx context
	s := &settling{reading: r}
	if r.cuts == nil {
		r.cuts = &cuts{lex: lex}
	}
	text = r.cuts.withStops(answered(withMarks(unwrapped(withSpeakers(text)))))
	for _, span := range r.cuts.parts(text) {
		ctx.runsOn = ctx.before && runsOnFrom(text, span.Start)
		key := cacheKey{text[span.Start:span.End], ctx}
		g, ok := r.cache[key]
		if !ok {
			if g, ok = kept[key]; !ok {
				g = readSegment(lex, key.text, ctx)
			}
		}
		kept[key] = g
		s.take(g, span.Start)
		ctx = ctx.after(g)
	}
	r.cache = kept
	s.settle()
	r.cut()
}

// readSegment reads one segment by itself.
func readSegment(lex *lexicon, text string, ctx context) *segment {
	g := newSegment(lex, text, ctx)
	g.sidesOfShunts()
	g.joinGrams()
	g.readStruckDrain()
	g.readItemAgain()
	g.readWeighedToday()
	g.correct()
	g.respective()
	g.readRoomAir()
	g.readLimits()
	g.readBareLimits()
	g.readTolerance()
	g.readSaturationSeries()
	g.readLactateSeries()
	g.readDoors()
	g.readTwoSources()
	g.readLeaks()
	g.readTimes()
	g.readRuns()
	g.readSpellsApart()
	g.readRanFor()
	g.readFlows()
	g.readTube()
	g.readTemperatures()
	g.readSoNone()
	g.readNotThere(false)
	g.readPermanentLeads()
	thresholds := g.readThresholds()
	g.readWiresShort()
	g.readOpenChest()
	g.readShuntState()
	g.readNarrowed()
	g.readShuntSide()
	g.readUnnamedShunt()
	g.readShuntPutIn()
	g.readBehindSternum()
	g.readLaterPressure()
	g.readVent()
	g.readCannulated()
	g.readEnlargement(fieldAt(schema.Stage2Enlargement))
	g.readEnlargement(fieldAt(schema.Stage3Enlargement))
	g.readFenestration()
	g.readVesselsReady()
	g.readMisleading()
	g.readEitherSide()
	g.readDeficit()
	g.readPaceSettings()
	g.readPacksTold()
	g.readForm()
	g.readClosing()
	g.readReason()
	g.readNextStage()
	g.readCatheterProcedures()
	g.readCatheter()
	g.readHybridPlans()
	g.readBandsBySide()
	g.readBands()
	g.readSeptumGradient()
	g.readBandsMore()
	g.readLetters()
	g.readPumpLows()
	g.readPeakOverEnd()
	g.readTidal()
	g.readNitric()
	g.readGasTime()
	g.readSampled()
	g.readDrained()
	g.readWeightSaid()
	g.readThatsYour()
	g.readPressures()
	g.readLists()
	g.readOnSupport()
	g.readDecannulated()
	g.readTakenDown()
	g.readShocks()
	g.readSaturationsThen()
	g.readSaturationInOxygen()
	g.readBeforeAfter()
	g.readSaturationCame()
	g.readAnticoagulation()
	g.readProstaglandin()
	g.readInfusions()
	g.readInAndOut()
	g.readCultures()
	g.readSwabsLeft()
	g.readPacksLeft()
	g.readTwoAndTwo()
	g.readNoDrains()
	g.readDrainsTogether()
	g.reserveOfAll()
	g.readItems()
	g.chambersOwn()
	g.giveThresholds(thresholds)
	g.readSnareLeft()
	g.readSameAgain()
	g.takeBackNamed()
	g.readOneLost()
	g.giveOfAll()
	g.readSameSize()
	g.readNotThere(true)
	g.denialsStand()
	g.dropStruck()
	g.readCannulasShort()
	g.readNoWires()
	g.readRespective()
	g.readBareSize()
	g.readACT()
	g.readFamilyAt()
	g.readAllergies()
	g.readHours()
	g.readSupportOn()
	g.readOff()
	g.readUninterrupted()
	g.readPeriods()
	g.readAvailable()
	g.readKeyed()
	g.readCarried()
	g.readSlashed()
	g.readGasOxygen()
	g.readBarePh()
	g.readOxygen()
	g.readOxygenFlow()
	g.readSternotomy()
	g.readInflow()
	g.readBirthOrder()
	g.readGestation()
	g.readSupportCandidate()
	g.readPeakLactate()
	g.readPumpTime()
	g.readNumbers()
	g.readPumpToo()
	g.readOwnUnits()
	g.readPumpMinutes()
	g.readLength()
	g.readDiastolicFall()
	g.readDifference()
	g.readOtherSide()
	g.readOtherOutput()
	g.readWeight()
	g.readPairs()
	g.readCounts()
	g.readInstead()
	g.readFrames()
	g.bothCutOut()
	g.readShuntOpen()
	g.saturationAfter()
	g.readSaturationAtWork()
	g.expectedToo()
	g.readValues()
	g.readLone()
	g.readOtherSideToo()
	g.readNames()
	g.readPlace()
	g.ownRhythm()
	g.coveredRhythm()
	g.rateBeneath()
	g.reopensAgain()
	g.readSternum()
	g.readSternumTold()
	g.readEarlier()
	g.packsNone()
	g.holding()
	g.holdingSide()
	g.retract()
	g.doubt()
	g.misplaced()
	g.readWhyBack()
	return g
}

// joiners begin a sentence that takes back part of the one before.
var joiners = []string{"sorry", "correction", "scratch", "strike that", "actually", "i mean", "make that", "make it", "no,", "no ", "wait", "apologies", "delete that", "ignore that", "disregard", "hang on", "rather", "or rather", "forget that", "cancel that", "my mistake", "that should", "i beg", "pardon", "amend", "let me correct", "i tell a lie", "oh no", "should be", "check that", "scrap that", "hold on", "i misspoke", "well actually", "um no", "er no", "uh no", "oops", "whoops", "hmm", "i said", "that's wrong", "that is wrong", "on reflection", "let me", "to be precise", "i should", "in fact", "that was", "those were", "not that", "well, ", "not fully", "not completely", "not quite", "undo", "take that back", "excuse me", "my apologies", "apologies", "i meant", "i tell", "change that", "oh sorry", "oh actually", "oh, ", "oh there", "oh wait", "no sorry", "no. ", "there was none", "there were none", "ours is", "did i say", "take the", "that is not", "that's not", "i misread", "the number you want", "the figure you want", "properly zeroed", "rezeroed", "re-zeroed", "zeroed properly", "found under", "found in the", "found it", "it turned up", "turned up", "beg your", "beg pardon", "turned down to", "turned up to", "turned it", "now down to", "now up to", "she's back in", "he's back in", "back in sinus", "back to sinus", "now back in", "now back to", "is it?", "is that right", "was it?", "is that so"}

// sentences cuts a text where one ends; a sentence that corrects the one before
// stays with it.
// Those of kept, at the text's start, are known and not looked for again.
func sentences(text string, kept []Span) []Span {
	out := slices.Clone(kept)
	start := 0
	if len(kept) > 0 {
		start = kept[len(kept)-1].End
	}
	end := func(i int) {
		if i > start {
			out = append(out, Span{start, i})
		}
		start = i
	}
	for i := start; i < len(text); i++ {
		rest := text[i+1 : min(len(text), i+1+sentenceReach)]
		switch text[i] {
		case '\n', ';', '!', '?':
			if after := strings.TrimLeft(rest, " "); text[i] == '?' && (strings.HasPrefix(rest, "?") || strings.HasPrefix(after, "->") || strings.HasPrefix(after, "→")) {
				continue
			}
		case '.':
			if i+1 < len(text) && text[i+1] != ' ' && text[i+1] != '\n' && text[i+1] != '\r' && text[i+1] != '"' && text[i+1] != ')' {
				continue
			}
			if i >= 2 && text[i-1] == '.' && text[i-2] == '.' { // "88... let me check"
				continue
			}
			if i >= 2 && text[i-2] == '.' && isLetter(text[i-1]) { // "a.m. "
				continue
			}
		default:
			continue
		}
		if takesBack(rest) || notAsSaid(text[start:i], rest) || saysOfAll(rest) || tellsLoss(text[start:i], rest) || refersBack(rest) || promises(text[start:i]) || text[i] == '?' && answersNo(rest) || saysInstead(rest, text[i] == '?') || choosesLast(rest) || newOneNext(text[start:i], rest) || text[i] == ';' && strings.HasPrefix(strings.ToLower(rest), " once ") {
			continue // "seventeen coming off; once we had closed it was twelve"
		}
		end(i + 1)
	}
	end(len(text))
	return out
}

// promises tells whether a text ends in a sentence that only announces a correction,
// which the next one then makes: "Clamp 47. Let me check the sheet. Fifty seven."
func promises(text string) bool {
	i := strings.LastIndexAny(text, ".;!?\n")
	if i < 0 {
		return false
	}
	if own := strings.ToLower(strings.TrimSpace(text[i+1:])); own == "no" && text[i] == '.' || anyWord(own, "wrong column", "wrong line", "wrong row", "misread") && len(own) < 40 {
		return true
	}
	if !takesBack(text[i+1:]) {
		return false
	}
	words := strings.Fields(strings.ToLower(afterHesitation(text[i+1:])))
	if len(words) > 0 && words[0] == "no," && !slices.Contains(words, "that") && !slices.Contains(words, "wrong") {
		return false // an answer
	}
	if text[len(text)-1] != '?' && len(words) > 3 && len(words) < 7 && strings.Join(words[:3], " ") == "did i say" {
		return true // "Did I say twelve? Fifteens."
	}
	return len(words) <= 8 && !slices.ContainsFunc(words, func(w string) bool {
		_, _, ok := Number(strings.Trim(w, ","))
		return ok && w != "one"
	})
}

// notAsSaid tells whether a sentence denies what the one before said by its own words, and
// says another: "Paced at eighty. Not eighty, ninety."
func notAsSaid(said, rest string) bool {
	rest = strings.TrimLeft(rest[:min(len(rest), 48)], " ")
	was, _, ok := strings.Cut(rest, ",")
	return ok && len(was) > 4 && strings.EqualFold(was[:4], "not ") && strings.Contains(strings.ToLower(said), strings.ToLower(was[4:]))
}

// putsRightFrom begin a sentence that may put right the one before.
var putsRightFrom = wordSet("it it's that they the he she")

// beforeActually are the words before "actually" in a sentence that puts one right.
var beforeActually = wordSet("was were is it's are it")

// putsRight tells whether a sentence says early that it is the truth of what was
// said before: "It was in fact a four", "The perfusionist says it was actually ten".
func putsRight(rest string) bool {
	words := strings.Fields(rest)
	if len(words) < 3 || !putsRightFrom[words[0]] {
		return false
	}
	for i, w := range words[1:min(len(words), 7)] {
		switch strings.Trim(w, ",") {
		case "actually", "really":
			return beforeActually[words[i]]
		case "fact":
			return words[i] == "in" && beforeActually[words[max(0, i-1)]]
		}
	}
	return false
}

// answersNo tells whether a question is answered with no: "CA line? None."
func answersNo(rest string) bool {
	switch strings.ToLower(firstWord(afterHesitation(strings.TrimLeft(rest, "?")))) {
	case "no", "none", "nil", "nope", "not", "never", "right", "left", "bilateral", "just", "only":
		return true
	}
	return false
}

// saysInstead tells whether a sentence is no more than a number, or one word that answers
// a question or that someone put right: "Fifteen, they've just told me."
func saysInstead(rest string, asked bool) bool {
	rest = afterHesitation(rest)
	for i := range len(rest) {
		if c := rest[i]; c == '.' && (i+1 >= len(rest) || !isDigit(rest[i+1])) || strings.IndexByte(";!?\n", c) >= 0 {
			asked = asked && c != '?'
			rest = rest[:i]
			break
		}
	}
	head, by, _ := strings.Cut(rest, ",")
	by = strings.ToLower(by)
	named := anyWord(by, "told", "tells", "corrects me", "corrected", " says", " said", "holding up") || asked && anyWord(by, "the clock", "the sheet", "the chart", "stopwatch", "the record")
	if by != "" && !named && !strings.HasPrefix(by, " and that") && !(asked && agreeing[strings.TrimSpace(by)]) {
		return false
	}
	if d, _, ok := Number(head); ok && d != "" {
		return true
	}
	return (asked || named) && head != "" && !strings.Contains(head, " ")
}

// agreeing are the words with which an answer is taken.
var agreeing = wordSet("right yes thanks okay ok correct sorry")

// choosesLast tells whether a sentence ends in a choice of its own number over the one
// of the sentence before: "A hundred and nine, take theirs.", "Sixteen as I speak."
func choosesLast(rest string) bool {
	rest = rest[:min(len(rest), 90)]
	if i := strings.IndexAny(rest, ".;!?\n"); i >= 0 {
		rest = rest[:i]
	}
	return anyWord(strings.ToLower(rest), "take theirs", "take hers", "take his", "go with theirs", "go with hers", "go with his", "believe them", "believe her", "believe him", "as i speak", "as we speak")
}

// ofAll begin a sentence that says one thing of all that the one before listed:
// "Drains mediastinal fifteen, right ten. All on suction."
var ofAll = []string{"all on ", "all to ", "all suction", "all at ", "all tested", "all are on ", "all clamped", "all free", "all water", "both on ", "both to ", "both suction", "both at ", "each on ", "all minus", "both minus", "all -", "suction ten on all", "on suction", "on water seal", "on underwater", "on free drainage"}

// saysOfAll tells whether a sentence goes on with the list before it.
func saysOfAll(rest string) bool {
	rest = strings.TrimLeft(rest, " ")
	if len(rest) > 20 {
		rest = rest[:20]
	}
	rest = strings.ToLower(rest)
	return slices.ContainsFunc(ofAll, func(w string) bool { return strings.HasPrefix(rest, w) })
}

// runsOnFrom tells whether the text at i goes on with a sentence: no stop stands
// before it, and no capital after.
func runsOnFrom(text string, i int) bool {
	before, after := strings.TrimRight(text[:i], " "), strings.TrimLeft(text[i:], " ")
	if before == "" || after == "" || after[0] >= 'A' && after[0] <= 'Z' {
		return false
	}
	return !strings.ContainsRune(".;!?\n:", rune(before[len(before)-1]))
}

// afterHesitation is a text without the sounds it begins with.
func afterHesitation(s string) string {
	for {
		s = strings.TrimLeft(s, " ,")
		w := firstWord(s)
		if w == "" || !hesitation[strings.ToLower(w)] {
			return s
		}
		s = s[len(w):]
	}
}

func takesBack(rest string) bool {
	rest = afterHesitation(strings.TrimLeft(rest, " \t\r\n.;"))
	if putsRight(strings.ToLower(rest[:min(len(rest), 60)])) {
		return true
	}
	if len(rest) > 24 {
		rest = rest[:24]
	}
	rest = strings.ToLower(rest)
	if first, more, _ := strings.Cut(rest, " "); strings.HasPrefix(more, "now") && !strings.HasPrefix(more, "now we") || anyWord(rest, ", excuse", ", sorry", ", actually", ", i should", ", i mean", ", rather", ", i beg") {
		if _, _, ok := Number(strings.TrimRight(first, ",")); ok {
			return true // "Fifteen now.", "Eighty two, excuse me."
		}
	}
	for _, j := range joiners {
		if !strings.HasPrefix(rest, j) || strings.HasPrefix(rest, "i meant to") {
			continue
		}
		if j == "no " {
			after := rest[3:]
			_, _, ok := Number(firstWord(after))
			for _, w := range []string{"wait", "make", "sorry", "it was", "it's", "actually", "that's", "that was", "scratch", "i mean", "hang", "we ", "i ", "i'm", "she was", "he was", "not ", "never", "what am"} {
				ok = ok || strings.HasPrefix(after, w)
			}
			if !ok {
				continue
			}
		}
		n := len(j)
		if n < len(rest) && j[n-1] != ' ' && j[n-1] != ',' && isLetter(rest[n]) {
			continue
		}
		return true
	}
	// "Sorry." has come; what follows belongs to it.
	return false
}

// firstWord is the first word of a text.
func firstWord(s string) string {
	if i := strings.IndexAny(s, " ,.;"); i >= 0 {
		return s[:i]
	}
	return s
}

// cut divides the text into pieces: what proposals were read from, and the
// narrative between.
func (r *Reading) cut() {
	n := len(r.Text)
	if n == 0 {
		return
	}
	var spans, runs []Piece
	for i := range r.Proposals {
		for _, s := range r.Proposals[i].Spans {
			spans = append(spans, Piece{Span: s, Proposals: []int{i}})
		}
	}
	slices.SortStableFunc(spans, func(a, b Piece) int { return cmp.Or(a.Start-b.Start, a.End-b.End) })
	for _, s := range spans { // what overlaps is one piece
		if m := len(runs); m > 0 && s.Start < runs[m-1].End {
			runs[m-1].End = max(runs[m-1].End, s.End)
			if !slices.Contains(runs[m-1].Proposals, s.Proposals[0]) {
				runs[m-1].Proposals = append(runs[m-1].Proposals, s.Proposals[0])
			}
			continue
		}
		runs = append(runs, s)
	}
	at := 0
	for _, s := range runs {
		if s.Start > at {
			r.Pieces = append(r.Pieces, Piece{Span: Span{at, s.Start}})
		}
		r.Pieces = append(r.Pieces, s)
		at = s.End
	}
	if at < n {
		r.Pieces = append(r.Pieces, Piece{Span: Span{at, n}})
	}
}

// Narrative is the text that nothing was read from, piece by piece.
func (r *Reading) Narrative() []string {
	var out []string
	for _, p := range r.Pieces {
		if len(p.Proposals) == 0 {
			out = append(out, r.Text[p.Start:p.End])
		}
	}
	return out
}

// validSpan tells whether a span lies in the text and cuts no character.
func (r *Reading) validSpan(s Span) bool {
	return s.Start >= 0 && s.Start < s.End && s.End <= len(r.Text) &&
		utf8.RuneStart(r.Text[s.Start]) && (s.End == len(r.Text) || utf8.RuneStart(r.Text[s.End]))
}
