package vocab

// designChapters are of what stands on spine and covers.
var designChapters = []Chapter{
	{
		Code: "wrong-pattern", Severities: anError,
		Doc:   "A pattern for a spine was named for a cover, or the other way round: a spine has bands and panels, and a cover has not. Name one of the right kind.",
		Wrong: "language 1\npattern fen for cover { frame { fillet 1mm } }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine like fen }\n",
		Right: "language 1\npattern fen for cover { frame { fillet 1mm } }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front like fen }\n",
	},
	{
		Code: "no-front", Severities: anError,
		Doc:   "The back is to be like the front, and the front is not described. Describe it, or take the back away.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; back like front }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { fillet 1mm } }; back like front }\n",
	},
	{
		Code: "empty-stamp", Severities: anError,
		Doc:   "The stamp is named and nothing in it draws. Draw it with `path`, `line`, `leaf`, `circle` and the like, or let it be like another.",
		Wrong: "language 1\nstamp pearl { tall 2mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; emblem pearl }\n",
		Right: "language 1\nstamp pearl { tall 2mm; circle 2mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; emblem pearl }\n",
	},
	{
		Code: "undrawable-stamp", Severities: anError,
		Doc:   "The stamp cannot be drawn as it is described: its path breaks off or crosses itself hopelessly, its height and width would stretch it, or all of it was cut away. The message says which.",
		Wrong: "language 1\nstamp pearl { circle 2mm; tall 2mm; wide 3mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { centre pearl } }\n",
		Right: "language 1\nstamp pearl { circle 2mm; tall 3mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { centre pearl } }\n",
	},
	{
		Code: "empty-roll", Severities: anError,
		Doc:   "The roll does not say which stamps repeat, so it prints nothing. Say them: repeat leaf, bud.",
		Wrong: "language 1\nroll pearls { pitch 3mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { roll pearls } } }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\nroll pearls { repeat pearl; pitch 3mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { roll pearls } } }\n",
	},
	{
		Code: "no-pitch", Severities: anError,
		Doc:   "The roll does not say how far it is from the middle of one stamp to the middle of the next. Say it: pitch 9mm.",
		Wrong: "language 1\nstamp pearl { circle 2mm }\nroll pearls { repeat pearl }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { roll pearls } } }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\nroll pearls { repeat pearl; pitch 3mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { roll pearls } } }\n",
	},
	{
		Code: "no-emblem", Severities: anError,
		Doc:   "The design sets the volume's emblem here, and the volume names none, so its place would stay bare among the set. Say it in the volume: emblem owl.",
		Wrong: "language 1\nstamp pearl { circle 2mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { centre emblem } }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; emblem pearl; spine { centre emblem } }\n",
	},
	{
		Code: "frame-too-large", Severities: anError,
		Doc:   "The frame's lines from both sides need more room than there is inside its inset, so they would run into each other. Take a smaller inset, or fewer and narrower lines.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { inset 70mm; fillet 10mm } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { inset 10mm; fillet 10mm } } }\n",
	},
	{
		Code: "corners-meet", Severities: anError,
		Doc:   "The stamps in two corners of the frame would run into each other. Take a smaller stamp for the corners, or a larger frame.",
		Wrong: "language 1\nstamp pearl { circle 90mm at 45mm, 45mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { corner pearl } } }\n",
		Right: "language 1\nstamp pearl { circle 9mm at 4.5mm, 4.5mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { corner pearl } } }\n",
	},
	{
		Code: "repeats-do-not-close", Severities: anError,
		Doc:   "No whole number of stamps fills the side of the frame with the space that the roll gives, and half a leaf is not cut. The message shows how much is left over by one number and lacking by the next. Let the space give more, leave more room at the corners, or say `slack at ends`, which always closes.",
		Wrong: "language 1\nstamp pearl { circle 20mm }\nroll pearls { repeat pearl; pitch 40mm; corner room 0mm to 0mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { roll pearls } } }\n",
		Right: "language 1\nstamp pearl { circle 20mm }\nroll pearls { repeat pearl; pitch 40mm; slack at ends }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { roll pearls } } }\n",
	},
	{
		Code: "uneven-pitch", Severities: anAdvice,
		Doc:   "The roll closes on all sides, but its stamps stand visibly closer on one pair than on the other. Another inset brings the two together; or let it be, if it pleases you.",
		Wrong: "language 1\nstamp pearl { circle 20mm }\nroll pearls { repeat pearl; pitch 40mm; space -20% to +20%; corner room 0mm to 0mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { inset 20mm; roll pearls } } }\n",
		Right: "language 1\nstamp pearl { circle 20mm }\nroll pearls { repeat pearl; pitch 40mm; space -20% to +20%; corner room 0mm to 0mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { roll pearls } } }\n",
	},
	{
		Code: "centre-too-large", Severities: anError,
		Doc:   "A stamp is set at its own size, and it does not go into what its frames and fillets leave. It is never made smaller in silence. Take a smaller one, or let it be set to fit: fill 90%.",
		Wrong: "language 1\nstamp moon { circle 60mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { centre moon } }\n",
		Right: "language 1\nstamp moon { circle 60mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { centre moon fill 90% } }\n",
	},
	{
		Code: "emblem-too-small", Severities: anError,
		Doc:   "The share of the room that the stamp may fill makes it smaller than the least that the statement allows. Allow a smaller one, give it a larger share, or leave it out of this volume with a `when`.",
		Wrong: "language 1\nstamp moon { circle 60mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { centre moon fill 50% tall 30mm to 60mm } }\n",
		Right: "language 1\nstamp moon { circle 60mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { centre moon fill 50% tall 10mm to 60mm } }\n",
	},
	{
		Code: "size-not-drawn-for", Severities: aWarning,
		Doc:   "The stamp stands smaller or larger than it is drawn for: its lines may be too fine to cut and weed, or look coarse. Hold it between the sizes that it says, or take another.",
		Wrong: "language 1\nstamp moon { circle 60mm; drawn for 30mm to 90mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { centre moon fill 50% } }\n",
		Right: "language 1\nstamp moon { circle 60mm; drawn for 10mm to 90mm }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { centre moon fill 50% } }\n",
	},
	{
		Code: "uncuttable", Severities: anError,
		Doc:     "The drawing of this volume could not be made into outlines for the blade. That is a fault of ours, or a drawing far beyond any cover. Take out what was put in last, and please tell us of it.",
		Without: "no drawing is known that cannot be cut",
	},
}
