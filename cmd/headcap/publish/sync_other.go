//go:build !unix

package publish

import "os"

// syncFolder does nothing: folders cannot be flushed here.
func syncFolder(*os.Root, string) error { return nil }

// isNotFolder is never needed: here a path through a file is told as one that does not exist.
func isNotFolder(error) bool { return false }
