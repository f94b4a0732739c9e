//go:build unix

package publish

import (
	"errors"
	"os"
	"syscall"
)

// syncFolder flushes a folder, so that a rename in it outlives a loss of power. Some network disks cannot, and say so.
func syncFolder(root *os.Root, dir string) error {
	f, err := root.Open(dir)
	if err != nil {
		return err
	}
	err = f.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		err = nil
	}
	return errors.Join(err, f.Close())
}

// isNotFolder says that a file stands where a folder of the path should be.
func isNotFolder(err error) bool { return errors.Is(err, syscall.ENOTDIR) }
