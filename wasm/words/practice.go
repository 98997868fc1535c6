//go:build js && wasm

package main

// practice is read some times before anybody speaks: the browser makes fast what has run
// often, and the first words of a person are then read as fast as the last. It is invented,
// touches what dictations speak of, and nothing that is read from it goes anywhere.
const practice = `Norwood with a five millimetre ringed conduit, innominate cannulation. Bypass one hundred and forty two minutes, ` +
	`clamp fifty eight, no circulatory arrest. Cerebral perfusion at forty per kilo on the right for thirty one minutes, cooled to twenty four. ` +
	`Came off on milrinone point five and adrenaline point oh four through the right atrial line, nitric at ten. ` +
	`Sats were sixty two before we revised it, seventy nine on leaving on forty percent. Mean fifty one, lactate six point two and falling, haemoglobin fourteen. ` +
	`Two atrial and two ventricular wires, atrial threshold two point one, sorry, one point two. One mediastinal drain, a twelve, and a right pleural ten on suction. ` +
	`Neither groin was used. Triple lumen in the right neck, left radial arterial line, urinary catheter. Left pleural drain not needed. ` +
	`Chest left open with a membrane and two packs, swabs and needles correct. At stage one the shunt was a three and a half. ` +
	`Keep sats seventy five to eighty five, call me if drains exceed ten per kilo in an hour. Heparin at ten when dry. Close in two days if stable.`
