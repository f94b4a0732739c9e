package vocab

// wordChapters are of words and of what may follow them.
var wordChapters = []Chapter{
	{
		Code: "no-language", Severities: anError,
		Doc:   "The first statement of every file says the level of the language that it is written in. Within a level no word, default or bundled drawing ever changes, so a set begun today can be finished in twenty years. Write `language 1` first.",
		Wrong: "stamp pearl { circle 2mm }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\n",
	},
	{
		Code: "unknown-word", Severities: anError,
		Doc:   "No word of this name stands in a block of this kind: it is misspelt, or the language calls the thing otherwise. The message names a word that is near, or all that can stand here; `headcap words` lists the whole language.",
		Wrong: "language 1\nstamp pearl { circel 2mm }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\n",
	},
	{
		Code: "misplaced-word", Severities: anError,
		Doc:   "The word is one of the language, but it has no meaning in a block of this kind. The message says where it stands; often a } was put too early or too late.",
		Wrong: "language 1\nstamp pearl { circle 2mm }\nroll pearls { repeat pearl; circle 2mm; pitch 3mm }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\nroll pearls { repeat pearl; pitch 3mm }\n",
	},
	{
		Code: "missing-argument", Severities: anError,
		Doc:   "The statement ends before all is said: after this a measure, a name or a word is wanted. The lines to try show every form of the statement.",
		Wrong: "language 1\nstamp pearl { circle }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\n",
	},
	{
		Code: "unexpected-argument", Severities: anError,
		Doc:   "This does not fit where it stands: the statement wants something else here, or ends before it. The lines to try show every form of the statement.",
		Wrong: "language 1\nstamp pearl { circle \"2mm\" }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\n",
	},
	{
		Code: "missing-block", Severities: anError,
		Doc:   "This word says nothing by itself: what it is about stands in braces after it, on the same line. The line to try shows one.",
		Wrong: "language 1\nseries \"Dunmarrow Fen\"\n",
		Right: "language 1\nseries \"Dunmarrow Fen\" { author \"H. Sallow\" }\n",
	},
	{
		Code: "block-not-wanted", Severities: anError,
		Doc:   "Nothing can be added to this word in braces, so what stands in them would be lost. Move it after the word, or out of the braces.",
		Wrong: "language 1\nstamp pearl { circle 2mm { turned 45deg } }\n",
		Right: "language 1\nstamp pearl { circle 2mm; turned 45deg }\n",
	},
	{
		Code: "lone-otherwise", Severities: anError,
		Doc:   "`otherwise` says what holds where the `when` right before it does not; there is none. Move it there, or take it away.",
		Wrong: "language 1\npattern fen for spine { otherwise { bands 5 equal } }\n",
		Right: "language 1\npattern fen for spine { when spine narrower than 15mm { bands none }; otherwise { bands 5 equal } }\n",
	},
	{
		Code: "undecidable", Severities: anError,
		Doc:   "A `when` is settled by the measures of the volume, and this word is one that the measures are reckoned from: neither could be known first. Say it outside the `when`, or in each volume.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; when block thicker than 20mm { leather tan } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; leather tan }\n",
	},
	{
		Code: "odd-test", Severities: anError,
		Doc:   "This `when` asks for a measure that the thing does not have: only the block is thin or thick; a spine and boards are narrow or wide, short or tall. Choose one of those.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { when spine thinner than 15mm { bands none } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; spine { when spine narrower than 15mm { bands none } } }\n",
	},
}

