package dictation

import (
	"strings"
	"sync"

	"fairlead/schema"
)

// heard are what recognisers write for words of the trade, each with what was
// said. They belong to the sound of the words, not to any field.
var heard = sync.OnceValue(func() map[string][]hearing { return buildHeard(heardWords) })

const heardWords = `
by cable=bicaval; bi cable=bicaval; bye caval=bicaval; sternal tommy=sternotomy; sternal tommies=sternotomy; stern autumy=sternotomy; adh=adhesions; adhes=adhesions; add he shuns=adhesions; add he sions=adhesions; ad hesions=adhesions; fren nick=phrenic; frenic=phrenic; see tee=ct; tmw=tomorrow; tmrw=tomorrow; high bread=hybrid; high brid=hybrid; prev=previous
radio art=radial art; radio arterial=radial arterial; radio artery=radial artery; radio line=radial line; radio a line=radial a line; medial stinal=mediastinal; media sternal=mediastinal; medial sternal=mediastinal; medial styinal=mediastinal; media styinal=mediastinal; media stainal=mediastinal; jug you lar=jugular; jug ular=jugular; jugger lar=jugular; fem moral=femoral; femeral=femoral; umbilic all=umbilical; your nary=urinary; you rinary=urinary; naso gas trick=nasogastric; nazo gastric=nasogastric; trackiostomy=tracheostomy; trachea ostomy=tracheostomy; tracky ostomy=tracheostomy
cx=cultures; rxn=reaction; co arc=coarct; cereb=cerebral; urine catheter=urinary catheter; urine cath=urinary catheter; ufh=heparin; cal gluc=calcium gluconate; cal gluconate=calcium gluconate; cal chloride=calcium chloride; nkda=no known drug allergies; nka=no known allergies; rpab=rpa band; lpab=lpa band; grad=gradient; grads=gradient; diast=diastolic; ddbp=diastolic fall; sxn=suction; sailing=saline; annular plasty=annuloplasty; annulo plasty=annuloplasty; junk shunal=junctional; junk shional=junctional; by direction all=bidirectional; buy directional=bidirectional; mill known=milrinone; milly known=milrinone; mil known=milrinone; millie known=milrinone; mill ran own=milrinone; canyou lee=cannulae; can you lee=cannulae; can you la=cannula; ec mo=ecmo; eh cmo=ecmo; thresh old=threshold; tampon aid=tamponade; tampon ade=tamponade; fen ten ill=fentanyl; rock your own ium=rocuronium; suctn=suction; tgt=target; tgts=targets; kaw=kawashima; a c t=act; eye jay=ij; i jay=ij; tee e=tee; t e e=tee; hypo thermic=hypothermic; pull mary=pulmonary; pull monary=pulmonary; milli meter=millimetre; milli metre=millimetre; centi metre=centimetre; re opened=reopened; jewels=joules; jules=joules; guide wire=guidewire; guide wires=guidewire; sub clavian=subclavian; bay oh=bao; hemo dynamic=hemodynamic; paracet=paracetamol; wafarin=warfarin; warf=warfarin; warfare in=warfarin; warfrin=warfarin; war fair in=warfarin; hep=heparin; mins.=minutes; ster num=sternum; pair a cardium=pericardium; peri cardium=pericardium; con fluence=confluence; over sown=oversewn; over sewn=oversewn; left a trial=left atrial; right a trial=right atrial; common a trial=common atrial; milk ring own=milrinone; nora drenaline=noradrenaline; nor a drenaline=noradrenaline; font tan=fontan; ek mo=ecmo; gore texts=gore tex; juncture=junctional; fibril=fibrillating; esoph=oesophageal; mida=midazolam; ss wires=steel wires; ss wire=steel wire; oesoph=oesophageal; neoao=neo aorta; thought better of it=then; open as before=open still; closed as before=closed still; unobstr=unobstructed; number you want=true number; figure you want=true number; one you want=true number; ascao=ascending aorta; ascending a order=ascending aorta; by cave all=bicaval; by cable=bicaval; buy cable=bicaval; through the duck=through the duct; cannular=cannula; canular=cannula; neo ao=neo aorta; bee tea=bt; bee tee=bt; b tea=bt; pee a=pa; see p b=cpb; kay stand sell=kaye stansel; stand sell=stansel; stan sell=stansel; sub-clavian=subclavian; ar pee a=rpa; el pee a=lpa; are pa=rpa; elle pa=lpa; see v p=cvp; ay line=a line; sub clavicle=subclavian; trick us bid=tricuspid; di aphragm=diaphragm; a orta=aorta; see vee pee=cvp; en tidal=end tidal; oh two=o two; a v canal=av canal; silly astic=silastic; bicarb=bicarbonate; sano's=sano; mem brain=membrane; antifibrinolytics=antifibrinolytic; mgs=mg; oxy gen=oxygen; ventric=ventricular; infundib=infundibulum; obstr=obstructed; recon=reconstructed; subclav=subclavian; innom=innominate; brachioceph=brachiocephalic; sw/need=swabs/needles; sw/n=swabs/needles; s/n/i counts=swabs/needles/instruments counts; s/n counts=swabs/needles counts; s/n count=swabs/needles count; s/n correct=swabs/needles correct; s/n ok=swabs/needles ok; sw/ndl=swabs/needles; sail in=saline; sale in=saline; say line=saline
as a guess=azygos; all twenties=all twenty; total out=total output; both twenties=both twenty; tol=tolerated; fn=function; fxn=function; func=function; as i guess=azygos; a trial wires=atrial wires; a trial wire=atrial wire; a trial line=atrial line; a trial pressure=atrial pressure; a trial ones=atrial ones; two a trial=two atrial; one a trial=one atrial; no a trial=no atrial; a trial septum=atrial septum; a trial lead=atrial lead; a trial cannula=atrial cannula; a trial paced=atrial paced; a trial pacing=atrial pacing; both pairs=both; each pair=each; all pairs=all; vee wires=v wires; vee wire=v wire; be wires=v wires; ay wires=a wires
rij=right ij; lfv=left femoral vein; rfv=right femoral vein; tpw=pacing wires; pw=pacing wires; aoxc=cross clamp; xct=cross clamp; axc=cross clamp; cpbt=bypass time; prot=protamine; resect=resected; excis=excised; pleur=pleural; mediast=mediastinal; peric=pericardial; jug=jugular; thresh=threshold; fenes=fenestration; fenest=fenestration; gtx=gore tex; homog=homograft; norepi=norepinephrine; bovine peri=bovine pericardium; b/l=bilateral; w/out=without; lac=lactate; fib=fibrinogen; sat=sats; vent'd=ventilated; atr=atrial; ventr=ventricular; septect=septectomy; ligat=ligated; oversew=oversewn; sup=supply; con duit=conduit; pleurae=both pleura; both pleurae=both pleura; each pleurae=each pleura; neither pleurae=neither pleura; left and right pleurae=both pleura; u/o=urine output; uop=urine output; bilat=bilateral; div=divided; azy=azygos; azyg=azygos; hemiazy=hemiazygos; coa=coarctation; extub=extubated; intub=intubated; stg=stage; lig=ligated; fen=fenestration; sys=systolic; plts=platelets; plt=platelets; rbc=red cells; glu=glucose; hep=heparin; gt=gore tex; lact=lactate; gluc=glucose; innom=innominate; pl=pleural; nw=norwood; w/o=washout; lij=left ij; rad=radial; xc=cross clamp; xclamp=cross clamp; rfa=right femoral artery line; fem=femoral; w/=with; umb=umbilical; med drain=mediastinal drain
stats=sats; stat's=sats; glen=glenn; glynn=glenn; glenne=glenn; fontaine=fontan; fontane=fontan; fountain=fontan; fontana=fontan; font an=fontan; phone tan=fontan; fontan's=fontan
sanno=sano; dn=del nido; santo=sano; sanoh=sano; sono=sano; sarno=sano; san oh=sano; saano=sano; sanow=sano; nor wood=norwood; nor would=norwood; norward=norwood; no wood=norwood; northwood=norwood
go tex=gore tex; gortex=gore tex; goretex=gore tex; core tex=gore tex; gore text=gore tex; gortext=gore tex; go text=gore tex; gore techs=gore tex; vortex=gore tex; go techs=gore tex; gore-texts=gore tex
unpaced=not paced; mill renown=milrinone; mil ri known=milrinone; mill rinone=milrinone; milrinon=milrinone; mil renone=milrinone; millrinone=milrinone; mirinone=milrinone; mil run own=milrinone; mill run own=milrinone; milli known=milrinone; milly known=milrinone; mill known=milrinone; mil known=milrinone; mill ri known=milrinone; mil rhinone=milrinone; mill rhinone=milrinone; mill rhino own=milrinone; mil rhino=milrinone; mill rhino=milrinone; milrin own=milrinone; milrin one=milrinone; mill reanone=milrinone; mill ran own=milrinone
epi nephrine=epinephrine; a drenaline=adrenaline; adrenalin=adrenaline; eppy=epi; adren=adrenaline; cacl2=cacl; noradr=noradrenaline; furos=furosemide; frus=furosemide; dop=dopa; vasso=vaso; vassal pressin=vasopressin; vassal press in=vasopressin; vaso presin=vasopressin; milner own=milrinone; nor add=norad; nor ad=norad; precedes point=precedex point; vaso pressin=vasopressin; vasso pressin=vasopressin; adrenal in=adrenaline; a dren a line=adrenaline
pleurals=pleural; plural=pleural; plurals=pleural; pleura l=pleural; floral=pleural; plooral=pleural; media stinal=mediastinal; media steinal=mediastinal; mediastinum drain=mediastinal drain; midiastinal=mediastinal; mediastinals=mediastinal; media stynal=mediastinal; media style=mediastinal; media styne all=mediastinal; media stine all=mediastinal; media stein all=mediastinal; media stinum=mediastinum; media stynum=mediastinum; media steinum=mediastinum; mid iastinal=mediastinal; plural space=pleural space; peri cardial=pericardial; medias tinal=mediastinal; medias steinal=mediastinal; me dia stinal=mediastinal; medi a stinal=mediastinal; media style nal=mediastinal; the pair of them=both; the two of them=both; the both of them=both
atrio=atrial; atrials=atrial; ventricle wires=ventricular wires; ventricle wire=ventricular wire; atrium wires=atrial wires; atrium wire=atrial wire; skin gnd=skin ground; ventriculars=ventricular; ventrical=ventricle; pacing wirers=pacing wires; patient wires=pacing wires; facing wires=pacing wires; a tree all=atrial
neo order=neo aorta; neo a order=neo aorta; neoaorta=neo aorta; neo-aortic=neo aortic; new aorta=neo aorta; neo aortas=neo aorta
in nominate=innominate; inominate=innominate; denominate=innominate; nominate=innominate; anominate=innominate; a nominate=innominate; innominant=innominate
septic to me=septectomy; sept ectomy=septectomy; septectomies=septectomy; septic tummy=septectomy; septum ectomy=septectomy; septectomee=septectomy
cross clamped=cross clamp; crossclamp=cross clamp; across clamp=cross clamp; cross clam=cross clamp; ex clamp=x clamp; xclamp=x clamp; cross lamp=cross clamp; cross-clamps=cross clamp
by pass=bypass; bi pass=bypass; buy pass=bypass; circ a rest=circ arrest; circulatory a rest=circulatory arrest; circ rest=circ arrest; circus arrest=circ arrest; circulatory rest=circulatory arrest; cerebral profusion=cerebral perfusion; profusion=perfusion; antigrade=antegrade; anti grade=antegrade; ante grade=antegrade; integrade=antegrade
pro tamine=protamine; protomine=protamine; heparine=heparin; hepa rin=heparin; hepar in=heparin; cardio pleasure=cardioplegia; cardio plegia=cardioplegia; del neato=del nido; delnido=del nido; del needo=del nido; dell nido=del nido; del nito=del nido
lack tate=lactate; lactated=lactate; lack date=lactate; lactates=lactate; p h=ph; pea h=ph; hemo globin=hemoglobin; haemo globin=hemoglobin; hemoglobins=hemoglobin
finestration=fenestration; fenestrations=fenestration; fence duration=fenestration; fin estration=fenestration; finistration=fenestration; fen estration=fenestration; fenestrator=fenestrated; finestrated=fenestrated
azygous=azygos; as i gus=azygos; azy gus=azygos; prosta glandin=prostaglandin; prostate glandin=prostaglandin; cow ashima=kawashima; cava shima=kawashima; kava shima=kawashima; again us was=azygos was; a zygous=azygos; azigos=azygos; asygos=azygos; kawa shima=kawashima; cow a shima=kawashima; kawashema=kawashima
hemi fontaine=hemi fontan; hemifontan=hemi fontan; hemi-fontain=hemi fontan; bi directional=bidirectional; by directional=bidirectional; extra cardiac=extracardiac; extra-cardiac=extracardiac; lateral tunnels=lateral tunnel; later tunnel=lateral tunnel
jugula=jugular; jugler=jugular; juggler=jugular; jugulars=jugular; fem oral=femoral; from oral=femoral; femural=femoral; umbilicle=umbilical; umbillical=umbilical; radials=radial; radical=radial; radiel=radial
dex med=dexmedetomidine; dexmed=dexmedetomidine; dex medatomidine=dexmedetomidine; dexamedetomidine=dexmedetomidine; dex meditation=dexmedetomidine; fentanil=fentanyl; fennel=fentanyl; fent and l=fentanyl; morph een=morphine; morphin=morphine; calcium cloride=calcium chloride; dopa mean=dopamine; dopamean=dopamine
silastik=silastic; sill elastic=silastic; elastic membrane=silastic membrane; e s mark=esmarch; esmark=esmarch; membrain=membrane; member brain=membrane; dressing on=dressing
blaylock=blalock; blalok=blalock; blay lock=blalock; black lock=blalock; blalock-taussig=blalock taussig; tossig=taussig; towsig=taussig; taussing=taussig; tausig=taussig; b t t=btt; bt shunts=bt shunt; b t shunt=bt shunt; bee tee shunt=bt shunt; m b t t s=mbtts; modified bt=modified b t; btt's=btt
damos=damus; dam us=damus; d k s=dks; kay=kaye; stansil=stansel; stencil=stansel; damus-kay-stansel=damus kaye stansel
ringed go tex=ringed gore tex; wringed=ringed; ranged=ringed; ring gore tex=ringed gore tex; dunk it=dunked; donked=dunked; dunk=dunked; homo graft=homograft; home graft=homograft; home of graft=homograft; home a graft=homograft; home her graft=homograft; homo graph=homograft; home o graft=homograft; home graph=homograft; homographed=homograft; hommograft=homograft; homegraft=homograft
thres hold=threshold; thresh hold=threshold; threshhold=threshold; thresh holds=threshold; milli amps=milliamps; million amps=milliamps; mili amps=milliamps; millie amps=milliamps; milly amps=milliamps; millivolt's=millivolts; mili volts=millivolts
chest tube=chest drain; chest tubes=chest drain; chess drain=chest drain; chest train=chest drain; dream=drain; drane=drain; trains=drains; dranes=drains
nears=nirs; nerse=nirs; n i r s=nirs; near infrared=nirs; near infra red=nirs; cerebral near infrared=cerebral nirs
micks=mics; mikes=mics; mike's=mics; my kilo=mics kilo; mick's=mics; microgram's=micrograms; per key low=per kilo; pickle=per kilo; per killer=per kilo; perkilo=per kilo; a killer=a kilo; purr kilo=per kilo; per key lo=per kilo
night rick=nitric; night trick=nitric; nitrick=nitric; knit rick=nitric; night ric=nitric; nitrix=nitric; inhaled no=inhaled nitric
thousandth=thousand; extra corporeal=extracorporeal; eck mo=ecmo; eckmo=ecmo; e c m o=ecmo; ekmo=ecmo; acmo=ecmo; echmo=ecmo; etmo=ecmo
tran examic=tranexamic; tranexemic=tranexamic; tranex=tranexamic; tranny zamic=tranexamic; trans examic=tranexamic; cryo precipitate=cryoprecipitate; cry o=cryo; fresh frozen=ffp; f f p=ffp; plate lets=platelets; platelet's=platelets; red sells=red cells; read cells=red cells; red cell's=red cells
core act ation=coarctation; co arctation=coarctation; coarct=coarct; corarctation=coarctation; quark tation=coarctation; co-arct=coarct; core arct=coarct; co arct=coarct
french s=french; frenched=french; frenchie=french; fringe=french; fench=french; gage=gauge; guage=gauge; gouge=gauge; gauged=gauge; gaze=gauge
loomin=lumen; luminous=lumen; loo men=lumen; lou men=lumen; double human=double lumen; triple human=triple lumen; double women=double lumen; double looman=double lumen; dual lumen=double lumen; triple loomin=triple lumen; lumin=lumen; luman=lumen; lumine=lumen
in trope=inotrope; vane=vein; veins=vein; venus=venous; venis=venous; sterno tomy=sternotomy; stern otomy=sternotomy; sternal otomy=sternotomy; sternotamy=sternotomy; sternum otomy=sternotomy; thoraco tomy=thoracotomy
ultra filtration=ultrafiltration; alter filtration=ultrafiltration; modify ultrafiltration=modified ultrafiltration; muff=muf; muft=muf; m u f=muf; heamatocrit=hematocrit; haemato crit=hematocrit; hemato crit=hematocrit; hematic rit=hematocrit; creit=crit; hemo crit=hematocrit
trans pulmonary=transpulmonary; transpulmonic=transpulmonary; trance pulmonary=transpulmonary; con do it=conduit; con duit=conduit; conduct=conduit; condu it=conduit; conduet=conduit
temp wires=temporary wires; oral gastric=orogastric; temp wire=temporary wire; tubed=intubated; in two baited=intubated; in to baited=intubated; in two bated=intubated; in tube eighted=intubated; e t tube=et tube; e t t=ett; endo tracheal=endotracheal; endotrakeal=endotracheal; in to bated=intubated; cuff tube=cuffed tube; cuft=cuffed; coughed=cuffed; uncuft=uncuffed; un cuffed=uncuffed; on cuffed=uncuffed
`

