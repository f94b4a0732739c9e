package preview

import "headcap/compiler/geom"

// One light falls on every book, from above and from 32° to the left of straight on, wherever the book stands. Light
// and shade are always two gradients, one over the other: a single one from white to black passes through grey and
// shows a hard edge. All numbers here were chosen by eye.
const lightFrom = 32

// Shade is near black and warm, on the round a little less so than in a groove.
var (
	roundShade  = Colour{0x06, 0x04, 0x03}
	grooveShade = Colour{0x05, 0x03, 0x02}
	black       = Colour{}
	white       = Colour{0xff, 0xff, 0xff}
)

// halfAngle is half the arc of the back: a thin back is flatter. A flat one is not quite flat, for the leather still
// draws round at its shoulders.
func halfAngle(width int64, round bool) float64 {
	if !round {
		return 8
	}
	w := float64(width) / 1e6
	return min(max(20+float64(1.05*(w-12)), 20), 62)
}

// shoulder is how far from its edge a back turns over into the joint.
func shoulder(width int64) int64 { return min(mm(1.3), width*9/100) }

// roundLight is how the light lies on a back from side to side: the sheen, in the leather's glow, and the shade, from
// Lambert's law on the arc and from the shoulders.
func roundLight(width int64, round bool, glow Colour) (sheen, shade *Linear) {
	half := halfAngle(width, round)
	sine, _ := geom.SinCos(half)
	s := float64(shoulder(width)) / float64(width)
	places := []float64{0, s / 3, float64(2*s) / 3, s}
	for k := 1; k < 14; k++ {
		places = append(places, s+float64(1-float64(2*s))*float64(k)/14)
	}
	places = append(places, 1-s, 1-float64(2*s)/3, 1-s/3, 1)

	sheen, shade = across(0, width), across(0, width)
	for _, u := range places {
		turn := 90 - geom.ArcCosDeg(float64((float64(2*u)-1)*sine))
		_, facing := geom.SinCos(turn + lightFrom)
		dark := float64(0.66 * power09(1-max(facing, 0)))
		if u < s {
			dark += float64(0.42 * power12(1-u/s))
		}
		if u > 1-s {
			dark += float64(0.32 * power12(min((u-1+s)/s, 1)))
		}
		off := (turn + float64(0.43*half)) / float64(0.36*half)
		bright := float64(0.25 * decay(float64(off*off)))
		if !round {
			bright = float64(bright * 0.5)
		}
		shade.Stops = append(shade.Stops, Stop{u, roundShade, min(dark, 0.88)})
		sheen.Stops = append(sheen.Stops, Stop{u, glow, bright})
	}
	return sheen, shade
}

// fall is the light going off from head to tail: the light is above.
func fall(height int64, glow Colour) (light, dark *Linear) {
	return down(0, height, Stop{0, glow, 0.10}, Stop{0.25, glow, 0.04}, Stop{0.45, glow, 0}),
		down(0, height, Stop{0.45, black, 0}, Stop{1, black, 0.16})
}

// A raised band is shaded from bandAbove band widths over its middle to bandBelow under it: where the leather is drawn
// down to the panel it darkens softly, the light stands a little above the middle, and the shade under it runs out as
// the shadow that the band throws.
const (
	bandAbove = 0.80
	bandBelow = 1.30
)

// A level is an opacity at a distance from the middle of a band, in band widths.
type level struct{ at, opacity float64 }

var (
	bandShade = []level{
		{-0.80, 0},
		{-0.58, 0.16},
		{-0.50, 0.20},
		{-0.44, 0},
		{0.12, 0},
		{0.20, 0.10},
		{0.36, 0.36},
		{0.48, 0.56},
		{0.56, 0.58},
		{0.75, 0.36},
		{1.00, 0.14},
		{1.30, 0},
	}
	bandGlow = []level{
		{-0.50, 0}, {-0.44, 0.04}, {-0.30, 0.42}, {-0.17, 0.57}, {-0.02, 0.32}, {0.12, 0.04}, {0.20, 0},
	}
)

// bandLight is the light on one band, the middle of it at 0.
func bandLight(width int64, glow Colour) (light, dark *Linear) {
	above, below := share(0, -width, bandAbove), share(0, width, bandBelow)
	at := func(t float64) float64 { return (t + bandAbove) / (bandAbove + bandBelow) }
	light, dark = down(above, below), down(above, below)
	for _, s := range bandShade {
		dark.Stops = append(dark.Stops, Stop{at(s.at), grooveShade, s.opacity})
	}
	for _, s := range bandGlow {
		light.Stops = append(light.Stops, Stop{at(s.at), glow, s.opacity})
	}
	return light, dark
}

// spread is how far the light and dark of a metal stand apart in each finish, against matt, and grain how much of the
// leather's skin shows through it.
func (f Finish) spread() (spread, grain float64) {
	switch f {
	case Satin:
		return 1.35, 0.25
	case Bright:
		return 1.85, 0.18
	}
	return 1, 0.33
}

// A glint is how strongly the light falls on a film at a part of the way across it.
type glint struct{ at, strength float64 }

// metal is a film's colour under these strengths of light.
func (f Film) metal(g *Linear, glints ...glint) *Linear {
	spread, _ := f.Finish.spread()
	for _, l := range glints {
		g.Stops = append(g.Stops, Stop{l.at, f.Colour.lit(1 + float64(spread*(l.strength-1))), 1})
	}
	return g
}

// onSpine is the metal on a back, from left to right only: with a fall from head to tail as well, the narrow volumes of a
// set went dark at the tail and no longer matched the wide ones.
func (f Film) onSpine(width int64, round bool) *Linear {
	g := across(0, width)
	if !round {
		return f.metal(g, glint{0, 1.04}, glint{0.30, 1.08}, glint{0.70, 1.00}, glint{1, 0.90})
	}
	return f.metal(g, glint{0, 0.86}, glint{0.28, 1.15}, glint{0.60, 1.00}, glint{0.85, 0.84}, glint{1, 0.68})
}

// onBoard is the metal on a board, from corner to corner.
func (f Film) onBoard(width, height int64) *Linear {
	g := &Linear{To: geom.Point{X: width, Y: height}}
	if f.Finish == Matt {
		return f.metal(g, glint{0, 1.15}, glint{0.35, 1.06}, glint{0.70, 0.95}, glint{1, 0.85})
	}
	// A film that shines shows the light as a band across it, where a matt one shows only its going off.
	return f.metal(g, glint{0, 1.04}, glint{0.22, 1.16}, glint{0.38, 1.05}, glint{0.62, 0.94}, glint{0.78, 0.99}, glint{1, 0.85})
}
