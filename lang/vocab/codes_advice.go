package vocab

// adviceChapters are of what the handbooks ask of lettering. Their sources are Cockerell, Bookbinding, and the Care of Books
// (1901, pages of 1910); Adam, Practical Bookbinding (1903); Bailey, Library Bookbinding (1916).
var adviceChapters = []Chapter{
	{
		Code: "equal-lines", Severities: anAdvice,
		Doc:   "Two lines, one under the other, are equally long: to the eye, within a fiftieth of their width, or by their count of letters. Adam (1903, p. 151) would have long and short lines alternate, since equal ones make a block and not a title. Break the text otherwise, or into another number of lines.",
		Wrong: "language 1\nvolume \"Title Words\" { block 228mm x 150mm x 28mm; spine { letter title { cap 4mm; lines 2; way across } } }\n",
		Right: "language 1\nvolume \"Title Words\" { block 228mm x 150mm x 48mm; spine { letter title { cap 4mm; lines 1; way across } } }\n",
	},
	{
		Code: "point-at-end", Severities: anAdvice,
		Doc:   "A line ends with a full stop or a comma. The end of a line says as much by itself, and Adam (1903, p. 149) leaves such points out of titles and after the name of an author. Initials and short abbreviations keep theirs.",
		Wrong: "language 1\nvolume \"Turf\" { author \"Dickens,\"; block 228mm x 150mm x 28mm; spine { letter author } }\n",
		Right: "language 1\nvolume \"Turf\" { author \"Dickens\"; block 228mm x 150mm x 28mm; spine { letter author } }\n",
	},
	{
		Code: "roman-figures", Severities: anAdvice,
		Doc:   "Volumes or parts are counted in Roman figures. Bailey (1916, pp. 141-142) has all figures in Arabic, which are plainer and take less room. Figures that belong to a name, such as a king's, are left in peace.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter \"Vol. IV\" } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { letter \"Vol. 4\" } }\n",
	},
	{
		Code: "lengthwise-between-bands", Severities: anAdvice,
		Doc:   "Lettering runs along a back with raised bands, although it would fit across at its least size. Cockerell (1901, pp. 219-220) says that this hardly looks well and should be avoided unless necessary. Let it run across; or let it be, where the books beside it are lettered so.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 5 equal; panel 2 { letter title { way down } } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 5 equal; panel 2 { letter title { way across } } } }\n",
	},
	{
		Code: "two-faces", Severities: anAdvice,
		Doc:   "One panel, or one cover, is lettered in two faces. Cockerell (1901, p. 220) would on no account have letters of different design together, and Adam (1903, p. 148) takes all types of a title from one fount. Name the same face for both, in another size or in small capitals.",
		Wrong: "language 1\nvolume \"Turf\" { author \"H. Sallow\"; block 228mm x 150mm x 28mm; spine { letter title in serif { raised 10% }; letter author in slab } }\n",
		Right: "language 1\nvolume \"Turf\" { author \"H. Sallow\"; block 228mm x 150mm x 28mm; spine { letter title in serif { raised 10% }; letter author in serif } }\n",
	},
	{
		Code: "less-room-below", Severities: anAdvice,
		Doc:   "Between the lines is as much room as below the last one, or more, so that the lettering seems to slip down. Cockerell (1901, p. 218) leaves a little more below than between. Lines are raised for it by themselves where there is room above; here there is none, or their place is said. Set them closer, smaller or higher.",
		Wrong: "language 1\nvolume \"A Few Eels\" { block 228mm x 150mm x 28mm; spine { bands 5 equal; panel 2 { letter title { cap 5mm; lines 3; baseline 12mm below head } } } }\n",
		Right: "language 1\nvolume \"A Few Eels\" { block 228mm x 150mm x 28mm; spine { bands 5 equal; panel 2 { letter title { cap 5mm; lines 3; baseline 9mm below head } } } }\n",
	},
	{
		Code: "low-lettering", Severities: anAdvice,
		Doc:   "A title, an author's name or a number stands in the lowest 30 mm of the spine. That much at the foot is kept for the marks of libraries, as is reported of ISO 6357:1985 (the standard itself was not seen), and a label would hide the lettering. Letter it higher up.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 5 equal; panel 6 { letter title } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { bands 5 equal; panel 5 { letter title } } }\n",
	},
}
