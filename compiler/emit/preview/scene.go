package preview

import "headcap/compiler/geom"

// A Scene is a picture as a list of things to draw, the lowest first. Coordinates are in nanometres, y down. It can be
// written as SVG here and drawn as pixels by package png; both read it alike.
type Scene struct {
	Title, Desc string
	View        geom.Box

	// Ground is what the picture stands on. Without one the picture is transparent where no book is, as a page wants it
	// that has a ground of its own.
	Ground *Colour

	Items []Item
}

// An Item is a Group, a Fill, a Stroke or a Shadow.
type Item interface{ item() }

// A Group draws its items moved by Move, only inside Clip if there is one, and as faint as Fade says if there is one.
type Group struct {
	// Name is an id for the group in the SVG text, [a-z][a-z0-9-]*, for a page to find it by; it may be empty.
	Name string

	Move geom.Point
	Clip *Outline
	Fade *Fade

	// Grain says that the group is too fine to be seen below FinestGrain: package png then leaves it out, and in SVG it
	// has the class "grain", so that a page can.
	Grain bool

	Items []Item
}

// FinestGrain is the scale, in pixels to a millimetre, under which grain can't be seen; it only greys the colour a
// little and costs more than all the rest.
const FinestGrain = 1.2

// A Fill paints the inside of an outline (non-zero winding).
type Fill struct {
	Outline *Outline
	Paint   Paint
}

// A Stroke paints a line along an outline. Its lines are thin and turn gently against their width, so nothing is said of
// joins, and they end squarely.
type Stroke struct {
	Outline *Outline
	Width   int64
	Paint   Solid
}

// A Shadow is a soft-edged rectangle of one colour. Blur is the standard deviation of its edge.
type Shadow struct {
	Box   geom.Box
	Blur  int64
	Paint Solid
}

func (Group) item()  {}
func (Fill) item()   {}
func (Stroke) item() {}
func (Shadow) item() {}

// An Outline is drawn from by pointer: one that is used several times is written once.
type Outline struct{ Path geom.Path }

// A Fade makes a group as faint, place by place, as the opacity of a gradient; its colours are white. Box holds the whole
// group.
type Fade struct {
	Box     geom.Box
	Opacity *Linear
}

// A Paint is a Solid, a *Linear, a *Radial or a *Pattern.
type Paint interface{ paint() }

// Solid is one colour, as dense as Opacity says: 1 hides what is below.
type Solid struct {
	Colour  Colour
	Opacity float64
}

// Linear is a gradient between two points, in the coordinates of the group that it is used in.
type Linear struct {
	From, To geom.Point
	Stops    []Stop
}

// Radial is a gradient from the centre of an ellipse to its rim.
type Radial struct {
	Centre geom.Point
	RX, RY int64
	Stops  []Stop
}

// A Stop is the colour of a gradient at a part of its way, 0 to 1. Stops stand in ascending order.
type Stop struct {
	At      float64
	Colour  Colour
	Opacity float64
}

// A Pattern repeats a tile over the plane, set on it by Set.
type Pattern struct {
	Tile    *Tile
	Set     geom.Transform
	Opacity float64
}

// A Tile is drawn in black, white and grey only: it darkens and lightens whatever lies under it.
type Tile struct {
	Width, Height int64
	Items         []Item
}

func (Solid) paint()    {}
func (*Linear) paint()  {}
func (*Radial) paint()  {}
func (*Pattern) paint() {}

// A pencil draws an outline from point to point.
type pencil struct {
	path geom.Path
	at   geom.Point
}

func (p *pencil) move(x, y int64) {
	p.at = geom.Point{X: x, Y: y}
	p.path = append(p.path, geom.Contour{})
}

func (p *pencil) add(s geom.Segment) {
	last := &p.path[len(p.path)-1]
	last.Segments = append(last.Segments, s)
	p.at = s.P3
}

func (p *pencil) line(x, y int64) {
	p.add(geom.Segment{P0: p.at, P3: geom.Point{X: x, Y: y}, Line: true})
}

func (p *pencil) cubic(ax, ay, bx, by, x, y int64) {
	p.add(geom.Segment{P0: p.at, P1: geom.Point{X: ax, Y: ay}, P2: geom.Point{X: bx, Y: by}, P3: geom.Point{X: x, Y: y}})
}

// quad draws a quadratic curve as the cubic that it is.
func (p *pencil) quad(ax, ay, x, y int64) {
	third := func(from, to int64) int64 { return from + (2*(to-from))/3 }
	p.cubic(third(p.at.X, ax), third(p.at.Y, ay), third(x, ax), third(y, ay), x, y)
}

func (p *pencil) close() {
	last := &p.path[len(p.path)-1]
	if start := last.Segments[0].P0; p.at != start {
		p.line(start.X, start.Y)
	}
	last.Closed = true
}

func (p *pencil) outline() *Outline { return &Outline{Path: p.path} }

// box is an upright rectangle by its corner, width and height.
func box(x, y, w, h int64) geom.Box {
	return geom.Box{Min: geom.Point{X: x, Y: y}, Max: geom.Point{X: x + w, Y: y + h}}
}

func rectangle(x, y, w, h int64) *Outline {
	var p pencil
	p.move(x, y)
	p.line(x+w, y)
	p.line(x+w, y+h)
	p.line(x, y+h)
	p.close()
	return p.outline()
}

// across and down are gradients from a to b over the width and over the height of what they fill.
func across(a, b int64, stops ...Stop) *Linear {
	return &Linear{From: geom.Point{X: a}, To: geom.Point{X: b}, Stops: stops}
}

func down(a, b int64, stops ...Stop) *Linear {
	return &Linear{From: geom.Point{Y: a}, To: geom.Point{Y: b}, Stops: stops}
}
