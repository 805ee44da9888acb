// Scene writes photos of resistors that never were, with the truth about
// them, to measure reading where the true answer is known. From a seed it
// draws a scene, writes it as POV-Ray text with painted skins for the bodies,
// renders it with povray 3.7 in linear light, does to the picture what a
// camera does, and saves a JPEG and its entry in truth.json. The scene text,
// the skins and all chances follow from the seed alone.
//
//	go run ./samples/scene -out DIR -seed 1 -count 20             mixed scenes
//	go run ./samples/scene -out DIR -style negatives -objects 300 no resistors
//	go run ./samples/scene -out DIR -style uncoded -objects 100   resistors without rings
//	go run ./samples/scene -out DIR -style heap -count 10         parts that lie on each other
//	go run ./samples/scene -out DIR -seed 1 -count 40 -resume     go on after a stop
//	go run ./samples/scene -out samples -demo                     the demo photos
//
// # Spread
//
// Styles: mixed draws hobby (66 %), clean (14 %) or product (20 %); negatives
// hold no resistor that rings give a value, uncoded such resistors as have no
// rings, batch photos by one lamp, heap parts emptied out of a bag. Shares are of all
// draws in the style and are common practice, no source, unless a table says otherwise.
//
//	what              how it is spread
//	rings             4: 50 %, 5: 38 %, 6: 6 %, 3: 4 %, single black ring: 2 %
//	tolerance         3 rings 20 %; 4 rings gold 80 %, silver 11 %, brown 4 %, red 4 %, green, blue,
//	                  violet 1 % together; 5 and 6 rings brown 76 %, red 12 %, green 5 %, blue 3 %,
//	                  violet 3 %, gold 1 %, orange, grey, yellow 0.3 % together
//	values            E6 and E12 at 20 %, E12 at 10 %, E12 and E24 at 5 %; E24 with E48 at 2 %,
//	                  with E96 at 1 % and closer, there in 6 % of draws E192; mostly 10 Ω to
//	                  1 MΩ, all of 10 mΩ to 91 MΩ; gold and silver multipliers 5 % (two digits) and
//	                  7 % (three), pink 0.2 %
//	oddities          no preferred number 0.5 %; failure-rate ring 0.3 %; yellow or grey for gold or
//	                  silver at high voltage 0.2 %; double-width first ring 0.2 %
//	shapes            dogbone, straight, cylinder, waisted; sizes 1/8 to 3 W, 3 to 18 mm
//	body paints       17 hues from tan to charcoal, 62 tones, each varied in hue, chroma, lightness
//	ring paints       3 to 8 tones a colour, varied by part and by ring, faded, leaning, stepped,
//	                  ragged edges, pale rims; a ring chipped, thin or open at the seam on 7 %
//	gold and silver   80 % reflecting flakes from smooth to glittering, ochre to dark brown;
//	                  else flat paint; one in 20 lets the body through
//	least contrast    ring to body CIEDE2000 of 12; gold and silver on tan and beige 10
//	spacing           70 % a wider gap before the last ring, 30 % even
//	varnish           matt to wet; lamps and windows mirror in it as streaks and spots
//	leads             straight 52 %, curved, kinked, stapled, hairpin; bright, dull, 6 % copper
//	arrangement       scattered 82 %, in a row 8 %, taped 6 %, heaps of up to 4 touching bodies 4 %;
//	                  1 to 12 parts; product pictures in a row
//	grounds           white and cream paper 25 %, light wood 18 %, green, blue and grey cutting mat
//	                  14 %, violet, magenta and brown ones 1 % each, dark wood 8 %, worktop 8 %,
//	                  gridded and lined paper 8 %, cloth 6 %, cardboard 5 %, coloured card 3 %,
//	                  white sweep 2 %; product pictures white sweep or cut-out white
//	lamps             2800 to 7500 K; window, lamp, overcast, flash, two lamps; fill of another
//	                  colour 30 %; hard to very soft shadows
//	camera            tilt 0 to 14° 66 %, 14 to 25° 26 %, 25 to 50° 8 % (hobby), 0 to 15° (clean), 0
//	                  to 18° 92 %, 25 to 50° 8 % (product); angle of view 25 to 55°
//	body length       40 px and longer; a quarter-watt body spans 80 to 250 px 74 %, 52 to 80 px
//	                  14 %, 250 to 400 px 12 % (hobby), 95 to 300 px (clean), each evenly in the
//	                  logarithm; 22 to 72 % of a picture of 200 to 680 px (product)
//	white balance     auto with errors of 3.5 % of the kelvins (standard deviation) 80 %, preset
//	                  15 %, none 5 %
//	exposure          metered, with an error of 0.25 stops (standard deviation)
//	blur              softness always; wrong focus 10 %; focus falling off in tilted views; over
//	                  1.5 px in 6 % of photos; smear by motion 9 %, 2 to 9 px
//	noise             standard deviation 0.0015 to 0.018 at mid grey, coarser in colour
//	JPEG              quality 30 to 94; saved twice 20 % (hobby), 45 % (product)
//	product pictures  1, 2, 3 or 5 of a kind, whitened, 16 % enlarged 1.3 to 2.4 times in blocks
//	                  or smoothly, 6 % in the pure colours of drawn pictures
//	other things      in 30 % of hobby scenes 1 to 4, in negatives 10 to 17: diodes, moulded chokes
//	                  and capacitors with rings, printed and blank bodies, fuses, screws, pencils, …
//	moulded chokes    length 1.5 to 2.2 times the thickness; green 45 %, turquoise 35 %, blue-grey,
//	                  tan; E12; gold, silver, black, white last; 40 % a wide silver ring before
//	uncoded           8 to 13 drawn, those without room left out: photoresistors 20 %, thermistors
//	                  19 %, trimmers 17 %, resistors coded by body, tip and dot 22 %, printed
//	                  14 %, blank 8 %; of the last three 70 % with print or dot upwards; a quarter-watt body
//	                  would span 6.5 to 14 % of the photo's width
//	photoresistors    discs of 3.6 to 10.6 mm; face up 45 %, leaning 43 %, on edge 12 %; 15 % in a
//	                  metal rim
//	thermistors       drops of resin 50 %, 2 to 5 mm thick, 40 % of them on insulated wires; discs
//	                  50 %, 5 to 12 mm, half of them printed
//	trimmers          square blocks of 6 to 10 mm with a rotor 75 %, slotted or crossed evenly, flat
//	                  45 %, on their pins 43 %, on a side 12 %; longer ones with a screw 25 %
//	body, tip, dot    9 to 22 mm; E12 with six multipliers, tip and dot apart from the body by a
//	                  CIEDE2000 of 12; 40 % the other end gold or silver; chipped, the more the older
//	heaps             6 to 24 parts, the denser the more, in a spread of 0.15 to 0.3 of the photo's
//	                  sides (standard deviation); each on what lies there, so that leads lie across
//	                  bodies; in 30 % most point the same way; tilt up to 0.6 of that of hobby
//	cut bodies        8 % of hobby scenes hold a resistor cut by the photo's edge
//
// # Truth
//
// The outline of a body is its axis from end to end, lengthened by what shows
// of the end faces, with the width of its thickest place, through the camera;
// necks and leads lie outside. The axis runs from the first ring to the last;
// ring_spans are where each ring begins and ends along it, hidden_spans where other
// parts hide a fifth or more of what would be seen across the body.
// Photos count visible_resistors with those cut by the edge, and those of which
// others hide an end or half of a ring, hidden being the share hidden; both stand
// among the distractors, as do look-alikes, with the rings they wear. A part has
// alt_bands where nothing but the colours tells its first ring from its last and the
// other direction is about as likely a part. A part is clean
// from 80 px on, in focus, with less than 5 % of its area burnt out, by a lamp
// of 3500 to 7500 K, not enlarged.
package main
