package dxf

import (
	"github.com/yofu/dxf/format"
	"github.com/yofu/dxf/handle"
	"github.com/yofu/dxf/insunit"
	"github.com/yofu/dxf/table"

	"headcap/compiler/emit/internal/settled"
	"headcap/compiler/geom"
)

// header is the HEADER section: the version, millimetres, true extents, and the frame of the face as the limits.
type header struct {
	extents geom.Box
	frame   geom.Point
	seed    int
}

// SetHandle is told the first handle that is free.
func (h *header) SetHandle(next *int) { h.seed = *next }

// Format writes the section.
func (h *header) Format(f format.Formatter) {
	s := f.(*stream)
	begin(s, "HEADER")
	s.WriteString(9, "$ACADVER")
	s.WriteString(1, "AC1015")
	s.WriteString(9, "$DWGCODEPAGE")
	s.WriteString(3, "ANSI_1252")
	s.writePlace("$INSBASE", geom.Point{})
	s.writePlace("$EXTMIN", h.extents.Min)
	s.writePlace("$EXTMAX", h.extents.Max)
	for _, limit := range []struct {
		name string
		at   geom.Point
	}{{"$LIMMIN", geom.Point{}}, {"$LIMMAX", h.frame}} {
		s.WriteString(9, limit.name)
		s.writePoint(limit.at)
	}
	for _, v := range []struct {
		name  string
		value int
	}{
		{"$INSUNITS", insunit.Millimeters},
		{"$MEASUREMENT", 1}, // metric
		{"$LUNITS", 2},      // decimal
		{"$LUPREC", 3},
	} {
		s.WriteString(9, v.name)
		s.WriteInt(70, v.value)
	}
	s.WriteString(9, "$HANDSEED")
	s.WriteHex(5, h.seed)
	end(s)
}

// writePlace writes a header variable that is a point in space.
func (s *stream) writePlace(name string, p geom.Point) {
	s.WriteString(9, name)
	s.writePoint(p)
	s.writeMM(30, 0)
}

// writePoint writes a point of the plane.
func (s *stream) writePoint(p geom.Point) {
	s.writeMM(10, p.X)
	s.writeMM(20, p.Y)
}

// classes is the CLASSES section: the two classes of OBJECTS that a reader need not know by itself.
type classes struct{}

// SetHandle does nothing: classes have no handles.
func (classes) SetHandle(*int) {}

// Format writes the section.
func (classes) Format(f format.Formatter) {
	begin(f, "CLASSES")
	for _, c := range [][2]string{
		{"ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault"},
		{"ACDBPLACEHOLDER", "AcDbPlaceHolder"},
	} {
		f.WriteString(0, "CLASS")
		f.WriteString(1, c[0])
		f.WriteString(2, c[1])
		f.WriteString(3, "ObjectDBX Classes")
		f.WriteInt(90, 0)
		f.WriteInt(280, 0)
		f.WriteInt(281, 0)
	}
	end(f)
}

// outlines is the ENTITIES section: a closed LWPOLYLINE for each ring, all on one layer of the model space.
type outlines struct {
	rings []settled.Ring
	layer *table.Layer
	owner handle.Handler
	first int
}

// SetHandle takes a handle for each ring.
func (o *outlines) SetHandle(next *int) {
	o.first = *next
	*next += len(o.rings)
}

// Format writes the section.
func (o *outlines) Format(f format.Formatter) {
	s := f.(*stream)
	begin(f, "ENTITIES")
	for i, r := range o.rings {
		f.WriteString(0, "LWPOLYLINE")
		f.WriteHex(5, o.first+i)
		f.WriteHex(330, o.owner.Handle())
		f.WriteString(100, "AcDbEntity")
		f.WriteString(8, o.layer.Name())
		f.WriteString(100, "AcDbPolyline")
		f.WriteInt(90, len(r))
		f.WriteInt(70, 1) // closed
		for _, p := range r {
			s.writePoint(p)
		}
	}
	end(f)
}

// objects is the OBJECTS section: the root dictionary, the groups that every reader looks for (none), and the plot styles
// with the one that layers must point at. Unlike the library's, each names its owner.
type objects struct {
	root, groups, styles, normal handled
}

// handled is something with a handle.
type handled struct{ handle int }

// Handle gives the handle.
func (h *handled) Handle() int { return h.handle }

// SetHandle takes the next handle.
func (h *handled) SetHandle(next *int) {
	h.handle = *next
	*next++
}

// SetHandle takes a handle for each object.
func (o *objects) SetHandle(next *int) {
	for _, h := range []*handled{&o.root, &o.groups, &o.styles, &o.normal} {
		h.SetHandle(next)
	}
}

// Format writes the section.
func (o *objects) Format(f format.Formatter) {
	begin(f, "OBJECTS")
	object := func(kind string, h *handled, owner int) {
		f.WriteString(0, kind)
		f.WriteHex(5, h.handle)
		f.WriteHex(330, owner)
	}
	dictionary := func() {
		f.WriteString(100, "AcDbDictionary")
		f.WriteInt(281, 1) // keep the first of two records alike
	}
	item := func(name string, h *handled) {
		f.WriteString(3, name)
		f.WriteHex(350, h.handle)
	}
	object("DICTIONARY", &o.root, 0)
	dictionary()
	item("ACAD_GROUP", &o.groups)
	item("ACAD_PLOTSTYLENAME", &o.styles)

	object("DICTIONARY", &o.groups, o.root.handle)
	dictionary()

	object("ACDBDICTIONARYWDFLT", &o.styles, o.root.handle)
	dictionary()
	item("Normal", &o.normal)
	f.WriteString(100, "AcDbDictionaryWithDefault")
	f.WriteHex(340, o.normal.handle)

	object("ACDBPLACEHOLDER", &o.normal, o.styles.handle)
	end(f)
}

func begin(f format.Formatter, section string) {
	f.WriteString(0, "SECTION")
	f.WriteString(2, section)
}

func end(f format.Formatter) { f.WriteString(0, "ENDSEC") }
