package dictation

import (
	"strings"
	"sync"
)

// cue is what a phrase does to the words around it.
type cue uint8

const (
	noCue        cue = iota
	denies           // no, without, did not
	deniesBefore     // ... was not used
	neither          // neither pleura was opened
	history          // at stage one, last time
	former           // the old, previous
	passing          // before we revised it, initially
	comes            // preoperatively, came to theatre on: the child's state before this operation
	risesFrom        // came up from 58 to 81
	finds            // found
	priorly          // ... before
	misfits          // ... was too big
	retracts         // ignore what I said about
	intends          // plan to, tomorrow
	depends          // if, unless
	calls            // call me
	targets          // aim for, keep
	arrives          // on leaving, now, today: what follows is the state now
	turns            // but, then
	corrects         // no, make that
	scratches        // scratch that
	approx           // about
	above            // more than
	below            // less than
	chooses          // we used, went with
	weighs           // considered, thought about, sized at
	between          // between 16 and 18
	through          // running through, via, into, down
	both             // both, bilateral
	each             // two each, one each side
	rightSide
	leftSide
	midline
	stoppedCue // stopped, off
	standbyCue // on standby
	another    // another, a second
	removed    // taken out, removed
	unknownCue // not known
	notMeasuredCue
	clottedCue
	unrecordableCue
	filler // um, er
	lumens // double lumen: how many is in cueNumber
	others // the anaesthetist said
)

