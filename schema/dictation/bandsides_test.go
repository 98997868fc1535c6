package dictation

import (
	"testing"

	"fairlead/schema"
)

// Branch bands told in several sentences, together and one by one, and the stent and the
// septum of a hybrid beside them.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestBandsTold(t *testing.T) {
	right := "hybrid.bands side=right size=3.5 material=eptfe method=cut-ring"
	left := "hybrid.bands side=left size=3 material=eptfe method=cut-ring"
	holds(t, []family{
		{schema.Stage1, "Both bands cut off a Gore-Tex tube. The right is a three and a half. The left is a three.", right + "\n" + left + "\n!supply.material=eptfe"},
		{schema.Stage1, "Hybrid. Bands are rings cut from Gore-Tex tube. Right three point five, gradient forty-two; left three, gradient forty.", right + " gradient=42\n" + left + " gradient=40"},
		{schema.Stage1, "Hybrid. Bands: both cut rings off a three and a half Gore-Tex tube.", right + "\nhybrid.bands side=left size=3.5 material=eptfe method=cut-ring"},
		{schema.Stage1, "Hybrid st 1. L band 3 Gore-Tex cut ring, grad 42. R band 3.5, grad 46.", right + " gradient=46\n" + left + " gradient=42"},
		{schema.Stage1, "Hybrid. Bands. Left first: three millimetre. Right: three and a half. Both cut rings of Gore-Tex.", right + "\n" + left},
		{schema.Stage1, "Hybrid. Bands: right 3.5 mm, left 3.0 mm, both Gore-Tex, distal gradients 44 and 46.", "hybrid.bands side=right size=3.5 material=eptfe gradient=44\nhybrid.bands side=left size=3 material=eptfe gradient=46"},
		{schema.Stage1, "Hybrid. Bilateral PA banding with a 3.5 PTFE cuff each side.", "hybrid.bands side=right size=3.5 material=eptfe\nhybrid.bands side=left size=3.5 material=eptfe"},
		{schema.Stage1, "Hybrid. Self-expanding, eight by eighteen, through the main PA.", "hybrid.stents diameter=8 length=18 type=self-expanding\nhybrid.stentRoute=main-pulmonary-artery"},
		{schema.Stage1, "Hybrid. Septum gradient 7 -> ballooned -> 2.", "hybrid.septum=balloon\nhybrid.septumGradient=2\n!hybrid.septumGradient=7"},
		{schema.Stage1, "Norwood. The left is a three, the right a four.", "!hybrid.bands side=left size=3"},
	})
}
