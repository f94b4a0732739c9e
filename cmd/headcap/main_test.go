package main

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"
)

func TestFaultOfOursIsToldPlainly(t *testing.T) {
	var out bytes.Buffer
	status := guarded(&out, func() int {
		var none []int
		return none[len(none)]
	})
	if status != statusFault {
		t.Errorf("status %d, wanted %d", status, statusFault)
	}
	for _, want := range []string{"a fault of ours", "Please report it", "main_test.go:"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not in\n%s", want, out.String())
		}
	}
	if strings.Contains(out.String(), "goroutine") {
		t.Errorf("a stack dump is no message:\n%s", out.String())
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestOutputThatCannotBePrintedIsAnError(t *testing.T) {
	var complaint bytes.Buffer
	status := run(context.Background(), []string{"--help"}, terminal{strings.NewReader(""), fullDisk{}, &complaint, false})
	if status != statusUsage || !strings.Contains(complaint.String(), "no space left") {
		t.Errorf("status %d, told %q", status, complaint.String())
	}
}