// cues are the phrases that say how their neighbours are meant. They belong to
// the language, not to any field.
var cues = []struct {
	cue     cue
	phrases string
}{
	{denies, "nothing; ran out of; run out of; had no more; there is not a; there isn't a; there wasn't a; there was not a; no; not; without; never; nor; did not; didn't; was not; wasn't; were not; weren't; is not; isn't; are not; aren't; have not; haven't; has not; hasn't; had not; did not need; didn't need; did not require; didn't require; did not have; didn't have; did not use; didn't use; no need for; not needed; there was no; there were no; there is no; there are no; avoided; free of; none of; no new; zero; negative for; not had to; did not have to; didn't have to; did not need to; didn't need to; had no; has no; have no; nil; with no; and no; do not have; don't have; could not; couldn't; cannot; not a; did not leave; didn't leave; did not put; didn't put; did not place; didn't place; no evidence of; ruled out; not required; did without; declined; omitted"},
	{deniesBefore, "there isn't one; there is none; there is not one; there isn't any; there are none; there aren't any; there wasn't one; there was none; there were none; we have none; hasn't got one; doesn't have one; did not put one in; didn't put one in; isn't one; there's none; there's not one; we didn't leave one; we did not leave one; did not leave one; didn't leave one; was not used; were not used; not used; wasn't used; was not needed; were not needed; were not required; were not necessary; were not put in; were not inserted; were not done; were not given; were not fitted; weren't required; weren't put in; wasn't placed; wasn't required; wasn't put in; not needed; not required; was not required; was not necessary; not necessary; not done; was not done; none; nil; not given; was not given; not placed; not put in; wasn't needed; weren't needed; weren't used; weren't placed; was avoided; were avoided; no; not present; absent; not left; was not left; were not placed; were not left; never used; never needed; not opened up; zero; not running; not possible; wasn't possible; was not possible; not feasible; impossible; not in; isn't in; not there; was not there; never put in; not put; didn't go in; did not go in; wasn't touched; was not touched; not touched; never touched; not counted; not sent; not used today; not placed today; unused; n/a; not applicable; not fitted; not inserted; wasn't inserted; was not inserted; not begun; was not found; not found; never on; was never on; was not on; were never on"},
	{neither, "neither; neither of the; neither of"},
	{history, "prior stage one; prior stage 1; prior stage i; prior stage two; prior stage 2; previous stage one; previous stage 1; previous stage two; previous stage 2; old stage one; at his first operation; at the first stage; prior operation; previous operation; prior surgery; previous surgery; at prior; the first time round; first time round; first time around; last time round; last time around; at stage one elsewhere; back at stage one; back at the norwood; back at the glenn; his very first; her very first; last bypass; last clamp; the last operation; his last operation; her last operation; last repair; at stage one; at stage 1; at the stage one; at stage i; at first stage; at the first stage; at her stage one; at his stage one; at stage two; at stage 2; at the second stage; at her stage two; at his stage two; at the norwood; at her norwood; at his norwood; at the glenn; at her glenn; at his glenn; at the time of the norwood; at the time of the glenn; last time; previously; at the previous operation; at the last operation; at the first operation; at her first operation; at his first operation; at the original operation; at the initial operation; in the past; at birth; as a neonate; in the neonatal period; at the referring hospital; in the referring hospital; at the local hospital; in the other hospital; from the referring hospital; at presentation; presented with; on presentation; by the time of surgery; at the time of admission; on admission; in resus; during transfer; transferred with; at the other hospital; first operation; last year; last month; last week; yesterday; last night; the other day; days ago; weeks ago; months ago; years ago; ago; history of; status post; s/p; post norwood; prior norwood; prior glenn; previous norwood; previous glenn; since birth; antenatally; in the newborn period; from the first operation; from stage one; from last time; from the last operation; from her stage one; from his stage one; first time round; first time around; back then; in infancy; earlier this week; at the last admission; on a previous admission; from before; years back; months back; the first time; had had; has had;  pre operatively; preoperatively; pre op; preop; pre operative; preoperative; before the operation; before surgery; on the ward; at the pre op echo; on the pre op echo; at catheter; at cath; cath showed; pre op cath; catheter showed; in another child; another child; another patient; a different patient; different child; last one we did; the last child; two weeks ago; last week's; in the last case; the previous case; at another hospital; as a newborn; at her first; at his first; when she was born; when he was born; at his norwood stage; at her stage 1; at his stage 1; at his stage 2; at her stage 2; when she was; when he was"},
	{comes, "preoperatively; pre operatively; pre op; preop; pre operative; preoperative; before the operation; before surgery; before theatre; before the case; before coming to theatre; before we started; before today; on the ward; at the pre op echo; on the pre op echo; came to us; came to us on; came to us with; came to theatre; came to theatre on; came to theatre with; came down on; came down; came over on; arrived on; arrived with; came in; came in with; came in on; coming in; coming into theatre; coming to theatre; on arrival; on arrival in theatre; on arrival into theatre; arriving in theatre; came from home; from home; walked in; on admission; at admission; at presentation; on presentation; beforehand; on the way in; on the way to theatre; up to theatre; until theatre; up to the or; had been; this morning; at clinic; in clinic; on the last echo; the last echo; last echo; on her last echo; on his last echo; sbefore all this; before admission; in the clinic; at home; preop echo; pre op echo; preoperative echo; preoperative; prior to surgery; prior to theatre; prior to the operation; prior to arrival; until we came to theatre; when we came to theatre; when he came to theatre; when she came to theatre; came round on; came across on; came up on; transferred on"},
	{former, "changed from; swapped from; exchanged from; converted from; the old; old; original; originally; previous; prior; known; existing; the previous; the original; was previously; previously a; used to be; had been a"},
	{passing, "upstairs; downstairs; in the ambulance; in transit to us; on the way off; on the way off bypass; on the way off pump; as we weaned; as we were weaning; when we first came off; when we came off; when she came off; when he came off; on the ward gas; with the big shunt; with the larger shunt; with the first shunt; came to us on; came to us with; came from the unit on; came down on; arrived on; arrived with; came over on; there had been; at the start of the case; at the beginning; in the anaesthetic room; before incision; before skin incision; at knife to skin; just off bypass; immediately off bypass; straight off bypass; first off bypass; initially off bypass; early off bypass; while weaning; during weaning; before the shunt was opened; before opening the shunt; with the shunt clamped; with the shunt closed; on test occlusion; before nitric; before starting nitric; before nitric oxide; overnight; this morning; earlier today; pre induction; preinduction; post induction; after induction; before closure; before closing; before chest closure; before protamine; before muf; before ultrafiltration; before modified ultrafiltration; before the clip; before the band; before the fenestration; while the chest was open; when the clamp came off; after the clamp came off; on coming off; as we came off; coming off pump; when she arrived; when he arrived; when we got to theatre; in the cath lab; on the way to theatre; at the time of arrest; during cpr; during the arrest; at its lowest; at the lowest; at their worst; at her worst; at his worst; nadir of; had dropped to; had fallen to; had been as low as; had gone down to; had risen to; had gone up to; had climbed to; was up at; were up at; had peaked at; pre; before we; before revising; before the revision; before i; before it; before that; before clipping; before going on; before coming off; before bypass; pre bypass; prebypass; initially; at first; to start with; to begin with; on arrival in theatre; on arrival; at induction; on induction; at the start; came in with; came to theatre; coming in; came in; had been; were down to; was down to; dropped to; dropped as low as; fell to; went down to; fell as low as; got down to; peaked at; peak of; at one point; at one stage; transiently; briefly; for a while; for a time; first attempt; after the first; earlier; prior to; until we; was running at; on bypass the; during bypass; at the end of bypass; at the end of the bypass; on pump; on rewarming; while rewarming; was as low as; as low as; at its worst; at worst; at its highest; at the highest; at their highest; at the peak; in the first hour; in the first minutes; for the first minutes; in the first few minutes; for the first few minutes; in the first minute; before leaving; when we started; coming off; coming off bypass; on coming off; while we were closing; during closure; on opening; when we opened; before us; before we came; on the way in; in the anaesthetic bay; at its peak; peaked; which peaked at; which had been; it had been; she had been; he had been; at the worst; in the middle of it; coming into theatre; on arrival into theatre; arriving in theatre; pre repair; prerepair; before repair; before the repair; pre dilatation; before the bands; at knife; first gas; the first gas; on the first gas; early gas; was then; back then"},
	{risesFrom, "came up from; went from; up from; down from; came down from; rose from; fell from; dropped from; improved from; went up from; went down from; increased from; climbed from"},
	{retracts, "delete the; scratch the; strike the; scrap the; ignore what i said about; forget what i said about; ignore the bit about; forget about; disregard what i said about; take back what i said about; take out what i said about; i was wrong about; strike what i said about; delete what i said about; ignore the; forget the; disregard the; remove the bit about"},
	{misfits, "was too big; was too small; was too large; was too long; was too short; too big; too small; too large; did not fit; didn't fit; would not fit; wouldn't fit; was rejected; was discarded; was abandoned; didn't work; did not work"},
	{priorly, "that was the previous patient; that was the last patient; that was another patient; that was another child; that was the previous child; that was the last child; that was the other child; that was a different child; that was yesterday; that was the previous one; that was the last one; that was the last case; that was last time; was the old one; was the last one; that was another case; that was the other one; was before; was earlier; that was before; those were before; those were earlier; those were the earlier ones; that was the earlier one; that was the one before; that was pre; that was the first gas; that was the old one; that was an earlier one; that was on bypass; that was at the start; those were pre; that was pre bypass; that was at first; that was earlier; that was then; that was at the start; that was on arrival; before; beforehand; pre op; preop; previously; pre"},
	{finds, "found; found it; found to be"},
	{intends, "booked as; booked for; booked as a; listed as; listed for; consented for; had it down as; the booking was; booked in as; down on the list as; on the list as; scheduled as; booked; i booked; we booked; booked it as; booked it as a; i booked it as; we booked it as; talk of; talked of; talked about; there was talk of; discussion of; hoped to; had hoped to; hoped; had wanted to; had wanted; wished; would have liked; had meant to; plan to; plans to; plan is to; planning to; planning; planned to; the plan; plan for; plan is; plan; will; we'll; i'll; going to; gonna; intend to; intending to; intention; hope to; hoping to; hopefully; expect to; expecting to; expect; would; would have; would be; could; should; may need; might need; might; may; tomorrow; in two days; in three days; in a day or two; in 24 hours; in 48 hours; in forty eight hours; in twenty four hours; next week; next month; later; later on; to be; when ready; tonight; in the morning; this evening; consider; considering; considered; was going to; were going to; was to; about to; nearly; almost; tempted to; tempted; thinking of; thought of; thinking about; thought about; wanted to; want to; would like; like to; need to; needs to; needing; ready to; to come out; come out; comes out; stay until; to stay; at the next; next time; in future; in the future; eventually; for removal; aim to; aiming to; due to; due; scheduled; pending; awaiting; awaited; ordered; if needed; as needed; on the way; to start; start; starting; we had planned; had planned; were planning; was planning; was planned; prepared to; in case; just in case; available if; standing by; booked for; target is to; once; discussed; decided against; decided not to; opted not to; chose not to; elected not to; instead of; rather than; as opposed to; contemplated; would not; won't; will not; don't; do not; let's; please; talk about; try to; before you; before anyone; i had thought; had thought; i wanted; had asked for; i had asked for; i'd thought; was going to be; were going to be; hopes to; aimed to; meant to; tried to; hasn't been started; has not been started; have not started; not yet started; yet to; to follow; at some point; maybe next; perhaps next; in a few days; stood ready; in reserve; was raised; was mooted; was discussed; was considered; were discussed"},
	{depends, "only if; only when; only should; transfuse below; transfuse if; transfuse under; transfuse when; if; unless; until; in the event; should it; should she; should he; in the event of; as long as; provided; whenever; any sign of; watch for; look out for; worried about; worry about; worries; worry is; my worry; worried; concern is; concerned about; risk of; at risk of; beware; be aware; be careful; when you; threshold for; low threshold; criteria"},
	{calls, "i want to be called; want to be called; be called; i want calling; want calling; wants calling; want to be told; i want to be told; want to be rung; want telling; i am to be called; should be called; must be called; have me called; get hold of me; call me; call us; call for; call if; call; ring me; ring us; ring if; ring the surgeon; phone me; phone us; phone if; page me; page us; bleep me; bleep; let me know; let us know; tell me; tell us; alert me; alert; notify me; notify; inform me; inform; shout; i want to know; want to know; want to hear; i'd like to know; would like to know; contact me; contact; get me; hear about; triggers; trigger; call parameters; call criteria; call limits; limits to call; want a call; wants a call; wants to know; call the surgeon; call surgery; call the team; call team; come back to me; for a call"},
	{targets, "target; targets; targeting; target of; targets are; target is; aim for; aiming for; aim; aims; goal; goals; keep; keeping; accept; accepting; maintain; maintaining; happy with; tolerate; we want; i want; want; would like the; i'd like; would like; run the; shoot for; shooting for; sit at; acceptable; parameters; keep the; let the; we'd like"},
	{arrives, "just before leaving; just before we left; this is a; this is an; this one; in this one; in this child; in this case; but here; here we; here a; here an; the last one; last one was; the last one was; the latest one; the latest one was; the most recent; most recent one; post; afterwards; after that; after this; after it; on leaving; leaving theatre; at leaving; on leaving theatre; leaving with; leaves theatre; leaves with; leaves on; now; today; this time; currently; at the end; at the end of the case; finally; final; came off with; on transfer; at transfer; for transfer; at the moment; going out; coming out; on departure; out of theatre; at present; present; comes to you; comes out with; came out with; coming to you; comes back with; is on; are on; off bypass; after bypass; post bypass; after revision; after the revision; on this occasion; in the end; after all; ended up with; end up with; ended up; ended with; settled at; settled to; settled down to; came down to; improved to; rose to; went up to; is now; are now; came back to; settled on; came up to; now on; at close; on closing; as we leave; when we left; we left with; after chest closure; after closure; after modified ultrafiltration; at handover; this operation; for this operation; final gas; last gas; latest; at the door; going to the unit; leaving now; the one we leave with; we leave with; as of now; as we go; on the way out; at the finish; by the end; since; straight after; afterward; right now; when leaving; for the handover; at hand over"},
	{turns, "but; which was; which we; which i; which is now; which has been; this was; however; then; and then; so; although; though; instead; whereas; while; otherwise; next; moving on; okay; ok; right so; also; except; apart from; other than"},
	{corrects, "typo; that is a typo; thats a typo; typing error; i misread that; i misread; misread that; slip of the tongue; i got confused; let me look; let me see; that's the wrong one; wrong one; i take that back; oops; whoops; on reflection; to be precise; in fact; i said; let me change that; let me fix that; make that a; no it should be; it should be; that was wrong; got that wrong; i got that wrong; let me start again; no not; hmm no; well no; not so; no make that; make that; make it; correction; sorry; i mean; i meant; i should say; no wait; wait; rather; i beg your pardon; beg pardon; let me correct that; let me check; correct that to; change that to; should read; should be; i misspoke; or rather; no actually; actually; no sorry; sorry no; sorry i mean; no it was; no it's; no that was; no that's; i tell a lie; tell a lie; pardon me; excuse me; apologies; my mistake; my apologies; that should be; that's wrong; that is wrong; not right; i lie; hang on; hold on; well actually; or was it; was it; amend that to; amend; to correct; correcting; let me rephrase; check that; it was actually; was actually; were actually; correct that; what am i saying; let me look again; no hang on; hang on no; i should have said; should say; or more exactly; to be exact; well no it; let me rephrase that; that is not right; no that is wrong; i have that wrong; i had that wrong; wrong way round; other way round; no no; let me say that again; say again; i withdraw that; let me amend; on second thoughts; second thoughts; come to think of it; or should i say; wait no; call it; settle on; let us say; let us call it"},
	{scratches, "scratch that; strike that; delete that; ignore that; forget that; scrap that; cancel that; disregard that; disregard; take that back; scratch; ignore the last; ignore that last; not that; undo that; scratch that last; rub that out"},
	{approx, "about; around; roughly; approximately; approx; circa; i think; probably; maybe; perhaps; or so; ish; give or take; in the region of; something like; nearly; just about; I believe; not certain; not sure; say; best guess; presumably; ?"},
	{above, "more than; greater than; above; over; exceeds; exceed; exceeding; higher than; at least; >; rises above; goes above; goes over; go above; go over; in excess of; north of; up over; upwards of; bigger than; climbs above; rising above; rises over; beyond; gets above; get above; getting above; gets over; is above; are above; is over; are over"},
	{below, "less than; below; under; lower than; at most; no more than; <; drops below; falls below; drop below; fall below; goes below; go below; dips below; down below; south of; drops under; falls under; gets below; get below; goes under; go under; smaller than; is below; are below; is under; are under; drops to; falls to; drops; falls; sits below; sit below; down under; shy of; not above; not over; not more than; no higher than"},
	{chooses, "we used; i used; used; went with; settled for; chose; put in; took; picked; in the end used; decided on; and used; opted for; plumped for; ended up using; we went with; went for; and took; and went with; and chose; placed; selected; and put in; used an; used a"},
	{weighs, "the fellow had; the registrar had; had drawn up; drew up a; stent on the table; shunt on the table; conduit on the table; patch on the table; open on the table; ready on the table; looked like; looks like; looked to be; looked as if; we thought it was; i thought it was; was thought to be; were thought to be; thought to be; suspected; suggestive of; suspicious of; was mistaken for; we feared; feared; did i say; had i said; have i said; asked about; wondered about; i had written; i'd written; i'd put; i'd put down; i had put; i had down; i wrote; i had put down; i told the team; i told them; i told the nurse; i told the unit; i told the parents; i would have said; sized at; sized to; sized; measured for; thought; looked at; tried; first tried; offered up; templated; between; toyed with; debated; hesitated between; either; started with; could have; torn between; originally planned; up to; quoted; offered; reached for; opened a; picked up a; first put in; first choice; were thinking; was thinking; wondered; nearly used; almost used; considered; asked for; i asked for; i had said; had said; i said a; i wanted a; would use; i would use; ordinarily; ordinarily i would use; normally i would use; normally"},
	{through, "through; via; into; down; running through; runs through; running into; going through; goes through; running down; goes down; runs into; in the; going into; on the; runs in; running in; off the; from the; up the; through the; via the; into the; down the; using the; by the; connected to; plumbed into; transduced from; hooked to; is in; are in; all in; all through; lumen of; port of; limb of; both through; both via; both down; on; in"},
	{both, "both; bilateral; bilat; bilaterally; both sides; on both sides; each side; either side; left and right; right and left; both left and right; one each side; one on each side; one either side; on each side; one each; l and r; r and l; r & l; l & r; both right and left; right one left; one right one left"},
	{each, "each; apiece; of each; in each; each of"},
	{rightSide, "right; right sided; right side; rt; right hand side; r"},
	{leftSide, "left; left sided; left side; lt; left hand side; l"},
	{midline, "midline; in the midline; central"},
	{stoppedCue, "stopped; off; weaned off; discontinued; turned off; switched off; came off; weaned; not running; no longer running"},
	{standbyCue, "standby; on standby; drawn up; made up; ready to go; in line; primed; stand by; on stand by; made up ready; ready but not running; not running yet; hung but off"},
	{another, "another; a second; a third; second; further; additional; extra; one more; a further; an additional; an extra; an other; plus another; other"},
	{removed, "out and gone; removed; taken out; took out; pulled; came out; been removed; have been removed; was removed; were removed; has come out; out; has been removed; pulled out; whipped out; discontinued; retrieved; discarded; thrown away; gone; thrown out; fell out; came away; came loose; was lost; are now out; now out; out now; taken off; was taken off; took off; came off with it"},
	{unknownCue, "not known; unknown; don't know; do not know; unclear; not sure of; couldn't say; no record"},
	{notMeasuredCue, "not measured; wasn't measured; was not measured; not taken; not checked; unmeasured; didn't measure; did not measure; not done"},
	{unrecordableCue, "unrecordable; not recordable; no reading; unreadable"},
	{clottedCue, "clotted; sample clotted; clotted sample"},
	{filler, "no other; nothing else; no further; no more; no additional; anything else; um; uh; er; erm; ah; you know; like; uhm; hmm; well; basically; obviously; kind of; sort of; just; as it were; let's see; let me see"},
	{others, "the other hospital had; the ward had; the ward gas; her mum; his mum; mum; mums; her mother; his mother; maternal; my colleague did; my colleague put; my colleague used; a colleague of mine; my colleague's; the last one of these; his cousin; the one i did; the child next door; the other child; another child had; the boy before; the girl before; twin of the; the twin got; the twin had; twin got; twin had; who had a; who had an; who did a; who got a; whose shunt; whose conduit; registrar wrote; nurse wrote; perfusionist wrote; someone wrote; they wrote; somebody wrote; by the note; by the chart; by the notes; by the record; per the note; per the notes; per the chart; per the last note; as per the notes; according to the chart; according to the note; mother's own; father's own; mother's; the mother had; the father had; reckons; guesses; reckoned; guessed; insists; swears; the cousin; her cousin; his cousin; a cousin; her sister; his sister; the sister; her brother; his brother; the brother; a sibling; the sibling; her twin; his twin; the other twin; the previous patient; the last patient; the next patient; the patient before; the child before; the baby before; the other baby; the next case; the case before; next door; in the next bed; the last one i did; the last one we had; the one before; the note said; the notes said; the letter said; the sheet said; the summary said; the op note said; the op note says; the operation note said; the operation note says; the count sheet said; the note says; the notes say; the old note says; the old notes say; the last note; by the last note; last note says; the letter says; the referral says; the referral letter says; referral letter; the record says; the record said; the records say; the handover said; the handover says; the board says; the board said; the form says; the ward says; the ward said; the registrar said; the registrar says; the nurse said; the nurses said; the cardiologist said; the cardiologists said; the perfusionist said; the consent says; the discharge summary says; the summary says; was quoted as; the list says; the list said; anaesthetist said; anesthesiologist said; they said; they say; they report; they reported; told us; was told; we were told; reportedly; apparently; according to; the referrer; reported; reports; per report; they quoted; parents say; parents said; cardiology said; supposedly; allegedly; other team; at the other hospital; perfusion chart says; the log says; chart says; the chart gives; chart gives; the monitor said; log has"},
}

