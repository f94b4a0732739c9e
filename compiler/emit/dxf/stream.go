package dxf

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/yofu/dxf/format"

	"headcap/compiler/emit/internal/settled"
)

// A stream writes group codes and values straight to its writer. The library's own formatter builds every line with fmt
// and keeps the whole file; it also lets through what makes a file unreadable, which this one refuses: numbers that are
// none, and strings that would be taken for the next line. The first error stays and flush tells it.
//
// The library's sections call the Write methods alone; the rest of its interface is the embedded formatter's, unused.
type stream struct {
	*format.ASCII
	out  *bufio.Writer
	line []byte
	err  error
}

var _ format.Formatter = (*stream)(nil)

func newStream(w io.Writer) *stream {
	return &stream{ASCII: format.NewASCII(), out: bufio.NewWriter(w)}
}

// code begins a pair: the group code on its own line.
func (s *stream) code(code int) {
	s.line = strconv.AppendInt(s.line[:0], int64(code), 10)
	s.line = append(s.line, '\n')
}

// send ends a pair.
func (s *stream) send() {
	s.line = append(s.line, '\n')
	s.out.Write(s.line) // bufio keeps the error
}

func (s *stream) refuse(code int, what string) {
	if s.err == nil {
		s.err = fmt.Errorf("group code %d: %s", code, what)
	}
}

// WriteString takes printable ASCII alone.
func (s *stream) WriteString(code int, v string) {
	for i := range len(v) {
		if v[i] < ' ' || v[i] > '~' {
			s.refuse(code, fmt.Sprintf("the string %q is not printable ASCII", v))
			return
		}
	}
	s.code(code)
	s.line = append(s.line, v...)
	s.send()
}

// WriteHex is for handles.
func (s *stream) WriteHex(code int, v int) {
	s.code(code)
	s.line = append(s.line, strings.ToUpper(strconv.FormatInt(int64(v), 16))...)
	s.send()
}

// WriteInt writes a whole number.
func (s *stream) WriteInt(code int, v int) {
	s.code(code)
	s.line = strconv.AppendInt(s.line, int64(v), 10)
	s.send()
}

// WriteFloat writes the shortest decimal that reads back as v, with at least one decimal and never an exponent. Only the
// library's tables use it; coordinates go through writeMM.
func (s *stream) WriteFloat(code int, v float64) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		s.refuse(code, fmt.Sprintf("%v is no number for a file", v))
		return
	}
	s.code(code)
	start := len(s.line)
	s.line = strconv.AppendFloat(s.line, v, 'f', -1, 64)
	if bytes.IndexByte(s.line[start:], '.') < 0 {
		s.line = append(s.line, ".0"...)
	}
	s.send()
}

// writeMM writes a length on the grid, in millimetres.
func (s *stream) writeMM(code int, nm int64) {
	s.code(code)
	s.line = settled.AppendMM(s.line, nm)
	s.send()
}

// flush writes what is left and tells the first error.
func (s *stream) flush() error { return errors.Join(s.err, s.out.Flush()) }
