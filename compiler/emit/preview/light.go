package preview

import (
	"math"

	"headcap/compiler/geom"
)

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
func fall(height int64) (light, dark *Linear) {
	return down(0, height, Stop{0, white, 0.05}, Stop{0.25, white, 0.02}, Stop{0.45, white, 0}),
		down(0, height, Stop{0.45, black, 0}, Stop{1, black, 0.16})
}

// A raised band is shaded from bandAbove band widths over its middle to bandBelow under it: where the leather is drawn
// down to the panel it darkens softly, the light stands a little above the middle, and the shade under it runs out as
// the shadow that the band throws.
const (
	bandAbove = 0.80
	bandBelow = 1.30
)

// bandShade and bandGlow are opacities by the distance from the middle of a band, in band widths.
var (
	bandShade = []struct{ at, opacity float64 }{
		{-0.80, 0}, {-0.58, 0.16}, {-0.50, 0.20}, {-0.44, 0}, {0.12, 0}, {0.20, 0.10},
		{0.36, 0.36}, {0.48, 0.56}, {0.56, 0.58}, {0.75, 0.36}, {1.00, 0.14}, {1.30, 0},
	}
	bandGlow = []struct{ at, opacity float64 }{
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

// spread is how much further the light and dark of a metal stand apart in each finish, grain how much of the leather's
// skin still shows in it.
func (f Finish) spread() (spread, grain float64) {
	switch f {
	case Satin:
		return 1.35, 0.30
	case Bright:
		return 1.85, 0.20
	}
	return 1, 0.38
}

// metal is a film's colour under these strengths of light.
func (f Film) metal(g *Linear, lights ...struct{ at, strength float64 }) *Linear {
	spread, _ := f.Finish.spread()
	for _, l := range lights {
		strength := 1 + float64(spread*(l.strength-1))
		g.Stops = append(g.Stops, Stop{l.at, f.Colour.lit(max(strength, 0.3)), 1})
	}
	return g
}

type lights = []struct{ at, strength float64 }

// onSpine is the metal on a back, from left to right only: with a fall from head to tail as well, the narrow volumes of a
// set went dark at the tail and no longer matched the wide ones.
func (f Film) onSpine(width int64, round bool) *Linear {
	if !round {
		return f.metal(across(0, width), lights{{0, 1.04}, {0.30, 1.08}, {0.70, 1.00}, {1, 0.90}}...)
	}
	return f.metal(across(0, width), lights{{0, 0.86}, {0.28, 1.15}, {0.60, 1.00}, {0.85, 0.84}, {1, 0.68}}...)
}

// onBoard is the metal on a board, from corner to corner.
func (f Film) onBoard(width, height int64) *Linear {
	g := &Linear{To: geom.Point{X: width, Y: height}}
	if f.Finish == Matt {
		return f.metal(g, lights{{0, 1.15}, {0.35, 1.06}, {0.70, 0.95}, {1, 0.85}}...)
	}
	// A film that shines shows the light as a band across it, where a matt one shows only its going off.
	return f.metal(g, lights{{0, 1.04}, {0.22, 1.16}, {0.38, 1.05}, {0.62, 0.94}, {0.78, 0.99}, {1, 0.85}}...)
}

// squeeze is how the skin of the leather, lying on an arc, is seen narrowed towards the sides: the edges of upright
// strips across a back, as parts of its width seen and as parts of its arc. Within a strip the narrowing is taken as
// even.
func squeeze(width int64, round bool) (seen, along []float64) {
	half := halfAngle(width, round)
	sine, _ := geom.SinCos(half)
	for _, u := range []float64{0, 0.05, 0.14, 0.30, 0.70, 0.86, 0.95, 1} {
		turn := 90 - geom.ArcCosDeg(float64((float64(2*u)-1)*sine))
		seen = append(seen, u)
		along = append(along, float64((turn/half+1)*0.5))
	}
	return seen, along
}

// arc is the length of the arc over a back of this width seen, as a multiple of it.
func arc(width int64, round bool) float64 {
	half := halfAngle(width, round)
	sine, _ := geom.SinCos(half)
	return float64(half*math.Pi) / float64(180*sine)
}