// moreUnits are abbreviations of units, which the trade writes and the
// definitions leave out because nothing shows them.
var moreUnits = map[string][]string{
	"mm": {"mm", "mill", "mils", "mil", "millimetre", "mills"}, "mL": {"mL", "mil", "mils", "mill", "mills", "millilitre", "ml", "mls", "ccs"}, "[Ch]": {"fr", "french", "f", "fg", "ch", "frenches", "french gauge", "fringe"},
	"{gauge}": {"g", "gauge", "ga", "gage"}, "min": {"min", "mins", "minutes", "minute", "mns"}, "%": {"%", "percent", "per cent"}, "cm": {"cm", "centimetre", "cms", "at the skin"},
	"mm[Hg]": {"mmhg", "mm hg", "of mercury"}, "cm[H2O]": {"cmh2o", "cm h2o", "cm of water", "centimetres of water", "of water", "centimetre", "cm"},
	"s": {"s", "sec", "secs", "seconds"}, "h": {"h", "hr", "hrs", "hours"}, "mmol/L": {"mmol", "mmols", "mmol per litre", "millimole", "milli moles"}, "ug/kg/min": {"mcg", "mics", "mikes", "mic", "mcg per kilo per minute", "microgram", "micrograms per kilo per min", "mcg kg min", "mics per kg per min", "ug/kg/min", "mcg per kg per min", "mics per kilo a minute", "mics kilo minute", "mics per kilo", "mcg/kg"},
	"ug/kg/h":     {"mcg", "mics", "mcg per kilo per hour", "micrograms per kilo per hour", "micrograms per kilo an hour", "mcg kg hr", "mcg/kg/hr", "mics per kilo per hr", "mcg per kg per hour", "microgram", "mics per kilo", "mikes per kilo per hour", "mikes per kilo an hour"},
	"[iU]/kg/min": {"units", "unit", "u/kg/min", "units per kg per min", "units per kilo a minute"}, "m[iU]/kg/min": {"mu/kg/min", "milliunits per kilo a minute", "milliunits per kg per min"}, "[iU]/kg/h": {"units", "unit", "u/kg/h", "u/kg/hr", "units/kg/hr", "units per kg per hour", "units per kilo"}, "mg/kg/h": {"mg", "mgs", "milligram", "mg/kg/hr", "mg per kilo per hour", "mg per kg per hour", "milligrams per kilo an hour", "migs per kilo per hour", "migs per kilo an hour", "mg per kilo an hour"},
	"[iU]/kg": {"units", "unit", "units per kg", "u/kg", "iu/kg", "international units per kilo", "per kilo"}, "mg/kg": {"mg", "mg per kilo", "mg per kg", "mgs per kilo", "per kilo"}, "mL/kg": {"ml per kilo", "mls per kilo", "ml per kg", "mils per kg", "cc per kilo", "cc/kg", "ccs per kilo", "a kilo", "mils a kilo", "per kilo", "per kg", "mills per kilo"},
	"mL/kg/h":   {"per kilo per hour", "per kilo an hour", "ml per kg per hour", "mls per kilo per hour", "mls per kilo an hour", "ml/kg/hr", "per kilo in an hour", "mils per kilo in an hour", "per kg per hour", "per kilo", "mils per kilo", "mils per kg per hour", "a kilo an hour", "ml/kg", "cc per kilo per hour", "cc/kg/hr", "ml per kilo per hour", "ml per kilo an hour", "per kilo hourly"},
	"mL/kg/min": {"per kilo", "per kilo per minute", "per kilo a minute", "ml per kg per min", "mls per kilo per minute", "mls per kilo per min", "mils per kilo", "mils per kilo per min", "mil per kilo", "ml/kg", "ml per kilo per minute", "ml per kilo", "cc per kilo per minute", "cc/kg/min", "cc per kilo", "per kg per min", "mils a kilo a minute", "mills per kilo per minute", "a kilo"},
	"mL/kg/d":   {"per kilo per day", "per kilo a day", "mils per kilo a day", "ml/kg/day", "mls per kilo per day", "ml per kg per day"},
	"/min":      {"bpm", "beats per minute", "beats", "/min", "a minute", "per minute", "min", "ppm"}, "g/dL": {"g", "grams", "g/dl", "grams per decilitre"}, "g/L": {"g/l", "grams per litre"}, "10*9/L": {"thousand", "x10", "x 10", "e9"}, "Cel": {"degrees", "c", "degrees c", "celsius", "centigrade", "deg"},
	"kg": {"kg", "kilo", "kilogram", "kgs", "kilogramme", "kilos"}, "[ppm]": {"ppm", "parts per million", "parts", "p p m"}, "mA": {"ma", "milliamp", "milliamps", "m a", "milli amps"}, "mV": {"mv", "millivolt", "millivolts", "m v", "milli volts"}, "J": {"j", "joule"}, "wk": {"weeks", "week", "wks", "weekers"}, "d": {"days", "day"}, "L/min": {"l/min", "litres", "litre", "litres per minute", "lpm", "l"},
	"mL/h": {"ml/hr", "mls per hour", "mls an hour", "ml per hour", "mils per hr", "an hour"}, "ms": {"ms", "milliseconds", "msec"}, "mL/min": {"ml per minute", "mls a minute", "mils per minute", "ml a minute", "mls per minute"}, "kPa": {"kpa", "kilopascal", "k p a", "kilo pascals"}, "mg": {"mg", "mgs", "milligram"}, "mmol/kg/h": {"mmol/kg/hr"}, "ng/kg/min": {"nanogram", "nanos", "nanos per kilo per minute", "ng", "nanograms per kilo a minute", "ng per kilo per min"},
	"L/min/m2": {"litres per minute per metre squared"},
}

