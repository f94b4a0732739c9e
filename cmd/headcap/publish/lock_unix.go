//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package publish

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// A lock is a file held by flock: the system lets go of it when we end, however that happens.
type lock struct{ file *os.File }

// takeLock makes the file and takes hold of it. Since release removes the file, the one we hold must still be the one that
// stands there; otherwise somebody let go in between, and we begin again.
func takeLock(name string) (*lock, error) {
	for {
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o666)
		if err != nil {
			return nil, err
		}
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if err != nil {
			f.Close()
			if errors.Is(err, syscall.EWOULDBLOCK) {
				return nil, ErrBusy
			}
			return nil, &fs.PathError{Op: "lock", Path: name, Err: err}
		}
		held, err := f.Stat()
		if err == nil {
			there, err := os.Stat(name)
			if err == nil && os.SameFile(held, there) {
				return &lock{f}, nil
			}
		}
		f.Close()
	}
}

// release removes the file while it is still held; somebody may have removed the whole folder already.
func (l *lock) release() error {
	err := os.Remove(l.file.Name())
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return errors.Join(err, l.file.Close())
}