// hearing is a word of several, misheard.
type hearing struct {
	words []string
	means []string
}

func buildHeard(s string) map[string][]hearing {
	m := map[string][]hearing{}
	for _, part := range strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == '\n' }) {
		from, to, ok := strings.Cut(part, "=")
		if !ok {
			continue
		}
		var h hearing
		for _, t := range tokenize(from, 0) {
			h.words = append(h.words, t.text)
		}
		for _, t := range tokenize(to, 0) {
			h.means = append(h.means, t.text)
		}
		if len(h.words) > 0 && !(len(h.words) == 1 && len(h.means) == 1 && h.words[0] == h.means[0]) {
			m[h.words[0]] = append(m[h.words[0]], h)
		}
	}
	return m
}

// sidedPlaces are places of the body that are said with a side, so that the letter before one
// is no unit: "milr 0.5 L fem".
var sidedPlaces = wordSet("fem femoral groin ij ijv jug jugular neck rad radial hand foot arm leg wrist subclav subclavian pl pleural")

// sideLetter reads "L" and "R" before a word as sides: "L radial", not the "L" of
// "4 L" or of letters said one by one.
func (g *segment) sideLetter(i int) string {
	w := g.toks[i].text
	if w != "l" && w != "r" || i+1 >= len(g.toks) || g.toks[i+1].kind != word || len(g.toks[i+1].text) < 2 {
		return ""
	}
	if i > 0 && (g.toks[i-1].kind == figure && !sidedPlaces[g.toks[i+1].text] || len(g.toks[i-1].text) == 1 && g.toks[i-1].kind == word && g.toks[i-1].text != "a") {
		return ""
	}
	switch g.toks[i+1].text {
	case "to", "per", "a", "min", "wave", "and":
		return ""
	}
	if w == "l" {
		return "left"
	}
	return "right"
}

