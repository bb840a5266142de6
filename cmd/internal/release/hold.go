package release

// Hold takes the lock file at a path, which one program at a time may have, and
// returns what lets go of it. [ErrBusy] says that another has it. The system
// frees it when its holder dies.
func Hold(path string) (free func(), err error) {
	l, err := takeLock(path)
	if err != nil {
		return nil, err
	}
	return l.free, nil
}
