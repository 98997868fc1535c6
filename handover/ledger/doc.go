// Package ledger keeps what happened to a child as a list of events that only
// grows, and makes everything else from it.
//
// The key types are [Event], [Record] (the fold of one child's events), [Writer]
// (makes events) and [Log] (keeps them). Folding is pure: the same events in any
// order and with any repeats give the same record. No clock decides which of two
// values holds: values nobody replaced stand side by side as a disagreement.
//
//	e := w.Set(rec, note, schema.MeasuresWeight, ledger.Number("3.2"))
//	err := log.Append(ctx, []ledger.Event{e})
//	rec.Apply(e)
//
// # The format that is kept
//
// Written once and never changed; what is written here stays readable for good
// (testdata/ledger holds every released format). One event is one JSON object:
//
//	id        UUID, version 7
//	case      UUID of the child
//	note      UUID of the note; absent where it is about the child
//	writer    UUID of the tab or program that wrote it
//	clock     hybrid logical clock: 12 hexadecimal digits of milliseconds since
//	          1970, ".", 4 of a counter; rises with every event of one writer
//	author    {"name", "role"}: typed, not authenticated
//	happened  RFC 9557 time to the minute: when it was so
//	entered   the same: when it was entered
//	action    id of the first event of the action it is a part of; absent alone
//	undoes    the action it takes back; absent for most
//	first     {case, event, author, entered}: where, by whom and when it was entered
//	          first, of what was taken over from another child; absent for most
//	kind, v   what it says, and the version of its body
//	body      an object, by kind
//
// Members not known here are kept. A kind or a version not known is kept, counted
// and shown as a fault; so is a body that cannot be read. An id that comes with
// two different bodies is a fault; the one whose text sorts first counts.
//
// Bodies, version 1 of each (2026, the first release). "replaces" lists the events
// of the same thing that the author saw in force: they no longer are. An event
// that nothing replaces is in force.
//
//	case opened           {}
//	note opened           {kind}
//	field set             {path; one of value (text, yes or no, list), decimal (a number
//	                      as text), stated ("none", "unknown", …) or none of them
//	                      (taken back); bound "<" or ">"; typed, unit (as typed);
//	                      origin {how, words}; replaces}
//	row added             {list, row, replaces}
//	row removed           {list, row, replaces, saw: the values in it that were seen}
//	item listed           {item, kind, tag, replaces, retags: what it sets aside of its
//	                      tags, when an item that was withdrawn is listed again}
//	item withdrawn        {item, why, replaces, saw}: listed by mistake
//	item retagged         {item, tag, replaces}
//	item checked          {item, occasion "leaving" or "arrival", answer "found",
//	                      "differs", "not found", "extra", "cannot see now", "inside"
//	                      or "" (taken back), differs [{field, sheet, bedside}], note,
//	                      lookAgainBy, replaces}; for an extra, item is a fresh id
//	difference settled    {check: the answer's event, how, by}
//	check closed          {occasion, tally {listed, found, differs, notFound, cannotSee,
//	                      inside, unanswered, extra}, signedDifferences, covers, count, ids}
//	question answered     {rule, path, answer ("" takes it back), why, saw {path: what
//	                      stood there}, replaces}: holds while what was seen stands
//	section signed        {section ("items" for the list of items), covers, count, ids}
//	note signed           {how "complete" or "open items", open, covers, count, ids}
//	amended               {why}
//	sheet told            {who, covers, count, ids}: a receiver was told again
//	cases joined, parted  {other, why, replaces}: written into both cases
//	retracted             {events, why, offeredTo, offer: the event there}: these no
//	                      longer count
//	retraction withdrawn  {events: the retractions, why}
//	offered               {from, sets [{path, value …, author}], why}: values that were
//	                      entered on another child
//	offer answered        {offer, taken, events: which of them (none: all), with: the
//	                      other record, undone: the answer was taken back or, in the
//	                      record it was offered to, what was offered was brought back};
//	                      written into both records
//	discharged            {asked [{what, answer}]: what spoke against going home, with
//	                      why and who decided}: the stay ends; tags may be used again
//	placed, confirmed, checked, moved, removed, exchanged, cut and left, lost, taken
//	back to theatre, transferred, gone home, output read, pressure read, threshold
//	tested, connected, disconnected, problem, need answered
//	                      {item, complete, tipSeen, planned ("yes" or "no"), bleeding,
//	                      for (the item in its place), to, answer, note, length (cm),
//	                      site, next (a time), conditions [{what, answer}], problem,
//	                      lumen, runs, needed ("yes", "no", "not asked now"), why, round,
//	                      ward, knows, outBy, number (that came out), proved (of all
//	                      of it and with no number: nothing was left in), time
//	                      ("not known"), cut (how many were cut and left), others
//	                      ("yes": others of the same sort were not cut, and are in),
//	                      output {total, volume (mL), minutes, emptied, changed, begins,
//	                      colour, swing, bubbling, drainage, suction (cmH2O), milked},
//	                      pressure {systolic, diastolic, mean (mmHg), zeroed, trace},
//	                      test {threshold (mA), sensing (mV), site, rhythm, mode, rate,
//	                      output (mA), delay (ms), sense (mV), connection, boxPort,
//	                      lastNeeded}}: figures are decimals as text
//	need round opened     {}: the daily question; the event's id names the round
//	need round closed     {round, unasked [{item, why}]}
//
// Bodies, version 2, with the members first, offer, events, with and undone from the
// third sample on (record-3):
//
//	offered               {from, why, events: what was entered on another child, each a
//	                      whole event as above; its replaces lists those among them,
//	                      things [{item, kind, tag}]: that they are about and do not list}
//
// "difference settled" settles by its member check whichever event it names: an
// answer at the bed, a problem, or the last event of a fault of the register. The
// kinds from "transferred" on, apart from "gone home", and the members from length
// on came with the second sample (record-2); cut and others came after it.
//
// "covers" is the SHA-256, in hexadecimal, of the covered events' ids, sorted, each
// followed by a line feed; "ids" is those ids in that order, 16 bytes each, in
// base64url without padding; "count" is how many.
//
// A place in the note is the child's, whatever the event's note says, if its
// section has the scope "child", or if it is an item's.
//
// # The file
//
// [Export] writes UTF-8 text, one JSON object a line: {"format":
// "fairlead-record/1", "case", "cases" (with joined ones, if any), "events": how
// many}, the events by clock and id, and {"end": "fairlead-record/1", "events",
// "sha256"}, the check sum of the lines between with their line feeds.
package ledger
