package dictation

import (
	"testing"

	"fairlead/schema"
)

// What became of each vessel as the cannulas of mechanical support came out.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestDecannulated(t *testing.T) {
	arterial, venous := "mechanical.decannulated item=support-cannula/arterial", "mechanical.decannulated item=support-cannula/venous"
	holds(t, []family{
		{schema.SupportOff, "Arterial cannula out, purse-string tied. Venous out, same.", arterial + " vessel=purse-string-tied\n" + venous + " vessel=purse-string-tied"},
		{schema.SupportOff, "RCCA repaired, Doppler flow good. RIJ tied.", "mechanical.decannulated vessel=repaired flowAfter=good\nmechanical.decannulated vessel=tied"},
		{schema.SupportOff, "The right carotid was repaired with interrupted sutures, with good flow on the Doppler afterwards; the right jugular could not be saved and was tied.", "mechanical.decannulated vessel=repaired flowAfter=good\nmechanical.decannulated vessel=tied\n!echo.supplyFlow=seen"},
		{schema.SupportOff, "Arterial out, carotid repaired, good flow. Venous out, jugular tied.", arterial + " vessel=repaired flowAfter=good\n" + venous + " vessel=tied"},
		{schema.SupportOff, "Arterial out, innominate graft, stump left, clipped. Flow beyond, good.", arterial + " vessel=stump-left"},
		{schema.SupportOff, "The carotid was repaired and not tied.", "mechanical.decannulated vessel=repaired\n!mechanical.decannulated vessel=tied"},
		{schema.SupportOff, "Right jugular line, four French, tied in with silk.", "!mechanical.decannulated vessel=tied"},
		{schema.SupportOff, "Venous cannula out, purse", "mechanical.decannulated item=support-cannula/venous vessel=purse-string-tied"},
		{schema.SupportOn, "Carotid ligated above, jugular tied.", "!mechanical.decannulated vessel=tied"},
	})
}