// asHeard is a phrase of the vocabulary as hear would leave it, or nil where
// nothing changes.
func asHeard(words []string) []string {
	var out []string
	changed := false
	for i := 0; i < len(words); {
		n := longestHeard(len(words)-i, words[i], func(k int) string { return words[i+k] })
		if n == nil {
			out = append(out, words[i])
			i++
			continue
		}
		changed = true
		out = append(out, n.means...)
		i += len(n.words)
	}
	if !changed {
		return nil
	}
	return out
}

// longestHeard is the longest mishearing that begins with a word, among the next
// n words, of which word(k) is the kth.
func longestHeard(n int, first string, word func(k int) string) *hearing {
	var best *hearing
	list := heard()[first]
	for i := range list {
		h := &list[i]
		if len(h.words) > n || best != nil && len(best.words) >= len(h.words) {
			continue
		}
		same := true
		for k, w := range h.words {
			same = same && word(k) == w
		}
		if same {
			best = h
		}
	}
	return best
}

// smallDoseAt tells whether a dose below one, as of an inotrope, stands at token k.
func (g *segment) smallDoseAt(k int) bool {
	if k >= len(g.toks) {
		return false
	}
	w := g.toks[k].text
	return g.toks[k].kind == figure && (strings.HasPrefix(w, "0.") || w[0] == '.') || w == "point"
}

