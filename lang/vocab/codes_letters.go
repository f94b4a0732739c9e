package vocab

// letterChapters are of lettering, of the faces it is set in, and of what a series shares.
var letterChapters = []Chapter{
	{
		Code: "missing-in-one", Severities: aWarning,
		Doc:   "The design letters a title, an author or a number, and this volume has none, so its place stays bare where the others of the set have theirs. Say it in the volume or the series.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter author } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; author \"H. Sallow\"; spine { letter author } }\n",
	},
	{
		Code: "least-over-most", Severities: anError,
		Doc:   "The least that is allowed is more than the most, so no size is allowed at all. The two figures have changed places, or one is wrong.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter title { cap 7mm to 4mm } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter title { cap 4mm to 7mm } } }\n",
	},
	{
		Code: "letters-too-small", Severities: anError,
		Doc:   "To fit its room the text would have to be smaller than the least that is allowed, in every way and number of lines that the statement lets it try. Smaller letters may not cut or read, so it is not done in silence. Allow more lines or another way, a shorter text, or a smaller least.",
		Wrong: "language 1\nvolume \"The Long Causeway\" { block 228mm x 150mm x 28mm; spine { letter title { cap 8mm; lines 1; way across } } }\n",
		Right: "language 1\nvolume \"The Long Causeway\" { block 228mm x 150mm x 28mm; spine { letter title { cap 8mm; lines 1; way down } } }\n",
	},
	{
		Code: "letters-too-close", Severities: aWarning,
		Doc:   "Two letters come closer than the film can be weeded between, and the sliver would lift one of them. On a line letters are moved apart by themselves; in a pillar an accent may come near the tail of the letter above. Space the letters, or set a pillar with more leading.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter \"QÉTE\" { way pillar } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter \"Turf\" { way pillar } } }\n",
	},
	{
		Code: "own-size", Severities: aWarning,
		Doc:   "The set shares one size. This volume has no say in it, since it is estimated or stands apart, and cannot take it: it gets a smaller one of its own and will stand out on the shelf. Give it a short title or more lines; or let it be, where that is meant.",
		Wrong: "language 1\npattern fen for spine { letter title { size same; cap 2mm to 6mm; lines 1; way across } }\nseries \"Dunmarrow Fen\" {\n  spine like fen\n  volume 1 \"Turf\" { block 228mm x 150mm x 28mm }\n  volume 2 \"Eels\" { block 228mm x 150mm x 28mm }\n  volume 3 \"Causeways\" { block 228mm x 150mm x 20mm estimated }\n}\n",
		Right: "language 1\npattern fen for spine { letter title { size same; cap 2mm to 6mm; lines 1; way across } }\nseries \"Dunmarrow Fen\" {\n  spine like fen\n  volume 1 \"Turf\" { block 228mm x 150mm x 28mm }\n  volume 2 \"Eels\" { block 228mm x 150mm x 28mm }\n  volume 3 \"Oil\" { block 228mm x 150mm x 20mm estimated }\n}\n",
	},
	{
		Code: "thin-volume", Severities: anAdvice,
		Doc:   "One volume alone holds the size of the whole set down by more than a fifth. The handbooks would rather give the thin volume a size of its own than spoil the set for it: say `apart` in it, or give it a short title.",
		Wrong: "language 1\npattern fen for spine { letter title { size same; cap 2mm to 6mm; lines 1; way across } }\nseries \"Dunmarrow Fen\" {\n  spine like fen\n  volume 1 \"Turf\" { block 228mm x 150mm x 28mm }\n  volume 2 \"Eels\" { block 228mm x 150mm x 28mm }\n  volume 3 \"Causeways\" { block 228mm x 150mm x 20mm }\n}\n",
		Right: "language 1\npattern fen for spine { letter title { size same; cap 2mm to 6mm; lines 1; way across } }\nseries \"Dunmarrow Fen\" {\n  spine like fen\n  volume 1 \"Turf\" { block 228mm x 150mm x 28mm }\n  volume 2 \"Eels\" { block 228mm x 150mm x 28mm }\n  volume 3 \"Oil\" { block 228mm x 150mm x 20mm }\n}\n",
	},
	{
		Code: "missing-glyph", Severities: anError,
		Doc:   "The face has no drawing of this letter, and another face's would not match. Take another face for this lettering, or another spelling.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter \"泥\" } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter \"Turf\" } }\n",
	},
	{
		Code: "bad-text", Severities: anError,
		Doc:   "The lettering holds a character that cannot be set, such as a soft hyphen, or more text than any spine has room for. Take it out.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter \"Tu\u00adrf\" } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter \"Turf\" } }\n",
	},
	{
		Code: "no-ink", Severities: anError,
		Doc:   "The lettering comes out blank: all its characters are such as leave no mark. Write what it should say.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter \"\u200d\" } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter \"Turf\" } }\n",
	},
	{
		Code: "bad-lettering", Severities: anError,
		Doc:     "The lettering is asked for in a way that no letter can be set: spaced or thickened beyond all reason. Give it the figures of a letter.",
		Without: "the ranges of the words keep it out",
	},
	{
		Code: "too-small-to-thicken", Severities: anError,
		Doc:     "Letters so small cannot be thickened so much: they would close up and be blots. Take larger caps, a face with stronger limbs such as `slab`, or thicken less.",
		Without: "sizes are sought among those that can be thickened",
	},
	{
		Code: "unusable-text", Severities: anError,
		Doc:     "The lettering could not be set, for a reason that none of the other messages is about; the message says what was seen. Try another face or another wording, and please tell us of it.",
		Without: "every cause that is known has a message of its own",
	},
	{
		Code: "no-small-capitals", Severities: aWarning,
		Doc:   "The face has no small capitals for some of the letters, and capitals made smaller would look thin beside the rest, so they are set as small letters. Take `serif`, which has them, or say `capitals`.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter title in slab { capitals small } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter title in serif { capitals small } } }\n",
	},
	{
		Code: "joined-script", Severities: aWarning,
		Doc:     "The letters of this script are written joined, and spacing would tear them apart, so they are not spaced. Say `spaced 0%`, and nothing more is said.",
		Without: "it takes a face with such a script",
	},
	{
		Code: "bad-font", Severities: anError,
		Doc:   "The font file cannot be used: it is damaged, packed for web pages, a collection of several faces, or no font at all. Take an .otf or .ttf file with one face.",
		Wrong: "language 1\nface old from \"old.otf\"\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter title in serif } }\n",
		Files: map[string]string{"old.otf": "this is not a font\n"},
	},
	{
		Code: "bad-face", Severities: anError,
		Doc:     "The font file could not be opened as a face, for a reason that none of the other messages is about. Try another file of the same face, and please tell us of it.",
		Without: "every cause that is known has a message of its own",
	},
	{
		Code: "variable-font", Severities: aWarning,
		Doc:     "The font holds a whole range of weights. It is set in the one it opens with, and the kerning of its pairs may be lost. A static file of the weight you want keeps it.",
		Without: "it takes a font file",
	},
}
