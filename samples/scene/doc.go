// Scene writes photos of resistors that never were, with the truth about
// them, to measure reading where the true answer is known. From a seed it
// draws a scene, writes it as POV-Ray text with painted skins for the bodies,
// renders it with povray 3.7 in linear light, does to the picture what a
// camera does, and saves a JPEG and its entry in truth.json. The scene text,
// the skins and all chances follow from the seed alone.
//
//	go run ./samples/scene -out DIR -seed 1 -count 20             mixed scenes
//	go run ./samples/scene -out DIR -style negatives -objects 300 no resistors
//	go run ./samples/scene -out DIR -seed 1 -count 40 -resume     go on after a stop
//	go run ./samples/scene -out samples -demo                     the demo photos
//
// # Spread
//
// Styles: mixed draws hobby (66 %), clean (14 %) or product (20 %); the last
// style is negatives. Shares are of all draws in the style and are common
// practice, no source, unless a table says otherwise.
//
//	what              how it is spread
//	rings             4: 46 %, 5: 36 %, 6: 8 %, 3: 7 %, single black ring: 3 %
//	values            E6 and E12 at 20 %; E12 and E24 at 10 and 5 %; E24 with E48, E96 or E192
//	                  at 2 %, 1 % and closer; 10 mΩ to 91 MΩ, most from 10 Ω to 1 MΩ
//	oddities          2 % no preferred number; failure-rate ring; yellow or grey for gold or
//	                  silver at high voltage; double-width first ring; pink and silver multipliers
//	shapes            dogbone, straight, cylinder, waisted; sizes 1/8 to 3 W, 3 to 18 mm
//	body paints       17 hues from tan to charcoal, 50 tones, each varied in hue, chroma, lightness
//	ring paints       3 to 8 tones a colour, varied by part and by ring; thin, faded, chipped,
//	                  leaning, stepped or open at the seam, ragged edges, pale rims
//	gold and silver   80 % reflecting flakes from smooth to glittering, ochre to dark brown;
//	                  else flat paint; a quarter lets the body through
//	least contrast    ring to body CIEDE2000 of 9 for 94 % of parts, any for the rest
//	spacing           70 % a wider gap before the last ring, 30 % even
//	varnish           matt to wet; lamps and windows mirror in it as streaks and spots
//	leads             straight 52 %, curved, kinked, stapled, hairpin; bright, dull, 6 % copper
//	arrangement       scattered 74 %, bodies touching 11 %, in a row 8 %, taped 7 %; 1 to 12 parts
//	grounds           white, gridded and lined paper, light and dark wood, cutting mat, cloth,
//	                  cardboard, worktop, coloured card, white sweep, cut-out white
//	lamps             2800 to 7500 K; window, lamp, overcast, flash, two lamps; fill of another
//	                  colour 30 %; hard to very soft shadows
//	camera            tilt 0 to 20° 68 %, 20 to 38° 17 %, 38 to 58° 15 %; angle of view 25 to 55°
//	body length       a quarter-watt body spans 42 to 440 px (hobby), evenly in the logarithm;
//	                  95 to 400 px (clean); 22 to 72 % of a picture of 200 to 680 px (product)
//	white balance     auto with errors 76 %, preset 12 %, none 12 %
//	exposure          metered, with an error of 0.38 stops (standard deviation)
//	blur              softness always; wrong focus 14 %; focus falling off in tilted views;
//	                  smear by motion 9 %, 2 to 9 px
//	noise             standard deviation 0.0015 to 0.018 at mid grey, coarser in colour
//	JPEG              quality 30 to 94; saved twice 20 % (hobby), 45 % (product)
//	product pictures  1, 2, 3 or 5 of a kind, whitened, 16 % enlarged 1.3 to 2.4 times in blocks
//	                  or smoothly, 6 % in the pure colours of drawn pictures
//	other things      in 30 % of hobby scenes 1 to 4, in negatives 10 to 17: diodes, moulded chokes
//	                  and capacitors with rings, printed and blank bodies, fuses, screws, pencils, …
//	cut bodies        8 % of hobby scenes hold a resistor cut by the photo's edge
//
// # Truth
//
// The outline of a body is its axis from end to end, lengthened by what shows
// of the end faces, with the width of its thickest place, through the camera;
// necks and leads lie outside. The axis runs from the first ring to the last.
// Photos count visible_resistors with those cut by the edge, which stand among
// the distractors, as do look-alikes with the rings they wear. A part has
// alt_bands where nothing but the colours tells its first ring from its last
// and the other direction is about as likely a part. A part is clean
// from 80 px on, in focus, with less than 5 % of its area burnt out, by a lamp
// of 3500 to 7500 K, not enlarged.
package main
