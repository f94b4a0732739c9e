package png

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
)

// Colour types and the one filter that is used (PNG, third edition, 11.2.1 and 9.2). The standard library's writer tries
// every filter on every row, which takes longer than all the drawing. What is tall in these pictures, backs and leaves,
// hardly changes from row to row, so each row is written as its difference from the one above.
const (
	trueColour      = 2
	trueColourAlpha = 6
	filterUp        = 2
)

// encode is the canvas as a PNG file with eight bits a channel; an opaque one has no alpha.
func encode(c *canvas, opaque bool) ([]byte, error) {
	kind, channels := byte(trueColourAlpha), 4
	if opaque {
		kind, channels = trueColour, 3
	}
	w, h := c.area.Dx(), c.area.Dy()

	var squeezed bytes.Buffer
	z, err := zlib.NewWriterLevel(&squeezed, zlib.BestSpeed)
	if err != nil {
		return nil, err
	}
	above, row := make([]byte, w*channels), make([]byte, w*channels)
	line := make([]byte, 1+w*channels)
	line[0] = filterUp
	for y := range h {
		eightBits(row, c.pixels[y*w:(y+1)*w], channels)
		for i, v := range row {
			line[1+i] = v - above[i]
		}
		if _, err := z.Write(line); err != nil {
			return nil, err
		}
		above, row = row, above
	}
	if err := z.Close(); err != nil {
		return nil, err
	}

	header := binary.BigEndian.AppendUint32(nil, uint32(w))
	header = binary.BigEndian.AppendUint32(header, uint32(h))
	header = append(header, 8, kind, 0, 0, 0)
	out := make([]byte, 0, squeezed.Len()+64)
	out = append(out, "\x89PNG\r\n\x1a\n"...)
	out = appendChunk(out, "IHDR", header)
	out = appendChunk(out, "IDAT", squeezed.Bytes())
	return appendChunk(out, "IEND", nil), nil
}

func appendChunk(out []byte, name string, data []byte) []byte {
	out = binary.BigEndian.AppendUint32(out, uint32(len(data)))
	start := len(out)
	out = append(append(out, name...), data...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[start:]))
}

// eightBits rounds a row of pixels to eight bits a channel, its colours no longer multiplied by alpha.
func eightBits(out []byte, row []pixel, channels int) {
	for i, p := range row {
		r, g, b, a := p.channels()
		if a != full && a != 0 {
			whole := func(v uint16) uint16 { return uint16(min(uint32(v)*full/uint32(a), full)) }
			r, g, b = whole(r), whole(g), whole(b)
		}
		o := out[i*channels : (i+1)*channels]
		o[0], o[1], o[2] = eight(r), eight(g), eight(b)
		if channels == 4 {
			o[3] = eight(a)
		}
	}
}

// eight is a channel in eight bits, rounded.
func eight(v uint16) uint8 { return uint8((uint32(v)*0xff + full/2) / full) }
