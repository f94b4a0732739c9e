package vocab

// figureChapters are of figures, units and sums.
var figureChapters = []Chapter{
	{
		Code: "bare-length", Severities: anError,
		Doc:   "This figure says no unit, and twelve millimetres are not twelve inches. Write the unit straight after it: 12mm, 1/2in, 45deg, 70%.",
		Wrong: "language 1\nstamp pearl { circle 2 }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\n",
	},
	{
		Code: "unknown-unit", Severities: anError,
		Doc:   "What stands after the figure is no unit. Lengths take mm, cm, in or pt; the message lists the rest.",
		Wrong: "language 1\nlet edge = 7mn\n",
		Right: "language 1\nlet edge = 7mm\n",
	},
	{
		Code: "wrong-unit", Severities: anError,
		Doc:   "The figure has a unit of another kind than is wanted here: a share for a length, or a length for an angle. Write it in the kind that the message names.",
		Wrong: "language 1\nstamp pearl { circle 2% }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\n",
	},
	{
		Code: "bad-number", Severities: anError,
		Doc:   "This begins like a figure and cannot be read as one: it has two points, a fraction over nothing, or more figures than any measure needs. Write it anew.",
		Wrong: "language 1\nlet edge = 7.5.2mm\n",
		Right: "language 1\nlet edge = 7.5mm\n",
	},
	{
		Code: "out-of-range", Severities: anError,
		Doc:   "The figure is smaller or larger than makes sense here; most often a point has slipped or a unit is wrong. The message says the least and the most.",
		Wrong: "language 1\nvolume \"Turf\" { block 228cm x 150mm x 28mm }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm }\n",
	},
	{
		Code: "points-of-board", Severities: anError,
		Doc:   "Board is sold by points that are thousandths of an inch, while pt is 1/72 in here as in print: 98pt would be a board of 35 mm. Write 98mil, or measure the board.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; binding case { boards 98pt } }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; binding case { boards 98mil } }\n",
	},
	{
		Code: "decimal-comma", Severities: anError,
		Doc:   "A comma parts the items of a list, so a number takes a point: 12.5mm. Where the comma parts off thousands, leave it out.",
		Wrong: "language 1\nlet edge = 12,5mm\n",
		Right: "language 1\nlet edge = 12.5mm\n",
	},
	{
		Code: "inch-mark", Severities: anError,
		Doc:   "The mark after this figure is no unit, and it looks like the beginning of a text. Inches are written in: 1/4in.",
		Wrong: "language 1\nlet edge = 1/4\"\n",
		Right: "language 1\nlet edge = 1/4in\n",
	},
	{
		Code: "unit-apart", Severities: anError,
		Doc:   "A measure is its figure and its unit in one piece, so that it can be told from two things side by side. Close the space.",
		Wrong: "language 1\nlet edge = 12 mm\n",
		Right: "language 1\nlet edge = 12mm\n",
	},
	{
		Code: "measures-side-by-side", Severities: anError,
		Doc:   "Two measures stand side by side, and it cannot be said whether they are two or one. Put a comma between the items of a list, and an x between the sides of a size.",
		Wrong: "language 1\npattern ruled for cover { frame { fillet 1.4mm 0.8mm } }\n",
		Right: "language 1\npattern ruled for cover { frame { fillet 1.4mm, 0.8mm } }\n",
	},
	{
		Code: "bad-date", Severities: anError,
		Doc:     "There is no such day. A day is written as year, month and day, in four, two and two figures: 2026-05-03.",
		Without: "no word of this level takes a day yet",
	},
	{
		Code: "bad-colour", Severities: anError,
		Doc:   "A colour is # and six figures of 0 to 9 and a to f, two each for red, green and blue: #8a6a2f; three do for a short one. If a comment was meant, it begins with //.",
		Wrong: "language 1\nleather moss { colour #5e6a3 }\n",
		Right: "language 1\nleather moss { colour #5e6a3b }\n",
	},
	{
		Code: "needs-parentheses", Severities: anError,
		Doc:   "Sums stand in parentheses, so that a hyphen or a fraction is never taken for one. Put ( and ) round it.",
		Wrong: "language 1\nlet edge = 7mm - 1mm\n",
		Right: "language 1\nlet edge = (7mm - 1mm)\n",
	},
	{
		Code: "minus-spaces", Severities: anError,
		Doc:   "Words may hold a hyphen, so a minus stands free, with a space on either side.",
		Wrong: "language 1\nlet foot = 9mm\nlet edge = (foot-4mm)\n",
		Right: "language 1\nlet foot = 9mm\nlet edge = (foot - 4mm)\n",
	},
	{
		Code: "missing-operand", Severities: anError,
		Doc:   "A sign of this sum has nothing before or after it to reckon with. Write the measure that is missing, or take the sign away.",
		Wrong: "language 1\nlet edge = (7mm * )\n",
		Right: "language 1\nlet edge = (7mm * 2)\n",
	},
	{
		Code: "bad-sum", Severities: anError,
		Doc:   "This sum cannot be reckoned: it puts a length and a plain number together, multiplies lengths, or divides by nothing. Lengths are added to lengths, and multiplied or divided by plain numbers and shares.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; margin (7mm + 1) }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; margin (7mm + 1mm) }\n",
	},
	{
		Code: "too-early", Severities: anError,
		Doc:   "This measure of the book is reckoned from the very statement that asks for it. Such measures serve in the design of spine, front and back; here write a figure.",
		Wrong: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; margin (spine.width / 10) }\n",
		Right: "language 1\nvolume \"Turf\" { block 228mm x 150mm x 28mm; margin 3mm }\n",
	},
}
