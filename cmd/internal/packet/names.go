package packet

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// What Windows does not have in a name, and the names of its devices, which it
// takes for the device whatever extension follows (Microsoft, 'Naming Files,
// Paths, and Namespaces'). Such names are refused on every system, because a
// packet travels.
const (
	refusedSigns = `<>:"/\|?*`
	longestName  = 200 // bytes of the 255 that disks take: what stands beside it while it is made has more
)

var devices = []string{"CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"}

// isDevice reports whether a name is that of a device.
func isDevice(name string) bool {
	stem, _, _ := strings.Cut(strings.ToUpper(name), ".")
	stem = strings.TrimRight(stem, " ")
	if slices.Contains(devices, stem) {
		return true
	}
	for _, port := range []string{"COM", "LPT"} {
		if n, ok := strings.CutPrefix(stem, port); ok && utf8.RuneCountInString(n) == 1 && strings.ContainsAny(n, "0123456789¹²³") {
			return true
		}
	}
	return false
}

// NameFault says why a name of a file or folder is trouble somewhere, and gives
// the nearest one that is not; "" where nothing is.
func NameFault(name string) (why, instead string) {
	switch {
	case name == "":
		return "is empty", "packet"
	case !utf8.ValidString(name):
		why = "is not UTF-8"
	case strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsPrint(r) }):
		why = "holds a sign that does not print"
	case strings.ContainsAny(name, refusedSigns):
		why = "has one of the signs " + strings.Join(strings.Split(refusedSigns, ""), " ") + ", which Windows does not take"
	case strings.HasPrefix(name, "-"):
		why = "begins with -, which programs take for an option"
	case strings.HasSuffix(name, ".") || strings.HasSuffix(name, " "):
		why = "ends with a dot or a blank, which some systems drop"
	case len(name) > longestName:
		why = "is too long"
	case isDevice(name):
		why = "is the name of a device on some systems"
	default:
		return "", ""
	}
	return why, goodName(name)
}

// goodName returns the nearest name that NameFault lets through.
func goodName(name string) string {
	good := strings.Map(func(r rune) rune {
		switch {
		case r == utf8.RuneError || !unicode.IsPrint(r):
			return -1
		case strings.ContainsRune(refusedSigns, r):
			return '-'
		}
		return r
	}, name)
	for len(good) > longestName {
		_, n := utf8.DecodeLastRuneInString(good)
		good = good[:len(good)-n]
	}
	good = strings.TrimRight(strings.TrimLeft(good, "- "), ". ")
	if isDevice(good) {
		good = "my-" + good
	}
	if strings.Trim(good, "-. ") == "" {
		return "packet"
	}
	return good
}