// nameChapters are of names and of the files that give them.
var nameChapters = []Chapter{
	{
		Code: "unknown-stamp", Severities: anError,
		Doc:   "No stamp of this name is drawn in the file, in a file that it uses, or among the bundled ones. Mend the spelling, or draw it: stamp NAME { … }.",
		Wrong: "language 1\nstamp pearl { circle 2mm }\nroll pearls { repeat perl; pitch 3mm }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\nroll pearls { repeat pearl; pitch 3mm }\n",
	},
	{
		Code: "unknown-roll", Severities: anError,
		Doc:   "No roll of this name is made up in the file, in a file that it uses, or among the bundled ones. Mend the spelling, or make it up: roll NAME { repeat …; pitch … }.",
		Wrong: "language 1\nstamp pearl { circle 2mm }\nroll pearls { repeat pearl; pitch 3mm }\npattern beaded for cover { frame { roll perls } }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\nroll pearls { repeat pearl; pitch 3mm }\npattern beaded for cover { frame { roll pearls } }\n",
	},
	{
		Code: "unknown-pattern", Severities: anError,
		Doc:   "No pattern of this name is designed in the file, in a file that it uses, or among the bundled ones. Mend the spelling, or design it: pattern NAME for spine { … }.",
		Wrong: "language 1\npattern fen for spine { bands 5 equal }\npattern wide-fen for spine like fenn { bands wide 6mm }\n",
		Right: "language 1\npattern fen for spine { bands 5 equal }\npattern wide-fen for spine like fen { bands wide 6mm }\n",
	},
	{
		Code: "unknown-film", Severities: anError,
		Doc:   "No film of this name is described in the file, in a file that it uses, or among the bundled ones, so it is not known what it will bear. Mend the spelling, or describe it: film NAME { … }.",
		Wrong: "language 1\npattern fen for spine { film glod }\n",
		Right: "language 1\npattern fen for spine { film gold }\n",
	},
	{
		Code: "unknown-leather", Severities: anError,
		Doc:   "No leather goes by this name: the bundled ones are called by their colours, with `dark` or `light` after it. Mend the spelling, or describe your own: leather NAME { colour #… }.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; leather gren }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; leather green }\n",
	},
	{
		Code: "unknown-face", Severities: anError,
		Doc:   "No face for lettering goes by this name. Bundled are `serif` and `slab`; a face of your own is named from its file: face NAME from \"…\". The faces of the machine are never used, so that a set outlives it.",
		Wrong: "language 1\npattern fen for spine { letter title in serrif }\n",
		Right: "language 1\npattern fen for spine { letter title in serif }\n",
	},
	{
		Code: "unknown-frame", Severities: anError,
		Doc:   "A frame stands inside another that goes before it, and there is none of this name. Name the outer one and put it first.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame { inside outer by 5mm; fillet 1mm } } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; front { frame outer { fillet 1mm }; frame { inside outer by 5mm; fillet 1mm } } }\n",
	},
	{
		Code: "unknown-name", Severities: anError,
		Doc:   "A measure is wanted here, and no `let` gives one this name, or gives it only in a block that this one does not see. Mend the spelling, or say it: let NAME = ….",
		Wrong: "language 1\nlet foot = 9mm\nlet edge = (fot - 4mm)\n",
		Right: "language 1\nlet foot = 9mm\nlet edge = (foot - 4mm)\n",
	},
	{
		Code: "unknown-measure", Severities: anError,
		Doc:   "The book has no measure of this name. Those that a design can reckon with are spine.width, spine.tall, board.wide, board.tall, block.wide, block.tall and block.thick.",
		Wrong: "language 1\npattern fen for spine { let part = spine.wide }\n",
		Right: "language 1\npattern fen for spine { let part = spine.width }\n",
	},
	{
		Code: "reserved-name", Severities: anError,
		Doc:   "This is a word of the language, and a thing called by it could not be told from the word. Choose another name.",
		Wrong: "language 1\nstamp corner { circle 2mm }\n",
		Right: "language 1\nstamp my-corner { circle 2mm }\n",
	},
	{
		Code: "duplicate-name", Severities: anError,
		Doc:   "Two things of one kind have this name in the file, and it cannot be said which is meant where it is used. Rename one of them, or take one away.",
		Wrong: "language 1\nstamp pearl { circle 2mm }\nstamp pearl { circle 3mm }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\nstamp large-pearl { circle 3mm }\n",
	},
	{
		Code: "cyclic-like", Severities: anError,
		Doc:   "This is made like another that is, perhaps by way of others, made like this one: nobody says what any of them looks like. Let one of them stand alone.",
		Wrong: "language 1\nfilm brass like bronze\nfilm bronze like brass\nvolume \"Turf\" { block 228mm x 150mm x 28mm; film brass }\n",
		Right: "language 1\nfilm brass like bronze\nfilm bronze { colour #8a6a2f }\nvolume \"Turf\" { block 228mm x 150mm x 28mm; film brass }\n",
	},
	{
		Code: "cyclic-let", Severities: anError,
		Doc:   "This measure is reckoned from another that is, perhaps by way of others, reckoned from it: no figure comes of that. Give one of these names a plain measure.",
		Wrong: "language 1\nlet edge = foot\nlet foot = edge\nvolume \"Turf\" { block 228mm x 150mm x 28mm; margin edge }\n",
		Right: "language 1\nlet edge = foot\nlet foot = 6mm\nvolume \"Turf\" { block 228mm x 150mm x 28mm; margin edge }\n",
	},
	{
		Code: "cyclic-use", Severities: anError,
		Doc:   "These files use each other in a circle, so none of them can be read first. Put what both need into a third file, and let both use that.",
		Wrong: "language 1\nuse \"set.headcap\" as set\n",
		Right: "language 1\nuse \"stamps.headcap\" as stamps\n",
		Files: map[string]string{
			"set.headcap":    "language 1\nuse \"book.headcap\" as book\n",
			"stamps.headcap": "language 1\nstamp pearl { circle 2mm }\n",
		},
	},
	{
		Code: "missing-file", Severities: anError,
		Doc:   "The file that is named here cannot be read: there is none of that name, or it is outside the folder of the project. Files are looked for beside the source that names them.",
		Wrong: "language 1\nuse \"sett.headcap\" as set\n",
		Right: "language 1\nuse \"set.headcap\" as set\n",
		Files: map[string]string{"set.headcap": "language 1\nstamp pearl { circle 2mm }\n"},
	},
	{
		Code: "duplicate-volume", Severities: anError,
		Doc:   "The series has two volumes of this number or title. Their files would go to one folder, and one book would be covered with the other's film. Number each volume once.",
		Wrong: "language 1\nseries \"Dunmarrow Fen\" {\n  volume 1 \"Turf\" { block 228mm x 150mm x 28mm }\n  volume 1 \"Dykes\" { block 228mm x 150mm x 33mm }\n}\n",
		Right: "language 1\nseries \"Dunmarrow Fen\" {\n  volume 1 \"Turf\" { block 228mm x 150mm x 28mm }\n  volume 2 \"Dykes\" { block 228mm x 150mm x 33mm }\n}\n",
	},
	{
		Code: "name-clash", Severities: anError,
		Doc:   "Two volumes would be written to one folder, so the files of one would take the place of the other's. Number the volumes, or name them apart.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm }\nvolume \"Turf!\" { block 228mm x 150mm x 33mm }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm }\nvolume \"More Turf\" { block 228mm x 150mm x 33mm }\n",
	},
	{
		Code: "number-gap", Severities: aWarning,
		Doc:   "A number is left out between the volumes of the series. That is a slip more often than it is meant, and a wrong number on a spine is there for good. Check the numbers; if the volume is really missing, let it be.",
		Wrong: "language 1\nseries \"Dunmarrow Fen\" {\n  volume 1 \"Turf\" { block 228mm x 150mm x 28mm }\n  volume 3 \"Dykes\" { block 228mm x 150mm x 33mm }\n}\n",
		Right: "language 1\nseries \"Dunmarrow Fen\" {\n  volume 1 \"Turf\" { block 228mm x 150mm x 28mm }\n  volume 2 \"Dykes\" { block 228mm x 150mm x 33mm }\n}\n",
	},
}
