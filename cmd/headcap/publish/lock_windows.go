package publish

import (
	"errors"
	"io/fs"
	"syscall"
)

// errSharing is ERROR_SHARING_VIOLATION: somebody has the file open and shares it with nobody.
const errSharing = syscall.Errno(32)

// fileFlagDeleteOnClose is FILE_FLAG_DELETE_ON_CLOSE of CreateFile: the file goes when its only holder ends.
const fileFlagDeleteOnClose = 0x04000000

// A lock is a file opened without sharing: the system lets go of it, and removes it, when we end, however that happens.
type lock struct{ handle syscall.Handle }

func takeLock(name string) (*lock, error) {
	p, err := syscall.UTF16PtrFromString(name)
	if err != nil {
		return nil, err
	}
	const deleteAccess = 0x00010000 // DELETE
	h, err := syscall.CreateFile(p, syscall.GENERIC_READ|syscall.GENERIC_WRITE|deleteAccess, 0, nil,
		syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL|fileFlagDeleteOnClose, 0)
	switch {
	case errors.Is(err, errSharing):
		return nil, ErrBusy
	case err != nil:
		return nil, &fs.PathError{Op: "lock", Path: name, Err: err}
	}
	return &lock{h}, nil
}

func (l *lock) release() error { return syscall.CloseHandle(l.handle) }
