package dictation

import (
	"testing"

	"fairlead/schema"
)

// Flow said per kilo without its minute, a heart that stopped and a circulation that was
// stopped, and what lung flow is left. Written as families are.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestSupportTold(t *testing.T) {
	holds(t, []family{
		{schema.Stage1, "Selective cerebral perfusion thirty nine minutes at fifty mils per kg.", "support.perfusions minutes=39 flow=50"},
		{schema.Stage1, "The brain was perfused for fifty-one minutes at sixty millilitres per kilogram.", "support.perfusions minutes=51 flow=60"},
		{schema.Stage1, "Cerebral perfusion 40 min at 45 mls per kg per min.", "support.perfusions minutes=40 flow=45"},
		{schema.Stage2, "by cable venous cannulation", "support.venousCannulation=bicaval"},
		{schema.SupportOn, "8 French arterial, 10 French venous.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "10 French venous, 8 French arterial.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "8 arterial, 10 venous, central.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "8 French carotid, 10 French jugular.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "An 8 French arterial cannula, a 10 French venous.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "Artery eight French, vein ten.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "8 artery 10 vein", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "Arrest PICU 02:38, CPR 34 min, chest reopened.", "mechanical.reasonOn=arrest\nbetween.cprMinutes=34\n!support.arrests on=02:38"},
		{schema.Stage1, "Circulatory arrest from 10:20 to 10:26.", "support.arrests on=10:20 off=10:26"},
		{schema.Stage2, "Shunt clipped and divided. No other flow left.", "stage2.additionalFlow=none"},
		{schema.Stage2, "Nothing else gives flow to the lungs now.", "stage2.additionalFlow=none"},
		{schema.Stage2, "Add flow: nil.", "stage2.additionalFlow=none"},
		{schema.Stage2, "Antegrade flow left through the band.", "!stage2.additionalFlow=none"},
		{schema.Stage3, "No antegrade flow (MPA tied at stage two).", "stage3.antegradeFlow=none\n!stage3.antegradeFlow=closed"},
	})
}
