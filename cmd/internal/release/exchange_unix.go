//go:build unix && !linux && !darwin

package release

import "errors"

// exchange does not exist everywhere; the caller then takes two steps.
func exchange(a, b string) error { return errors.ErrUnsupported }
