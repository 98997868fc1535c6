// Package rules says what a schema cannot: whether the times, the lines, the
// doses and the counts of a note agree with each other, and what is unusual
// enough to ask about.
//
// Each rule is one function in the file of its theme and one line of that file's
// table: a lasting id, a title, a severity, the source, and the sections it
// reads. [Check] runs them all on a note; a [Checker] runs again only those that
// read what changed. A rule reads the note, the unit's profile and the [Context],
// and nothing else: no clock, no other note.
//
//	problems := rules.Everything(n, profile.Default(), rules.Context{Now: now})
//
// To add a rule: write the function in the file of its theme, add its line to the
// table there with every section it reads, and give cases_test.go a note that
// triggers it and one just inside; the tests name whatever is missing, and hold the
// sentences to the display rules.
//
// What is found is data. Numbers said to be from memory are questions or the
// unit's settings, never advice: local protocols and licensed clinicians decide.
package rules
