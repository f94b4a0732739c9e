package vocab

// bookWords say what a book is and how it is bound.
var bookWords = []Word{
	{
		Name: "author", In: []Place{Series, Volume}, Forms: []string{"<author:string>"}, Merge: Once,
		Doc:     "The author, for lettering.",
		Example: `author "H. Sallow"`,
	},
	{
		Name: "title", In: []Place{Series, Volume}, Forms: []string{"broken { <line:string> }", "<title:string> [ short <short:string> ]"}, Merge: Once,
		Doc:     "The title for lettering, where it differs from the volume's name; `broken` gives its lines as they are to stand, `short` what serves where there is no room.",
		Example: `title broken "The Long", "Causeway"`,
	},
	{
		Name: "number", In: []Place{Volume}, Forms: []string{"<number:count:1..9999>"}, Merge: Once,
		Doc:     "The volume's number, for lettering.",
		Example: "number 3",
	},
	{
		Name: "emblem", Also: []string{"device"}, In: []Place{Series, Volume}, Forms: []string{"<stamp:stamp>"}, Merge: Once,
		Doc:     "The stamp that stands for this volume: `centre emblem` sets it.",
		Example: "emblem owl",
	},
	{
		Name: "apart", In: []Place{Volume}, Forms: nil, Merge: Once,
		Doc:     "The volume takes its own sizes of letters and emblems, and the set's are reckoned without it.",
		Example: "apart",
	},
	{
		Name: "block", In: []Place{Series, Volume}, Forms: []string{
			"<tall:length:20mm..900mm> x <wide:length:20mm..900mm> [ x <thick:length:0.5mm..300mm> ] [ <state:=estimated> ]",
			"tall <tall:length:20mm..900mm> , wide <wide:length:20mm..900mm> [ , thick <thick:length:0.5mm..300mm> ] [ <state:=estimated> ]",
		}, Merge: Once,
		Doc:     "The text block as measured under a light nip: tall, wide, thick.",
		Example: "block 228mm x 150mm x 28mm",
	},
	{
		Name: "thick", In: []Place{Volume}, Forms: []string{
			"<pages:count> pages of <caliper:length:10um..2mm> [ <state:=estimated> ]",
			"<pages:count> pages of <weight:weight> bulk <bulk:number:0.3..4> [ <state:=estimated> ]",
			"<pages:count> pages at <ppi:density> [ <state:=estimated> ]",
			"{ <reading:length:0.5mm..300mm> } [ <state:=estimated> ]",
		}, Merge: Once,
		Doc:     "The thickness of the block: one reading or several (the median is taken), or an estimate from its pages. An estimate is previewed and never cut.",
		Example: "thick 27.8mm, 28.1mm, 28.0mm, 28.3mm, 27.9mm",
	},
	{
		Name: "landscape", In: []Place{Series, Volume}, Forms: nil, Merge: Once,
		Doc:     "The block is wider than it is tall, and that is meant.",
		Example: "landscape",
	},
	{
		Name: "binding", In: []Place{Series, Volume}, Forms: []string{"<kind:case|laced>"}, Opens: Binding, Merge: Keyed, Default: "case",
		Doc:     "How the boards are joined to the book: made apart as a case, or laced on.",
		Example: "binding case { boards 2.5mm; squares 3mm; gap 7mm }",
	},
	{
		Name: "boards", In: []Place{Binding}, Forms: []string{"<boards:length:0.3mm..15mm>"}, Merge: Once, Default: "2.5mm",
		Doc:     "The thickness of the boards, measured.",
		Example: "boards 2.5mm",
	},
	{
		Name: "squares", In: []Place{Binding}, Forms: []string{"<squares:length:0mm..20mm>", "head <head:length:0mm..20mm> , tail <tail:length:0mm..20mm> , fore-edge <fore:length:0mm..20mm>"}, Merge: Once, Default: "3mm",
		Doc:     "How far the boards stand beyond the leaves, the same on three edges or one figure an edge.",
		Example: "squares 3mm",
	},
	{
		Name: "gap", In: []Place{Binding}, Forms: []string{"<gap:length:0mm..30mm>"}, Merge: Once, Default: "7mm",
		Doc:     "In a case: the flat measure between board and spine piece, in which the joint works.",
		Example: "gap 7mm",
	},
	{
		Name: "joint", In: []Place{Binding}, Forms: []string{"<joint:=french> [ <width:length:0mm..15mm> ]", "<joint:=backed> [ <width:length:0mm..15mm> ] [ , shoulder <shoulder:length:0.1mm..15mm> ]"}, Merge: Once, Default: "french, 1/8in",
		Doc:     "In a laced binding: boards set a little off the back (french) or against the shoulder (backed), which is as deep as the board is thick, or a trifle more.",
		Example: "joint french 1/8in",
	},
	{
		Name: "lining", In: []Place{Binding}, Forms: []string{"<lining:length:0mm..5mm>"}, Merge: Once, Default: "0mm",
		Doc:     "The thickness of what lines the spine. On a round back it lengthens the way over it, as the leather does; a flat one is no wider for it.",
		Example: "lining 0.4mm",
	},
	{
		Name: "turn-in", In: []Place{Binding}, Forms: []string{"<turn:length:0mm..80mm>"}, Merge: Once, Default: "3/4in",
		Doc:     "How far the leather is turned over the edges of the boards, for the list of what is to be cut: three quarters of an inch for an octavo (Zaehnsdorf 1890, p. 90), about an inch elsewhere (Cockerell 1901, p. 154).",
		Example: "turn-in 19mm",
	},
	{
		Name: "nick", In: []Place{Binding}, Forms: []string{"<nick:length:0mm..20mm>"}, Merge: Once, Default: "1/8in",
		Doc:     "In a laced binding: how much is nicked off the back corners of the boards, each way, for the headcaps.",
		Example: "nick 3mm",
	},
	{
		Name: "cover", In: []Place{Series, Volume}, Forms: []string{"<tall:length:20mm..900mm> x <wide:length:20mm..900mm>", "<extra:length:0mm..50mm> over block"}, Merge: Once,
		Doc:     "The face of the cover, as it is or as the block and so much more in each direction, in place of boards and squares.",
		Example: "cover 1/4in over block",
	},
	{
		Name: "margin", In: []Place{Series, Volume}, Forms: []string{"<margin:length:0mm..60mm>"}, Merge: Once, Default: "board edge 2mm, joint 1.5mm, headcap 3mm (choices)",
		Doc:     "The clear margin round a cover and at the head and tail of a spine; nothing is set in it.",
		Example: "margin 1/4in",
	},
	{
		Name: "leather", In: []Place{Series, Volume}, Forms: []string{
			"<name:leather> [ <shade:dark|light> ] [ <thick:length:0.2mm..4mm> ] [ batch <batch:string> ] [ or <other:leather> [ <othershade:dark|light> ] ]",
		}, Merge: Once, Default: "brown 1mm",
		Doc:     "The leather by its colour, its thickness as pared, and its batch. `or` leaves the choice open: previews are made, no cut files.",
		Example: `leather green dark 1mm batch "spring skin"`,
	},
	{
		Name: "film", In: []Place{Series, Volume, Spine, Cover, Panel, Frame}, Forms: []string{"<film:film>"}, Merge: Once, Default: "gold",
		Doc:     "The film from here on, for the volume or for a part of its design.",
		Example: "film gold",
	},
	{
		Name: "lettering", In: []Place{Series, Volume}, Forms: []string{"<way:across|down|up|pillar>"}, Merge: Once, Default: "across, then down",
		Doc:     "Which way spine lettering runs where a statement does not say.",
		Example: "lettering across",
	},
	{
		Name: "range", In: []Place{Series}, Forms: []string{"from <end:tail|head>"}, Merge: Once,
		Doc:     "The band stations are those of the first volume, counted from that end, in every volume; the panel at the other end takes the difference.",
		Example: "range from tail",
	},
	{
		Name: "spine", In: []Place{Series, Volume}, Forms: []string{
			"[ like <pattern:pattern> ]",
			"<shape:flat|round>",
			"strip <strip:length:1mm..300mm>",
			"caliper <caliper:length:1mm..300mm>",
		}, Opens: Spine, Merge: Many, Default: "flat in a case, round where laced",
		Doc:     "The spine's shape or measure (a strip of paper laid over the round, or calipers straight across), and its design.",
		Example: "spine strip 41mm",
	},
	{
		Name: "covered", In: []Place{Volume}, Forms: []string{"<date:date>"}, Opens: Covered, Must: true, Merge: Once,
		Doc:     "What was measured again on the book once it was covered and dry. It beats the plan; the difference is shown, and is a warning above a millimetre.",
		Example: "covered 2026-05-03 { spine strip 43.5mm; bands at 39mm, 75mm, 111mm, 147mm, 183mm below head }",
	},
	{
		Name: "spine", In: []Place{Covered}, Forms: []string{"strip <strip:length:1mm..300mm>", "caliper <caliper:length:1mm..300mm>"}, Merge: Many,
		Doc:     "The spine over its leather: a strip of paper laid over the round, or calipers straight across, which is the face of a flat one.",
		Example: "spine strip 43.5mm",
	},
	{
		Name: "bands", Also: []string{"hubs"}, In: []Place{Covered}, Forms: []string{"at { <station:length:0mm..900mm> } below head", "upper edges at { <edge:length:0mm..900mm> }"}, Merge: Once,
		Doc:     "Where each band stands, its middle or its upper edge, from the head of the board down.",
		Example: "bands at 39mm, 75mm, 111mm, 147mm, 183mm below head",
	},
	{
		Name: "front", In: []Place{Series, Volume}, Forms: []string{"[ like <pattern:pattern> ] [ without { <stamp:stamp> } ]"}, Opens: Cover, Merge: Many,
		Doc:     "The design of the front cover.",
		Example: "front like double-fillet",
	},
	{
		Name: "back", In: []Place{Series, Volume}, Forms: []string{"[ like ( <same:=front> | <pattern:pattern> ) ] [ without { <stamp:stamp> } ]"}, Opens: Cover, Merge: Many,
		Doc:     "The design of the back cover. `like front` lays the front's statements out again with the spine edge on the other side; stamps are not reflected.",
		Example: "back like front without wheatsheaf",
	},
}
