package vocab

var design = []Place{Spine, Cover, Panel, Frame, Letter}

// designWords say what stands on spine and covers.
var designWords = []Word{
	{
		Name: "when", In: append([]Place{Series, Volume}, design...), Forms: []string{
			"<thing:spine|block|boards> <how:narrower|wider|shorter|taller|thinner|thicker> than <than:length>",
			"number <side:under|over> <n:count>",
		}, Opens: Same, Must: true, Merge: Many,
		Doc:     "Holds only where the measure is so: the one conditional. It is settled once a volume, right after its widths.",
		Example: "when spine narrower than 20mm { letter title in serif { way down } }",
	},
	{
		Name: "otherwise", In: append([]Place{Series, Volume}, design...), Forms: nil, Opens: Same, Must: true, Merge: Many,
		Doc:     "What holds where the `when` before it does not.",
		Example: "otherwise { centre emblem }",
	},
	{
		Name: "bands", Also: []string{"hubs"}, In: []Place{Spine}, Forms: []string{
			"none",
			"<count:count:1..12> equal [ , head longer by <head:length:0mm..80mm> ] [ , tail longer by <tail:length:0mm..80mm> ] [ , ( <seat:sewn|false> | double <double:length:1mm..40mm> ) ]",
			"<count:count:1..12> sharing { <share:number:0..1000> } [ , ( <seat:sewn|false> | double <double:length:1mm..40mm> ) ]",
			"<count:count:1..12> between <first:length:0mm..80mm> below head , <last:length:0mm..80mm> above tail [ , ( <seat:sewn|false> | double <double:length:1mm..40mm> ) ]",
			"[ <count:count:1..12> ] at { <station:length> } below head [ of <datum:block|board> ]",
			"upper edges at { <edge:length> } [ of <datum:block|board> ]",
			"wide <wide:length:0.5mm..20mm> [ , clear <clear:length:0mm..20mm> [ each side ] ]",
		}, Merge: Keyed, Key: []string{"?wide"}, Default: "none; sewn; wide 3mm, clear 2.5mm each side; stations of the board",
		Doc:     "The raised bands: how many and where, and how wide they are, with the leather to keep clear beside each. A plan divides the block, the squares being added at head and tail; `between` divides what lies between the marks of the kettle stitch. A sewn band is centred on its mark, a false one laid on under it, and one on a double cord or tape takes two marks, so far apart. Stations are of the board unless `of block` is said.",
		Example: "bands 5 equal, tail longer by 12mm",
	},
	{
		Name: "panel", Also: []string{"compartment"}, In: []Place{Spine}, Forms: []string{"<rest:=rest> [ <only:=only> ]", "<from:count> to <to:count> [ <only:=only> ]", "{ <panel:count> } [ <only:=only> ]"}, Opens: Panel, Must: true, Merge: Keyed,
		Doc:     "A space between bands, counted from the head. `rest` is every one that this block does not name; `only` forgets what a pattern or series put there.",
		Example: "panel 2 { letter title in serif }",
	},
	{
		Name: "frame", In: []Place{Spine, Cover, Panel}, Forms: []string{"<only:=only>", "[ <name:new> ] [ <only:=only> ]"}, Opens: Frame, Merge: Keyed, Key: []string{"name"},
		Doc:     "Lines and rolls round a panel or cover, named from the outside in. It takes up any width in its plain runs and in the number of whole repeats.",
		Example: "frame outer { inset 9mm; fillet 1.2mm; roll laurel }",
	},
	{
		Name: "inset", In: []Place{Frame}, Forms: []string{"<inset:length:0mm..200mm>", "sides <sides:length:0mm..200mm> , ends <ends:length:0mm..200mm>"}, Merge: Once, Default: "1.5mm in a panel, 10mm on a cover",
		Doc:     "From the edge of what holds the frame (on a panel: its clear box) to the frame's outermost line.",
		Example: "inset 9mm",
	},
	{
		Name: "inside", In: []Place{Frame}, Forms: []string{"<frame:frame> by <by:length:0mm..200mm>"}, Merge: Once,
		Doc:     "Sets the frame inside another, with so much clear leather between them.",
		Example: "inside outer by 7.5mm",
	},
	{
		Name: "fillet", In: []Place{Frame}, Forms: []string{"{ <width:length:0.1mm..10mm> } [ gap <gap:length:0.1mm..20mm> ] [ inset <inset:length:0mm..200mm> ]"}, Merge: Many, Default: "gap 1mm",
		Doc:     "A plain line round the frame, single, double or more, from the outside in.",
		Example: "fillet 1.4mm, 0.8mm gap 1mm",
	},
	{
		Name: "fillet", In: []Place{Spine, Panel}, Forms: []string{"{ <width:length:0.1mm..10mm> } [ gap <gap:length:0.1mm..20mm> ] [ beside <bands:=bands> ] [ at <end:head|tail> ] [ inset <inset:length:0mm..80mm> ]"}, Merge: Many, Default: "beside bands; gap 1mm",
		Doc:     "A plain line across the spine beside each band (or at head or tail), outside the leather that is kept clear.",
		Example: "fillet 0.8mm beside bands",
	},
	{
		Name: "air", In: []Place{Frame}, Forms: []string{"<air:length:0mm..50mm>"}, Merge: Many, Default: "1.5mm beside a roll",
		Doc:     "Clear leather between the line before it and the next, in place of the usual.",
		Example: "air 1.7mm",
	},
	{
		Name: "roll", In: []Place{Frame}, Forms: []string{"<roll:roll> [ facing <facing:in|out> ]"}, Merge: Many, Default: "facing out",
		Doc:     "A roll round the frame, in whole repeats, with its own corners.",
		Example: "roll laurel",
	},
	{
		Name: "corner", In: []Place{Frame}, Forms: []string{"<how:mitre|plain>", "<stamp:stamp> [ facing <facing:in|out> ] [ inset <inset:length:0mm..50mm> ]"}, Merge: Many, Default: "mitre",
		Doc:     "What stands in the frame's four corners: a stamp, as drawn for the corner at head and left or an upright one turned to face in or out, and mirrored to each; or how the lines meet: joined by a mitre, or plain, stopping short.",
		Example: "corner spray-small facing in",
	},
	{
		Name: "centre", Also: []string{"center"}, In: []Place{Spine, Cover, Panel}, Forms: []string{
			"none",
			"( <emblem:=emblem> | <stamp:stamp> ) [ fill <fill:percent:1%..100%> ] [ <each:=each> ] [ tall <least:length:0.5mm..900mm> [ to <most:length:0.5mm..900mm> ] ] [ turned <turned:angle> ] [ raised <raised:percent:-50%..50%> ]",
		}, Merge: Once, Default: "its own size; on a cover raised 2%",
		Doc:     "A stamp in the middle of what is left: at its own size, or with `fill` at one size for the whole set, the largest that takes no more than that share of the clear box; with `tall` alone at the height that is said.",
		Example: "centre wheatsheaf fill 55% tall 40mm to 90mm",
	},
	{
		Name: "letter", In: []Place{Spine, Cover, Panel}, Forms: []string{"none", "( <what:title|author|number> | <text:string> ) [ in <face:face> ]"}, Opens: Letter, Merge: Keyed, Key: []string{"what", "text"}, Default: "in serif",
		Doc:     "Lettering, at the largest size that fits between the least and the most.",
		Example: "letter title in serif { cap 3.5mm to 7mm; lines 1 to 3 }",
	},
	{
		Name: "cap", In: []Place{Letter}, Forms: []string{"<least:length:0.5mm..200mm> [ to <most:length:0.5mm..200mm> ]"}, Merge: Once, Default: "3mm to 8mm",
		Doc:     "The height of the finished capitals: one size, or the least and the most.",
		Example: "cap 3.5mm to 7mm",
	},
	{
		Name: "lines", In: []Place{Letter}, Forms: []string{"<least:count:1..9> [ to <most:count:1..9> ]"}, Merge: Once, Default: "1 to 3",
		Doc:     "How many lines the text may take; it is broken between words.",
		Example: "lines 1 to 3",
	},
	{
		Name: "size", In: []Place{Letter}, Forms: []string{"<size:same|each>"}, Merge: Once, Default: "each",
		Doc:     "`same`: one size for the whole series, the largest that fits every volume that counts.",
		Example: "size same",
	},
	{
		Name: "spaced", In: []Place{Letter}, Forms: []string{"<spaced:percent:0%..60%>"}, Merge: Once, Default: "6%",
		Doc:     "Opens the letters by a share of the cap height.",
		Example: "spaced 6%",
	},
	{
		Name: "thickened", In: []Place{Letter}, Forms: []string{"to <thickened:length:0.05mm..5mm>", "none"}, Merge: Once, Default: "to the film's least stroke in letters",
		Doc:     "Grows the outlines evenly until the thinnest limb is that wide.",
		Example: "thickened to 0.5mm",
	},
	{
		Name: "capitals", In: []Place{Letter}, Forms: []string{"[ <how:small|mixed> ]"}, Merge: Once, Default: "capitals",
		Doc:     "Sets the text in capitals, in small capitals, or as it is written (mixed).",
		Example: "capitals mixed",
	},
	{
		Name: "leading", In: []Place{Letter}, Forms: []string{"<leading:number:1.1..4>"}, Merge: Once, Default: "1.75; 1.35 in a pillar",
		Doc:     "From one baseline to the next, in cap heights.",
		Example: "leading 1.6",
	},
	{
		Name: "way", In: []Place{Letter}, Forms: []string{"<way:across|down|up|pillar>"}, Merge: Many, Default: "as `lettering` says",
		Doc:     "A way for the text to run; several are tried in order. A pillar sets the letters upright, one under another, in one column.",
		Example: "way down",
	},
	{
		Name: "raised", In: []Place{Letter}, Forms: []string{"<raised:percent:-50%..50%>"}, Merge: Once, Default: "0%",
		Doc:     "How far above the middle the lettering stands, as a share of the height of what holds it.",
		Example: "raised 10%",
	},
	{
		Name: "baseline", In: []Place{Letter}, Forms: []string{"<baseline:length> below head"}, Merge: Once,
		Doc:     "Where the first line stands, from the head of what holds it, in place of the middle.",
		Example: "baseline 21mm below head",
	},
	{
		Name: "without", In: []Place{Spine, Cover, Panel}, Forms: []string{"{ <stamp:stamp> }", "bands { <band:count> }"}, Merge: Many,
		Doc:     "Drops every statement that draws the stamp, or leaves out bands by number.",
		Example: "without ship",
	},
}
