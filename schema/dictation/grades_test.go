package dictation

import (
	"testing"

	"fairlead/schema"
)

// How a valve leaked before and leaks now, in the words of many; what an echo saw beside
// it; and the saturation a child came with, told by the way.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestBeforeAndNow(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "Leak was moderate going in, only mild coming off.", "before.avValveLeak=moderate\necho.avValveLeak=mild"},
		{schema.Stage2, "common AVV: mod -> mild on TOE", "before.avValveLeak=moderate\necho.avValveLeak=mild"},
		{schema.Stage3, "Common valve: ring annuloplasty, was severe, mild now.", "before.avValveLeak=severe\necho.avValveLeak=mild\nstage3.valveWork=annuloplasty"},
		{schema.Stage3, "MR mild pre / trivial now.", "before.avValveLeak=mild\necho.avValveLeak=trivial"},
		{schema.Stage3, "Pre: SpO2 74, AVVR mod.", "before.saturation=74\nbefore.avValveLeak=moderate\n!echo.avValveLeak=moderate"},
		{schema.Stage3, "Because the valve was leaking moderately we put an annuloplasty on it.", "before.avValveLeak=moderate\n!echo.avValveLeak=moderate"},
		{schema.Stage3, "valve repaired, moderate before, trace after", "stage3.valveWork=repaired\nbefore.avValveLeak=moderate\necho.avValveLeak=trivial"},
		{schema.Stage3, "TEE: fxn good, AVV mild, no effusion.", "echo.function=good\necho.avValveLeak=mild\necho.pericardium=none"},
		{schema.Stage1, "TOE: function mildly reduced, AV leak moderate, effusion none.", "echo.avValveLeak=moderate\necho.pericardium=none\n!echo.avValveLeak=none"},
		{schema.Stage1, "toe function mildly down no av leak", "echo.method=transoesophageal\necho.function=mildly-reduced\necho.avValveLeak=none"},
		{schema.Stage1, "Echo: function moderate, valve trace, shunt flow seen.", "echo.function=moderately-reduced\necho.avValveLeak=trivial\necho.supplyFlow=seen"},
		{schema.Stage2, "The valve was not touched, adhesions moderate.", "!echo.avValveLeak=moderate"},
		{schema.Stage1, "TR mild, arch grad 8.", "echo.avValveLeak=mild\necho.archGradient=8\n!stage1.archGradient=8"},
		{schema.Stage1, "Arch gradient by pull-back is four, function good on echo.", "stage1.archGradient=4"},
		{schema.Reexploration, "Fn mod down -> good after clot out.", "echo.function=good\n!echo.function=moderately-reduced"},
		{schema.Stage3, "sat 92 on .4 (pre 83)", "before.saturation=83\nleaving.saturation=92"},
		{schema.Stage2, "sats 87 FiO2 .3, pre-op 76", "before.saturation=76\nleaving.saturation=87"},
		{schema.Stage2, "sats eighty four in forty percent she was seventy one when she came down", "before.saturation=71\nleaving.saturation=84"},
		{schema.Stage3, "Since then she has drifted down to seventy-six percent.", "before.saturation=76"},
		{schema.Stage2, "saturating 74 on arrival to theatre and 82 on leaving", "before.saturation=74\nleaving.saturation=82"},
		{schema.Takedown, "Cava pressure was twenty-six, sats fifty-four, so failed connection.", "before.saturation=54\n!leaving.saturation=54"},
		{schema.Takedown, "Failed Glenn, sats 58-62.", "!before.saturation=58"},
		{schema.Stage2, "Saturation has settled at eighty-one percent.", "!before.saturation=81"},
	})
}