// compounds are the units per kilo and time, in every way their parts are said.
var compounds = map[string][3][]string{
	"mL/kg/h":     {unitMillilitres, unitKilos, unitHours},
	"mL/kg/min":   {unitMillilitres, unitKilos, unitMinutes},
	"ug/kg/min":   {unitMicrograms, unitKilos, unitMinutes},
	"ug/kg/h":     {unitMicrograms, unitKilos, unitHours},
	"mg/kg/h":     {unitMilligrams, unitKilos, unitHours},
	"[iU]/kg/h":   {unitUnits, unitKilos, unitHours},
	"[iU]/kg/min": {unitUnits, unitKilos, unitMinutes},
	"mL/kg/d":     {unitMillilitres, unitKilos, unitDays},
}

var (
	unitMillilitres = []string{"ml", "mils", "cc", ""}
	unitMicrograms  = []string{"mcg", "mics", "micrograms", "ug"}
	unitMilligrams  = []string{"mg", "milligrams"}
	unitUnits       = []string{"units", "u", "iu"}
	unitKilos       = []string{"per kilo", "a kilo", "per kg", "/kg", "kg", "kilo", "per kilogram"}
	unitMinutes     = []string{"per minute", "a minute", "/min", "min", "per min"}
	unitHours       = []string{"per hour", "an hour", "/h", "/hr", "hr", "h", "hourly", "in an hour", "in one hour"}
	unitDays        = []string{"per day", "a day", "/day", "daily", "in a day", "in 24 hours"}
)