// sitters are what may be said to have sat somewhere.
var sitters = wordSet("neck line pressure glenn fontan cava tube tip drain shunt graft conduit patch box")

// endsNumber tells whether token k may end a number in words.
func (g *segment) endsNumber(k int) bool {
	return g.numberish(k) || g.is(k, "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "half", "hundred", "nought", "zero", "oh", "quarter")
}

// wiresAhead tells whether a list of wires follows token k.
func (g *segment) wiresAhead(k int) bool {
	for j := k; j < len(g.toks) && j < k+4; j++ {
		if g.is(j, "wire", "two", "one", "three", "x") || g.toks[j].kind == figure && len(g.toks[j].text) == 1 {
			return g.is(k, "atrial", "ventricular", "a", "v", "two", "one") || g.toks[k].kind == figure
		}
	}
	return false
}

// smallDosed are drugs whose dose begins with a nought, and may be said without its point.
var smallDosed = wordSet("adrenaline epinephrine epi adr noradrenaline norepinephrine norepi norad")

// quarterDosed are drugs of which many say the dose as a part of one.
var quarterDosed = wordSet("milrinone milr milri milly dexmedetomidine dexmed dex")

// numberish tells whether token k is a figure or a number of two figures or more in words.
func (g *segment) numberish(k int) bool {
	return k >= 0 && k < len(g.toks) && (g.toks[k].kind == figure || tens[g.toks[k].text] > 0 || teens[g.toks[k].text] > 0)
}

// bareCatheter tells whether the catheter at token i opens a statement and has a size
// and no other word beside it: nothing but the bladder's is called so.
func (g *segment) bareCatheter(i int) bool {
	if i > 0 && g.toks[i-1].kind != stop && g.toks[i-1].text != "," {
		return false
	}
	k := i + 1
	if g.is(k, ",", ":") {
		k++
	}
	n, ok := readNumber(g.toks, k)
	if !ok || n.clock != "" && n.surely {
		return false
	}
	switch n.decimal {
	case "5", "6", "7", "8", "10", "12", "14":
	default:
		return false
	}
	if g.is(n.to, "french", "fr", "f") {
		n.to++
	}
	return n.to >= len(g.toks) || g.toks[n.to].kind == stop || g.is(n.to, ",", "urine", "in")
}

// hear puts the words that were said in the place of those a recogniser wrote.
// A replaced token keeps the place of the whole phrase in the text.
func (g *segment) hear() {
	changed := false
	out := make([]token, 0, len(g.toks))
	for i := 0; i < len(g.toks); {
		if s := g.toks[i].span; g.toks[i].text == "no" && g.text[s.Start:s.End] == "NO" && i+1 < len(g.toks) && (g.toks[i+1].kind == figure || g.is(i+1, "at", "nil", "none", "off", "not") || g.is(i-1, "no") && g.toks[i+1].kind != word) && strings.ToUpper(g.text) != g.text {
			t := g.toks[i]
			t.text, t.id = "nitric", g.lex.ids["nitric"]
			out = append(out, t)
			changed = true
			i++
			continue
		}
		if g.toks[i].text == "ct" && i > 0 && (g.is(i-1, "med", "mediastinal", "mediast", "pleural", "right", "left", "r", "l", "pl", "pleur") || i+1 < len(g.toks) && g.toks[i+1].text == "output") {
			t := g.toks[i] // a chest tube, not a scan
			t.text, t.id = "drain", g.lex.ids["drain"]
			out = append(out, t)
			changed = true
			i++
			continue
		}
		if g.is(i, "mil", "mill") && (g.smallDoseAt(i+1) || g.is(i+1, "at", "is", "running") && (g.smallDoseAt(i+2) || g.is(i+2, "at") && g.smallDoseAt(i+3)) || g.is(i+1, "standby", "off", "stopped") && (i == 0 || g.toks[i-1].kind != figure && !g.endsNumber(i-1))) && !(i > 0 && g.toks[i-1].kind == figure && g.toks[i].glued) {
			t := g.toks[i] // "mil .5" is milrinone
			t.text, t.id = "milrinone", g.lex.ids["milrinone"]
			out = append(out, t)
			changed = true
			i++
			continue
		}
		if g.is(i, "set") && strings.EqualFold(g.words(i, i+1), "sets") && (g.numberish(i+1) || !(i > 0 && (g.numberish(i-1) || g.is(i-1, "both", "two", "all"))) && g.is(i+1, "are", "now", "is", "between", "over", "under", "above", "at", "leaving", "on") && (g.numberish(i+2) || g.is(i+2, "between", "on", "at"))) {
			t := g.toks[i] // "sets eighty four"
			t.text, t.id = "sat", g.lex.ids["sat"]
			out = append(out, t)
			changed = true
			i++
			continue
		}
		if g.is(i, "sat") && i > 0 && sitters[g.toks[i-1].text] && g.is(i+1, "at", "on", "in", "behind", "between", "against", "just", "well", "right", "nicely") {
			t := g.toks[i] // "the line in her neck sat at 24" is no saturation
			t.text = "lay"
			if g.lex.kind != schema.Takedown { // where it tells of what failed
				t.text = "sitting"
			}
			t.id = g.lex.ids[t.text]
			out = append(out, t)
			changed = true
			i++
			continue
		}
		if says, keep := g.saysPoint(i); says {
			t := g.toks[i]
			t.text, t.id = "point", g.lex.ids["point"]
			out = append(out, t)
			if keep {
				out = append(out, g.toks[i])
			}
			changed = true
			i++
			continue
		}
		if s := g.toks[i].span; g.is(i, "na") && g.text[s.Start:s.End] == "NA" && (g.smallDoseAt(i+1) || g.is(i-1, "no") || g.is(i+1, "not", "never", "off", "none", "nil", "stopped", "on")) {
			t := g.toks[i] // no sodium
			t.text, t.id = "noradrenaline", g.lex.ids["noradrenaline"]
			out = append(out, t)
			changed = true
			i++
			continue
		}
		if i == 0 && g.is(0, "ring") && g.is(1, ":", "mr", "mrs", "miss", "dr", "doctor", "professor") {
			t := g.toks[i] // "Ring: sats under seventy"
			t.text, t.id = "call", g.lex.ids["call"]
			out = append(out, t)
			changed = true
			i++
			continue
		}
		if n := len(out); g.is(i, "quarter") && n > 0 && (quarterDosed[out[n-1].text] || out[n-1].text == "at" && n > 1 && quarterDosed[out[n-2].text]) {
			t := g.toks[i] // "milrinone quarter"
			t.text, t.id = "a", g.lex.ids["a"]
			out = append(out, t, g.toks[i])
			changed = true
			i++
			continue
		}
		if g.is(i, "catheter") && g.bareCatheter(i) {
			t := g.toks[i] // "Catheter, six" is the bladder's
			t.text, t.id = "urinary", g.lex.ids["urinary"]
			out = append(out, t, g.toks[i])
			changed = true
			i++
			continue
		}
		if g.is(i, "med") && (g.is(i+1, "drain", "tube") || g.is(i-1, "no") || g.mentions("drain")) {
			t := g.toks[i]
			t.text, t.id = "mediastinal", g.lex.ids["mediastinal"]
			out = append(out, t)
			changed = true
			i++
			continue
		}
		if g.is(i, "pacing") && g.is(i+1, ":") && g.wiresAhead(i+2) {
			out = append(out, g.toks[i])
			t := g.toks[i]
			t.text, t.id = "wire", g.lex.ids["wire"]
			out = append(out, t)
			changed = true
			i++
			continue
		}
		if w := g.sideLetter(i); w != "" {
			t := g.toks[i]
			t.text, t.id = w, g.lex.ids[w]
			out = append(out, t)
			changed = true
			i++
			continue
		}
		best := longestHeard(len(g.toks)-i, g.toks[i].text, func(k int) string {
			if g.toks[i+k].kind != word && g.toks[i+k].kind != mark {
				return ""
			}
			return g.toks[i+k].text
		})
		if best == nil {
			if w, n := g.soundsLike(i); n > 0 {
				t := g.toks[i]
				t.span.End = g.toks[i+n-1].span.End
				t.text, t.id = w, g.lex.ids[w]
				out = append(out, t)
				changed = true
				i += n
				continue
			}
			out = append(out, g.toks[i])
			i++
			continue
		}
		changed = true
		h := best
		span := Span{g.toks[i].span.Start, g.toks[i+len(h.words)-1].span.End}
		for _, w := range h.means {
			out = append(out, token{span: span, kind: word, text: w, id: g.lex.ids[w], glued: g.toks[i].glued})
		}
		i += len(h.words)
	}
	if changed {
		g.toks = out
	}
	g.joinNor()
}
