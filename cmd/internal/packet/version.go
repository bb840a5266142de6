package packet

// version is the program's own version; it changes with what a packet says. A
// release is built with another by the linker's -X.
var version = "0.1.0"

// Version returns the program's version.
func Version() string { return version }
