package vocab

// All is the vocabulary. Words of one place stand together, in the order in which a binder would think of them.
var All = concat(fileWords, materialWords, drawingWords, bookWords, designWords)

func concat(lists ...[]Word) []Word {
	var out []Word
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// fileWords stand in a file by themselves.
var fileWords = []Word{
	{
		Name: "language", In: []Place{File}, Forms: []string{"<level:count>"}, Merge: Once,
		Doc:     "The level of the language that the file is written in: the first statement of every file. Within a level no word, default or bundled drawing changes its meaning.",
		Example: "language 1",
	},
	{
		Name: "use", In: []Place{File}, Forms: []string{"<file:string> as <name:new>"}, Merge: Many,
		Doc:     "Takes the names of another file beside this one: what it calls leaf is set.leaf here.",
		Example: `use "set.headcap" as set`,
	},
	{
		Name: "let", In: []Place{File, Series, Volume, Spine, Cover, Panel, Frame, Letter}, Forms: []string{"<name:new> = <value:value>"},
		Merge: Keyed, Key: []string{"name"},
		Doc:     "Gives a measure or number a name, for this file or block. Arithmetic stands in parentheses; in a design the measures spine.width, spine.tall, board.wide, board.tall, block.wide, block.tall and block.thick may be used.",
		Example: "let breath = (spine.width / 12)",
	},
	{
		Name: "face", In: []Place{File}, Forms: []string{"<name:new> from <file:string>"}, Merge: Keyed, Key: []string{"name"},
		Doc:     "A face for lettering, from a font file beside the source. Bundled: serif, with true small capitals, and slab, with even strokes for small sizes.",
		Example: `face old from "fonts/old.otf"`,
	},
	{
		Name: "film", In: []Place{File}, Forms: []string{"<name:new> [ like <base:film> ]"}, Opens: Film, Merge: Keyed, Key: []string{"name"},
		Doc:     "A film that is cut, weeded and pressed: its colour for the eye, its stock, and what it will bear.",
		Example: "film brass { colour #9a7a3a; transfer; least stroke 0.8mm, in letters 0.5mm }",
	},
	{
		Name: "leather", In: []Place{File}, Forms: []string{"<name:new>"}, Opens: Leather, Must: true, Merge: Keyed, Key: []string{"name"},
		Doc:     "A leather of your own, by its colour.",
		Example: "leather oxblood { colour #4a1a1c }",
	},
	{
		Name: "stamp", Also: []string{"tool"}, In: []Place{File}, Forms: []string{"<name:new> [ like <base:stamp> [ <mirrored:=mirrored> ] ]"}, Opens: Stamp, Merge: Keyed, Key: []string{"name"},
		Doc:     "One device, drawn once, of one size. It is moved, turned and mirrored, never stretched. Measures are in millimetres from its origin, y down.",
		Example: "stamp bud { tall 8mm; leaf 8mm bulge 0.4, 0.1 turned 18deg; mirror left to right }",
	},
	{
		Name: "roll", In: []Place{File}, Forms: []string{"<name:new> [ like <base:roll> ]"}, Opens: Roll, Merge: Keyed, Key: []string{"name"},
		Doc:     "A run of stamps, as a wheel prints it: what repeats, at which pitch, and what stands at the corners.",
		Example: "roll hedge { repeat leaf, bud; pitch 5mm }",
	},
	{
		Name: "pattern", In: []Place{File}, Forms: []string{"<name:new> for <kind:spine|cover> [ like <base:pattern> ]"}, Opens: Either, Must: true, Merge: Keyed, Key: []string{"name"},
		Doc:     "A design for a spine or a cover that volumes can be like. What a block adds comes after what it is like.",
		Example: "pattern fenland for spine { bands 5 equal, tail longer by 12mm }",
	},
	{
		Name: "series", In: []Place{File}, Forms: []string{"<title:string>"}, Opens: Series, Must: true, Merge: Keyed, Key: []string{"title"},
		Doc:     "Volumes that belong together: what stands in the series holds for each of them, unless the volume says otherwise.",
		Example: `series "Dunmarrow Fen" { leather green dark 1mm; … }`,
	},
	{
		Name: "volume", In: []Place{File, Series}, Forms: []string{"<number:count> [ <title:string> ]", "<title:string>"}, Opens: Volume, Must: true, Merge: Keyed, Key: []string{"number", "title"},
		Doc:     "One book: its measures, its materials and what is its own in the design.",
		Example: `volume 1 "Eels and Ledgers" { emblem eel; block 228mm x 150mm x 28mm }`,
	},
}

// materialWords stand in films and leathers.
var materialWords = []Word{
	{
		Name: "colour", Also: []string{"color"}, In: []Place{Film, Leather}, Forms: []string{"<colour:colour>"}, Merge: Once,
		Doc:     "The colour for the preview. In a cut file it means nothing beyond its film.",
		Example: "colour #9a7a3a",
	},
	{
		Name: "finish", In: []Place{Film}, Forms: []string{"<finish:matt|satin|bright>"}, Merge: Once, Default: "matt",
		Doc:     "How the film takes the light.",
		Example: "finish satin",
	},
	{
		Name: "width", In: []Place{Film}, Forms: []string{"<width:length:10mm..2000mm>"}, Merge: Once,
		Doc:     "The width of the film on the roll.",
		Example: "width 305mm",
	},
	{
		Name: "sheet", In: []Place{Film}, Forms: []string{"<wide:length:10mm..2000mm> x <long:length:10mm..2000mm>"}, Merge: Once,
		Doc:     "The size of the film where it comes in sheets.",
		Example: "sheet 300mm x 500mm",
	},
	{
		Name: "transfer", In: []Place{Film}, Forms: nil, Merge: Once,
		Doc:     "The film is cut from the back, so its cut files are mirrored, once.",
		Example: "transfer",
	},
	{
		Name: "least", In: []Place{Film}, Forms: []string{
			"stroke <stroke:length:0.05mm..10mm> [ , in letters <letters:length:0.05mm..10mm> ]",
			"gap <gap:length:0.05mm..10mm> [ , in letters <letters:length:0.05mm..10mm> ]",
			"piece <piece:length:0.1mm..20mm>",
		}, Merge: Keyed, Key: []string{"?stroke", "?gap", "?piece"},
		Default: "stroke 0.8mm, in letters 0.5mm; gap 0.6mm, in letters 0.25mm; piece 2mm (choices from the bench)",
		Doc:     "The narrowest limb, the narrowest gap and the smallest free piece that will cut and weed. Letters have their own, since a short gap open at both ends weeds where a long slit would not.",
		Example: "least stroke 0.8mm, in letters 0.5mm",
	},
	{
		Name: "carries", In: []Place{Film}, Forms: []string{"{ <film:film> }"}, Merge: Many,
		Doc:     "The films that may be pressed on top of this one; the maker's sheet says which.",
		Example: "carries copper",
	},
}

// drawingWords stand in stamps and rolls.
var drawingWords = []Word{
	{
		Name: "about", In: []Place{Stamp, Roll}, Forms: []string{"<text:string>"}, Merge: Once,
		Doc:     "A sentence about it, for the manual.",
		Example: `about "a leaf with a vein"`,
	},
	{
		Name: "tall", In: []Place{Stamp}, Forms: []string{"<tall:length:0.5mm..900mm>"}, Merge: Once, Default: "as drawn",
		Doc:     "How tall the finished stamp is; the drawing is brought to that size. Without it the stamp is as large as it is drawn.",
		Example: "tall 8mm",
	},
	{
		Name: "wide", In: []Place{Stamp}, Forms: []string{"<wide:length:0.5mm..900mm>"}, Merge: Once, Default: "as drawn",
		Doc:     "How wide the finished stamp is. With `tall` as well, both must agree to 1 %, since no stamp is stretched.",
		Example: "wide 12mm",
	},
	{
		Name: "drawn", In: []Place{Stamp}, Forms: []string{
			"for stroke <stroke:length> , gap <gap:length>",
			"for <from:length> to <to:length>",
		}, Merge: Keyed, Key: []string{"?stroke", "?from"},
		Doc:     "The narrowest film that it was drawn for, and the sizes at which it serves.",
		Example: "drawn for stroke 0.8mm, gap 0.6mm",
	},
	{
		Name: "path", In: []Place{Stamp}, Forms: []string{"<data:strings>"}, Merge: Many,
		Doc:     "An outline in the path grammar of SVG, in millimetres, y down, filled by the even-odd rule. Long data may stand as several texts in parentheses.",
		Example: `path "M0 -4C2 -2 2 2 0 4C-2 2 -2 -2 0 -4Z"`,
	},
	{
		Name: "line", In: []Place{Stamp}, Forms: []string{"<data:strings> wide <width:length:0.05mm..50mm> [ <cap:round|square|butt> ]"}, Merge: Many, Default: "round ends",
		Doc:     "A gouge line: a line along an SVG path, as wide as said.",
		Example: `line "M0 4C-1 1 1 -1 0 -4" wide 0.9mm`,
	},
	{
		Name: "circle", In: []Place{Stamp}, Forms: []string{"<across:length:0.05mm..900mm> [ at <x:length> , <y:length> ]"}, Merge: Many,
		Doc:     "A disc, by its diameter.",
		Example: "circle 3mm at 0mm, -2mm",
	},
	{
		Name: "ring", In: []Place{Stamp}, Forms: []string{"<across:length:0.1mm..900mm> wide <width:length:0.05mm..400mm> [ at <x:length> , <y:length> ]"}, Merge: Many,
		Doc:     "A ring, by its outer diameter and the width of its line.",
		Example: "ring 8mm wide 1mm",
	},
	{
		Name: "oval", In: []Place{Stamp}, Forms: []string{"<tall:length:0.05mm..900mm> x <wide:length:0.05mm..900mm> [ at <x:length> , <y:length> ] [ turned <turned:angle> ]"}, Merge: Many,
		Doc:     "An oval, tall by wide.",
		Example: "oval 4mm x 3mm",
	},
	{
		Name: "lozenge", In: []Place{Stamp}, Forms: []string{"<tall:length:0.05mm..900mm> x <wide:length:0.05mm..900mm> [ at <x:length> , <y:length> ] [ turned <turned:angle> ]"}, Merge: Many,
		Doc:     "A lozenge, tall by wide, on its point.",
		Example: "lozenge 5mm x 3mm",
	},
	{
		Name: "bar", In: []Place{Stamp}, Forms: []string{"<tall:length:0.05mm..900mm> x <wide:length:0.05mm..900mm> [ at <x:length> , <y:length> ] [ turned <turned:angle> ]"}, Merge: Many,
		Doc:     "An upright rectangle, tall by wide, about its middle.",
		Example: "bar 6mm x 1mm",
	},
	{
		Name: "leaf", In: []Place{Stamp}, Forms: []string{"<long:length:0.1mm..900mm> [ bulge <right:number:0..1> [ , <left:number:0..1> ] ] [ turned <turned:angle> ] [ at <x:length> , <y:length> ]"}, Merge: Many,
		Default: "bulge 0.28",
		Doc:     "A leaf of two curves from its base, which stands at the point, to its tip, towards the head; the bulges of its right and left side are shares of its length, one figure for both.",
		Example: "leaf 8mm bulge 0.3, 0.05 turned 20deg",
	},
	{
		Name: "petal", In: []Place{Stamp}, Forms: []string{"<long:length:0.1mm..900mm> wide <wide:length:0.05mm..900mm> [ turned <turned:angle> ] [ at <x:length> , <y:length> ]"}, Merge: Many,
		Doc:     "A petal: from a point at its base to a full round head.",
		Example: "petal 5mm wide 3mm",
	},
	{
		Name: "mirror", In: []Place{Stamp}, Forms: []string{"<axis:=left> to right", "<axis:=head> to tail"}, Merge: Many,
		Doc:     "Adds the mirror image of all that has been drawn so far in the block, across the upright or the level line through the origin.",
		Example: "mirror left to right",
	},
	{
		Name: "around", In: []Place{Stamp}, Forms: []string{"<times:count:2..360>"}, Merge: Many,
		Doc:     "Sets all that has been drawn so far in the block so many times round the origin.",
		Example: "around 8",
	},
	{
		Name: "turned", In: []Place{Stamp}, Forms: []string{"<turned:angle>"}, Merge: Many,
		Doc:     "Turns all that has been drawn so far in the block about the origin, clockwise.",
		Example: "turned 45deg",
	},
	{
		Name: "group", In: []Place{Stamp}, Forms: nil, Opens: Same, Must: true, Merge: Many,
		Doc:     "Draws by itself what it holds, so that `mirror`, `around` and `turned` in it reach no further.",
		Example: "group { leaf 6mm; around 5 }",
	},
	{
		Name: "cut", In: []Place{Stamp}, Forms: nil, Opens: Same, Must: true, Merge: Many,
		Doc:     "Takes what it holds away from all that has been drawn so far: veins, eyes, slots.",
		Example: "cut { circle 1mm }",
	},
	{
		Name: "repeat", In: []Place{Roll}, Forms: []string{"{ <stamp:stamp> }"}, Merge: Once,
		Doc:     "The stamps that repeat, in their order: the group.",
		Example: "repeat leaf, leaf, acorn",
	},
	{
		Name: "pitch", In: []Place{Roll}, Forms: []string{"<pitch:length:0.5mm..200mm>"}, Merge: Once,
		Doc:     "From the middle of one stamp to the middle of the next.",
		Example: "pitch 9mm",
	},
	{
		Name: "space", In: []Place{Roll}, Forms: []string{"<least:percent:-50%..0%> to <most:percent:0%..100%>"}, Merge: Once, Default: "-1% to +8%",
		Doc:     "What the pitch may give away or take, so that whole groups fill the run. Only the space between the stamps changes.",
		Example: "space -1% to +8%",
	},
	{
		Name: "touch", In: []Place{Roll}, Forms: []string{"<touch:length>"}, Merge: Once, Default: "0mm",
		Doc:     "The space between stamps never falls under this.",
		Example: "touch 0.3mm",
	},
	{
		Name: "between", In: []Place{Roll}, Forms: []string{"<stamp:stamp>"}, Merge: Once,
		Doc:     "A small stamp in the middle of each space.",
		Example: "between bead",
	},
	{
		Name: "corner", In: []Place{Roll}, Forms: []string{"<stamp:stamp> [ facing <facing:in|out> ]", "room <least:length> to <most:length>"}, Merge: Keyed, Key: []string{"?stamp", "?least"}, Default: "room 0mm to 2.2mm",
		Doc:     "The stamp at the corners, and the free room that the run may leave after it. As it is drawn it is for the corner at head and left, the run's lines crossing at its origin; `facing` turns an upright stamp to look out of the corner or in.",
		Example: "corner bud facing out",
	},
	{
		Name: "middle", In: []Place{Roll}, Forms: []string{"<stamp:stamp>"}, Merge: Once,
		Doc:     "A stamp in the middle of each side; the run is then solved in halves.",
		Example: "middle rosette",
	},
	{
		Name: "overhang", In: []Place{Roll}, Forms: []string{"<by:length>"}, Merge: Once, Default: "0mm",
		Doc:     "How far each unit reaches beyond its pitch at either end, so that neighbours fuse; a joined run opens no further than that.",
		Example: "overhang 0.6mm",
	},
	{
		Name: "alternate", In: []Place{Roll}, Forms: []string{"<what:=mirror>"}, Merge: Once,
		Doc:     "Every second stamp is turned over across the run.",
		Example: "alternate mirror",
	},
	{
		Name: "joined", In: []Place{Roll}, Forms: nil, Merge: Once,
		Doc:     "Neighbours fuse into one line: the pitch changes by the space, and the joints are closed.",
		Example: "joined",
	},
	{
		Name: "slack", In: []Place{Roll}, Forms: []string{"at ends"}, Merge: Once,
		Doc:     "Keeps the pitch as it is and leaves what is over at the ends of the run: it always closes.",
		Example: "slack at ends",
	},
	{
		Name: "depth", In: []Place{Roll}, Forms: []string{"<depth:length>"}, Merge: Once, Default: "the tallest stamp's height",
		Doc:     "How deep the run is, for setting lines beside it.",
		Example: "depth 8mm",
	},
}
