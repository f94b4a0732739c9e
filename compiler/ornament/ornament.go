// Package ornament draws stamps: the marks of a stamp's description become outlines. Each primitive is a file, with its
// name, and All lists them.
package ornament

import (
	"fmt"

	"headcap/compiler/geom"
	"headcap/compiler/model"
)

// A Primitive draws one mark about the stamp's origin, y down. What it gives is filled by its rule.
type Primitive struct {
	Name string
	Draw func(m model.Mark, tol int64) (geom.Operand, error)
}

// All lists the primitives.
var All = []Primitive{path, line, circle, ring, oval, lozenge, bar, leaf, petal}

// tolerance of curves in stamps: a fiftieth of what a blade can follow.
const tolerance = 2 * geom.Micrometre

// Art is a drawn stamp. Shapes are fused, about the stamp's origin; Box is round them.
type Art struct {
	Shapes []geom.Shape
	Box    geom.Box
}

// A DrawError says which mark could not be drawn, and why.
type DrawError struct {
	Mark *model.Mark
	Err  error
}

func (e *DrawError) Error() string { return e.Err.Error() }
func (e *DrawError) Unwrap() error { return e.Err }

// Draw draws a stamp and brings it to its size.
func Draw(s *model.Stamp) (Art, error) {
	var shapes []geom.Shape
	if s.Like != nil {
		base, err := Draw(s.Like)
		if err != nil {
			return Art{}, err
		}
		shapes = base.Shapes
		if s.Mirrored {
			shapes = place(geom.MirrorX(), shapes)
		}
	}
	shapes, err := marks(shapes, s.Marks)
	if err != nil {
		return Art{}, err
	}
	if len(shapes) == 0 {
		return Art{}, &DrawError{nil, fmt.Errorf("the stamp «%s» comes out empty", s.Name)}
	}
	box := geom.BoundsOf(shapes)
	k := 1.0
	switch {
	case s.Tall != nil && box.Height() > 0:
		k = float64(s.Tall.Nanometres()) / float64(box.Height())
		if s.Wide != nil && box.Width() > 0 {
			kw := float64(s.Wide.Nanometres()) / float64(box.Width())
			if kw/k > 1.01 || kw/k < 0.99 {
				return Art{}, &DrawError{nil, fmt.Errorf(
					"«%s» is drawn %s tall and %s wide: at %s tall it is %s wide, not %s, and no stamp is stretched",
					s.Name, mm(box.Height()), mm(box.Width()), s.Tall, mm(int64(float64(box.Width())*k)), s.Wide)}
			}
		}
	case s.Wide != nil && box.Width() > 0:
		k = float64(s.Wide.Nanometres()) / float64(box.Width())
	}
	if k != 1 {
		shapes = place(geom.Scale(k), shapes)
		box = geom.BoundsOf(shapes)
	}
	return Art{shapes, box}, nil
}

func mm(nm int64) string { return fmt.Sprintf("%.2f mm", float64(nm)/float64(geom.Millimetre)) }

// marks draws one after another onto what is there; modifiers act on all that has been drawn so far.
func marks(so []geom.Shape, list []model.Mark) ([]geom.Shape, error) {
	for i := range list {
		m := &list[i]
		var err error
		switch m.Which {
		case "mirror":
			t := geom.MirrorX()
			if m.Head {
				t = geom.MirrorY()
			}
			so, err = fuse(so, place(t, so))
		case "around":
			all := so
			for k := 1; k < m.Times; k++ {
				all = append(all[:len(all):len(all)], place(geom.Turn(360*float64(k)/float64(m.Times)), so)...)
			}
			so, err = fuse(all)
		case "turned":
			so = place(geom.Turn(m.Turned), so)
		case "group", "cut":
			var inner []geom.Shape
			if inner, err = marks(nil, m.Marks); err != nil {
				return nil, err
			}
			if m.Which == "group" {
				so, err = fuse(so, inner)
				break
			}
			so, err = geom.Boolean(geom.Without, operand(so), operand(inner), tolerance)
		default:
			so, err = mark(so, m)
		}
		if err != nil {
			return nil, &DrawError{m, err}
		}
	}
	return so, nil
}

// mark draws a primitive, turned and moved to its point.
func mark(so []geom.Shape, m *model.Mark) ([]geom.Shape, error) {
	for _, p := range All {
		if p.Name != m.Which {
			continue
		}
		o, err := p.Draw(*m, tolerance)
		if err != nil {
			return nil, err
		}
		o.Path = geom.Turn(m.Turned).Then(geom.Move(m.X, m.Y)).Path(o.Path)
		return geom.Fuse([]geom.Operand{operand(so), o}, tolerance)
	}
	return nil, fmt.Errorf("nothing draws «%s»", m.Which)
}

func operand(shapes []geom.Shape) geom.Operand {
	return geom.Operand{Path: geom.Paths(shapes), Rule: geom.NonZero}
}

func fuse(sets ...[]geom.Shape) ([]geom.Shape, error) {
	var ops []geom.Operand
	for _, s := range sets {
		ops = append(ops, operand(s))
	}
	return geom.Fuse(ops, tolerance)
}

func place(t geom.Transform, shapes []geom.Shape) []geom.Shape {
	out := make([]geom.Shape, len(shapes))
	for i, s := range shapes {
		out[i] = t.Shape(s)
	}
	return out
}
