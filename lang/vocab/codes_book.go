package vocab

import "headcap/lang/diag"

// bookChapters are of the measures of a book, its materials and its bands.
var bookChapters = []Chapter{
	{
		Code: "no-measures", Severities: anError,
		Doc:   "Nothing is said of this volume's size, and a cover cannot be guessed. Say the block as measured under a light nip, tall x wide x thick; or the face of a cover as it is.",
		Wrong: "language 1\nvolume \"Turf\" { leather green }\n",
		Right: "language 1\nvolume \"Turf\" { leather green; block 228mm x 150mm x 28mm }\n",
	},
	{
		Code: "no-thickness", Severities: anError,
		Doc:   "The block is tall and wide, and its thickness is not said, from which the spine is reckoned. Measure it under a light nip; or let it be estimated from its pages, which is previewed and never cut.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm; thick 28mm }\n",
	},
	{
		Code: "wider-than-tall", Severities: anError,
		Doc:   "The block would be wider than it is tall. Sizes are said tall x wide x thick, and the first two are easily turned round; if the book is really so, say `landscape`.",
		Wrong: "language 1\nvolume \"Turf\" { block 150mm x 228mm x 28mm }\n",
		Right: "language 1\nvolume \"Turf\" { block 150mm x 228mm x 28mm; landscape }\n",
	},
	{
		Code: "wide-readings", Severities: aWarning,
		Doc:   "The readings of the thickness lie more than half a millimetre apart, and the spine will be out by as much. The median is taken; press the block and measure again.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm; thick 28mm, 28.2mm, 29.1mm }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm; thick 28mm, 28.2mm, 28.1mm }\n",
	},
	{
		Code: "open-question", Severities: anAdvice,
		Doc:   "Something that the blade must follow is not settled: an estimated thickness, a round spine without its measure, a choice between leathers. The volume is previewed, and no film is wasted on it. Settle it and build again.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; leather tan or black }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; leather tan }\n",
	},
	{
		Code: "no-room", Severities: anError,
		Doc:   "A board or the spine comes out with no size at all: one of the measures it is reckoned from is wrong. The message says the sum; `headcap explain` shows every figure in it.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 25mm x 10mm; binding case { gap 30mm } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 125mm x 10mm; binding case { gap 7mm } }\n",
	},
	{
		Code: "chord-or-arc", Severities: []diag.Severity{diag.Warning, diag.Advice},
		Doc:   "The strip laid over the round and the way straight across do not agree: the strip is shorter, or longer than so round a back would make it. One was taken for the other, or the block has changed; the film would not cover the spine, or run over its joints. Measure both again.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine strip 31mm }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine strip 38mm }\n",
	},
	{
		Code: "shallow-shoulder", Severities: aWarning,
		Doc:   "The boards butt on a shoulder that is shallower than they are thick, so that their edges stand out beside the back. Bevel the edge of the board there, or take thinner boards.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; binding laced { boards 2.5mm; joint backed, shoulder 2mm }; spine strip 38mm }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; binding laced { boards 2.5mm; joint backed, shoulder 2.6mm }; spine strip 38mm }\n",
	},
	{
		Code: "covered-differs", Severities: aWarning,
		Doc:   "What was measured on the covered book lies more than a millimetre from what was planned. The measure is taken, and the film will fit the book; but that much is more often a slip of the rule, or a measure of another thing, than the leather. Measure again; if it is so, look whether the design still suits.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; covered 2026-05-03 { spine caliper 33mm } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; covered 2026-05-03 { spine caliper 35.4mm } }\n",
	},
	{
		Code: "branch-changed", Severities: aWarning,
		Doc:   "A `when` asks for a measure that was taken again on the covered book, and it falls the other way than it did by the plan: another design stands on the spine than the one that was looked at. See that it is wanted; or choose a figure that both measures stand clear of.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; covered 2026-05-03 { spine caliper 35.9mm }; spine { when spine narrower than 35.3mm { bands none } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; covered 2026-05-03 { spine caliper 35.9mm }; spine { when spine narrower than 40mm { bands none } } }\n",
	},
	{
		Code: "no-shade", Severities: anError,
		Doc:   "The leather is known, and not in this shade. Take it without, or describe the shade as a leather of its own.",
		Wrong: "language 1\nleather moss { colour #5e6a3b }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; leather moss dark }\n",
		Right: "language 1\nleather moss-dark { colour #3e4a2b }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; leather moss-dark }\n",
	},
	{
		Code: "near-threshold", Severities: aWarning,
		Doc:   "The measure stands within half a millimetre of the figure that a `when` asks for. When the book is measured again the other branch may hold, and the design would change after film is cut. Choose a figure that stands clear of it.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { when block thinner than 28.2mm { bands none } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { when block thinner than 30mm { bands none } } }\n",
	},
	{
		Code: "bands-do-not-fit", Severities: anError,
		Doc:   "The block cannot be divided so: what is added at head and tail is more than it is tall, or no panel has a share of it. Add less, take fewer bands, or give shares that are more than nothing.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 2 sharing 0, 0, 0 } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 2 sharing 2, 3, 2 } }\n",
	},
	{
		Code: "panel-too-short", Severities: anError,
		Doc:   "Between these bands, or between a band and the headcap, no leather is left that can take film: the bands' width and what is kept clear beside them is all there is. Take fewer bands, narrower ones, or keep less clear.",
		Wrong: "language 1\nvolume \"Turf\" { block 90mm x 60mm x 28mm; spine { bands 9 equal; bands wide 6mm; fillet 0.8mm beside bands } }\n",
		Right: "language 1\nvolume \"Turf\" { block 90mm x 60mm x 28mm; spine { bands 3 equal; bands wide 3mm; fillet 0.8mm beside bands } }\n",
	},
	{
		Code: "no-spine-measure", Severities: anError,
		Doc:   "Lines, lettering or a stamp are to stand on a spine whose width nobody has said: the cover is given as it is, and the block's thickness is not. Measure the block, or the spine itself.",
		Wrong: "language 1\nvolume \"Turf\" { cover 234mm x 146mm; spine { letter title } }\n",
		Right: "language 1\nvolume \"Turf\" { cover 234mm x 146mm; spine strip 41mm; spine { letter title } }\n",
	},
	{
		Code: "spine-too-narrow", Severities: anError,
		Doc:   "The spine is so narrow that nothing is left once the leather that moves at the joints is kept clear. Set nothing on it, or say a `margin`, which keeps head and tail clear and nothing at the sides.",
		Wrong: "language 1\nvolume \"Turf\" { block 90mm x 60mm x 0.5mm; binding case { boards 0.3mm }; leather tan 0.3mm; spine { fillet 0.8mm at head } }\n",
		Right: "language 1\nvolume \"Turf\" { block 90mm x 60mm x 0.5mm; binding case { boards 0.3mm }; leather tan 0.3mm; margin 3mm; spine { fillet 0.8mm at head } }\n",
	},
	{
		Code: "wrong-shares", Severities: anError,
		Doc:   "Bands part a spine into one panel more than there are bands, and each panel takes a share. Give as many shares as panels, from the head.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 4 sharing 3, 5, 3, 2 } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 4 sharing 3, 5, 3, 2, 3 } }\n",
	},
	{
		Code: "wrong-count", Severities: anError,
		Doc:   "As many bands are not given as are announced: a station is missing, or one too many. Put it right, or leave the number out.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 3 at 60mm, 120mm below head } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 3 at 60mm, 120mm, 180mm below head } }\n",
	},
	{
		Code: "bands-out-of-order", Severities: anError,
		Doc:   "Bands are given from the head down, and this one stands above or at the one before it. Two figures have changed places, or one is wrong.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands at 120mm, 60mm below head } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands at 60mm, 120mm below head } }\n",
	},
	{
		Code: "band-under-tape", Severities: aWarning,
		Doc:   "The bands are said to be narrower than the tape or double cord that they are sewn on. Film would run onto the ridge and lift. Say how wide the band is over the leather; where nothing is said it is as wide as the tape.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 5 equal, double 8mm; bands wide 4mm } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 5 equal, double 8mm; bands wide 9mm } }\n",
	},
	{
		Code: "no-such-band", Severities: anError,
		Doc:   "A band is to be left out that is not there. Bands are counted from the head.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 5 equal; without bands 6 } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 5 equal; without bands 5 } }\n",
	},
	{
		Code: "no-such-panel", Severities: anError,
		Doc:   "Something is said of a panel that this spine does not have. Panels are counted from the head, and there is one more than there are bands.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 3 equal; panel 5 { letter title } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 3 equal; panel 4 { letter title } } }\n",
	},
}
