//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd || windows)

package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// A lock is a file that only one can make. Where the system has no better, one that a crash left must be removed by hand.
type lock struct{ name string }

func takeLock(name string) (*lock, error) {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("%w; if none is running, remove %s", ErrBusy, name)
	}
	if err != nil {
		return nil, err
	}
	_, err = fmt.Fprintf(f, "%d\n", os.Getpid())
	if err = errors.Join(err, f.Close()); err != nil {
		return nil, errors.Join(err, os.Remove(name))
	}
	return &lock{name}, nil
}

func (l *lock) release() error { return os.Remove(l.name) }