// otherUnits are units that no field has but people say; convert knows them.
var otherUnits = map[string][]string{
	"g":    {"grams", "gram", "g"},
	"L":    {"litres", "litre", "l"},
	"um":   {"microns"},
	"lb":   {"pounds", "pound", "lb", "lbs"},
	"[mu]": {"metres"},
	"a":    {"y", "yr", "yrs", "year", "years", "years old", "year old", "yo", "y o"},
	"mo":   {"month", "months", "months old", "month old", "mo", "mths"},
}

// everyday are words that mean nothing by themselves in a note: a value made of
// them counts only beside the name of its field.
var everydayWords = sync.OnceValue(func() map[string]bool { return wordSet(everydayText) })

const everydayText = `a an the and or of to in on at by for with from off out up down over under into through is was are were be been it its this that these those
	no not none nil yes right left both side sided midline central upper lower front back behind near nearest anterior posterior proximal distal high low mid bilateral
	open opened closed close good fine bad normal small large big mild moderate severe trivial trace minimal poor reduced down bit clear wet dry warm cold ice hot blue pink
	other present absent partial partly complete incomplete single double dual triple one two three common usual unusual direct easy difficult hard straightforward
	patch patched cuff ring band tape device graft tube catheter line wire drain cannula lead stent shunt conduit clip clipped snare pack packed membrane clot valve
	tied ligated divided cut excised removed replaced repaired revised resected left taken pulled changed moved stopped started running standby capped clamped flushed
	blocked narrowed working seen free fixed sutured taped loose intact broken red serous clean wide straight side-to-side end to-end run runs ran use used kept held done tested
	heart chest neck groin hand foot scalp arm leg head skin throat lung brain liver kidney bowel sternum atrium ventricle atrial ventricular aorta aortic pulmonary artery vein arterial venous
	blood plasma fluid water air saline oxygen gas needle echo needle probe line needle ultrasound catheter ct mr x ray film drug food latex male female single he she him her his
	passed failed correct incorrect wrong short early late before after during when while then now first second third next last old new again more less much
	mouth lip gum nostril nose oral nasal stomach bladder rectal rectum transduced pressure mean reading number count correct swab support bypass pump cooling rewarming phase box
	general local own sedation pain steroid theatre unit bedside elsewhere surgeon mother emergency urgent elective planned extra additional nothing unknown known carotid jugular femoral subclavian innominate umbilical
	radial axillary brachial hour minute day week year rate flow volume dose level depth size length time total stage hepatic azygos duct septum arch root trunk
	ca la ra pa modified conventional reconstructed rebuilt enlarged extended placed primarily ma aa vac c g h k p l r v s d i m n o t u b e f x y z j q w ph mg ml mm cm neo levo prop rock roc dope nitro iso mill dex cis arga base map in-front lost cal
	just alone stay long around about mixed native extra cryo insulin glucose sugar dextrose potassium calcium albumin carrier flush maintenance fluids pool bag dressing glue staples
	confluence posterior anterior brisk pulsatile yes inside outside only patent occluded fluid swab tissue steel wires plates gauze vent stump inflow outflow medial lateral
	transplant bleeding arrest infection bleed effusion source beating still arrested stretched bruised injured expected easy tibial femoral humeral saturation gradient lactate urine temperature toe potassium glucose platelets diastolic systolic kidneys renal knife saw scissors path micro genetics kept altered added discarded wound caudal epidural titanium silicone tricuspid mitral suspected fresh`

func wordSet(s string) map[string]bool {
	set := map[string]bool{}
	for _, w := range strings.Fields(s) {
		set[normal(w)] = true
		for _, p := range strings.Split(w, "-") {
			set[normal(p)] = true
		}
	}
	return set
}

// unsaid are item attributes that dictation leaves alone: the variety says the
// place, or they are records of later.
var unsaid = map[string]bool{"site": true, "exit": true, "tip": true, "placedWhere": true, "visible": true, "radiopaque": true, "mri": true,
	"state": true, "movedTo": true, "siteDetail": true, "lumens": true, "name": true, "model": true, "maker": true, "identifier": true, "deviceIdentifier": true,
	"lot": true, "serial": true, "expires": true, "made": true, "donorCode": true, "pressure": true, "notBefore": true, "outBy": true, "chamber": true, "onItem": true, "tipProof": true, "placed": true}
