package publish

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// errNoExchange says that the system or the file system cannot exchange folders.
var errNoExchange = errors.New("no exchange here")

// swap puts the staged folder in the target's place, and says where the old one now is, "" if there
// was none. On error the old one is where it was, unless putting it back failed too, as the error
// then says.
func swap(p place, staged string, exists, byRenames bool, step func(string) error) (former string, err error) {
	if !exists {
		return "", p.swapTrouble(os.Rename(staged, p.target))
	}
	if !byRenames {
		err := exchange(staged, p.target)
		if err == nil {
			return staged, nil
		}
		if !errors.Is(err, errNoExchange) {
			return "", p.swapTrouble(err)
		}
	}
	former = filepath.Join(p.parent, hiddenName(p.lastPrefix()))
	if err := os.Rename(p.target, former); err != nil {
		return "", p.swapTrouble(err)
	}
	err = step("between two renames")
	if err == nil {
		err = os.Rename(staged, p.target)
	}
	if err == nil {
		return former, nil
	}
	if back := os.Rename(former, p.target); back != nil {
		return "", fmt.Errorf("the old site is now in %s and could not be put back: %v (after: %w). Rename it to %s", former, back, err, p.target)
	}
	return "", p.swapTrouble(err)
}

func (p place) swapTrouble(err error) error {
	switch {
	case err == nil:
		return nil
	case isMountPoint(err):
		return refuse(fmt.Sprintf("%s is a disk or share of its own (a mount point), which cannot be exchanged for a new folder", p.said),
			"Publish into a folder inside it.")
	case isInUse(err):
		return refuse(fmt.Sprintf("%s cannot be exchanged for the new site while a program has it, or a file in it, open", p.said),
			"Close it there (an editor, a file manager, a server), and publish again.")
	}
	return p.parentTrouble(err)
}
